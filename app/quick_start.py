"""What makes a start quicker: modules load without what this program has no use for.

PySide6 compiles some 150 kB of its own sources at every start, and then reads the source of each
module that is imported. Both are a tenth of a start; neither changes what a module does.
"""

from __future__ import annotations

import builtins
import gc
import marshal
import os
import sys
from collections.abc import Iterator
from contextlib import contextmanager, suppress
from importlib.util import cache_from_source
from pathlib import Path
from types import CodeType
from typing import Any

Compiled = dict[tuple[str, str | bytes], CodeType]


@contextmanager
def quick_start() -> Iterator[None]:
    """Load modules inside this; what they made is never looked through for garbage again."""
    gc.disable()
    try:
        load_qt()
        yield
    finally:
        gc.freeze()
        gc.enable()


def load_qt() -> None:
    """Load PySide6, with what an earlier start compiled, and without its look into modules.

    Its import statement looks in each for `from __feature__ import`: in this program there is none.
    """
    if "PySide6.QtCore" not in sys.modules:
        with compiled_once(Path(cache_from_source(__file__)).with_suffix(".qt")):
            import PySide6.QtCore  # noqa: F401
    builtins.__import__ = getattr(builtins, "__orig_import__", builtins.__import__)


@contextmanager
def compiled_once(path: Path) -> Iterator[None]:
    """Take from a file what was compiled from the very same sources before; add what is new."""
    known = _remembered(path)
    count = len(known)
    plain = builtins.compile

    def remember(source: Any, filename: Any, mode: str, *rest: Any, **named: Any) -> Any:
        if rest or named or not isinstance(source, str | bytes):
            return plain(source, filename, mode, *rest, **named)
        key = (str(filename), source)
        if key not in known:
            known[key] = plain(source, filename, mode, dont_inherit=True)
        return known[key]

    builtins.compile = remember
    try:
        yield
    finally:
        builtins.compile = plain
        if len(known) > count and not sys.dont_write_bytecode:
            _write(path, known)


def _remembered(path: Path) -> Compiled:
    with suppress(OSError, ValueError, EOFError, TypeError):
        known = marshal.loads(path.read_bytes())
        if isinstance(known, dict):
            return known
    return {}


def _write(path: Path, known: Compiled) -> None:
    """Replace the file at once, so that no other start reads half of it; a pity if it cannot be."""
    half = path.with_suffix(f".{os.getpid()}")
    with suppress(OSError):
        path.parent.mkdir(exist_ok=True)
        half.write_bytes(marshal.dumps(known))
        half.replace(path)
