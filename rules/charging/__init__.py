"""Checks of charging paths."""
