"""The open diagram: its undo steps, its file and its journal. The only object that changes.

Knows no window: whoever wants to follow it adds a listener. Edits come in, are applied, put on
the undo stack and journaled; listeners are told what was before and what is now.
"""

from __future__ import annotations

from collections.abc import Callable
from pathlib import Path

from model.diagram import Diagram
from model.edits import Edit, inverse
from model.errors import ModelError
from model.history import History
from model.storage import load, save
from model.storage.journal import Journal
from model.storage.lock import FileLock, diagram_lock
from model.storage.recover import Recovered

Listener = Callable[[Diagram, Diagram], None]


class AlreadyOpen(ModelError):
    """The file is open in another window of this program."""

    def __init__(self, path: Path) -> None:
        super().__init__(f"{path} is open in another window. Nothing was changed.")


class Workspace:
    """One open diagram and everything that is done to it."""

    def __init__(self, state_folder: Path, diagram: Diagram | None = None) -> None:
        self._state_folder = state_folder
        self._history = History(diagram or Diagram())
        self._saved: Diagram = self.diagram
        self._lock: FileLock | None = None
        self._journal = Journal(state_folder, self.diagram, None)
        self.path: Path | None = None
        self.serial = 0
        self.listeners: list[Listener] = []

    @property
    def diagram(self) -> Diagram:
        """Return the diagram as it is now."""
        return self._history.diagram

    @property
    def is_changed(self) -> bool:
        """Return whether something is not saved."""
        return self.diagram is not self._saved and self.diagram != self._saved

    @property
    def steps(self) -> tuple[str, ...]:
        """Return the titles of the steps that can be taken back, the newest first."""
        return tuple(step.edit.label for step in reversed(self._history.done))

    @property
    def undo_label(self) -> str | None:
        """Return the title of the step that undo would take back."""
        done = self._history.done
        return done[-1].edit.label if done else None

    @property
    def redo_label(self) -> str | None:
        """Return the title of the step that redo would do again."""
        undone = self._history.undone
        return undone[-1].edit.label if undone else None

    def do(self, edit: Edit) -> bool:
        """Apply an edit as one undo step; return False when it changes nothing.

        Raise ModelError, and nothing was done, when the edit does not fit.
        """
        if edit.is_empty():
            return False
        before = self.diagram
        self._history.do(edit)
        self._journal.did(edit)
        self._tell(before)
        return True

    def undo(self) -> bool:
        """Take the newest step back; return False when there is none."""
        step = self._history.undo()
        if step is None:
            return False
        self._journal.undid(inverse(step.edit))
        self._tell(step.after)
        return True

    def redo(self) -> bool:
        """Do the step taken back last again; return False when there is none."""
        step = self._history.redo()
        if step is None:
            return False
        self._journal.redid(step.edit)
        self._tell(step.before)
        return True

    def open(self, path: Path) -> None:
        """Replace the diagram by a file's; raise ModelError and keep the open one as it was."""
        lock = self._claim(path)
        try:
            diagram = load(path)
        except ModelError:
            if lock is not self._lock:
                lock.release()
            raise
        self._take(History(diagram), path, lock)

    def start_new(self, diagram: Diagram, is_work: bool = False) -> None:
        """Replace the diagram by one that was never saved; leaving one that is work asks first."""
        self._take(History(diagram), None, None, is_work)

    def adopt(self, recovered: Recovered) -> None:
        """Continue from what a journal gave back, undo steps included."""
        path = None if recovered.base_changed else recovered.diagram_path
        lock = self._claim(path) if path is not None else None
        history = recovered.history
        base = history.done[0].before if history.done else history.diagram
        self._take(History(base), path, lock)
        for step in history.done:
            self._history.do(step.edit)
            self._journal.did(step.edit)
        self._tell(base)

    def save_as(self, path: Path) -> None:
        """Write the diagram to a file and make it the workspace's own; raise ModelError."""
        lock = self._claim(path)
        try:
            save(self.diagram, path)
        except ModelError:
            if lock is not self._lock:
                lock.release()
            raise
        if lock is not self._lock:
            self._release()
        self._lock, self.path, self._saved = lock, path, self.diagram
        self._journal.restart(self.diagram, path)
        self._tell(self.diagram)

    def close(self) -> None:
        """Let the file go and drop the journal: the owner saved, or gave the changes up."""
        self._journal.close()
        self._release()

    def _tell(self, before: Diagram) -> None:
        self.serial += 1
        for listener in tuple(self.listeners):
            listener(before, self.diagram)

    def _claim(self, path: Path) -> FileLock:
        lock = diagram_lock(self._state_folder, path)
        if self._lock is not None and self._lock.path == lock.path:
            return self._lock
        if not lock.acquire():
            raise AlreadyOpen(path)
        return lock

    def _take(self, history: History, path: Path | None, lock: FileLock | None,
              is_work: bool = False) -> None:
        if lock is not self._lock:
            self._release()
        before = self.diagram
        self._journal.close()
        self._history = history
        self._journal = Journal(self._state_folder, self.diagram, path)
        self._lock, self.path = lock, path
        self._saved = Diagram() if is_work else self.diagram
        self._tell(before)

    def _release(self) -> None:
        if self._lock is not None:
            self._lock.release()
            self._lock = None
