"""What is not known reads as a person would ask for it."""

from __future__ import annotations

import pytest

from model.kinds import catalogue
from rules.asked_for import PLURALS, QUESTIONS, asked_for, cannot_tell_sentence
from tests.boat_builder import Boat

YES_NO = {field.name for kind in catalogue().values() for part in kind.fields
          for field in (part, *part.columns) if field.type == "yes_no"}


def diagram():
    boat = Boat("us").battery("G1").battery("G2").fuse("F1").load("E1")
    return boat.wire("W1", "G1.+", "F1.a").wire("W2", "F1.b", "E1.+").diagram()


@pytest.mark.parametrize(("field", "items", "said"), [
    ("heated", ["G1"], "whether G1 is heated"),
    ("heated", ["G1", "G2"], "whether G1 and G2 are heated"),
    ("own_fuse", ["E1"], "whether E1 has a fuse of its own"),
    ("cold_charge_cutoff", ["G1", "G2"], "whether G1 and G2 stop charging when cold"),
    ("oversizing_allowed", ["G1", "G2"], "whether G1 and G2 may be given a larger array"),
    ("weeks_idle", ["boat"], "for how many weeks the boat is left alone at most"),
    ("lowest_temperature_c", ["boat"], "the lowest temperature in the area of the boat"),
    ("size", ["W1", "W2"], "the size of W1 and W2"),
    ("capacity_ah", ["G1"], "the capacity of the whole bank of G1"),
])
def test_a_noun_is_asked_for_and_all_else_is_a_question(field, items, said):
    assert asked_for(diagram(), field, items) == said


def test_what_is_answered_by_yes_or_no_is_always_a_question():
    assert YES_NO - set(QUESTIONS) == set()


def test_every_verb_has_its_plural():
    for field, (_, verb, _rest) in QUESTIONS.items():
        assert verb in PLURALS or verb.endswith("s"), field
        assert not verb.endswith(("ses", "hes", "xes")) or verb in {
            *PLURALS, "closes", "senses", "polarises", "synchronises"}, field


def test_a_sentence_names_all_that_is_missing():
    found = cannot_tell_sentence("Title", ["W1.size", "W2.size", "G1.heated"], diagram())
    assert found == (
        "Title: cannot be judged without knowing the size of W1 and W2 and whether G1 is heated.")
