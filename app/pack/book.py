"""The pack as one PDF: diagram, schedules, findings, with bookmarks and links between them."""

from __future__ import annotations

import hashlib
from collections.abc import Iterable, Mapping
from pathlib import Path

from msgspec.structs import replace

from app.drawing.frame import OTHER_MM, ROW_H
from app.drawing.laid_out import laid_out
from app.drawing.marks import Mark, Text
from app.drawing.painters.pdf import Page, write_pdf
from app.pack.alternating import alternating_table
from app.pack.appendix import checks_table
from app.pack.diagram_sheet import diagram_pages
from app.pack.findings import findings_table
from app.pack.isolation_card import isolation_card
from app.pack.lithium import lithium_table
from app.pack.looking import looking_table
from app.pack.schedules import conductor_schedule, protection_schedule
from app.pack.tables import Table, table_pages
from app.pack.walking import walk_table
from model.diagram import Diagram
from model.edits import Edit, changed, setting
from model.storage.save import dumps
from model.survey import Survey
from rules.engine import Report, check
from rules.papers_made import Papers

SHEETS = ("diagram", "conductors", "protection", "isolation", "alternating", "lithium",
          "findings", "walk", "looking", "checks")
"""The sheets of a pack, in their order."""
DIGEST_LENGTH = 12


def pack_pages(
    diagram: Diagram, paper: str | None = None, sheets: Iterable[str] = SHEETS
) -> list[Page]:
    """Return the pages of the chosen sheets, numbered."""
    diagram = laid_out(diagram)
    size = paper or diagram.sheet.size
    chosen = frozenset(sheets)
    survey = Survey(diagram)
    tables = _tables(diagram, survey)
    report = check(survey, papers=_papers(diagram, tables, chosen))
    assert report is not None
    tables |= _said(report, diagram)
    pages = diagram_pages(diagram, report, size) if "diagram" in chosen else []
    for name in SHEETS:
        table = tables.get(name)
        if name in chosen and table is not None:
            pages += table_pages(table, diagram.boat, size)
    return [_numbered(page, number, len(pages)) for number, page in enumerate(pages, 1)]


def papers_of(diagram: Diagram, sheets: Iterable[str] = SHEETS) -> Papers:
    """Return what the rules about papers are told of the chosen sheets."""
    diagram = laid_out(diagram)
    return _papers(diagram, _tables(diagram, Survey(diagram)), frozenset(sheets))


def printing_edit(diagram: Diagram, sheets: Iterable[str] = SHEETS) -> Edit:
    """Return the edit that notes which sheets are printed now, in which edition; what was noted of
    the others stays.
    """
    boat, chosen = diagram.boat, frozenset(sheets)
    now = {name: (name, boat.edition, digest)
           for name, digest in papers_of(diagram, chosen).digests.items() if name in chosen}
    noted = {name: (name, edition, digest) for name, edition, digest in boat.printed}
    return setting(diagram, "Note what was printed",
                   changed(boat, printed=tuple({**noted, **now}.values())))


def _tables(diagram: Diagram, survey: Survey) -> dict[str, Table | None]:
    """Return the tables that are made from the drawing itself."""
    return {
        "conductors": conductor_schedule(diagram, survey),
        "protection": protection_schedule(diagram, survey),
        "isolation": isolation_card(diagram, survey),
        "alternating": alternating_table(diagram),
        "lithium": lithium_table(diagram),
    }


def _said(report: Report, diagram: Diagram) -> dict[str, Table | None]:
    """Return the tables that tell what the rule book says."""
    return {"findings": findings_table(report, diagram), "walk": walk_table(report, diagram),
            "looking": looking_table(report), "checks": checks_table(report)}


def _papers(
    diagram: Diagram, tables: Mapping[str, Table | None], chosen: frozenset[str]
) -> Papers:
    made = {name: table for name, table in tables.items() if table is not None}
    lists = {name: frozenset(row.item for row in table.rows if row.item)
             for name, table in made.items() if name in chosen}
    if "diagram" in chosen:
        lists["diagram"] = frozenset((*diagram.components, *diagram.conductors))
    digests = {name: _digest(repr([row.cells for row in table.rows]))
               for name, table in made.items()}
    drawn = changed(diagram, boat=changed(diagram.boat, printed=()))
    return Papers(lists, {"diagram": _digest(dumps(drawn)), **digests})


def _digest(text: str | bytes) -> str:
    data = text.encode() if isinstance(text, str) else text
    return hashlib.sha256(data).hexdigest()[:DIGEST_LENGTH]


def _numbered(page: Page, number: int, of: int) -> Page:
    """Write "sheet n of m" into the title block's last field."""
    width, height = page.size_mm
    x, y = width - OTHER_MM - 18.0, height - OTHER_MM - ROW_H + 8.4
    sheet_number: Mark = Text(x, y, f"{number} of {of}", 2.8, "ink", "bold")
    return replace(page, marks=(*page.marks, sheet_number))


def write_pack(
    diagram: Diagram, path: Path, paper: str | None = None, grey: bool = False,
    sheets: Iterable[str] = SHEETS,
) -> int:
    """Write the chosen sheets and return how many pages there are.

    Raise OSError when they cannot be written.
    """
    pages = pack_pages(diagram, paper, sheets)
    title = f"{diagram.boat.name or 'Boat'}: electrical system"
    write_pdf(pages, path, title, diagram.boat.drawn_by, "grey" if grey else "day")
    return len(pages)
