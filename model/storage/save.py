"""Writing a diagram so that the old file or the new one stands there, never half of one."""

from __future__ import annotations

import contextlib
import json
import os
import tempfile
from pathlib import Path
from typing import Any

from model.diagram import COLLECTIONS, Diagram
from model.errors import UnwritableFile
from model.storage.plain import natural_key, to_plain

TEMP_MARK = ".loom-part-"


def dumps(diagram: Diagram) -> str:
    """Return the text of the file: version first, items by id, one a line."""
    parts = [f'"format_version": {diagram.format_version}']
    parts.append(f'"boat": {_line(to_plain(diagram.boat))}')
    parts.append(f'"sheet": {_line(to_plain(diagram.sheet))}')
    for name in COLLECTIONS:
        items = getattr(diagram, name)
        lines = [_line(to_plain(items[key])) for key in sorted(items, key=natural_key)]
        body = ",\n".join(f"  {line}" for line in lines)
        parts.append(f'"{name}": [\n{body}\n]' if lines else f'"{name}": []')
    if diagram.extra:
        parts.append(f'"extra": {_line(dict(diagram.extra))}')
    return "{\n" + ",\n".join(parts) + "\n}\n"


def _line(plain: Any) -> str:
    return json.dumps(plain, ensure_ascii=False, allow_nan=False)


def save(diagram: Diagram, path: Path | str) -> None:
    """Write the diagram; raise UnwritableFile, and then the old file is as it was."""
    write_text_atomically(Path(path), dumps(diagram))


def write_text_atomically(path: Path, text: str) -> None:
    """Write to a temporary file beside, flush it to the disk, and put it in place."""
    folder = path.parent
    temporary = ""
    try:
        sweep(folder, path.name)
        mode = path.stat().st_mode & 0o777 if path.exists() else 0o644
        handle, temporary = tempfile.mkstemp(prefix=f".{path.name}{TEMP_MARK}", dir=folder)
        with os.fdopen(handle, "w", encoding="utf-8", newline="\n") as file:
            file.write(text)
            file.flush()
            os.fsync(file.fileno())
        os.chmod(temporary, mode)
        os.replace(temporary, path)
        _sync_folder(folder)
    except (OSError, UnicodeError) as error:
        with contextlib.suppress(OSError):
            if temporary:
                os.unlink(temporary)
        reason = getattr(error, "strerror", None) or str(error)
        raise UnwritableFile(str(path), reason) from error


def _sync_folder(folder: Path) -> None:
    """Flush the folder entry too, where the system knows how."""
    if os.name != "posix":
        return
    handle = os.open(folder, os.O_RDONLY)
    try:
        os.fsync(handle)
    finally:
        os.close(handle)


def sweep(folder: Path, name: str) -> None:
    """Remove temporary files that a killed save of the same file left behind."""
    for left in folder.glob(f".{name}{TEMP_MARK}*"):
        with contextlib.suppress(OSError):
            left.unlink()
