"""Every text the window may show: those marked in the sources, and the titles of the records.

A text keeps where it comes from: a source file, or the name of its sort of record.
"""

from __future__ import annotations

import ast
from collections.abc import Iterable, Iterator
from pathlib import Path
from typing import NamedTuple

from app.actions import ACTIONS, MENUS
from app.new_boat.answers import QUESTIONS
from app.new_boat.granted import GRANTED
from app.panels.form_fields import (
    BOAT_FIELDS,
    GENERAL_FIELDS,
    MORE_GENERAL_FIELDS,
    SYSTEM_FIELDS,
    WIRE_FIELDS,
)
from app.panels.place_form import PLACE_FIELDS
from app.reports import CAUTION
from model.kinds import FAMILIES, catalogue
from model.kinds.record import Field
from rules.book import book
from rules.profiles import profile
from rules.rule import SEVERITIES

ROOT = Path(__file__).parents[2]
MARKS = {"_": 1, "N_": 1, "ngettext": 2, "pgettext": 2}
SHOWN_ONLY = ("cannot_tell", "accepted", "look_aboard")  # what notices are beside the severities


class Text(NamedTuple):
    """A text to translate; `many` is its plural, `context` parts homonyms, `sort` says of
    which record or file it is."""

    one: str
    sort: str
    many: str = ""
    context: str = ""


def texts() -> list[Text]:
    """Return every text once for each place it comes from."""
    found = [*marked(), *of_actions(), *of_kinds(), *of_fields(), *of_rules(), *of_questions()]
    return [text for text in found if any(sign.isalpha() for sign in text.one) or text.one == "."]


def marked() -> Iterator[Text]:
    """Yield what the program's sources mark as words."""
    for path in sorted((ROOT / "app").rglob("*.py")):
        for node in ast.walk(ast.parse(path.read_text(encoding="utf-8"))):
            if not (isinstance(node, ast.Call) and isinstance(node.func, ast.Name)):
                continue
            held = [argument.value for argument in node.args[:MARKS.get(node.func.id, 0)]
                    if isinstance(argument, ast.Constant) and isinstance(argument.value, str)]
            file = path.relative_to(ROOT).as_posix()
            if held and node.func.id == "pgettext":
                yield Text(held[1], file, context=held[0])
            elif held:
                yield Text(held[0], file, "".join(held[1:]))


def of_actions() -> Iterator[Text]:
    """Yield the words of menus and commands."""
    yield from (Text(menu, "menu") for menu in MENUS)
    for action in ACTIONS:
        yield Text(action.title, "action")
        yield Text(action.sentence, "action, sentence")
        yield Text(action.group, "menu")


def of_kinds() -> Iterator[Text]:
    """Yield the words of the parts list and of the forms of parts."""
    yield from (Text(title, "family of parts") for _family, title in FAMILIES)
    for kind in catalogue().values():
        yield Text(kind.title, "kind of part")
        yield Text(kind.sentence, "kind of part, sentence")
        yield from field_words(kind.fields)
        yield from (Text(position, "position of a switch")
                    for handle in kind.handles({}) for position in handle.positions)


def of_fields() -> Iterator[Text]:
    """Yield the words of the forms of conductors, places, systems and the boat."""
    for fields in (WIRE_FIELDS, SYSTEM_FIELDS, GENERAL_FIELDS, MORE_GENERAL_FIELDS, BOAT_FIELDS,
                   PLACE_FIELDS):
        yield from field_words(fields)
    yield from (Text(answer, "choice") for answer in ("yes", "no"))


def field_words(fields: Iterable[Field]) -> Iterator[Text]:
    """Yield titles, units, sentences and choices of fields."""
    for field in fields:
        yield Text(field.title, "field")
        yield Text(field.sentence, "field, sentence")
        if " " in field.unit or len(field.unit) > 3:
            yield Text(field.unit, "unit")
        yield from (Text(choice.replace("_", " "), "choice") for choice in field.choices)
        yield from field_words(field.columns)


def of_rules() -> Iterator[Text]:
    """Yield the titles and topics of the rule book, the severities, and what figures are."""
    for name in (*SEVERITIES, *SHOWN_ONLY):
        yield Text(name.replace("_", " "), "severity")
    for rule in book():
        yield Text(rule.record.title, "finding")
        yield Text(rule.record.topic.replace("_", " "), "topic")
    for rule_set in ("us", "iso"):
        yield from (Text(figure.sentence, "figure, sentence")
                    for figure in profile(rule_set).figures.values())
    yield Text(CAUTION, "caution, sentence")


def of_questions() -> Iterator[Text]:
    """Yield the questions of a new boat and what can be answered."""
    for question in QUESTIONS:
        yield Text(question.page, "page of questions")
        yield Text(question.words, "question")
        yield Text(question.why, "question, sentence")
        yield from (Text(choice.words, "answer") for choice in question.choices)
    yield from (Text(sentence, "taken for granted, sentence") for sentence in GRANTED)
