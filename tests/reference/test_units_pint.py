"""Our small table of units against an independent one: the pint library."""

from __future__ import annotations

import itertools

import pint
import pytest

from model.units import area_mm2, parse_quantity

IN_PINT = {
    "ft": "foot", "in": "inch", "mm2": "mm**2", "cm2": "cm**2", "ohm": "ohm",
    "mohm": "milliohm", "kohm": "kiloohm", "C": "degC", "F": "degF", "Ah": "ampere*hour",
    "mAh": "milliampere*hour", "kAh": "kiloampere*hour", "Wh": "watt*hour",
    "kWh": "kilowatt*hour", "VA": "volt*ampere", "kVA": "kilovolt*ampere", "": "dimensionless",
    "%": "percent", "1/K": "1/kelvin", "%/K": "percent/kelvin",
}  # fmt: skip
FAMILIES = [
    ("m", "mm", "cm", "km", "ft", "in"),
    ("mm2", "cm2"),
    ("A", "mA", "kA"),
    ("V", "mV", "kV"),
    ("W", "kW"),
    ("VA", "kVA"),
    ("Ah", "mAh", "kAh"),
    ("Wh", "kWh"),
    ("ohm", "mohm", "kohm"),
    ("s", "ms", "min", "h"),
    ("C", "F"),
    ("", "%"),
    ("1/K", "%/K"),
]


@pytest.fixture(scope="module")
def registry():
    return pint.UnitRegistry(autoconvert_offset_to_baseunit=True)


@pytest.mark.parametrize("family", FAMILIES, ids=lambda family: family[0] or "ratio")
def test_every_conversion_agrees_with_pint(registry, family):
    for given, wanted in itertools.permutations(family, 2):
        if given == "":
            continue  # a bare number is taken to be in the field's own unit
        theirs = registry.Quantity(37.25, IN_PINT.get(given, given)).to(IN_PINT.get(wanted, wanted))
        assert parse_quantity(f"37.25 {given}", wanted) == pytest.approx(theirs.m, rel=1e-11)


def test_every_unit_of_the_table_is_compared():
    from model.units import _UNITS

    compared = set(itertools.chain.from_iterable(FAMILIES))
    alone_in_their_kind = {"deg", "Hz"}
    assert set(_UNITS) == compared | alone_in_their_kind


def test_circular_mils_agree_with_pint(registry):
    one = registry.Quantity(1, "circular_mil").to("mm**2").m
    # SAE 10 in wire makers' tables: 9343 circular mils.
    assert area_mm2("sae", "10") == pytest.approx(9343 * one, rel=1e-9)
