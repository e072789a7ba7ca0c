"""Checks of circuits that must work when all else is off: pumps, alarms, radio, steering."""
