"""Checks of batteries: what they are, how they stand, what they are asked to do."""
