"""The printed pack: one file for each sheet, joined into one PDF."""
