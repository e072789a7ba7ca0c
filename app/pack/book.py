"""The pack as one PDF: diagram, schedules, findings, with bookmarks and links between them."""

from __future__ import annotations

from pathlib import Path

from msgspec.structs import replace

from app.drawing.frame import BLOCK_H, OTHER_MM
from app.drawing.laid_out import laid_out
from app.drawing.marks import Mark, Text
from app.drawing.painters.pdf import Page, write_pdf
from app.pack.appendix import checks_table
from app.pack.diagram_sheet import diagram_pages
from app.pack.findings import findings_table
from app.pack.looking import looking_table
from app.pack.schedules import conductor_schedule, protection_schedule
from app.pack.tables import Table, table_pages
from model.diagram import Diagram
from model.survey import Survey
from rules.engine import report_on


def pack_pages(diagram: Diagram, paper: str | None = None) -> list[Page]:
    """Return the pages of the pack, numbered."""
    diagram = laid_out(diagram)
    size = paper or diagram.sheet.size
    report = report_on(diagram)
    survey = Survey(diagram)
    pages = diagram_pages(diagram, report, size)
    tables: list[Table | None] = [
        conductor_schedule(diagram, survey), protection_schedule(diagram, survey),
        findings_table(report, diagram), looking_table(report), checks_table(report)]
    for table in filter(None, tables):
        pages += table_pages(table, diagram.boat, size)
    return [_numbered(page, number, len(pages)) for number, page in enumerate(pages, 1)]


def _numbered(page: Page, number: int, of: int) -> Page:
    """Write "sheet n of m" into the title block's last field."""
    width, height = page.size_mm
    x, y = width - OTHER_MM - 18.0, height - OTHER_MM - BLOCK_H + 26 + 8.4
    sheet_number: Mark = Text(x, y, f"{number} of {of}", 2.8, "ink", "bold")
    return replace(page, marks=(*page.marks, sheet_number))


def write_pack(
    diagram: Diagram, path: Path, paper: str | None = None, grey: bool = False
) -> int:
    """Write the pack and return how many pages it has; raise OSError when it cannot be written."""
    pages = pack_pages(diagram, paper)
    title = f"{diagram.boat.name or 'Boat'}: electrical system"
    write_pdf(pages, path, title, diagram.boat.drawn_by, "grey" if grey else "day")
    return len(pages)
