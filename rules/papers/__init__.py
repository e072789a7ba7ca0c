"""Checks of labels, lists and drawings: the papers."""
