"""The sheet on the screen: scene, view, items and what the mouse does."""
