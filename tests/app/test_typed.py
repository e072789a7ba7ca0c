"""Figures as they are shown and typed in both languages: no figure is read for another."""

from __future__ import annotations

from collections.abc import Iterator

import pytest

from app.typed import listed, read_quantity, shown_list, shown_quantity
from app.words import speak
from model.units import QuantityError, parse_size


@pytest.fixture(params=["en", "de"])
def language(request) -> Iterator[str]:
    speak(request.param)
    yield request.param
    speak("en")


@pytest.mark.parametrize("typed", ["1,5", "1.5", "1,5 m", "1.5m", "150 cm", "+1,50"])
def test_either_mark_is_read_in_either_language(language, typed):
    assert read_quantity(typed, "m") == 1.5


@pytest.mark.parametrize("value", [0.125, 1.234, 12.345, 2.5, 1200.0, 1234.5, -3.125])
def test_what_is_shown_is_read_again(language, value):
    assert read_quantity(shown_quantity(value, "m"), "m") == value


def test_what_could_be_thousands_is_refused():
    for language, typed in (("en", "1,200"), ("de", "1.200"), ("de", "12.000 W")):
        speak(language)
        with pytest.raises(QuantityError):
            read_quantity(typed, "W")
    speak("en")


@pytest.mark.parametrize("typed", ["1,200,000", "1.200.000", "1.200,5", "1,200.5", "1 200"])
def test_two_marks_are_never_one_number(language, typed):
    with pytest.raises(QuantityError):
        read_quantity(typed, "W")


def test_several_figures_in_one_field_are_read_again(language):
    values = (1.5, 22.25, 30.0)
    shown = shown_list(values)
    assert tuple(read_quantity(one, "mm") for one in listed(shown)) == values
    assert shown == ("1,5; 22,25; 30,0" if language == "de" else "1.5, 22.25, 30.0")


def test_ids_in_one_field_are_parted_in_either_language(language):
    assert listed("G1, G2") == listed("G1; G2") == ["G1", "G2"]


def test_a_size_takes_either_mark_and_no_thousands():
    assert parse_size("2,5") == parse_size("2.5 mm²") == ("mm2", "2.5")
    with pytest.raises(QuantityError):
        parse_size("1,000")
