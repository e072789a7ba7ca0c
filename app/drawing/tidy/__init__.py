"""The whole sheet laid out: rows by how power falls, few crossings, straight columns.

`edits.py` is what the rest of the program asks, through `app/drawing/layout.py`. Knows no Qt.
"""
