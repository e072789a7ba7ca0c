"""Locks: held by one at a time, by other processes too, and never by two on one name."""

from __future__ import annotations

import subprocess
import sys
from pathlib import Path

from model.storage import lock as module
from model.storage.lock import FileLock

HOLD = """
import sys
from pathlib import Path
from model.storage.lock import FileLock
lock = FileLock(Path(sys.argv[1]))
print(lock.acquire(), flush=True)
sys.stdin.readline()
"""


def holder(path: Path) -> subprocess.Popen[str]:
    """A process that holds the lock until its input ends or it is killed."""
    process = subprocess.Popen([sys.executable, "-c", HOLD, str(path)], text=True,
                               stdin=subprocess.PIPE, stdout=subprocess.PIPE)
    assert process.stdout is not None and process.stdout.readline() == "True\n"
    return process


def test_a_lock_is_held_once_and_free_when_let_go(tmp_path):
    first, second = FileLock(tmp_path / "a.lock"), FileLock(tmp_path / "a.lock")
    assert first.acquire() and first.acquire()
    assert not second.acquire()
    first.release()
    assert second.acquire()
    second.release()
    assert not (tmp_path / "a.lock").exists()


def test_a_lock_of_a_process_that_was_killed_is_free(tmp_path):
    path = tmp_path / "a.lock"
    process = holder(path)
    lock = FileLock(path)
    assert not lock.acquire()
    process.kill()
    process.communicate()
    assert lock.acquire()
    lock.release()


def test_a_file_removed_while_it_was_being_locked_is_no_lock(tmp_path, monkeypatch):
    """Another lets go between our opening and our locking: its name is free again for a third."""
    path = tmp_path / "a.lock"
    locked, removed = module._lock, []

    def lock_late(file):
        if not removed:
            removed.append(path.unlink())
        locked(file)

    monkeypatch.setattr(module, "_lock", lock_late)
    first, second = FileLock(path), FileLock(path)
    assert first.acquire()
    assert not second.acquire()
    first.release()
