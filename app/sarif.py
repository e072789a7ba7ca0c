"""A report as SARIF 2.1.0 (OASIS standard), for programs that gather findings of many tools.

Electrical parts have no line of text; each is told as a logical location by its id.
"""

from __future__ import annotations

from pathlib import Path
from typing import TYPE_CHECKING, Any

from rules.book import book
from rules.rule import Severity
from rules.sources import sources

if TYPE_CHECKING:
    from rules.engine import Report
    from rules.rule import BookRule, CannotTell, Finding

VERSION = "2.1.0"
SCHEMA = "https://docs.oasis-open.org/sarif/sarif/v2.1.0/errata01/os/schemas/sarif-schema-2.1.0.json"
LEVELS: dict[Severity, str] = {
    "danger": "error", "fault": "error", "caution": "warning", "note": "note"}  # fmt: skip


def check_sarif(report: Report, file: Path) -> dict[str, Any]:
    """Return a report as a SARIF log of one run.

    What could not be told is a result of the kind "open"; what was accepted is suppressed with the
    owner's reason as its justification.
    """
    results = [_result(finding, file) for finding in report.findings]
    results += [_open(unjudged, file) for unjudged in report.cannot_tell]
    results += [
        {**_result(accepted.finding, file),
         "suppressions": [{"kind": "external", "justification": accepted.reason}]}
        for accepted in report.accepted
    ]
    driver = {"name": "Loomwright", "rules": [_rule(rule) for rule in book()]}
    run = {"tool": {"driver": driver}, "results": results,
           "properties": {"ruleSet": report.profile, "checksRun": report.rules_run}}
    return {"$schema": SCHEMA, "version": VERSION, "runs": [run]}


def _rule(rule: BookRule) -> dict[str, Any]:
    record = rule.record
    return {
        "id": record.slug,
        "name": record.number,
        "shortDescription": {"text": f"{record.title}."},
        "fullDescription": {"text": rule.text},
        "help": {"text": record.remedy},
        "defaultConfiguration": {"level": LEVELS[record.severity]},
        "properties": {"topic": record.topic, "severity": record.severity,
                       "sources": [sources()[key].text for key in record.sources]},
    }


def _result(finding: Finding, file: Path) -> dict[str, Any]:
    return {
        "ruleId": finding.rule,
        "level": LEVELS[finding.severity],
        "message": {"text": finding.message},
        "locations": _locations(finding.where, file),
        "properties": {"severity": finding.severity, "figures": dict(finding.figures),
                       "sources": list(finding.sources)},
    }


def _open(unjudged: CannotTell, file: Path) -> dict[str, Any]:
    return {
        "ruleId": unjudged.rule,
        "kind": "open",
        "level": "none",
        "message": {"text": unjudged.message},
        "locations": _locations(unjudged.where, file),
        "properties": {"missing": list(unjudged.missing)},
    }


def _locations(where: tuple[str, ...], file: Path) -> list[dict[str, Any]]:
    artifact = {"artifactLocation": {"uri": file.as_posix()}}
    logical = [{"fullyQualifiedName": item, "kind": "element"} for item in where]
    place: dict[str, Any] = {"physicalLocation": artifact}
    return [{**place, "logicalLocations": logical} if logical else place]
