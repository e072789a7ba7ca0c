"""What the command line prints: reports, live states and kinds, as text and as JSON."""

from __future__ import annotations

from collections.abc import Mapping
from pathlib import Path
from typing import TYPE_CHECKING, Any

from app.words import ngettext
from model.diagram import Diagram
from model.kinds import catalogue
from model.kinds.record import Field
from rules.gaps import gaps
from rules.looking import by_place
from rules.walk_list import Errand, gathered
from rules.walk_list import by_place as errands_by_place

if TYPE_CHECKING:
    from model.analysis.still_live import StillLive
    from rules.engine import Report

CAUTION = (
    "This program informs; it does not certify. Have the work checked by a qualified marine "
    "electrician; local law, makers' instructions and the insurer's terms come first."
)


def check_json(report: Report, file: Path) -> dict[str, Any]:
    """Return a report as JSON values."""
    return {
        "file": str(file),
        "profile": report.profile,
        "counts": dict(report.counts()),
        "findings": [finding.as_json() for finding in report.findings],
        "cannot_tell": [unjudged.as_json() for unjudged in report.cannot_tell],
        "accepted": [accepted.as_json() for accepted in report.accepted],
        "questions": [question.as_json() for question in report.questions],
    }


def check_text(report: Report, diagram: Diagram, file: Path) -> str:
    """Return a report as people read it."""
    lines = [f"{diagram.boat.name or file.name}: {report.rules_run} checks ran, "
             f"rule set {report.profile}."]
    for finding in report.findings:
        lines += ["", f"{finding.severity.upper()}  {', '.join(finding.where)}: {finding.title}",
                  f"  {finding.message}", f"  Source: {'; '.join(finding.sources)} "
                  f"[{finding.rule}, {finding.number}]"]
    if not report.findings:
        lines.append("Nothing to report from what is drawn.")
    for gap in gaps(report.cannot_tell, diagram):
        lines += ["", f"CANNOT TELL  {gap.message}"]
    if report.questions:
        lines += ["", f"LOOK ABOARD  {looking_words(report)} `look {file.name}` lists them."]
    if report.accepted:
        lines += ["", f"Accepted with a reason: {len(report.accepted)}."]
    return "\n".join([*lines, "", CAUTION])


def looking_words(report: Report) -> str:
    """Return in one sentence how much only eyes can tell."""
    count = len(report.questions)
    return ngettext("{count} question is left that only eyes can answer.",
                    "{count} questions are left that only eyes can answer.",
                    count).format(count=count)


def look_text(report: Report, diagram: Diagram) -> str:
    """Return the list of what to look at aboard, place by place."""
    lines = [f"{diagram.boat.name or 'Boat'}: {looking_words(report)}"]
    for place, questions in by_place(report.questions):
        lines += ["", place, *(f"  [ ] {question.text}  ({question.number})"
                               for question in questions)]
    return "\n".join(lines)


def look_json(report: Report) -> dict[str, Any]:
    """Return what is to be looked at aboard as JSON values, in the order of the walk."""
    return {"questions": [question.as_json() for _, questions in by_place(report.questions)
                          for question in questions]}


def walk_text(errands: tuple[Errand, ...], diagram: Diagram) -> str:
    """Return what to trace and measure aboard, place by place."""
    count = len(errands)
    errand_words = "1 errand is" if count == 1 else f"{count} errands are"
    lines = [f"{diagram.boat.name or 'Boat'}: {errand_words} left to trace and measure."
             " In brackets: how many checks wait for it."]
    for place, group in errands_by_place(errands):
        lines += ["", place, *(f"  [ ] {errand.subject}: {errand.text}"
                                for errand in gathered(group, diagram))]
    return "\n".join(lines)


def walk_json(errands: tuple[Errand, ...]) -> dict[str, Any]:
    """Return what to trace and measure as JSON values, in the order of the walk."""
    return {"errands": [errand.as_json() for errand in errands]}


def live_json(
    found: StillLive, mode: str | None, ports: Mapping[str, str]
) -> dict[str, Any]:
    """Return what is live, and from what, as JSON values; unexpected ids are listed too.

    A part that is live past an open switch has the ways by which its sources reach it. `ports`
    name terminals by the port a conductor ends on ("F1.a" for "F1.a+").
    """
    state = found.state
    terminals = {name: {"live_from": sorted(live)} for name, live in state.terminals.items()}
    terminals |= {port: terminals[name] for port, name in ports.items()}
    return {
        "mode": mode,
        "terminals": terminals,
        "components": {item: {"live_from": sorted(live), **_ways_json(found, item)}
                       for item, live in state.components.items()},
        "unexpected": sorted(state.unexpected),
    }


def _ways_json(found: StillLive, item: str) -> dict[str, Any]:
    part = found.parts.get(item)
    if part is None or not part.is_unexpected:
        return {}
    return {"ways": {source: list(way) for source, way in sorted(part.ways.items())}}


def live_text(answer: Mapping[str, Any]) -> str:
    """Return a live answer as lines."""
    lines = []
    for item, entry in answer["components"].items():
        mark = "  (not as the switch says)" if item in answer["unexpected"] else ""
        lines.append(f"{item:10} {', '.join(entry['live_from']) or 'dead'}{mark}")
    return "\n".join(lines)


def kinds_json() -> dict[str, Any]:
    """Return the catalogue of kinds as JSON values."""
    return {"kinds": [
        {
            "kind": kind.slug, "title": kind.title, "letter": kind.letter, "family": kind.family,
            "sentence": kind.sentence,
            "terminals": [
                {"id": port.id, "poles": dict(port.poles)} for port in kind.ports({})],
            "positions": {handle.id or kind.slug: list(handle.positions)
                          for handle in kind.handles({})},
            "fields": [_field_json(field) for field in kind.fields],
        }
        for kind in catalogue().values()
    ]}


def _field_json(field: Field) -> dict[str, Any]:
    said: dict[str, Any] = {"name": field.name, "title": field.title, "type": field.type}
    if field.unit:
        said["unit"] = field.unit
    if field.choices:
        said["choices"] = list(field.choices)
    for name in ("minimum", "maximum"):
        if getattr(field, name) is not None:
            said[name] = getattr(field, name)
    if field.checks:
        said["checks"] = list(field.checks)
    if field.typical is not None:
        said["typical"] = {"value": field.typical.value, "source": field.typical.source}
    if field.columns:
        said["columns"] = [_field_json(column) for column in field.columns]
    return said


