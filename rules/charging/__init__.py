"""Checks of charging paths.
"""
