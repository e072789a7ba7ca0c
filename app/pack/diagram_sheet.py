"""The diagram on its framed sheet, as drawn or fitted to another paper."""

from __future__ import annotations

from collections.abc import Iterable
from dataclasses import replace

from app.drawing.badges import Badge
from app.drawing.frame import (
    SMALL,
    border_marks,
    drawing_area,
    frame_box,
    frame_marks,
    legend_marks,
    sheet_size_mm,
    title_block,
)
from app.drawing.marks import Arc, Box, Circle, Group, Mark, Path, Rect, Text
from app.drawing.painters.pdf import Page
from app.drawing.sheet import SheetLook, sheet_drawing
from model.diagram import Diagram, Sheet
from rules.engine import Report

SMALLEST_MM = 1.77  # 5 pt: smaller lettering is left out, the schedule has it


def badges_of(report: Report) -> dict[str, list[Badge]]:
    """Return the badges of a report by item; notes stand in the list alone."""
    badges: dict[str, list[Badge]] = {}
    for number, finding in enumerate(report.findings, start=1):
        if finding.severity != "note" and finding.where:
            item = finding.where[0].partition(".")[0]
            badges.setdefault(item, []).append(Badge(finding.severity, number))
    return badges


def diagram_pages(diagram: Diagram, report: Report, paper: str) -> list[Page]:
    """Return the diagram's page, and on small paper the legend's."""
    drawing = sheet_drawing(diagram, SheetLook(badges=badges_of(report)))
    counts = dict(report.counts())
    marks: tuple[Mark, ...] = drawing.marks()
    sheet = Sheet.model_validate({**dict(diagram.sheet), "size": paper})
    if paper != diagram.sheet.size:
        marks = tuple(fitted(marks, drawing_area(diagram.sheet), drawing_area(sheet)))
    framed = (*frame_marks(sheet, diagram.boat, counts, ""), *marks)
    pages = [Page(sheet_size_mm(paper), framed, "Diagram")]
    if paper in SMALL:
        pages.append(_legend_page(diagram, counts, paper))
    return pages


def _legend_page(diagram: Diagram, counts: dict[str, int], paper: str) -> Page:
    frame = frame_box(paper)
    box = Box(frame.x0 + 12, frame.y0 + 12, frame.x0 + 12 + 222, frame.y0 + 12 + 37)
    marks = [*border_marks(paper), *title_block(paper, diagram.boat, "Legend", ""),
             *legend_marks(box, counts)]
    return Page(sheet_size_mm(paper), tuple(marks), "Legend")


def fitted(marks: Iterable[Mark], source: Box, target: Box) -> Iterable[Mark]:
    """Yield the marks scaled from one drawing area into another.

    Lettering that would fall under 5 pt is left out if it is a conductor's figure or a part's
    name; designations and ratings are kept at 5 pt.
    """
    scale = min(target.w / source.w, target.h / source.h, 1.0)
    dx = target.x0 + (target.w - source.w * scale) / 2 - source.x0 * scale
    dy = target.y0 + (target.h - source.h * scale) / 2 - source.y0 * scale
    for mark in marks:
        if isinstance(mark, Text) and mark.size_mm * scale < SMALLEST_MM and mark.role == "ink2":
            continue
        yield _scaled(mark, scale, dx, dy)


def _scaled(mark: Mark, k: float, dx: float, dy: float) -> Mark:
    if isinstance(mark, Path):
        return replace(mark, points=tuple((x * k + dx, y * k + dy) for x, y in mark.points),
                       width_mm=mark.width_mm * k, corner_mm=mark.corner_mm * k,
                       dash=tuple(part * k for part in mark.dash))
    if isinstance(mark, Circle | Arc):
        return replace(mark, x=mark.x * k + dx, y=mark.y * k + dy, r=mark.r * k,
                       width_mm=mark.width_mm * k)
    if isinstance(mark, Rect):
        return replace(mark, x=mark.x * k + dx, y=mark.y * k + dy, w=mark.w * k, h=mark.h * k,
                       r=mark.r * k, width_mm=mark.width_mm * k)
    if isinstance(mark, Text):
        return replace(mark, x=mark.x * k + dx, y=mark.y * k + dy,
                       size_mm=max(mark.size_mm * k, min(SMALLEST_MM, mark.size_mm)),
                       spacing_mm=mark.spacing_mm * k)
    if isinstance(mark, Group):
        inner = tuple(_scaled(m, k, 0, 0) for m in mark.marks)
        return Group(f"{mark.key}-{k:.4f}", inner, mark.x * k + dx, mark.y * k + dy)
    box = mark.box
    low, high = (box.x0 * k + dx, box.y0 * k + dy), (box.x1 * k + dx, box.y1 * k + dy)
    return replace(mark, box=Box(*low, *high))


