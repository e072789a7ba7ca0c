"""The open diagram: undo steps, files that cannot be read or written, a second window."""

from __future__ import annotations

import pytest

from app.drafting.parts import field_edit, place_edit
from app.new_boat import new_diagram
from app.workspace import AlreadyOpen, Workspace
from model.edits import Edit, changed, setting
from model.errors import ModelError, StaleEdit, UnreadableFile, UnwritableFile
from model.storage import load, save
from model.storage.save import dumps


@pytest.fixture
def workspace(state_folder):
    made = Workspace(state_folder, new_diagram("Anna"))
    yield made
    made.close()


def place(workspace, kind="fuse", at=(50, 50)):
    edit = place_edit(workspace.diagram, kind, at)
    assert workspace.do(edit)
    return edit.changes[0].id


def test_undo_gives_back_the_same_bytes_and_redo_does_it_again(workspace):
    start = dumps(workspace.diagram)
    place(workspace)
    place(workspace, "battery_bank", (100, 50))
    end = dumps(workspace.diagram)
    while workspace.undo():
        pass
    assert dumps(workspace.diagram) == start
    while workspace.redo():
        pass
    assert dumps(workspace.diagram) == end


def test_undo_and_redo_say_when_there_is_nothing_to_do(workspace):
    assert not workspace.undo()
    assert not workspace.redo()
    assert workspace.undo_label is None and workspace.redo_label is None


def test_the_step_is_titled_in_the_words_of_its_edit(workspace):
    place(workspace)
    assert workspace.undo_label == "Place fuse F1"
    workspace.undo()
    assert workspace.redo_label == "Place fuse F1"


def test_typing_in_one_field_is_one_step(workspace):
    item = place(workspace)
    for rated_a in (1.0, 10.0, 100.0):
        workspace.do(field_edit(workspace.diagram, item, "rated_a", rated_a))
    workspace.undo()
    assert workspace.diagram.components[item].parameters.get("rated_a") is None
    assert workspace.undo_label == f"Place fuse {item}"


def test_a_step_that_changes_nothing_is_not_pushed(workspace):
    boat = workspace.diagram.boat
    assert not workspace.do(setting(workspace.diagram, "Set name", boat))
    assert not workspace.do(Edit("Nothing", ()))
    assert workspace.undo_label is None


def test_an_edit_made_for_another_diagram_is_refused_and_nothing_is_done(workspace):
    stale = place_edit(workspace.diagram, "fuse", (0, 0))
    place(workspace)
    before, told = workspace.diagram, []
    workspace.listeners.append(lambda *both: told.append(both))
    with pytest.raises(StaleEdit):
        workspace.do(stale)
    assert workspace.diagram is before and told == []


def test_a_new_step_drops_what_was_taken_back(workspace):
    place(workspace)
    workspace.undo()
    place(workspace, "lamp")
    assert not workspace.redo()


def test_listeners_are_told_what_was_and_what_is(workspace):
    told = []
    workspace.listeners.append(lambda before, after: told.append((before, after)))
    start = workspace.diagram
    place(workspace)
    placed = workspace.diagram
    workspace.undo()
    assert told == [(start, placed), (placed, start)]
    assert workspace.serial == 2


@pytest.mark.parametrize("content", [
    b"", b"\x00\xff\x00", b"{", b"[]", b'{"format_version": 99}', b'{"format_version": 1, "x": 1}',
])
def test_a_failed_open_leaves_the_open_diagram_untouched(workspace, tmp_path, content):
    place(workspace)
    before = workspace.diagram
    path = tmp_path / "broken.loom"
    path.write_bytes(content)
    with pytest.raises(UnreadableFile) as told:
        workspace.open(path)
    assert "broken.loom" in told.value.sentence
    assert workspace.diagram is before
    assert workspace.path is None
    assert workspace.undo_label == "Place fuse F1"


def test_a_file_that_could_not_be_opened_is_not_kept_locked(workspace, tmp_path, state_folder):
    path = tmp_path / "broken.loom"
    path.write_text("{")
    with pytest.raises(UnreadableFile):
        workspace.open(path)
    save(new_diagram(), path)
    other = Workspace(state_folder)
    other.open(path)
    other.close()


def test_a_save_that_fails_keeps_the_old_file_and_says_so(workspace, tmp_path, monkeypatch):
    path = tmp_path / "boat.loom"
    workspace.save_as(path)
    old = path.read_bytes()
    place(workspace)

    def full(*_arguments):
        raise OSError(28, "No space left on device")

    monkeypatch.setattr("os.replace", full)
    with pytest.raises(UnwritableFile, match="The old file is as it was"):
        workspace.save_as(path)
    assert path.read_bytes() == old
    assert sorted(p.name for p in tmp_path.iterdir() if p.is_file()) == ["boat.loom"]
    assert workspace.is_changed


def test_a_save_into_a_folder_that_is_not_there_keeps_the_name_and_the_changes(workspace, tmp_path):
    place(workspace)
    with pytest.raises(UnwritableFile):
        workspace.save_as(tmp_path / "nowhere" / "boat.loom")
    assert workspace.path is None and workspace.is_changed


def test_what_is_saved_is_what_is_opened(workspace, tmp_path, state_folder):
    place(workspace)
    path = tmp_path / "boat.loom"
    assert workspace.is_changed
    workspace.save_as(path)
    assert not workspace.is_changed
    assert load(path) == workspace.diagram


def test_undoing_to_the_saved_state_is_no_change(workspace, tmp_path):
    workspace.save_as(tmp_path / "boat.loom")
    place(workspace)
    assert workspace.is_changed
    workspace.undo()
    assert not workspace.is_changed


def test_a_second_window_on_one_file_is_told(workspace, tmp_path, state_folder):
    path = tmp_path / "boat.loom"
    workspace.save_as(path)
    second = Workspace(state_folder, new_diagram("Berta"))
    before = second.diagram
    for attempt in (second.open, second.save_as):
        with pytest.raises(AlreadyOpen, match="open in another window"):
            attempt(path)
    assert second.diagram is before
    assert load(path).boat.name == "Anna"
    second.close()


def test_a_file_let_go_may_be_opened_by_another_window(workspace, tmp_path, state_folder):
    path = tmp_path / "boat.loom"
    workspace.save_as(path)
    workspace.start_new(new_diagram())
    second = Workspace(state_folder)
    second.open(path)
    assert second.diagram.boat.name == "Anna"
    second.close()


def test_opening_another_file_starts_with_no_steps(workspace, tmp_path):
    path = tmp_path / "other.loom"
    save(new_diagram("Berta"), path)
    place(workspace)
    workspace.open(path)
    assert workspace.undo_label is None
    assert not workspace.is_changed
    assert workspace.diagram.boat.name == "Berta"


def test_a_bad_value_is_refused_whole(workspace):
    item = place(workspace)
    before = workspace.diagram
    with pytest.raises(ModelError, match="0 or more"):
        workspace.do(field_edit(before, item, "rated_a", -5.0))
    boat = changed(before.boat, name="Berta")
    bad = field_edit(before, item, "rated_a", "many")
    both = setting(before, "Two things", boat)
    with pytest.raises(ModelError):
        workspace.do(Edit("Two things", (*both.changes, *bad.changes)))
    assert workspace.diagram is before
