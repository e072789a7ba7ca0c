"""The form of every rule: walks all records, so that it keeps working as the book grows."""

from __future__ import annotations

import ast
import re
import string
from pathlib import Path

import pytest

import rules
from model.diagram import Component, Conductor, Place
from model.kinds import catalogue
from model.table_files import table_rows
from rules.book import BookRule, book, find, number_key, rule_files
from rules.describe import explain, listing, main, rules_md
from rules.profiles import RULE_SETS, profile
from rules.rule import SEVERITIES
from rules.sources import sources
from rules.wording import UNITS

HEADINGS = ("What it checks.", "Why it matters.", "Fails when.", "Passes when.", "Limits.")
# Sections whose every check is in the book.
DONE_SECTIONS = frozenset({"1", "2", "3", "4", "5", "6", "7", "8", "9", "10", "12"})
COUNTING = {0, 1, 2, 3, 100}  # places, digits kept, per cent
FOLDER = Path(rules.__file__).parent
RULES = pytest.mark.parametrize("rule", book(), ids=lambda rule: rule.record.slug)


def test_the_book_holds_every_file_of_the_topic_folders() -> None:
    on_disk = {file.stem for file in FOLDER.glob("*/*.py") if file.stem != "__init__"}
    assert {slug for _, slug in rule_files()} == on_disk
    assert {rule.record.slug for rule in book()} == on_disk


def test_numbers_are_unique_and_in_order() -> None:
    numbers = [number_key(rule.record.number) for rule in book()]
    assert numbers == sorted(set(numbers))


@RULES
def test_the_help_text_has_all_headings_in_order(rule: BookRule) -> None:
    places = [rule.text.index(heading) for heading in HEADINGS]
    assert places == sorted(places)
    assert rule.text.endswith(".")


@RULES
def test_the_record_is_whole(rule: BookRule) -> None:
    record = rule.record
    assert record.severity in SEVERITIES
    assert record.title[0].isupper()
    assert not record.title.endswith(".")
    assert record.remedy.endswith(".")
    assert record.messages
    assert record.sources
    assert set(record.sources) <= set(sources())
    assert callable(rule.check)
    assert callable(record.subjects)


@RULES
def test_messages_are_sentences_whose_figures_have_units(rule: BookRule) -> None:
    for text in rule.record.messages.values():
        slots = [name for _, name, _, _ in string.Formatter().parse(text) if name]
        assert text.endswith(".")
        assert slots
        assert all(name.rpartition("_")[2] in UNITS for name in slots if "_" in name)


@RULES
def test_every_figure_stands_in_both_profiles(rule: BookRule) -> None:
    for rule_set in RULE_SETS:
        for name in rule.record.figures:
            figure = profile(rule_set)[name]
            assert figure.source
            assert figure.sentence.endswith(".")


@RULES
def test_no_figure_stands_in_a_rule_file(rule: BookRule) -> None:
    file = FOLDER / rule.record.topic / f"{rule.record.slug}.py"
    tree = ast.parse(file.read_text(encoding="utf-8"))
    figures = {node.value for node in ast.walk(tree) if isinstance(node, ast.Constant)
               and isinstance(node.value, int | float) and not isinstance(node.value, bool)}
    assert figures <= COUNTING, "a figure belongs in a profile"


@RULES
def test_the_rule_is_explained_by_slug_and_by_number(rule: BookRule) -> None:
    text = explain(rule.record.slug)
    assert text is not None
    assert explain(rule.record.number) == text
    assert rule.record.title in text
    assert "What to do:" in text
    assert "Sources:" in text
    assert rule.record.slug in listing()


def test_the_shipped_list_of_checks_is_not_stale() -> None:
    assert main(["--check"]) == 0, "run python -m rules.describe"


def test_the_list_has_a_row_for_every_number_of_the_catalogue() -> None:
    numbers = [row["number"] for row in table_rows("checks")]
    assert len(numbers) == len(set(numbers)) == 222
    rows = re.findall(r"^\| (\d+\.\d+) \| .+ \|$", rules_md(), re.MULTILINE)
    assert rows == numbers
    assert {rule.record.number for rule in book()} <= set(numbers)


def test_only_what_eyes_must_decide_may_be_a_question_alone() -> None:
    """Of the sections that are done, every check is a rule but those decided by looking aboard."""
    made = {rule.record.number for rule in book()}
    open_ones = {row["number"] for row in table_rows("checks")
                 if row["number"].partition(".")[0] in DONE_SECTIONS} - made
    looked_at = {row["number"] for row in table_rows("checks") if row["decided_by"] == "L"}
    assert looked_at == {"2.11", "5.9", "5.10", "5.11", "5.15", "7.11", "9.18"}
    assert open_ones <= looked_at
    assert {rule.record.number for rule in book() if rule.record.questions} <= looked_at


@RULES
def test_every_question_is_about_a_field_that_can_be_written_down(rule: BookRule) -> None:
    fields = {field.name for kind in catalogue().values() for field in kind.fields}
    for record in (Component, Conductor, Place):
        fields |= set(record.field_names())
    assert set(rule.record.questions) <= fields
    assert all(text.endswith("?") and "{item}" in text for text in rule.record.questions.values())


def test_what_is_not_in_the_book_is_not_explained() -> None:
    assert explain("no_such_rule") is None
    assert find("99.9") is None


def test_a_slug_may_be_typed_with_hyphens() -> None:
    assert find("size-missing") is find("4.19")


def test_every_source_has_a_scope_and_a_standing() -> None:
    used = {key for rule in book() for key in rule.record.sources}
    for key, source in sources().items():
        assert source.rule_set in ("us", "iso", "any")
        assert source.standing
        assert key in used, f"{key} is cited by no rule"


def test_every_figure_of_a_profile_is_read_by_some_rule() -> None:
    used = {name for rule in book() for name in rule.record.figures}
    for rule_set in RULE_SETS:
        assert set(profile(rule_set).figures) == used
