import math

import pytest

from app.drawing.fonts import text_box
from app.drawing.marks import (
    Arc,
    Box,
    Circle,
    Path,
    Rect,
    Text,
    arc_points,
    bounds,
    turned,
    turned_box,
)
from app.drawing.symbol_chart import entries
from app.drawing.symbols import has_symbol, symbol
from app.drawing.symbols.icons import FAMILIES, family_of
from model.kinds import catalogue
from model.kinds.loads import ROLES

SEVERAL_PORTS = (
    ("shore_charger", {"output_count": 2}),
    ("shore_charger", {"output_count": 3}),
    ("shore_charger", {"outputs": ({"id": "house"}, {"id": "bow"})}),
    ("diode_isolator", {"output_count": 3}),
    ("dc_dc_charger", {"isolated": True}),
    ("battery_bank", {"taps": ({"id": "t1", "after_block": 1}, {"id": "t2", "after_block": 2})}),
    ("busbar", {"stud_count": 12, "pole": "-"}),
    ("busbar", {"stud_count": 3, "stud_at_mm": (0, 12.5, 60), "length_mm": 90}),
    ("terminal_block", {"stud_count": 1}),
    ("panel", {"ways": ({"id": "F1", "device": "none"}, {"id": "F2", "spare": True}),
               "main": ({"id": "main", "device": "fuse", "rated_a": 250},), "width_mm": 90,
               "negative_bar": True}),
    ("ac_panel", {"ways": ({"id": "F61", "label": "Outlets, port", "rated_a": 16},)}),
)
ALL = [(slug, parameters, positions) for slug, _title, parameters, positions in entries()]
ALL += [(slug, {}, {}) for slug in catalogue()]
ALL += [(slug, parameters, {}) for slug, parameters in SEVERAL_PORTS]


@pytest.mark.parametrize("slug", catalogue())
def test_every_kind_has_a_symbol_of_its_own(slug):
    assert has_symbol(slug)


@pytest.mark.parametrize(("slug", "parameters", "positions"), ALL)
def test_a_symbol_has_the_ports_of_its_kind_and_no_others(slug, parameters, positions):
    wanted = [port.id for port in catalogue()[slug].ports(parameters)]
    assert sorted(symbol(slug, parameters, positions).ports) == sorted(wanted)


@pytest.mark.parametrize(("slug", "parameters", "positions"), ALL)
def test_ports_lie_on_the_grid_apart_from_each_other_and_on_the_edge(slug, parameters, positions):
    drawn = symbol(slug, parameters, positions)
    places = [(port.x, port.y) for port in drawn.ports.values()]
    assert len(set(places)) == len(places)
    for port in drawn.ports.values():
        assert port.x % 2.5 == 0 and port.y % 2.5 == 0
        edges = {(0, -1): port.y - drawn.body.y0, (0, 1): port.y - drawn.body.y1,
                 (-1, 0): port.x - drawn.body.x0, (1, 0): port.x - drawn.body.x1, (0, 0): 0.0}
        assert abs(edges[port.dx, port.dy]) < 1e-9
        assert drawn.body.holds(port.x, port.y)


@pytest.mark.parametrize(("slug", "parameters", "positions"), ALL)
def test_the_body_holds_all_that_is_drawn(slug, parameters, positions):
    drawn = symbol(slug, parameters, positions)
    whole = bounds(drawn.marks)
    assert whole is not None and drawn.body.joined(whole) == drawn.body
    for mark in drawn.marks:
        if isinstance(mark, Text):
            assert drawn.body.joined(text_box(mark)) == drawn.body, mark.text


@pytest.mark.parametrize(("turn", "mirrored"), [(180, False), (0, True), (180, True)])
@pytest.mark.parametrize(("slug", "parameters", "positions"), ALL)
def test_lettering_stays_in_the_body_when_a_symbol_is_turned_over_or_mirrored(
    slug, parameters, positions, turn, mirrored
):
    drawn = symbol(slug, parameters, positions)
    body = turned_box(drawn.body, turn, mirrored)
    for mark in drawn.marks:
        if isinstance(mark, Text):
            box = text_box(turned(mark, turn, mirrored))
            assert body.grown(0.4).joined(box) == body.grown(0.4), mark.text


