"""Checks of grounding and bonding."""
