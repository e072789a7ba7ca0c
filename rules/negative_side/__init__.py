"""Checks of the negative side and of shunts."""
