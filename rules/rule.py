"""What a rule is and what it may answer: the record, and the three answers.

A check reports a message id and data; the sentence stands once, in the record. Findings hold ids,
never objects of the diagram.
"""

from __future__ import annotations

from collections.abc import Callable, Iterable, Mapping
from dataclasses import dataclass, field
from typing import TYPE_CHECKING, Any, Literal, Protocol

if TYPE_CHECKING:
    from model.edits import Edit
    from model.survey import Survey
    from rules.profiles import Profile

Severity = Literal["danger", "fault", "caution", "note"]
SEVERITIES: tuple[Severity, ...] = ("danger", "fault", "caution", "note")


def mildest(*severities: Severity) -> Severity:
    """Return the least of some severities."""
    return max(severities, key=SEVERITIES.index)


class Sourced(Protocol):
    """A figure that says where it stands and whether it was read there."""

    @property
    def value(self) -> float:
        """The figure."""

    @property
    def source(self) -> str:
        """Where it stands."""

    @property
    def confirmed(self) -> bool:
        """Whether it was read there, or stands from memory."""


@dataclass(frozen=True, slots=True)
class Fault:
    """What a check reports: a message id with its data. `where` begins with what matters most.

    Figure names end in their unit (`length_m`); one that is a Sourced figure brings its source
    with it. `names` fill the other slots of the message. `assumed` are fields nobody stated whose
    usual value the verdict rests on.
    """

    message: str
    where: tuple[str, ...]
    figures: Mapping[str, float | Sourced] = field(default_factory=dict)
    names: Mapping[str, str] = field(default_factory=dict)
    severity: Severity | None = None
    sources: tuple[str, ...] = ()
    unverified: bool = False
    assumed: tuple[str, ...] = ()


@dataclass(frozen=True, slots=True)
class Missing:
    """What a check answers when it cannot tell: the fields ("W3.length_m") that would settle it."""

    fields: tuple[str, ...]
    where: tuple[str, ...]


Answer = Fault | Missing | None


@dataclass(frozen=True, slots=True)
class Rule:
    """The record of a rule.

    `subjects` gives what the check is shown, one at a time. `quiet` are the cases in which it
    keeps silent on purpose; each has a test case. `figures` are the profile's figures it reads.
    `sources` are keys of the table of rule sources. `fix` says whether the file offers fixes, by a
    function `fixes(finding, survey, profile)`. `questions` is for what only eyes can tell: by
    field, what to look for; what such a rule cannot tell goes on the list of what to look at
    aboard. `judges` says what the check is shown: the boat, the findings on it, or the papers that
    are being printed. What `follows` conductors to where they go cannot tell while one is untraced.
    What judges `as_drawn` is shown parts that are the wrong way round as they are; all others see
    them turned right, and tell what else is wrong.
    """

    slug: str
    number: str
    title: str
    topic: str
    severity: Severity
    looks_at: str
    subjects: Callable[[Survey], Any]
    messages: Mapping[str, str]
    remedy: str
    sources: tuple[str, ...]
    quiet: Mapping[str, str] = field(default_factory=dict)
    figures: tuple[str, ...] = ()
    fix: Literal["never", "sometimes", "always"] = "never"
    questions: Mapping[str, str] = field(default_factory=dict)
    judges: Literal["boat", "findings", "papers"] = "boat"
    follows: bool = False
    as_drawn: bool = False


@dataclass(frozen=True, slots=True)
class Finding:
    """A fault as a person reads it. `where` are ids, the conductor first when one matters.

    `figures` are plain numbers whose names end in the unit.
    """

    rule: str
    number: str
    topic: str
    severity: Severity
    title: str
    message: str
    where: tuple[str, ...]
    figures: Mapping[str, float]
    sources: tuple[str, ...]
    message_id: str = ""
    assumed: tuple[str, ...] = ()

    def as_json(self) -> dict[str, Any]:
        """Return the finding as JSON values."""
        return {
            "rule": self.rule, "number": self.number, "severity": self.severity,
            "title": self.title, "message": self.message, "where": list(self.where),
            "figures": dict(self.figures), "sources": list(self.sources),
        }


Grade = Literal["mechanical", "choice"]


@dataclass(frozen=True, slots=True)
class Fix:
    """A change that would settle a finding, as an Edit.

    `mechanical` is the one thing to do and may be done for many at once; `choice` is one of
    several ways, the owner picks. What can only be advised is the rule's remedy, in words.
    """

    title: str
    grade: Grade
    edit: Edit


Check = Callable[[Any, "Survey", "Profile"], Answer]
FixOffer = Callable[[Finding, "Survey", "Profile"], Iterable[Fix]]


@dataclass(frozen=True, slots=True)
class BookRule:
    """A rule of the book: its record, its check, its help text and what offers its fixes."""

    record: Rule
    check: Check
    text: str
    fixes: FixOffer | None = None


@dataclass(frozen=True, slots=True)
class CannotTell:
    """What a rule could not judge, and the fields that would settle it."""

    rule: str
    number: str
    topic: str
    title: str
    message: str
    where: tuple[str, ...]
    missing: tuple[str, ...]

    def as_json(self) -> dict[str, Any]:
        """Return the entry as JSON values."""
        return {
            "rule": self.rule, "number": self.number, "title": self.title,
            "message": self.message, "where": list(self.where), "missing": list(self.missing),
        }


@dataclass(frozen=True, slots=True)
class Accepted:
    """A finding the owner has accepted, with the acceptance's id and its reason."""

    finding: Finding
    acceptance: str
    reason: str
    by: str = ""
    date: str = ""

    def as_json(self) -> dict[str, Any]:
        """Return the accepted finding as JSON values, with the reason."""
        return {**self.finding.as_json(), "acceptance": self.acceptance, "reason": self.reason,
                "by": self.by, "date": self.date}
