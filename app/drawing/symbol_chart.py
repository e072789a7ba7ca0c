"""A chart of all symbols, true to size, for contributors: what a kind looks like, and its ports.

`python -m app.drawing.symbol_chart chart.pdf [palette]` writes it.
"""

from __future__ import annotations

import math
import sys
from collections.abc import Iterable, Mapping
from pathlib import Path as FilePath
from typing import Any

from app.drawing.frame import rose
from app.drawing.marks import Circle, Mark, Rect, Text, line, moved
from app.drawing.symbols import Symbol, symbol
from app.drawing.symbols.icons import FAMILIES, family_sign
from app.drawing.theme import PALETTES, Palette
from app.drawing.wording import FUSE_NAMES
from model.kinds import catalogue

SIZE_MM = (420.0, 297.0)
COLUMNS, ROWS = 9, 6
LEFT_MM, TOP_MM, CELL_W_MM, CELL_H_MM = 10.0, 32.0, 400 / 9, 41.0

Entry = tuple[str, str, Mapping[str, Any], Mapping[str, str]]

_WAYS = (
    {"id": "F1", "label": "Cabin lights", "device": "breaker", "rated_a": 10, "role": "lamp",
     "note": "2.5 mm² 4 m"},
    {"id": "F2", "label": "Pump", "device": "fuse", "rated_a": 15, "role": "pump",
     "note": "4 mm² 6 m"},
    {"id": "F3", "label": "Radio", "device": "breaker", "rated_a": 5},
)
_SHOWN: Mapping[str, Mapping[str, Any]] = {
    "busbar": {"stud_count": 4, "rated_a": 300},
    "terminal_block": {"stud_count": 4},
    "panel": {"ways": _WAYS, "main": ({"id": "main", "rated_a": 100},)},
    "fuse_block": {"ways": tuple({**way, "device": "fuse"} for way in _WAYS)},
    "ac_panel": {"ways": _WAYS[:2]},
    "dc_dc_converter": {"input_v": 24, "output_v": 12},
    "dc_dc_charger": {"input_v": 12, "output_v": 24},
    "battery_bank": {"chemistry": "lfp"},
    "box": {"what": "plain box"},
}
_VARIANTS: tuple[Entry, ...] = (
    ("battery_bank", "One 12 V battery",
     {"chemistry": "agm", "block_nominal_v": 12, "series_count": 1}, {}),
    *(("fuse", f"Fuse, {FUSE_NAMES[name]}", {"class": name}, {}) for name in FUSE_NAMES),
    ("fuse", "Fuse, pulled", {"class": "blade"}, {"": "pulled"}),
    *((slug, "Open", {}, {"": "off"})
      for slug in ("battery_switch", "emergency_link", "disconnector", "load_switch",
                   "contactor", "relay", "voltage_sensing_relay", "breaker",
                   "residual_current_breaker")),
    *((slug, "Closed", {}, {"": "on"}) for slug in ("float_switch", "push_button", "starter",
                                                    "reversing_contactor")),
    *(("selector_switch", f"At {name}", {}, {"": name}) for name in ("B", "2", "0")),
    ("ac_transfer_switch", "At 2", {}, {"": "2"}),
    ("shore_charger", "Three outputs", {"output_count": 3}, {}),
    ("diode_isolator", "Three outputs", {"output_count": 3}, {}),
    ("busbar", "Negative bar", {"pole": "-", "stud_count": 4}, {}),
    ("busbar", "Protective earth", {"pole": "E", "stud_count": 4}, {}),
    ("panel", "With its negative bar", {"ways": _WAYS[:2], "negative_bar": True}, {"F1": "off"}),
)


def entries() -> tuple[Entry, ...]:
    """Return every kind as it is first placed, then its other looks."""
    kinds: list[Entry] = [
        (slug, kind.title, _SHOWN.get(slug, {}), {}) for slug, kind in catalogue().items()
    ]
    return (*kinds, *_VARIANTS)


def chart_sheets() -> list[tuple[Mark, ...]]:
    """Return the marks of each sheet of the chart."""
    sheets: list[list[Mark]] = []
    cell = COLUMNS * ROWS
    for slug, title, parameters, positions in entries():
        drawn = symbol(slug, parameters, positions)
        cells = math.ceil((drawn.body.w + 2) / CELL_W_MM)
        if cell % COLUMNS + cells > COLUMNS:
            cell += COLUMNS - cell % COLUMNS
        if cell >= COLUMNS * ROWS:
            sheets.append([*_heading()])
            cell = 0
        sheets[-1] += _cell_marks(slug, title, drawn, cell, cells)
        cell += cells
    sheets[-1] += _families()
    return [tuple(marks) for marks in sheets]


def _heading() -> list[Mark]:
    return [
        *(moved(mark, 21, 17) for mark in rose(20)),
        Text(35, 17, "SYMBOL CHART", 7.2, "ink", "title", spacing_mm=0.5),
        Text(35, 23, "true size on A3; terminals on a grid of 2.5 mm; rings mark terminals", 2.6,
             "ink2", "oblique"),
        line(LEFT_MM, TOP_MM - 2, SIZE_MM[0] - 10, TOP_MM - 2, 0.7),
    ]


def _cell_marks(slug: str, title: str, drawn: Symbol, cell: int, cells: int) -> Iterable[Mark]:
    x = LEFT_MM + CELL_W_MM * (cell % COLUMNS)
    y = TOP_MM + CELL_H_MM * (cell // COLUMNS)
    yield Rect(x, y, cells * CELL_W_MM, CELL_H_MM, 0, "hair", 0.18)
    dx = x + cells * CELL_W_MM / 2 - (drawn.body.x0 + drawn.body.x1) / 2
    dy = y + (CELL_H_MM - 8) / 2 - (drawn.body.y0 + drawn.body.y1) / 2
    yield from (moved(mark, dx, dy) for mark in drawn.marks)
    for port in drawn.ports.values():
        yield Circle(port.x + dx, port.y + dy, 0.95, "selection", 0.25)
    yield Text(x + 2, y + CELL_H_MM - 5.4, catalogue()[slug].letter, 2.8, "selection", "bold")
    yield Text(x + 6, y + CELL_H_MM - 5.4, title, 2.6, "ink", "bold")
    yield Text(x + 6, y + CELL_H_MM - 2.2, slug.replace("_", " "), 2.1, "ink2", "oblique")


def _families() -> Iterable[Mark]:
    y = SIZE_MM[1] - 9
    for number, family in enumerate(FAMILIES):
        x = 20 + 24 * number
        yield from family_sign(family, x, y)
        yield Text(x + 3.4, y + 0.9, family, 2.4, "ink2")


def main(arguments: list[str]) -> int:
    """Write the chart to the named file; return the exit code."""
    if not arguments or (len(arguments) > 1 and arguments[1] not in PALETTES):
        print("usage: python -m app.drawing.symbol_chart FILE.pdf [day|dusk|night|grey]")
        return 2
    palette: Palette = next((p for p in PALETTES if p in arguments[1:]), "day")
    from app.drawing.painters.pdf import Page, write_pdf

    pages = [Page(SIZE_MM, marks, f"Symbols {number + 1}")
             for number, marks in enumerate(chart_sheets())]
    write_pdf(pages, FilePath(arguments[0]), "Symbol chart", palette=palette)
    return 0


if __name__ == "__main__":
    sys.exit(main(sys.argv[1:]))
