"""The rule book in words: one page a rule, for `explain`, Help, RULES.md and the printed pack.

A page is made from the rule's record and docstring alone; the texts are only laid out anew.
"""

from __future__ import annotations

import html
import re
import sys
from dataclasses import dataclass
from pathlib import Path

import assets
from model.table_files import table_rows
from rules.book import book, find
from rules.profiles import RULE_SETS, Figure, profile
from rules.rule import BookRule
from rules.sources import sources

HEADINGS = ("What it checks", "Why it matters", "Fails when", "Passes when", "Limits")
DECIDED = {
    "N": "from the network and ratings", "S": "from a solved figure",
    "F": "from a field only the owner can state", "L": "by looking aboard",
    "E": "from the energy day", "P": "when the pack is made",
}  # fmt: skip


@dataclass(frozen=True, slots=True)
class Section:
    """A part of a page: its heading, and either a paragraph or the lines of a list."""

    heading: str
    lines: tuple[str, ...]
    is_list: bool = False


@dataclass(frozen=True, slots=True)
class Page:
    """All that is to be said of a rule."""

    slug: str
    number: str
    title: str
    severity: str
    topic: str
    sections: tuple[Section, ...]


def page(rule: BookRule) -> Page:
    """Return the page of a rule."""
    record = rule.record
    said = _told(rule.text)
    sections = [
        Section("What it checks", (said["What it checks"], f"Looks at: {record.looks_at}.")),
        *(Section(heading, (said[heading],)) for heading in HEADINGS[1:4]),
    ]
    if record.questions:
        asked = (text.format(item="the part") for text in record.questions.values())
        sections.append(Section("What to look for aboard", tuple(map(_capital, asked)), True))
    if record.quiet:
        sections.append(Section("Keeps quiet when", tuple(record.quiet.values()), True))
    if record.figures:
        sections.append(Section("Figures", tuple(map(_figure, record.figures)), True))
    offered = {"never": "", "sometimes": " Where one change settles it, the program offers it.",
               "always": " The program offers the change."}[record.fix]
    sections += [
        Section("What to do", (record.remedy + offered,)),
        Section("Limits", (said["Limits"],)),
        Section("Sources", tuple(map(_source, record.sources)), True),
    ]
    return Page(record.slug, record.number, record.title, record.severity, record.topic,
                tuple(sections))


def pages() -> tuple[Page, ...]:
    """Return the page of every rule, in the order of their numbers."""
    return tuple(page(rule) for rule in book())


def _told(text: str) -> dict[str, str]:
    """Return a docstring's paragraphs by their headings, each as one line."""
    parts = re.split(rf"^({'|'.join(HEADINGS)})\.$", text, flags=re.MULTILINE)
    return {heading: " ".join(told.split())
            for heading, told in zip(parts[1::2], parts[2::2], strict=True)}


def explain(rule: str) -> str | None:
    """Return all that is to be said of a rule, by slug or number; None when there is none."""
    found = find(rule)
    return None if found is None else as_text(page(found))


def listing() -> str:
    """Return one line for each rule: number, slug, severity, title."""
    return "\n".join(
        f"{r.record.number:5} {r.record.severity:8} {r.record.slug:42} {r.record.title}"
        for r in book()
    )


def as_text(told: Page) -> str:
    """Return a page as plain text."""
    parts = [f"{told.number} {told.title}  ({told.severity}, {told.slug})"]
    for section in told.sections:
        lines = [f"  - {line}" for line in section.lines] if section.is_list else section.lines
        parts.append("\n".join([f"{section.heading}:", *lines]))
    return "\n\n".join(parts)


def as_html(told: Page, pictures: str = "") -> str:
    """Return a page as simple HTML; `pictures` stand after the first section."""
    parts = [f"<h2>{html.escape(told.title)}</h2>",
             f"<p><i>{told.number}, {told.severity}, {told.topic.replace('_', ' ')}</i></p>"]
    for number, section in enumerate(told.sections):
        parts.append(f"<h3>{html.escape(section.heading)}</h3>")
        lines = [html.escape(line) for line in section.lines]
        if section.is_list:
            parts.append("<ul>" + "".join(f"<li>{line}</li>" for line in lines) + "</ul>")
        else:
            parts += [f"<p>{line}</p>" for line in lines]
        if number == 0 and pictures:
            parts.append(pictures)
    return "\n".join(parts)


def as_markdown(told: Page) -> str:
    """Return a page as Markdown."""
    parts = [f"## {told.number} {told.title}", f"*{told.severity}, `{told.slug}`*"]
    for section in told.sections:
        mark = "- " if section.is_list else ""
        parts.append("\n".join([f"**{section.heading}.**", "",
                                *(f"{mark}{line}" for line in section.lines)]))
    return "\n\n".join(parts)


def _capital(text: str) -> str:
    return text[:1].upper() + text[1:]


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


def rules_md() -> str:
    """Return RULES.md: every number of the catalogue with its rule, then every rule's page."""
    by_number = {rule.record.number: rule for rule in book()}
    rows = [_row(row["number"], row["title"], row["decided_by"], by_number)
            for row in table_rows("checks")]
    made = sum(row["number"] in by_number for row in table_rows("checks"))
    return "\n".join([
        "# The checks",
        "",
        "Made by `python -m rules.describe`; the text stands in the rules' own files.",
        "",
        f"{made} of {len(rows)} checks of the catalogue are rules. The others are not checked yet.",
        "A finding informs; it does not certify. Local codes, makers' instructions and licensed",
        "practice come first.",
        "",
        "| number | rule or item |",
        "| --- | --- |",
        *rows,
        "",
        "\n\n".join(map(as_markdown, pages())),
        "",
    ])


def _row(number: str, title: str, decided_by: str, made: dict[str, BookRule]) -> str:
    if number in made:
        record = made[number].record
        asks = " (looked at aboard)" if record.questions else ""
        return f"| {number} | `{record.slug}`: {record.title}{asks} |"
    asked = "look aboard" if decided_by == "L" else f"decided {DECIDED[decided_by]}"
    return f"| {number} | {title} (not checked yet; {asked}) |"


def main(arguments: list[str]) -> int:
    """Write RULES.md, or with --check say whether it is stale (exit 1)."""
    path = Path(assets.__file__).parent / "RULES.md"
    if "--check" in arguments:
        return 0 if path.is_file() and path.read_text("utf-8") == rules_md() else 1
    path.write_text(rules_md(), encoding="utf-8")
    return 0


if __name__ == "__main__":
    sys.exit(main(sys.argv[1:]))
