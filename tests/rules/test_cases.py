"""Every rule against its cases: data in `cases/SLUG.toml`, run here.

A case that fires has a near miss that differs from it in exactly one field or one conductor, and
may say what the fixes it `offers` are called. Each quiet line of a rule has a case, and what cannot
be told names the field that is missing.
"""

from __future__ import annotations

import tomllib
from functools import cache
from pathlib import Path
from typing import Any

import pytest

from app.pack.book import SHEETS, papers_of
from model.analysis.fault_current import fault_current
from model.diagram import Diagram
from model.edits import apply, inverse
from model.storage.save import dumps
from model.survey import Survey
from model.table_files import table_rows
from model.tables import allowable_a
from rules.book import BookRule, book, find
from rules.engine import Report, check, fixes_of
from rules.papers_made import Papers
from rules.profiles import profile
from rules.rule import SEVERITIES, Finding
from tests.boat_builder import size
from tests.rules.bases import BASES
from tests.rules.case_edits import differences, edited

FOLDER = Path(__file__).parent / "cases"
CLOSE = 1e-4  # two ways of solving agree so well
FIRING = ("fires", "behind_busbar", "inside_panel_way")


@cache
def cases(slug: str) -> dict[str, Any]:
    return tomllib.loads((FOLDER / f"{slug}.toml").read_text(encoding="utf-8"))


def every(*sections: str) -> list[Any]:
    found = []
    for file in sorted(FOLDER.glob("*.toml")):
        data = cases(file.stem)
        for section in sections:
            for case in data.get(section, ()):
                found.append(pytest.param(
                    file.stem, told(file.stem, case), id=f"{file.stem}-{section}-{case['name']}"))
    return found


def told(slug: str, case: dict[str, Any]) -> dict[str, Any]:
    """Return a case with what its rule judges."""
    rule = find(slug)
    return {**case, "judges": rule.record.judges if rule is not None else "boat"}


def diagram_of(slug: str, case: dict[str, Any], key: str = "edits") -> Diagram:
    base = BASES[case.get("base", cases(slug).get("base", "tidy"))]()
    return edited(base, case.get(key, ()))


def reported(diagram: Diagram, case: dict[str, Any]) -> Report:
    bytes_before = dumps(diagram)
    report = check(diagram, case.get("profile"), strict=True, papers=papers_for(diagram, case))
    assert report is not None
    assert dumps(diagram) == bytes_before, "a check changed the diagram"
    return report


def papers_for(diagram: Diagram, case: dict[str, Any]) -> Papers | None:
    """Return the sheets that a case prints: those of a rule about papers, or when it says so."""
    judged = case.get("judges") == "papers" and not case.get("screen")
    return papers_of(diagram, set(SHEETS) - set(case.get("leave_out", ()))) if judged else None


def own(report: Report, slug: str) -> list[Any]:
    return [finding for finding in report.findings if finding.rule == slug]


def unjudged(report: Report, slug: str) -> list[str]:
    asked = [f"{one.item}.{one.field}" for one in report.questions if one.rule == slug]
    return asked + [field for one in report.cannot_tell if one.rule == slug
                    for field in one.missing]


def expected_value(text: Any, rule_set: str, diagram: Diagram) -> float:
    """Return a figure: plain when it is the case's own input, else fetched from where it stands.

    "profile NAME" is the profile's figure; "table SIZE at CLASS" the ampacity table's row; "fuse
    ROW COLUMN" the table of fuses; "fault TERMINAL" what the whole solver says of a short there,
    "least fault TERMINAL" the smallest one.
    """
    if not isinstance(text, str):
        return float(text)
    where, _, rest = text.partition(" ")
    if where == "profile":
        return profile("us" if rule_set == "us" else "iso").value(rest)
    if where == "fuse":
        name, _, column = rest.partition(" ")
        return float(next(row[column] for row in table_rows("fuse_classes")
                          if row["fuse_class"].startswith(name)))
    if where == "fault":
        return fault_current(Survey(diagram), rest).i_max_a
    if where == "least":
        return fault_current(Survey(diagram), rest.partition(" ")[2]).i_min_a
    sized, _, insulation = rest.partition(" at ")
    table = "us" if rule_set == "us" else "iso"
    return allowable_a(table, size(sized), float(insulation)).value  # type: ignore[arg-type]


