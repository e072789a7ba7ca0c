"""The engine: one cause one finding, acceptances, a rule that crashes, a diagram overtaken."""

from __future__ import annotations

import dataclasses
import json
from typing import Any

import pytest

from model.diagram import Diagram, Override
from rules.acceptances import STALE, facts
from rules.book import book, find
from rules.engine import Report, check
from rules.ordering import natural
from rules.rule import SEVERITIES, BookRule
from tests.boat_builder import Boat
from tests.rules.bases import run, tidy

SLUG = "battery_feed_without_protection"


def checked(diagram: Diagram, **more: Any) -> Report:
    report = check(diagram, strict=True, **more)
    assert report is not None
    return report


def unfused(load_count: int) -> Boat:
    boat = Boat().battery("G1").busbar("X1", stud_count=20)
    boat.wire("W1", "G1.+", "X1.s1", "10 mm2", **run(2))
    for number in range(1, load_count + 1):
        boat.load(f"E{number}", current_a=2)
        boat.wire(f"W{number + 1}", f"X1.s{number + 1}", f"E{number}.+", "2.5 mm2", **run(1))
    return boat


def crashing(subject: object, survey: object, profile: object) -> None:
    raise KeyError("W1")


def test_ten_loads_behind_an_unfused_lead_are_one_finding_naming_ten() -> None:
    findings = [f for f in checked(unfused(10).diagram()).findings if f.topic == "overcurrent"]
    assert len(findings) == 1
    assert findings[0].where[:2] == ("W1", "G1")
    assert {f"E{n}" for n in range(1, 11)} <= set(findings[0].where)


def linked_banks() -> Boat:
    """House bank with a switch and an unfused feed; start bank; an emergency link between."""
    boat = Boat().battery("G1").battery("G2").switch("Q1").switch("Q2").load("E1", current_a=9)
    boat.switch("Q3", "emergency_link").part("M1", "starter")
    boat.wire("W1", "G1.+", "Q1.a", "35 mm2", **run(1))
    boat.wire("W2", "Q1.b", "E1.+", "6 mm2", **run(4))
    boat.wire("W3", "G2.+", "Q2.a", "50 mm2", **run(1))
    boat.wire("W4", "Q2.b", "M1.+", "50 mm2", **run(1))
    boat.wire("L1", "Q1.b", "Q3.a", "50 mm2", **run(1))
    return boat.wire("L2", "Q3.b", "Q2.b", "50 mm2", **run(1))


def test_a_house_feed_without_a_fuse_beside_a_link_is_found_and_the_link_is_not() -> None:
    found = [f.where for f in checked(linked_banks().diagram()).findings if f.rule == SLUG]
    assert ("W1", "G1", "E1") in found
    assert not {"L1", "L2", "W3", "W4"} & {item for where in found for item in where}


def test_a_fuse_that_is_judged_from_both_sides_is_told_of_in_the_same_words_once() -> None:
    boat = Boat().battery("G1").battery("G2").fuse("F1", 2).load("E1", current_a=30)
    boat.load("E2", current_a=5)
    boat.wire("W1", "G1.+", "F1.a", "10 mm2", **run(12))
    boat.wire("W2", "F1.b", "G2.+", "10 mm2", **run(12))
    boat.wire("W3", "F1.a", "E1.+", "10 mm2", **run(1))
    boat.wire("W4", "F1.b", "E2.+", "10 mm2", **run(1))
    told = [f for f in checked(boat.diagram()).findings if f.number == "1.5"]
    assert len(told) == 1 and told[0].where[0] == "F1"


def test_findings_come_by_severity_and_then_as_people_count() -> None:
    boat = unfused(1)
    for number in (10, 2):
        boat.battery(f"B{number}")
    report = checked(boat.diagram())
    order = [SEVERITIES.index(f.severity) for f in report.findings]
    assert order == sorted(order)
    banks = [f.where[0] for f in report.findings if f.number == "3.1"]
    assert banks == sorted(banks, key=natural) == ["B2", "B10", "G1"]


