"""Checks of overcurrent protection."""