@pytest.mark.parametrize(("slug", "case"), every(*FIRING))
def test_a_faulty_boat_is_found(slug: str, case: dict[str, Any]) -> None:
    diagram = diagram_of(slug, case)
    report = reported(diagram, case)
    findings = own(report, slug)
    assert len(findings) == case.get("count", 1), [f.message for f in report.findings]
    finding = findings[0]
    assert list(finding.where) == case["where"]
    rule = find(slug)
    assert rule is not None
    assert finding.severity == case.get("severity", rule.record.severity)
    for name, text in case.get("figures", {}).items():
        assert finding.figures[name] == pytest.approx(
            expected_value(text, report.profile, diagram), rel=CLOSE)
    for words in case.get("says", ()):
        assert words in finding.message
    assert list(finding.assumed) == case.get("assumed", list(finding.assumed))
    assert finding.sources


@pytest.mark.parametrize(("slug", "case"), every(*FIRING))
def test_every_fix_offered_settles_the_finding(slug: str, case: dict[str, Any]) -> None:
    """Finding gone, nothing of higher severity new on a whole-book run, undo gives the bytes."""
    diagram = diagram_of(slug, case)
    report = reported(diagram, case)
    finding = own(report, slug)[0]
    rule = find(slug)
    assert rule is not None
    fixes = fixes_of(finding, diagram, case.get("profile"))
    assert bool(fixes) == case.get("fixable", rule.record.fix == "always"), fixes
    titles = [fix.title for fix in fixes]
    assert len(set(titles)) == len(titles)
    assert titles == case.get("offers", titles)
    for fix in fixes:
        after = apply(diagram, fix.edit)
        settled = reported(after, case)
        assert not [f for f in own(settled, slug) if f.where[0] == finding.where[0]], fix.title
        assert not worse(report, settled, finding), fix.title
        assert dumps(apply(after, inverse(fix.edit))) == dumps(diagram)


def worse(before: Report, after: Report, fixed: Finding) -> list[str]:
    known = {(f.rule, f.where[:1]) for f in before.findings}
    return [f.message for f in after.findings if (f.rule, f.where[:1]) not in known
            and SEVERITIES.index(f.severity) < SEVERITIES.index(fixed.severity)]


@pytest.mark.parametrize(("slug", "case"), every("fires"))
def test_the_near_miss_differs_in_one_thing_and_is_quiet(slug: str, case: dict[str, Any]) -> None:
    if case.get("leave_out") and "near_miss" not in case:  # with that sheet it is quiet
        whole = {**case, "leave_out": ()}
        assert not own(reported(diagram_of(slug, case), whole), slug)
        return
    near = diagram_of(slug, case, "near_miss")
    assert len(differences(diagram_of(slug, case), near)) == 1
    report = reported(near, case)
    assert not own(report, slug)
    assert not unjudged(report, slug)


@pytest.mark.parametrize(("slug", "case"), every("quiet"))
def test_what_the_rule_excuses_is_quiet(slug: str, case: dict[str, Any]) -> None:
    report = reported(diagram_of(slug, case), case)
    assert not own(report, slug), own(report, slug)
    assert not unjudged(report, slug)
    if "without" in case:
        assert own(reported(diagram_of(slug, case, "without"), case), slug), "excuses nothing"


@pytest.mark.parametrize(("slug", "case"), every("cannot_tell"))
def test_what_cannot_be_told_names_the_field(slug: str, case: dict[str, Any]) -> None:
    report = reported(diagram_of(slug, case), case)
    assert not own(report, slug)
    assert sorted(unjudged(report, slug)) == sorted(case["missing"])


@pytest.mark.parametrize("base", sorted(BASES))
def test_of_a_tidy_boat_there_is_nothing_to_say(base: str) -> None:
    report = check(BASES[base](), strict=True)
    assert report is not None
    assert report.findings == ()
    assert report.cannot_tell == ()


def test_every_rule_has_its_cases_and_every_case_file_its_rule() -> None:
    assert {rule.record.slug for rule in book()} == {file.stem for file in FOLDER.iterdir()}


@pytest.mark.parametrize("rule", book(), ids=lambda rule: rule.record.slug)
def test_a_rule_has_cases_of_every_sort(rule: BookRule) -> None:
    data = cases(rule.record.slug)
    excused = data.get("not_meaningful", {})
    for section in (*FIRING, "cannot_tell"):
        assert data.get(section) or len(excused.get(section, "")) > 20, section
    lines = {case["line"] for case in data.get("quiet", ())}
    assert lines == set(rule.record.quiet)
    names = [case["name"] for section in (*FIRING, "quiet", "cannot_tell")
             for case in data.get(section, ())]
    assert len(names) == len(set(names))


def test_one_survey_serves_both_practices() -> None:
    survey = Survey(BASES["tidy"]())
    assert check(survey, "us") is not None
    assert check(survey, "iso") is not None
