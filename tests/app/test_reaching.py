"""Everything can be reached: loads in panel rows, links between parts, the Locker when narrow."""

from __future__ import annotations

from importlib.resources import files

import pytest
from PySide6.QtWidgets import QLabel

from app.window.main_window import MainWindow
from model.storage import load
from tests.app.hand import Hand

DEMO = str(files("assets").joinpath("demo", "steel_cutter.loom"))


@pytest.fixture
def hand(qtbot, window: MainWindow) -> Hand:
    window.workspace.start_new(load(DEMO))
    window.view.fit()
    return Hand(qtbot, window)


def row_middle(hand: Hand, item: str) -> tuple[float, float]:
    row = hand.window.scene.drawing.rows[item]
    return ((row.x0 + row.x1) / 2, (row.y0 + row.y1) / 2)


def links(hand: Hand) -> list[str]:
    labels = hand.window.particulars.findChildren(QLabel)
    return [label.text() for label in labels if "<a " in label.text()]


def test_a_click_on_a_panel_row_chooses_the_load_that_is_drawn_there(hand: Hand) -> None:
    hand.click(*row_middle(hand, "E31"))
    assert hand.window.scene.selection == {"E31"}


def test_a_click_on_a_panels_header_chooses_the_panel(hand: Hand) -> None:
    body = hand.window.scene.drawing.parts["P1"].body
    hand.click(body.x1 - 8, body.y0 + 4)
    assert hand.window.scene.selection == {"P1"}


def test_a_load_in_a_row_and_its_conductor_are_removed_without_the_panel(hand: Hand) -> None:
    hand.click(*row_middle(hand, "E31"))
    hand.window.run("edit.remove")
    diagram = hand.window.workspace.diagram
    assert "E31" not in diagram.components
    assert "W80" not in diagram.conductors
    assert "P1" in diagram.components


def test_particulars_of_a_panel_link_to_its_loads_and_their_conductors(hand: Hand, qtbot) -> None:
    hand.window.desk.choose({"P1"})
    qtbot.waitUntil(lambda: any('href="E31"' in text for text in links(hand)))
    assert any('href="W80"' in text for text in links(hand))
    hand.window.particulars.shown_item.emit("W80")
    assert hand.window.scene.selection == {"W80"}


def test_a_narrow_window_folds_the_locker_to_one_column(hand: Hand, qtbot) -> None:
    hand.window.resize(1500, 900)
    qtbot.waitUntil(lambda: not hand.window.locker.is_folded)
    wide = hand.window.locker.width()
    hand.window.resize(1200, 800)
    qtbot.waitUntil(lambda: hand.window.locker.is_folded)
    assert hand.window.locker.width() < wide / 2


def test_no_name_on_a_tile_is_cut(hand: Hand) -> None:
    for tile in hand.window.locker.tiles.values():
        metrics = tile.fontMetrics()
        widest = max(metrics.horizontalAdvance(part) for part in tile.text().split("\n"))
        assert widest <= tile.width() - 4, tile.text()
