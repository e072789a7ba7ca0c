"""The rule book in words: for `explain`, Help and the printed pack. Made from the records."""

from __future__ import annotations

from rules.book import book, find
from rules.profiles import RULE_SETS, Figure, profile
from rules.rule import BookRule
from rules.sources import sources


def explain(rule: str) -> str | None:
    """Return all that is to be said of a rule, by slug or number; None when there is none."""
    found = find(rule)
    return None if found is None else describe(found)


def listing() -> str:
    """Return one line for each rule: number, slug, severity, title."""
    return "\n".join(
        f"{r.record.number:5} {r.record.severity:8} {r.record.slug:42} {r.record.title}"
        for r in book()
    )


def describe(rule: BookRule) -> str:
    """Return a rule as text: help, figures of both practices, remedy, sources."""
    record = rule.record
    parts = [
        f"{record.number} {record.title}  ({record.severity}, {record.slug})",
        f"Looks at: {record.looks_at}.",
        rule.text,
    ]
    if record.quiet:
        parts.append(_list("Keeps quiet when", record.quiet.values()))
    if record.figures:
        parts.append(_list("Figures", (_figure(name) for name in record.figures)))
    parts.append(f"Remedy. {record.remedy}")
    parts.append(_list("Sources", (_source(key) for key in record.sources)))
    return "\n\n".join(parts)


def _list(title: str, lines: object) -> str:
    return "\n".join([f"{title}:", *(f"  - {line}" for line in lines)])  # type: ignore[attr-defined]


def _figure(name: str) -> str:
    both = [profile(rule_set)[name] for rule_set in RULE_SETS]
    values = "; ".join(f"{rule_set} {_one(figure)}"
                       for rule_set, figure in zip(RULE_SETS, both, strict=True))
    return f"{both[0].sentence} {values}"


def _one(figure: Figure) -> str:
    standing = "" if figure.confirmed else ", unverified"
    unit = f" {figure.unit}" if figure.unit else ""
    return f"{figure.value:g}{unit} ({figure.source}{standing})"


def _source(key: str) -> str:
    source = sources()[key]
    return f"{source.text} ({source.standing})"
