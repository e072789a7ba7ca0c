"""A boat that is still being traced: what hangs on where a conductor goes is not cried out."""

from __future__ import annotations

from importlib.resources import files

import pytest

from model.diagram import Component, Diagram, End
from model.edits import Edit, apply, changed, put
from model.storage import load
from rules.book import book
from rules.engine import Report, check
from tests.rules.bases import tidy

DEMO = str(files("assets").joinpath("demo", "weekend_sloop.loom"))


def report(diagram: Diagram) -> Report:
    found = check(diagram, strict=True)
    assert found is not None
    return found


def of_status(diagram: Diagram, status: str) -> Diagram:
    after: Diagram = changed(diagram, boat=changed(diagram.boat, status=status))
    return after


def lost(diagram: Diagram, wire_id: str, end_id: str) -> Diagram:
    """The diagram with the far end of a conductor not known."""
    wire = diagram.conductors[wire_id]
    end = Component.read({"id": end_id, "kind": "untraced_end", "at": (200, 40),
                          "parameters": {"pole": wire.cores[0]}})
    after = changed(wire, finish=End(component=end_id, terminal="end"), path=None)
    return apply(diagram, Edit("", (put(diagram, "components", end_id, end),
                                    put(diagram, "conductors", wire_id, after))))


def with_three_lost() -> Diagram:
    diagram = load(DEMO)
    for number, wire in enumerate(("W21", "W11", "W30"), 97):
        diagram = lost(diagram, wire, f"X{number}")
    return diagram


def keys(found: Report) -> set[tuple[str, tuple[str, ...]]]:
    return {(finding.rule, finding.where) for finding in found.findings}


def test_three_untraced_ends_bring_no_finding_while_the_boat_is_drawn_as_found():
    before = keys(report(of_status(load(DEMO), "as_found")))
    found = report(of_status(with_three_lost(), "as_found"))
    new = keys(found) - before
    assert not [key for key in new if set(key[1]) & {"X97", "X98", "X99"}]
    assert not [key for key in new if key[0] in ("loose_end", "banks_without_common_negative")]
    assert "W21.to" in {field for one in found.cannot_tell for field in one.missing}


def test_the_same_ends_are_loose_in_a_drawing_of_what_is_planned():
    found = report(of_status(with_three_lost(), "planned"))
    loose = {finding.where[0] for finding in found.findings if finding.rule == "loose_end"}
    assert loose >= {"W11", "W30"}
    assert "banks_without_common_negative" in {finding.rule for finding in found.findings}


def test_an_untraced_end_on_an_unprotected_tap_asks_where_it_goes():
    sentences = [one.message for one in report(of_status(with_three_lost(), "as_found")).cannot_tell
                 if "W21.to" in one.missing]
    assert any("the other end of W21" in sentence for sentence in sentences)


@pytest.mark.parametrize("rule", [rule for rule in book() if rule.record.follows],
                         ids=lambda rule: rule.record.slug)
def test_rules_that_follow_conductors_judge_the_boat(rule):
    assert rule.record.judges == "boat" and not rule.record.questions


def test_a_boat_without_untraced_ends_is_judged_alike_in_every_state():
    assert keys(report(of_status(tidy(), "as_found"))) == keys(report(of_status(tidy(), "planned")))
