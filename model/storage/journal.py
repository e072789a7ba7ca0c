"""The journal: every edit, undo and redo as one JSON line, so that a crash loses nothing.

A thread flushes to the disk at most every quarter of a second. The first line says what the
journal starts from: the hash of the saved file, or the whole diagram when it was never saved. It
is written with the first step, so that nothing is hashed for a diagram that is only looked at.
"""

from __future__ import annotations

import json
import os
import threading
import time
import uuid
from pathlib import Path
from typing import Any

from model.diagram import Diagram
from model.edits import Edit
from model.storage.lock import FileLock
from model.storage.plain import to_plain
from model.storage.save import dumps

FLUSH_INTERVAL_S = 0.25


def text_hash(text: str) -> str:
    """Return the SHA-256 of a file's text."""
    import hashlib  # brings OpenSSL, which a start can do without

    return hashlib.sha256(text.encode("utf-8")).hexdigest()


def edit_to_plain(edit: Edit) -> dict[str, Any]:
    """Return the edit as plain JSON values; what was before is known from the replay."""
    return {
        "label": edit.label,
        "merge_key": edit.merge_key,
        "changes": [
            {
                "collection": change.collection,
                "id": change.id,
                "after": None if change.after is None else to_plain(change.after),
            }
            for change in edit.changes
        ],
    }


class Journal:
    """Writes what is done to one open diagram. Close it in the end: that removes the file."""

    def __init__(self, folder: Path, diagram: Diagram, saved_as: Path | None) -> None:
        self.path = folder / f"journal-{uuid.uuid4().hex}.jsonl"
        self._guard = FileLock(self.path.with_suffix(".lock"))
        self._guard.acquire()
        self._file = self.path.open("w", encoding="utf-8", newline="\n")
        self._wake = threading.Event()
        self._closing = threading.Event()
        self._write_lock = threading.Lock()
        self._base: tuple[Diagram, Path | None] | None = (diagram, saved_as)
        self._thread = threading.Thread(target=self._run, name="journal", daemon=True)
        self._thread.start()

    def did(self, edit: Edit) -> None:
        """Note an edit that was done."""
        self._write({"op": "do", "edit": edit_to_plain(edit)})

    def undid(self, edit: Edit) -> None:
        """Note that the newest step was taken back; `edit` is its inverse."""
        self._write({"op": "undo", "edit": edit_to_plain(edit)})

    def redid(self, edit: Edit) -> None:
        """Note that the step taken back last was done again."""
        self._write({"op": "redo", "edit": edit_to_plain(edit)})

    def restart(self, diagram: Diagram, saved_as: Path) -> None:
        """Begin anew from a diagram just saved."""
        with self._write_lock:
            self._file.seek(0)
            self._file.truncate()
            self._base = (diagram, saved_as)
        self._wake.set()

    def close(self) -> None:
        """Stop, and remove the journal: the work is saved or was given up on purpose."""
        self._stop()
        self._file.close()
        self.path.unlink(missing_ok=True)
        self._guard.release()

    def leave(self) -> None:
        """Stop but keep the file, for a later start to recover from."""
        self._stop()
        self._sync()
        self._file.close()
        self._guard.release()

    def _stop(self) -> None:
        self._closing.set()
        self._wake.set()
        self._thread.join()

    def _write(self, entry: dict[str, Any]) -> None:
        with self._write_lock:
            entries = [entry] if self._base is None else [_header(*self._base), entry]
            self._base = None
            self._file.writelines(json.dumps(each, ensure_ascii=False) + "\n" for each in entries)
            self._file.flush()
        self._wake.set()

    def _sync(self) -> None:
        os.fsync(self._file.fileno())

    def _run(self) -> None:
        while not self._closing.is_set():
            self._wake.wait()
            self._wake.clear()
            if not self._closing.is_set():
                self._sync()
                self._closing.wait(FLUSH_INTERVAL_S)


def _header(diagram: Diagram, saved_as: Path | None) -> dict[str, Any]:
    text = dumps(diagram)
    header: dict[str, Any] = {"journal": 1, "base_sha256": text_hash(text), "time": time.time()}
    if saved_as is None:
        return {**header, "path": None, "base": text}
    return {**header, "path": str(saved_as.resolve())}
