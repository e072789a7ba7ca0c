"""What the list of notices shows, in which order: rows made from a report. Knows no Qt."""

from __future__ import annotations

from collections.abc import Iterable, Sequence
from typing import TYPE_CHECKING, Literal

from msgspec import Struct

from app.drawing.wording import where_text
from app.words import _, capital, in_words, ngettext
from model.diagram import Diagram

if TYPE_CHECKING:
    from rules.engine import Report
    from rules.rule import Accepted, Finding

Order = Literal["danger", "place", "topic"]
Key = tuple[str, tuple[str, ...]]


class NoticeRow(Struct, frozen=True):
    """A row: what is shown, and the finding behind it where there is one. `number` counts from 1.

    A row without a severity is the heading of a group.
    """

    severity: str
    where: str
    message: str
    topic: str
    item: str = ""
    number: int = 0
    finding: Finding | None = None
    accepted: Accepted | None = None


def key_of(finding: Finding) -> Key:
    """Return what makes two findings of different reports the same."""
    return (finding.rule, finding.where)


def notice_rows(report: Report, diagram: Diagram) -> list[NoticeRow]:
    """Return a row for each finding, worst first, then what cannot be told, then the accepted."""
    from app.reports import looking_words
    from rules.gaps import gaps  # the rule book is no part of a start

    rows = [
        NoticeRow(f.severity, where_text(diagram, f.where), f.message, f.topic,
                  f.where[0] if f.where else "", number, f)
        for number, f in enumerate(report.findings, start=1)
    ]
    for gap in gaps(report.cannot_tell, diagram):
        rows.append(NoticeRow("cannot_tell", where_text(diagram, gap.where), gap.message,
                              gap.topic, gap.where[0] if gap.where else ""))
    if report.questions:
        items = tuple(dict.fromkeys(question.item for question in report.questions))
        rows.append(NoticeRow(
            "cannot_tell", _("Look aboard"), " ".join((looking_words(report), _(
                "Choose a part to answer; the pack prints the list by place."))),
            "look_aboard", items[0]))
    for one in report.accepted:
        f = one.finding
        rows.append(NoticeRow("accepted", where_text(diagram, f.where),
                              _("Accepted: {reason}").format(reason=one.reason), f.topic,
                              f.where[0] if f.where else "", 0, f, one))
    return rows


def shown_rows(
    rows: Sequence[NoticeRow], diagram: Diagram, order: Order, words: str,
    only: frozenset[Key] | None,
) -> list[NoticeRow]:
    """Return the rows that hold all the words, grouped; `only` keeps findings with these keys."""
    wanted = words.casefold().split()
    kept = [row for row in rows if _holds(row, wanted) and _is_of(row, only)]
    if order == "danger":
        return kept
    groups: dict[str, list[NoticeRow]] = {}
    for row in kept:
        groups.setdefault(_group(row, diagram, order), []).append(row)
    found: list[NoticeRow] = []
    for name, group in groups.items():
        count = ngettext("1 notice", "{count} notices", len(group)).format(count=len(group))
        found.append(NoticeRow("", name, count, ""))
        found += group
    return found


def topic_words(topic: str) -> str:
    """Return what a topic of the rule book is called."""
    return _("AC side") if topic == "alternating" else in_words(topic)


def _holds(row: NoticeRow, wanted: Iterable[str]) -> bool:
    title = row.finding.title if row.finding is not None else ""
    own = f"{in_words(row.severity)} {in_words(row.topic)} {_(title)}"
    text = f"{row.severity} {row.where} {row.message} {row.topic} {title} {own}".casefold()
    return all(word in text for word in wanted)


def _is_of(row: NoticeRow, only: frozenset[Key] | None) -> bool:
    if only is None:
        return True
    return row.finding is not None and row.accepted is None and key_of(row.finding) in only


def _group(row: NoticeRow, diagram: Diagram, order: Order) -> str:
    if order == "topic":
        return capital(topic_words(row.topic))
    owner = row.item.partition(".")[0]
    wire = diagram.conductors.get(owner)
    part = diagram.components.get(wire.start.component if wire is not None else owner)
    place = diagram.places.get(part.place or "") if part is not None else None
    return (place.name or place.id) if place is not None else _("No place recorded")
