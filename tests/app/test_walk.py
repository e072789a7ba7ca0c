"""The walk list: on the command line, on paper, and in the window's foot."""

from __future__ import annotations

import json
from importlib.resources import files

from app.cli import main
from app.pack.walking import walk_table
from model.storage import load
from rules.engine import report_on
from rules.walk_list import walk_list
from tests.app.hand import LEFT, Hand

DEMO = str(files("assets").joinpath("demo", "weekend_sloop.loom"))


def test_the_command_lists_the_errands_place_by_place(capsys):
    assert main(["walk", DEMO]) == 0
    text = capsys.readouterr().out
    assert "left to trace and measure" in text and "  [ ] W39 (P1 to E10): size" in text
    assert main(["walk", DEMO, "--format", "json"]) == 0
    errands = json.loads(capsys.readouterr().out)["errands"]
    assert {"place", "item", "subject", "trace", "fields"} == set(errands[0])
    places = [one["place"] for one in errands]
    assert places == sorted(places, key=places.index), "one walk: no place comes twice"


def test_the_sheet_has_a_box_and_room_for_each_errand_and_names_every_item():
    diagram = load(DEMO)
    report = report_on(diagram)
    table = walk_table(report, diagram)
    assert table is not None
    words = " ".join(row.cells[2] for row in table.rows).replace(",", " ").split()
    assert {errand.item for errand in walk_list(report, diagram)} <= set(words)
    assert any(row.cells[2].startswith("23 conductors: W3, W4, ") for row in table.rows)
    assert all(row.cells[1] == "\u2610" and row.cells[-1] == "" for row in table.rows)


def test_a_row_of_the_list_leads_to_the_field_where_the_answer_is_typed(four_parts: Hand):
    hand = four_parts
    page = hand.window.foot.walk
    hand.window.foot.setCurrentWidget(page)
    hand.report()
    rows = [row for row in range(page.rowCount()) if page.item(row, 1).text().startswith("G1")]
    assert rows, "the bank's capacity is asked for"
    hand.qtbot.mouseClick(page.viewport(), LEFT,
                          pos=page.visualItemRect(page.item(rows[0], 1)).center())
    assert hand.window.scene.selection == {"G1"}
    name = page.item(rows[0], 0).data(0x0100)[1]
    assert hand.field(name).editor.hasFocus()


def test_a_wire_that_was_lost_stands_first_and_leaves_the_list_when_it_is_traced(
    four_parts: Hand,
):
    hand = four_parts
    page = hand.window.foot.walk
    hand.window.foot.setCurrentWidget(page)
    hand.drag(hand.port("F1", "b"), (150, 120))
    hand.report()
    texts = [page.item(row, 2).text() for row in range(page.rowCount())]
    assert "find where it goes" in texts
    hand.drag(hand.port("X1", "end"), hand.port("E1", "+"))
    hand.report()
    texts = [page.item(row, 2).text() for row in range(page.rowCount())]
    assert "find where it goes" not in texts
    assert "X1" not in hand.window.workspace.diagram.components
