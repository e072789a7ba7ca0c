"""Messages: verbs go with one or several, and figures that differ never look the same."""

from __future__ import annotations

import pytest

from rules.rule import Fault
from rules.wording import Told, sentence, told_apart
from tests.boat_builder import Boat

DIAGRAM = Boat("us").battery("G1").diagram()


@pytest.mark.parametrize(("names", "said"), [
    ("E1", "E1 hangs on G1; it takes all."),
    ("E1 and E2", "E1 and E2 hang on G1; they take all."),
    ("E1, E2 and 5 more", "E1, E2 and 5 more hang on G1; they take all."),
])
def test_a_verb_goes_with_its_names(names, said):
    template = "{loads:hangs/hang} on {bank}; {loads:~it takes/they take} all."
    assert sentence(template, Fault("", (), {}, {"loads": names, "bank": "G1"}), DIAGRAM) == said


def test_names_alone_stay_as_they_are():
    assert f"{Told('E1 and E2')}" == "E1 and E2"


@pytest.mark.parametrize(("figures", "texts"), [
    ({"set_v": 14.42, "limit_v": 14.4}, ["14.42 V", "14.4 V"]),
    ({"set_v": 14.4, "limit_v": 14.4}, ["14.4 V", "14.4 V"]),
    ({"a": 224.09, "b_a": 224.0, "c_a": 30.04}, ["224.1 A", "224 A", "30 A"]),
    ({"fault_a": 2794.2, "rated_a": 2790.0}, ["2794 A", "2790 A"]),
    ({"rated_a": 112.0, "least_a": 112.5}, ["112 A", "112.5 A"]),
])
def test_figures_are_told_to_as_many_digits_as_part_them(figures, texts):
    assert list(told_apart(figures, DIAGRAM).values()) == texts
