"""What makes a start quicker: the collector rests while modules load, and no plugins are sought."""

from __future__ import annotations

import gc
import os
from collections.abc import Iterator
from contextlib import contextmanager


@contextmanager
def quick_start() -> Iterator[None]:
    """Load modules inside this; what they made is never looked through for garbage again.

    The checking library looks for plugins among everything installed unless told not to; this
    program has none.
    """
    os.environ.setdefault("PYDANTIC_DISABLE_PLUGINS", "__all__")
    gc.disable()
    try:
        yield
    finally:
        gc.freeze()
        gc.enable()
