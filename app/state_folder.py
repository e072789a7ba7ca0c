"""Where the program keeps what is its own: journals, locks, recent files."""

from __future__ import annotations

import os
import sys
from pathlib import Path


def state_folder() -> Path:
    """Return the user's state folder of this program, made if need be."""
    if sys.platform == "win32":
        base = Path(os.environ.get("LOCALAPPDATA", Path.home() / "AppData" / "Local"))
    elif sys.platform == "darwin":
        base = Path.home() / "Library" / "Application Support"
    else:
        base = Path(os.environ.get("XDG_STATE_HOME") or Path.home() / ".local" / "state")
    folder = base / "loomwright"
    folder.mkdir(parents=True, exist_ok=True)
    return folder
