"""The whole book against sixteen boats: what is wrong is found, and nothing else is said."""

from __future__ import annotations

import tomllib
from collections.abc import Iterable, Mapping
from functools import cache
from pathlib import Path
from typing import Any

import pytest

from model.diagram import Diagram
from model.survey import Survey
from rules.engine import check
from rules.rule import SEVERITIES, Finding
from tests.boats import BOATS
from tests.model.analysis.operating_point.balanced import RELATIVE
from tests.rules.case_edits import edited

FOLDER = Path(__file__).parent
RULE_SETS = ("us", "iso")
COUNTED = SEVERITIES[: SEVERITIES.index("note")]
BY_THE_BOOK = ("marrowby", "tessavane", "tidewright")
LEAST_PARTS = 45
LEAST_TRAPS = 12

Key = tuple[str, str, str]


@cache
def data(name: str) -> dict[str, Any]:
    return tomllib.loads((FOLDER / f"{name}.toml").read_text(encoding="utf-8"))


def expected_of(boat: str, rule_set: str) -> list[Mapping[str, Any]]:
    sections = data("expected")[boat]
    return [*sections.get("both", ()), *sections.get(rule_set, ())]


def findings_of(diagram: Diagram, rule_set: str) -> list[Finding]:
    report = check(diagram, rule_set, strict=True)
    assert report is not None
    return [finding for finding in report.findings if finding.severity in COUNTED]


def key_of(finding: Finding) -> Key:
    return (finding.number, finding.severity, finding.where[0])


def difference(found: Iterable[Finding], expected: Iterable[Mapping[str, Any]]) -> list[str]:
    """Return a line for each finding too many, each one missing, and each that names too little."""
    by_key = {key_of(finding): finding for finding in found}
    wanted = {(one["number"], one["severity"], one["where"][0]): one for one in expected}
    lines = [f"too many: {' '.join(key)}: {by_key[key].message}"
             for key in sorted(by_key.keys() - wanted.keys())]
    lines += [f"missing: {' '.join(key)}: {wanted[key]['reason']}"
              for key in sorted(wanted.keys() - by_key.keys())]
    for key in sorted(wanted.keys() & by_key.keys()):
        unnamed = set(wanted[key]["where"]) - set(by_key[key].where)
        if unnamed:
            lines.append(f"not named: {' '.join(key)}: {' '.join(sorted(unnamed))}")
    return lines


@pytest.mark.parametrize("boat", BOATS)
def test_every_duty_case_of_a_boat_is_solved(boat):
    """What is not solved keeps the checks on its currents quiet."""
    for case, point in Survey(BOATS[boat]()).duty.points.items():
        given_w = sum(abs(part.power_w) for part in point.parts.values())
        assert point.settled, case
        assert abs(point.balance_w) <= RELATIVE * max(1.0, given_w), case


def traps() -> list[Any]:
    return [
        pytest.param(boat, trap, rule_set, id=f"{boat}-{rule_set}-{trap['name']}")
        for boat, its_traps in data("traps").items() for trap in its_traps
        for rule_set in RULE_SETS
    ]


@pytest.mark.parametrize("rule_set", RULE_SETS)
@pytest.mark.parametrize("boat", BOATS)
def test_the_book_says_what_is_expected_and_nothing_else(boat: str, rule_set: str) -> None:
    lines = difference(findings_of(BOATS[boat](), rule_set), expected_of(boat, rule_set))
    assert not lines, "\n".join(["", *lines])


@pytest.mark.parametrize(("boat", "trap", "rule_set"), traps())
def test_a_trap_speaks_after_its_one_edit_and_not_before(
    boat: str, trap: Mapping[str, Any], rule_set: str,
) -> None:
    before = BOATS[boat]()
    after = edited(before, (trap["edit"],))
    early = [f.message for f in findings_of(before, rule_set) if f.number == trap["rule"]]
    assert not early, trap["why"]
    heard = findings_of(after, rule_set)
    assert any(f.number == trap["rule"] for f in heard), [
        f"{' '.join(key_of(f))}: {f.message}" for f in heard]


def test_every_boat_has_its_expectations() -> None:
    assert set(data("expected")) == set(BOATS)


@pytest.mark.parametrize("boat", BY_THE_BOOK)
def test_a_boat_by_the_book_is_large_and_has_many_traps(boat: str) -> None:
    assert len(BOATS[boat]().components) >= LEAST_PARTS
    assert len(data("traps")[boat]) >= LEAST_TRAPS
    assert not expected_of(boat, "us") and not expected_of(boat, "iso")
