"""The files that were open lately, newest first."""

from __future__ import annotations

import json
from pathlib import Path

from model.errors import ModelError
from model.storage.save import write_text_atomically

MOST = 10


def recent_files(folder: Path) -> tuple[Path, ...]:
    """Return the recent files that still exist."""
    try:
        listed = json.loads((folder / "recent.json").read_text("utf-8"))
    except (OSError, ValueError):
        return ()
    if not isinstance(listed, list):
        return ()
    return tuple(path for item in listed if (path := Path(str(item))).is_file())


def remember(folder: Path, path: Path) -> None:
    """Put a file first in the list. A list that cannot be written is no reason to stop."""
    path, before = path.resolve(), recent_files(folder)
    if before[:1] == (path,):
        return
    listed = [str(known) for known in (path, *(one for one in before if one != path))][:MOST]
    try:
        write_text_atomically(folder / "recent.json", json.dumps(listed))
    except ModelError:
        return
