"""Boats by questions: whole, saved as they are, and nothing for the rule book to say of them."""

from __future__ import annotations

import itertools
from operator import attrgetter

import pytest
from msgspec.structs import replace

from app.new_boat.answers import QUESTIONS, Answers, answered, questions_of
from app.new_boat.boat import boat_of
from app.new_boat.figures import figure
from app.new_boat.sizing import breaker_a, thinnest
from model.table_files import table_rows
from model.tables import allowable_a
from tests.app.new_boat.combinations import (
    AXES,
    BOUND,
    FREE,
    boat_with,
    random_boats,
    settled_answers,
)
from tests.app.new_boat.covering import covering_boats
from tests.app.new_boat.judged import complaints

STRENGTH = 3  # seconds; 4 takes some twenty, by hand
RANDOM, SEED = 60, 20
SMALLEST = Answers(engines=0, solar=False, wind=False, shore_v=0, windlass=False, fridge=False)


def kinds(answers: Answers) -> list[str]:
    return [part.kind for part in boat_of(answers).components.values()]


def test_every_boat_is_settled_and_comes_once():
    bound = settled_answers()
    assert len(set(bound)) == len(bound)
    for values in bound:
        assert boat_with(BOUND, values) == boat_with(BOUND, values).settled()


def test_what_is_free_settles_nothing_and_is_left_alone():
    for answers, other in itertools.pairwise(random_boats(200, 5)):
        mixed = replace(answers, **{name: getattr(other, name) for name in FREE}).settled()
        assert mixed == replace(answers.settled(), **{name: getattr(other, name)
                                                      for name in FREE})


def test_the_sample_holds_whatever_three_answers_a_boat_can_hold():
    sample = list(covering_boats(STRENGTH))
    assert all(one == one.settled() for one in sample)
    for names in itertools.combinations(AXES, STRENGTH):
        answers = attrgetter(*names)
        held = {answers(one) for one in sample}
        for one in random_boats(6, 9):
            assert answers(one.settled()) in held, names


def test_any_three_answers_give_a_boat_the_book_has_nothing_to_say_of():
    assert [line for answers in covering_boats(STRENGTH) for line in complaints(answers)] == []


def test_boats_at_random_give_the_book_nothing_to_say():
    assert [line for answers in random_boats(RANDOM, SEED) for line in complaints(answers)] == []


@pytest.mark.parametrize("length_m", [4.0, 8.5, 20.0])
def test_the_shortest_and_the_longest_boat_are_judged_too(length_m):
    for answers in (Answers(), Answers(negatives=True, rule_set="us"), SMALLEST):
        assert complaints(replace(answers, length_m=length_m)) == []


def test_a_boat_that_nothing_would_charge_gets_the_sun():
    assert SMALLEST.settled().solar
    assert "solar_array" in kinds(SMALLEST)


def test_what_is_not_asked_leaves_no_trace():
    assert replace(SMALLEST, fuel="petrol", start_v=24, bow_bank=True,
                   shore_unit="inverter_charger").settled() == SMALLEST.settled()


def test_settling_twice_is_settling_once():
    for answers in random_boats(200, 3):
        assert answers.settled().settled() == answers.settled()


def test_every_question_changes_the_boat():
    rich = Answers(shore_unit="charger", thruster=True)
    for question in QUESTIONS:
        assert question.is_asked(rich), question.key
        now = getattr(rich, question.key)
        others = [c.value for c in question.choices if c.value != now] or [
            "Elsewhere" if question.key == "name" else 7.5]
        for other in others:
            assert boat_of(answered(rich, question.key, other)) != boat_of(rich), question.key


def test_every_question_says_why_and_offers_what_most_boats_have():
    for question in QUESTIONS:
        assert question.words.endswith("?") and question.why.endswith(".")
        values = [choice.value for choice in question.choices]
        assert not values or getattr(Answers(), question.key) in values


def test_a_question_that_hangs_on_another_comes_and_goes():
    asked = [q.key for q in questions_of("Engine", Answers(engines=0))]
    assert asked == ["engines"]
    assert [q.key for q in questions_of("Engine", Answers())] == ["engines", "fuel", "start_v"]


@pytest.mark.parametrize(("change", "wanted"), [
    ({"engines": 2}, {"engine_block": 2, "starter": 2, "alternator": 2, "dc_dc_charger": 2}),
    ({"fuel": "petrol"}, {"gas_alarm": 1}),
    ({"wind": True}, {"wind_generator": 1, "dump_load": 1}),
    ({"shore_unit": "inverter_charger"}, {"inverter_charger": 1, "shore_charger": 0}),
    ({"thruster": True, "bow_bank": True}, {"battery_bank": 3, "thruster": 1}),
    ({"chemistry": "lfp", "house_v": 24}, {"battery_bank": 3, "emergency_link": 1}),
    ({"shore_v": 0}, {"shore_inlet": 0, "galvanic_isolator": 0}),
])
def test_an_answer_brings_its_parts(change, wanted):
    found = kinds(replace(Answers(), **change))
    assert {kind: found.count(kind) for kind in wanted} == wanted


def test_lithium_is_watched_and_its_main_fuse_breaks_its_short():
    boat = boat_of(Answers(chemistry="lfp", capacity_ah=600))
    bank = next(p for p in boat.components.values() if p.name == "House bank").parameters
    assert bank["management"] == "internal" and bank["alarm"] == "sounder"
    main = next(p for p in boat.components.values() if p.name == "House main").parameters
    # The bank's own short, by Ohm's law: rest volts over its resistance.
    assert main["interrupt_a"] >= bank["rest_v"] / bank["internal_resistance_ohm"]


def test_every_length_is_known_as_estimated():
    for wire in boat_of(Answers(negatives=True)).conductors.values():
        assert wire.known["length_m"] == "estimated", wire.id


def test_lengths_grow_with_the_boat():
    def longest(length_m: float) -> float:
        wires = boat_of(Answers(length_m=length_m)).conductors.values()
        return max(wire.length_m or 0 for wire in wires)

    assert longest(16) == pytest.approx(16 * figure("run_mast"))
    assert longest(6) == pytest.approx(6 * figure("run_mast"))


@pytest.mark.parametrize("rule_set", ["us", "iso"])
def test_a_size_carries_what_it_must_and_the_next_thinner_does_not(rule_set):
    # Expected: the first row of the rule set's own table that allows the current.
    table, column = (("ampacity_33cfr183_table5", "conductor_size_awg") if rule_set == "us"
                     else ("ampacity_iso13297", "nominal_area_mm2"))
    rows = [row for row in table_rows(table) if float(row["allowable_a_insulation_105c"]) >= 100]
    size = thinnest(rule_set, 100.0)
    assert size.text == rows[0][column]
    assert allowable_a(rule_set, size, 105).value >= 100


def test_a_breaker_carries_its_load_at_four_fifths_of_its_rating():
    # 1.25 times the current, rounded up to a common rating: common practice, no source.
    assert breaker_a(4.0) == 5 and breaker_a(4.1) == 10 and breaker_a(12) == 15


def test_every_figure_of_new_boats_says_where_it_is_from():
    assert all(row["unit"] and row["source"] for row in table_rows("new_boat_figures"))
