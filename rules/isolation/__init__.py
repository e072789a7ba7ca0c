"""Checks of isolation and back-feed."""
