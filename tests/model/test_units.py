"""Typed quantities and conductor sizes."""

from __future__ import annotations

import math

import pytest
from hypothesis import given
from hypothesis import strategies as st

from model.units import QuantityError, area_mm2, format_quantity, parse_quantity, parse_size


@pytest.mark.parametrize(
    ("text", "unit", "value"),
    [
        ("12 ft", "m", 3.6576),
        ("3.7m", "m", 3.7),
        ("1,5 m", "m", 1.5),
        ("0,125", "m", 0.125),
        ("6'", "m", 1.8288),
        ("6' 3\"", "m", 1.905),
        ("6 ft 3 in", "m", 1.905),
        ("18 in", "mm", 457.2),
        ("5/16 in", "mm", 7.9375),
        ("1 1/2 in", "mm", 38.1),
        ("100 Ah", "Ah", 100),
        ("100 ah", "Ah", 100),
        ("35mm2", "mm2", 35),
        ("35 mm²", "mm2", 35),
        ("1.2 kA", "A", 1200),
        ("250 mA", "A", 0.25),
        ("24V", "V", 24),
        ("24", "V", 24),
        ("5 mΩ", "ohm", 0.005),
        ("90 min", "h", 1.5),
        ("77 °F", "C", 25),
        ("−5", "C", -5),
        ("80 %", "of rated", 0.8),
        ("-0.3 %/K", "1/K", -0.003),
    ],
)
def test_a_typed_quantity_is_read_into_the_fields_unit(text, unit, value):
    assert parse_quantity(text, unit) == pytest.approx(value, rel=1e-12)


@pytest.mark.parametrize(
    ("text", "unit"),
    [
        ("", "m"),
        ("about 3", "m"),
        ("5 V", "A"),
        ("3 m", ""),
        ("1.2.3", "V"),
        ("1.200,5", "V"),
        ("1e999", "A"),
        ("nan", "V"),
        ("inf", "V"),
        ("1/0", "m"),
        ("1/0 in", "mm"),
        ("5 A A", "A"),
        ("6' x", "m"),
    ],
)
def test_what_is_no_such_quantity_is_refused_naming_what_was_typed(text, unit):
    with pytest.raises(QuantityError) as caught:
        parse_quantity(text, unit)
    assert f"'{text}' was typed" in str(caught.value)
    assert caught.value.expected in str(caught.value)


@pytest.mark.parametrize("text", ["1,200", "12,000 A", "1,200 mA", "100,000"])
def test_a_comma_that_could_mark_thousands_is_refused_not_guessed(text):
    with pytest.raises(QuantityError, match="thousands"):
        parse_quantity(text, "A")


def test_the_refusal_names_the_units_that_would_do():
    with pytest.raises(QuantityError, match=r"a number in A \(or mA, kA\)"):
        parse_quantity("12 V", "A")


@given(st.floats(-1e9, 1e9), st.sampled_from(["m", "A", "V", "mm2", "C", "", "min", "1/K"]))
def test_what_is_shown_reads_back_as_the_same_number(value, unit):
    read = parse_quantity(format_quantity(value, unit, digits=17), unit)
    assert math.isclose(read, value, rel_tol=1e-15)


@given(st.text(max_size=12), st.sampled_from(["m", "A", "mm2", "C", "", "of rated"]))
def test_nonsense_gives_a_finite_number_or_the_named_error(text, unit):
    try:
        assert math.isfinite(parse_quantity(text, unit))
    except QuantityError as error:
        assert error.expected


@pytest.mark.parametrize(
    ("text", "size"),
    [
        ("2/0", ("awg", "2/0")),
        ("2/0 AWG", ("awg", "2/0")),
        ("00", ("awg", "2/0")),
        ("0 AWG", ("awg", "1/0")),
        ("AWG 10", ("awg", "10")),
        ("#10 awg", ("awg", "10")),
        ("35mm2", ("mm2", "35")),
        ("35 mm²", ("mm2", "35")),
        ("35", ("mm2", "35")),
        ("2,5", ("mm2", "2.5")),
        ("2.50 mm2", ("mm2", "2.5")),
        ("16 SAE", ("sae", "16")),
        ("sae 4/0", ("sae", "4/0")),
    ],
)
def test_a_conductor_size_is_read_as_printed_on_the_jacket(text, size):
    assert parse_size(text) == size


@pytest.mark.parametrize(
    "text", ["", "thick", "0", "-3", "5/0", "99 AWG", "3 SAE", "10 AWG SAE", "1e3", "2000", "35 A"]
)
def test_what_is_no_conductor_size_is_refused(text):
    with pytest.raises(QuantityError, match="a conductor size such as"):
        parse_size(text)


@given(st.text(max_size=10))
def test_any_text_is_a_size_with_an_area_or_the_named_error(text):
    try:
        standard, printed = parse_size(text)
    except QuantityError:
        return
    assert area_mm2(standard, printed) > 0
    assert parse_size(f"{printed} {standard}") == (standard, printed)


def test_the_area_of_an_unknown_size_is_refused():
    with pytest.raises(QuantityError):
        area_mm2("awg", "thick")


def test_the_awg_series_ends_where_its_definition_says():
    # ASTM B258: 4/0 is 0.4600 in across, 36 is 0.0050 in.
    assert area_mm2("awg", "4/0") == pytest.approx(math.pi / 4 * (0.46 * 25.4) ** 2, rel=1e-9)
    assert area_mm2("awg", "36") == pytest.approx(math.pi / 4 * (0.005 * 25.4) ** 2, rel=1e-9)


def test_an_sae_size_holds_less_copper_than_the_awg_size_of_the_same_number():
    for gauge in ("18", "10", "6", "2/0", "4/0"):
        assert 0.85 < area_mm2("sae", gauge) / area_mm2("awg", gauge) < 0.98
