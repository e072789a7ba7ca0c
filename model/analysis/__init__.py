"""Electrical questions to a diagram, one file for each. They read and never change."""