def _stroke_points(mark):
    if isinstance(mark, Circle):
        turn = [i * math.pi / 40 for i in range(80)]
        return [(mark.x + mark.r * math.cos(a), mark.y + mark.r * math.sin(a)) for a in turn]
    if isinstance(mark, Arc):
        return arc_points(mark, 60)
    if isinstance(mark, Rect):
        corners = [(mark.x, mark.y), (mark.x + mark.w, mark.y), (mark.x + mark.w, mark.y + mark.h),
                   (mark.x, mark.y + mark.h), (mark.x, mark.y)]
    else:
        corners = [*mark.points, mark.points[0]] if mark.closed else list(mark.points)
    points = []
    for (x0, y0), (x1, y1) in zip(corners, corners[1:], strict=False):
        steps = max(1, math.ceil(math.hypot(x1 - x0, y1 - y0) / 0.1))
        points += [(x0 + (x1 - x0) * i / steps, y0 + (y1 - y0) * i / steps)
                   for i in range(steps + 1)]
    return points


@pytest.mark.parametrize(("slug", "parameters", "positions"), ALL)
def test_lettering_in_a_symbol_lies_on_no_stroke_and_on_no_other_lettering(
    slug, parameters, positions
):
    marks = symbol(slug, parameters, positions).marks
    texts = [mark for mark in marks if isinstance(mark, Text)]
    for number, text in enumerate(texts):
        box = text_box(text)
        capitals = Box(box.x0, box.y0, box.x1, text.y)
        assert not any(capitals.meets(text_box(other)) for other in texts[number + 1:])
        for mark in marks:
            if isinstance(mark, Path | Circle | Arc | Rect):
                reach = capitals.grown(mark.width_mm / 2 - 0.05)
                assert not any(reach.holds(x, y) for x, y in _stroke_points(mark)), text.text


@pytest.mark.parametrize("slug", [
    slug for slug, kind in catalogue().items() if kind.handles({})])
def test_a_symbol_shows_how_each_of_its_handles_stands(slug):
    for handle in catalogue()[slug].handles({}):
        looks = {symbol(slug, {}, {handle.id: position}).marks for position in handle.positions}
        assert len(looks) == len(handle.positions)


@pytest.mark.parametrize("slug", [
    slug for slug, kind in catalogue().items() if kind.handles({})])
def test_without_positions_a_symbol_stands_as_its_kind_normally_does(slug):
    normal = {handle.id: handle.normal for handle in catalogue()[slug].handles({})}
    assert symbol(slug, {}, {}) == symbol(slug, {}, normal)


def test_devices_that_drop_into_a_line_are_ten_millimetres_from_terminal_to_terminal():
    for slug, kind in catalogue().items():
        if kind.inline:
            ports = symbol(slug, {}, {}).ports
            assert (ports["a"].x, ports["a"].y, ports["b"].x, ports["b"].y) == (0, -5, 0, 5)


def test_a_way_added_to_a_panel_moves_no_other_way():
    few = [{"id": f"F{i}", "rated_a": 10} for i in range(3)]
    many = [*few, {"id": "F9", "rated_a": 10}]
    before, after = (symbol("panel", {"ways": ways}, {}).ports for ways in (few, many))
    assert all(after[way["id"]] == before[way["id"]] for way in few)


def test_the_header_of_a_panel_is_free_for_its_own_lettering():
    ways = ({"id": "F1", "rated_a": 10, "label": "Radio"},)
    drawn = symbol("panel", {"ways": ways, "main": ({"id": "main", "rated_a": 100},)}, {})
    free = Box(drawn.body.x0 + 12.5, drawn.body.y0 + 1.0, drawn.body.x1 - 2, drawn.body.y0 + 9.0)
    for mark in drawn.marks[1:]:
        taken = text_box(mark) if isinstance(mark, Text) else bounds([mark])
        assert taken is not None and not free.meets(taken)


def test_a_kind_nobody_knows_is_a_plain_box_with_its_name():
    drawn = symbol("flux_gate", {}, {})
    assert [mark.text for mark in drawn.marks if isinstance(mark, Text)] == ["flux gate"]


def test_every_load_role_has_a_family_sign():
    assert {family_of(role) for role in ROLES.split()} <= set(FAMILIES)
