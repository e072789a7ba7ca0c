"""What the hand does, as edits: place, move, turn, connect, remove, copy and paste.

Pure functions from a diagram to an Edit. They know the router, but no screen.
"""
