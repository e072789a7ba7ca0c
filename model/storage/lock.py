"""Locks that the system lets go by itself when a program dies, however it dies."""

from __future__ import annotations

import contextlib
import os
import sys
from pathlib import Path
from typing import IO
from zlib import adler32, crc32


class FileLock:
    """An exclusive lock on a small file: held by at most one program on this machine."""

    def __init__(self, path: Path) -> None:
        self.path = path
        self._file: IO[str] | None = None

    def acquire(self) -> bool:
        """Return whether the lock is now held by this object."""
        if self._file is not None:
            return True
        file = self.path.open("a+", encoding="utf-8")
        try:
            _lock(file)
        except OSError:
            file.close()
            return False
        if not _is_at(file, self.path):  # let go, and its file removed, while we opened it
            file.close()
            return self.acquire()
        self._file = file
        return True

    def release(self) -> None:
        """Let the lock go and remove its file."""
        if self._file is None:
            return
        with contextlib.suppress(OSError):
            self.path.unlink()
        self._file.close()
        self._file = None


def _is_at(file: IO[str], path: Path) -> bool:
    """Say whether an open file is still the one of that name: a lock on another holds nobody."""
    try:
        return os.path.samestat(os.fstat(file.fileno()), path.stat())
    except FileNotFoundError:
        return False


def diagram_lock(folder: Path, diagram_path: Path) -> FileLock:
    """Return the lock that tells a second window the file is open already."""
    path = os.fsencode(diagram_path.resolve())
    return FileLock(folder / f"open-{crc32(path):08x}{adler32(path):08x}.lock")


if sys.platform == "win32":
    import msvcrt

    def _lock(file: IO[str]) -> None:
        file.seek(0)
        msvcrt.locking(file.fileno(), msvcrt.LK_NBLCK, 1)
else:
    import fcntl

    def _lock(file: IO[str]) -> None:
        fcntl.flock(file.fileno(), fcntl.LOCK_EX | fcntl.LOCK_NB)
