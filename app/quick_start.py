"""What makes a start quicker: nothing looks through what modules make while they load."""

from __future__ import annotations

import builtins
import gc
from collections.abc import Iterator
from contextlib import contextmanager


@contextmanager
def quick_start() -> Iterator[None]:
    """Load modules inside this; what they made is never looked through for garbage again."""
    gc.disable()
    try:
        keep_own_import()
        yield
    finally:
        gc.freeze()
        gc.enable()


def keep_own_import() -> None:
    """Put Python's own import statement back, which PySide6 replaces.

    Its replacement reads the source of every module for `from __feature__ import`, which this
    program has nowhere: a tenth of a start.
    """
    import PySide6.QtCore  # noqa: F401  # replaces it now, rather than afterwards

    builtins.__import__ = getattr(builtins, "__orig_import__", builtins.__import__)
