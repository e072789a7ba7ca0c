"""The whole sheet laid out: rows by how power falls, few crossings, straight columns.

`tidy_edit` is what the rest of the program asks for. Knows no Qt.
"""
