"""Checks of conductors themselves."""