def test_the_report_counts_and_becomes_json() -> None:
    report = checked(unfused(2).diagram())
    counts = report.counts()
    assert counts["danger"] == 1
    assert sum(counts[s] for s in SEVERITIES) == len(report.findings)
    entry = json.loads(json.dumps(report.findings[0].as_json()))
    assert set(entry) == {"rule", "number", "severity", "title", "message", "where", "figures",
                          "sources"}
    assert report.rules_run == sum(rule.record.judges != "papers" for rule in book())


def test_an_accepted_finding_moves_to_the_accepted_with_its_reason() -> None:
    plain = checked(unfused(2).diagram()).findings[0]
    diagram = unfused(2).accept("C1", SLUG, *plain.where, reason="bench set-up",
                                facts=facts(plain)).diagram()
    report = checked(diagram)
    assert not [f for f in report.findings if f.rule in (SLUG, STALE)]
    assert report.accepted[0].reason == "bench set-up"
    assert report.accepted[0].as_json()["acceptance"] == "C1"


def test_an_acceptance_of_other_facts_no_longer_holds_and_is_reported() -> None:
    before = checked(unfused(2).diagram()).findings[0]
    diagram = unfused(3).accept("C1", SLUG, *before.where, facts=facts(before)).diagram()
    report = checked(diagram)
    assert report.accepted == ()
    assert {SLUG, STALE} <= {f.rule for f in report.findings}


def test_an_acceptance_that_matches_nothing_is_reported_as_a_note() -> None:
    boat = Boat().accept("C1", SLUG, "W9")
    stale = [f for f in checked(boat.diagram()).findings if f.rule == STALE]
    assert [f.severity for f in stale] == ["note"]


def test_a_rule_that_crashes_becomes_a_finding_about_that_rule_and_others_still_run() -> None:
    rule = find("1.1")
    assert rule is not None
    broken = BookRule(rule.record, crashing, rule.text)  # type: ignore[arg-type]
    others = [r for r in book() if r is not rule]
    report = check(unfused(1).diagram(), rules=[broken, *others])
    assert report is not None
    about = [f for f in report.findings if f.rule == SLUG]
    assert len(about) == 1
    assert "KeyError" in about[0].message
    assert any(f.rule != SLUG for f in report.findings)
    with pytest.raises(KeyError):
        check(unfused(1).diagram(), rules=[broken], strict=True)


def test_a_check_that_a_newer_diagram_overtakes_gives_no_report() -> None:
    assert check(tidy(), overtaken=lambda: True) is None


def test_the_owners_own_figure_takes_the_place_of_the_profiles_and_is_named() -> None:
    own = Override(value=3000, reason="yard's practice")
    boat = Boat().boat(overrides={"battery_sheathed_max_mm": own})
    boat.battery("G1").fuse("F1", 10, rated_dc_v=58).load("E1", current_a=2)
    boat.wire("W1", "G1.+", "F1.a", "10 mm2", **run(3.5, sheath="whole"))
    boat.wire("W2", "F1.b", "E1.+", "10 mm2", **run(1))
    found = [f for f in checked(boat.diagram()).findings if f.number == "1.2"]
    assert found[0].figures["limit_mm"] == 3000
    assert any("yard's practice" in source for source in found[0].sources)


def test_lengths_are_also_told_in_the_owners_unit() -> None:
    boat = Boat().boat(length_unit="ft").battery("G1").fuse("F1", 10).load("E1")
    boat.wire("W1", "G1.+", "F1.a", "10 mm2", length_m=0.5, sheath="none")
    boat.wire("W2", "F1.b", "E1.+", "10 mm2")
    found = [f for f in checked(boat.diagram()).findings if f.number == "1.2"]
    assert "0.5 m (1.64 ft)" in found[0].message  # 0.5 / 0.3048
    assert "178 mm (7.01 in)" in found[0].message  # 178 / 25.4


def test_no_message_says_safe_or_compliant() -> None:
    for rule in book():
        words = " ".join([rule.text, *rule.record.messages.values(), rule.record.remedy]).lower()
        assert "safe" not in words.split()
        assert "compliant" not in words


def test_a_record_is_never_changed() -> None:
    with pytest.raises(dataclasses.FrozenInstanceError):
        book()[0].record.title = "other"  # type: ignore[misc]
