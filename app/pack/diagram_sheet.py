"""The diagram on its framed sheet, as drawn or fitted to another paper."""

from __future__ import annotations

from collections.abc import Iterable

from msgspec.structs import replace

from app.drawing.badges import Badge
from app.drawing.frame import (
    BLOCK_H,
    BLOCK_W,
    border_marks,
    drawing_area,
    frame_box,
    frame_marks,
    has_room_for_legend,
    legend_marks,
    sheet_size_mm,
    title_block,
)
from app.drawing.marks import Arc, Box, Circle, Group, Mark, Path, Rect, Text
from app.drawing.painters.pdf import Page
from app.drawing.sheet import SheetLook, sheet_drawing
from app.pack.tiles import Tiling, content_box, covers, match_marks, on_tile, tiling
from model.diagram import BoatInfo, Diagram
from rules.engine import Report

SMALLEST_MM = 1.7  # just under 5 pt: smaller lettering is left out, the schedule has it


def badges_of(report: Report) -> dict[str, list[Badge]]:
    """Return the badges of a report by item; notes stand in the list alone."""
    badges: dict[str, list[Badge]] = {}
    for number, finding in enumerate(report.findings, start=1):
        if finding.severity != "note" and finding.where:
            item = finding.where[0].partition(".")[0]
            badges.setdefault(item, []).append(Badge(finding.severity, number))
    return badges


def diagram_pages(diagram: Diagram, report: Report, paper: str) -> list[Page]:
    """Return the diagram's pages, and the legend's where it has no room beside the title.

    On the paper it was drawn for the diagram is one page as drawn. On another, or where it reaches
    beyond its ground, it is fitted, or tiled over several pages with match marks where fitting
    would make it too small to read.
    """
    marks = sheet_drawing(diagram, SheetLook(badges=badges_of(report))).marks()
    counts = dict(report.counts())
    content = content_box(marks) or drawing_area(diagram.sheet)
    if paper == diagram.sheet.size and _lies_in(content, frame_box(paper), BLOCK_H):
        framed = (*frame_marks(diagram.sheet, diagram.boat, counts, ""), *marks)
        pages = [Page(sheet_size_mm(paper), framed, "Diagram")]
        size: str = paper
    else:
        plan = tiling(content, paper)
        pages = [_tile_page(diagram, counts, plan, number, marks) for number in range(plan.count)]
        size = plan.size
    if not (diagram.sheet.legend and has_room_for_legend(size)):
        pages.append(_legend_page(diagram, counts, paper))
    return pages


def _lies_in(content: Box, frame: Box, block_h: float) -> bool:
    """Say whether what is drawn stays inside the frame and above the title block."""
    return (frame.x0 <= content.x0 and frame.y0 <= content.y0 and content.x1 <= frame.x1
            and content.y1 <= frame.y1 - block_h)


def _tile_page(
    diagram: Diagram, counts: dict[str, int], plan: Tiling, number: int, marks: Iterable[Mark]
) -> Page:
    """Return one tile: the diagram's marks at their place, what lies outside covered."""
    own = on_tile(fitted(marks, plan.scale, *plan.shift(number)), plan.ground)
    boat, words = diagram.boat, "Diagram"
    if plan.count > 1:
        words = f"Diagram, part {number + 1} of {plan.count}"
        boat = boat.replaced(title=f"{boat.title}, part {number + 1} of {plan.count}")
    frame = framed_tile(plan.size, boat, counts, diagram.sheet.legend)
    covered = (*own, *(covers(plan) if plan.count > 1 else ()), *frame,
               *match_marks(plan, number, own))
    return Page(sheet_size_mm(plan.size), covered, words, 0 if number == 0 else 1)


def framed_tile(
    size: str, boat: BoatInfo, counts: dict[str, int], legend: bool
) -> tuple[Mark, ...]:
    """Return the frame and title block of a tile, with the legend where there is room."""
    marks = [*border_marks(size), *title_block(size, boat, boat.title, "")]
    if legend and has_room_for_legend(size):
        frame = frame_box(size)
        marks += legend_marks(
            Box(frame.x0, frame.y1 - BLOCK_H, frame.x1 - BLOCK_W, frame.y1), counts)
    return tuple(marks)


def _legend_page(diagram: Diagram, counts: dict[str, int], paper: str) -> Page:
    frame = frame_box(paper)
    box = Box(frame.x0 + 12, frame.y0 + 12, frame.x0 + 12 + 222, frame.y0 + 12 + 37)
    marks = [*border_marks(paper), *title_block(paper, diagram.boat, "Legend", ""),
             *legend_marks(box, counts)]
    return Page(sheet_size_mm(paper), tuple(marks), "Legend")


def fitted(marks: Iterable[Mark], scale: float, dx: float, dy: float) -> Iterable[Mark]:
    """Yield the marks scaled, then shifted by millimetres.

    Lettering that would fall under 5 pt is left out if it is a conductor's figure or a part's
    name; designations and ratings are kept at 5 pt.
    """
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
        return Group(inner, mark.x * k + dx, mark.y * k + dy)
    box = mark.box
    low, high = (box.x0 * k + dx, box.y0 * k + dy), (box.x1 * k + dx, box.y1 * k + dy)
    return replace(mark, box=Box(*low, *high))
