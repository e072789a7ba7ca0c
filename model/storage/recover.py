"""Finding the journals that a crash left, and doing again what stands in them."""

from __future__ import annotations

import json
from pathlib import Path
from typing import Any

from msgspec import Struct

from model.diagram import COLLECTIONS, Diagram
from model.edits import Edit, put
from model.errors import ModelError, UnreadableFile
from model.history import History
from model.record import BadRecord
from model.storage.journal import text_hash
from model.storage.load import loads
from model.storage.lock import FileLock
from model.storage.plain import from_plain
from model.storage.save import dumps


class Leftover(Struct, frozen=True):
    """A journal without a living owner."""

    journal: Path
    diagram_path: Path | None
    steps: int
    time: float


class Recovered(Struct, frozen=True):
    """What a journal gave back. `warning` says what could not be, in a sentence, or is empty."""

    history: History
    diagram_path: Path | None
    warning: str = ""
    base_changed: bool = False


def leftovers(folder: Path) -> tuple[Leftover, ...]:
    """Return the journals in the state folder that no running program holds, newest first."""
    found = []
    for path in folder.glob("journal-*.jsonl"):
        guard = FileLock(path.with_suffix(".lock"))
        if not guard.acquire():
            continue
        guard.release()
        lines = _lines(path)
        header = _entry(lines[0]) if lines else None
        if header is None or len(lines) < 2:
            path.unlink(missing_ok=True)
            continue
        where = header.get("path")
        found.append(
            Leftover(path, Path(where) if where else None, len(lines) - 1,
                     float(header.get("time", 0)))
        )
    return tuple(sorted(found, key=lambda leftover: -leftover.time))


def recover(journal: Path) -> Recovered:
    """Replay a journal on its base; raise UnreadableFile when the base cannot be had.

    Stops at the first line that is torn or does not fit, and says so. A base file that changed
    since is not merged with: `base_changed` tells, and the replay starts from the changed file
    only as far as its edits fit.
    """
    lines = _lines(journal)
    header = _entry(lines[0]) if lines else None
    if header is None:
        raise UnreadableFile(str(journal), "line 1", "the journal's first line is torn.")
    base, path, base_changed = _base(header, journal)
    history = History(base)
    warning = ""
    for number, line in enumerate(lines[1:], start=2):
        try:
            _replay(history, json.loads(line))
        except (ValueError, KeyError, TypeError, ModelError, BadRecord):
            warning = (f"Line {number} of the journal is torn or does not fit; "
                       f"{len(lines) - number + 1} of {len(lines) - 1} steps are not recovered.")
            break
    return Recovered(history, path, warning, base_changed)


def _replay(history: History, entry: dict[str, Any]) -> None:
    """Do one line. An undo of a step from before the last save is done as an edit."""
    edit = edit_from_plain(history.diagram, entry["edit"])
    if entry["op"] == "undo" and history.undo():
        return
    if entry["op"] == "redo" and history.redo():
        return
    if entry["op"] not in ("do", "undo", "redo"):
        raise ValueError(entry["op"])
    history.do(edit)


def edit_from_plain(diagram: Diagram, plain: dict[str, Any]) -> Edit:
    """Return the edit written as plain values, for this diagram."""
    changes = []
    for change in plain["changes"]:
        collection, item, after = change["collection"], change["id"], change["after"]
        if collection not in (*COLLECTIONS, "boat", "sheet"):
            raise ValueError(collection)
        record = None if after is None else from_plain(collection, after)
        changes.append(put(diagram, collection, item, record))
    return Edit(plain["label"], tuple(changes), plain.get("merge_key", ""))


def _base(header: dict[str, Any], journal: Path) -> tuple[Diagram, Path | None, bool]:
    if header.get("path") is None:
        return loads(header.get("base", ""), str(journal)), None, False
    path = Path(header["path"])
    try:
        text = path.read_text("utf-8")
    except (OSError, UnicodeError) as error:
        raise UnreadableFile(str(path), "", "the file the journal belongs to is gone.") from error
    diagram = loads(text, str(path))
    changed = header.get("base_sha256") not in (text_hash(text), text_hash(dumps(diagram)))
    return diagram, path, changed


def _lines(path: Path) -> list[str]:
    try:
        return path.read_text("utf-8", errors="replace").splitlines()
    except OSError:
        return []


def _entry(line: str) -> dict[str, Any] | None:
    try:
        entry = json.loads(line)
    except ValueError:
        return None
    return entry if isinstance(entry, dict) else None
