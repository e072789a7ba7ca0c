"""A crash loses nothing that was done more than a moment before."""

from __future__ import annotations

import os
import random
import signal
import subprocess
import sys
import time
from pathlib import Path

import pytest

from app.workspace import AlreadyOpen, Workspace
from model.diagram import Component
from model.edits import setting
from model.errors import UnreadableFile
from model.storage import dumps, save
from model.storage.recover import leftovers, recover
from tests.model.random_diagrams import grown


def crashed(workspace: Workspace) -> None:
    """Leave the workspace as a crash does: the journal stays, the locks go."""
    workspace._journal.leave()
    workspace._release()


def add_fuse(workspace: Workspace, item: str) -> None:
    fuse = Component(id=item, kind="fuse")
    workspace.do(setting(workspace.diagram, f"Place {item}", fuse))


@pytest.mark.parametrize("seed", range(12))
def test_a_journal_gives_back_diagram_and_undo_steps(tmp_path: Path, seed: int) -> None:
    rng = random.Random(seed)
    _, edits = grown(rng, 30)
    workspace = Workspace(tmp_path)
    for edit in edits:
        workspace.do(edit)
        if rng.random() < 0.2:
            workspace.undo()
            if rng.random() < 0.7 or workspace.undo_label is None:
                workspace.redo()
            else:
                break
    lost, undo_label = workspace.diagram, workspace.undo_label
    crashed(workspace)
    (leftover,) = leftovers(tmp_path)
    recovered = recover(leftover.journal)
    assert recovered.warning == ""
    again = Workspace(tmp_path)
    again.adopt(recovered)
    assert dumps(again.diagram) == dumps(lost)
    assert again.undo_label == undo_label
    while again.undo():
        pass
    assert not again.diagram.components
    again.close()


def test_undoing_past_a_save_is_recovered_too(tmp_path: Path) -> None:
    workspace = Workspace(tmp_path)
    add_fuse(workspace, "F1")
    add_fuse(workspace, "F2")
    workspace.save_as(tmp_path / "boat.loom")
    workspace.undo()
    crashed(workspace)
    (leftover,) = leftovers(tmp_path)
    recovered = recover(leftover.journal)
    assert set(recovered.history.diagram.components) == {"F1"}
    assert recovered.diagram_path == (tmp_path / "boat.loom").resolve()


def test_a_torn_last_line_is_told_and_the_rest_recovered(tmp_path: Path) -> None:
    workspace = Workspace(tmp_path)
    for item in ("F1", "F2", "F3"):
        add_fuse(workspace, item)
    crashed(workspace)
    (leftover,) = leftovers(tmp_path)
    leftover.journal.write_bytes(leftover.journal.read_bytes()[:-20])
    recovered = recover(leftover.journal)
    assert set(recovered.history.diagram.components) == {"F1", "F2"}
    assert "Line 4" in recovered.warning and "1 of 3" in recovered.warning


def test_a_base_that_changed_since_is_told_and_not_merged_into(tmp_path: Path) -> None:
    path = tmp_path / "boat.loom"
    workspace = Workspace(tmp_path)
    workspace.save_as(path)
    add_fuse(workspace, "F1")
    crashed(workspace)
    other, _ = grown(random.Random(5), 20)
    save(other, path)
    (leftover,) = leftovers(tmp_path)
    assert recover(leftover.journal).base_changed


def test_a_base_that_is_gone_is_told(tmp_path: Path) -> None:
    path = tmp_path / "boat.loom"
    workspace = Workspace(tmp_path)
    workspace.save_as(path)
    add_fuse(workspace, "F1")
    crashed(workspace)
    path.unlink()
    (leftover,) = leftovers(tmp_path)
    with pytest.raises(UnreadableFile, match="gone"):
        recover(leftover.journal)


def test_a_living_window_keeps_its_journal_and_its_file(tmp_path: Path) -> None:
    path = tmp_path / "boat.loom"
    first, second = Workspace(tmp_path), Workspace(tmp_path)
    first.save_as(path)
    add_fuse(first, "F1")
    assert leftovers(tmp_path) == ()
    with pytest.raises(AlreadyOpen):
        second.open(path)
    first.close()
    second.open(path)
    second.close()
    assert list(tmp_path.iterdir()) == [path]


KILLED = """
import sys, time
from pathlib import Path
from app.workspace import Workspace
from model.diagram import Component
from model.edits import setting
workspace = Workspace(Path(sys.argv[1]))
number = 0
while True:
    number += 1
    fuse = Component(id=f"F{number}", kind="fuse")
    workspace.do(setting(workspace.diagram, "Place", fuse))
    print(number, time.time(), flush=True)
    time.sleep(0.01)
"""


@pytest.mark.parametrize("after_s", [0.3, 0.9])
def test_killing_the_program_loses_nothing_done_a_second_before(
    tmp_path: Path, after_s: float
) -> None:
    root = Path(__file__).resolve().parents[3]
    with subprocess.Popen(
        [sys.executable, "-c", KILLED, str(tmp_path)], stdout=subprocess.PIPE, text=True,
        cwd=root, env={**os.environ, "PYTHONPATH": str(root)},
    ) as process:
        assert process.stdout is not None
        process.stdout.readline()
        time.sleep(after_s)
        process.send_signal(signal.SIGKILL)
        done = [line.split() for line in process.stdout.read().splitlines() if line.count(" ") == 1]
    (leftover,) = leftovers(tmp_path)
    found = recover(leftover.journal).history.diagram.components
    assert f"F{done[-1][0]}" in found
