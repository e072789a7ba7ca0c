"""Tidy the sheet in the window: one key, one step, everything seen; and one step back."""

from __future__ import annotations

from PySide6.QtCore import Qt

from model.storage.save import dumps
from tests.app.hand import Hand

CONTROL = Qt.KeyboardModifier.ControlModifier
SHIFT = Qt.KeyboardModifier.ShiftModifier


def tidy(hand: Hand) -> None:
    hand.key(Qt.Key.Key_T, CONTROL | SHIFT)


def test_four_parts_are_tidied_by_a_key_and_come_back_by_one_step(four_parts: Hand) -> None:
    hand, workspace = four_parts, four_parts.window.workspace
    for first, second in ((("G1", "+"), ("F1", "a")), (("F1", "b"), ("Q1", "a")),
                          (("Q1", "b"), ("E1", "+"))):
        hand.connect(first, second)
    before, serial = dumps(workspace.diagram), workspace.serial
    tidy(hand)
    assert workspace.serial == serial + 1
    assert workspace.undo_label == "Tidy the sheet"
    at = {item: part.at for item, part in workspace.diagram.components.items()}
    assert at["F1"][0] == at["G1"][0] and at["F1"][1] < at["G1"][1]  # the fuse on its battery
    assert at["Q1"][0] == at["E1"][0] and at["Q1"][1] < at["E1"][1]  # the load below its switch
    assert set(hand.window.scene.drawing.paths) == {"W1", "W2", "W3"}
    for item in at:  # each is in sight and can be taken hold of where it now stands
        hand.click(*hand.middle(item))
        assert hand.window.scene.selection == {item}
    hand.key(Qt.Key.Key_Z, CONTROL)
    assert dumps(workspace.diagram) == before


def test_a_part_moved_after_a_tidy_leaves_all_other_paths_alone(four_parts: Hand) -> None:
    hand, workspace = four_parts, four_parts.window.workspace
    hand.connect(("G1", "+"), ("F1", "a"))
    hand.connect(("Q1", "b"), ("E1", "+"))
    tidy(hand)
    kept = workspace.diagram.conductors["W1"].path
    x, y = hand.middle("E1")
    hand.drag((x, y), (x + 40, y + 20))
    assert workspace.diagram.conductors["W1"].path == kept
    assert workspace.diagram.components["E1"].at != (x, y)


def test_on_an_empty_sheet_there_is_nothing_to_tidy(hand: Hand) -> None:
    tidy(hand)
    assert hand.window.workspace.undo_label is None
