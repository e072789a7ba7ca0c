"""Checks of lithium batteries and their management."""
