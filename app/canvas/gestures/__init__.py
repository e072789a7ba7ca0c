"""What the mouse does: one small class each, with start, move, end and cancel.

A gesture's whole state is in it. While it moves only a preview changes; on release it builds one
edit. All can be driven by plain event records, without a window.
"""
