"""What it checks.
How many conductors end on each terminal, stud or battery post.

Why it matters.
In a tall stack the lugs bear on each other and not on the stud; the upper ones loosen, and a loose
joint under load gets hot.

Fails when.
More conductors end on it than the practice allows.

Passes when.
There are no more, or the part has a screw for each.

Limits.
Negative posts and negative studs belong to 8.11. Parallel cables drawn as one line count each. A
bank of batteries side by side has a post for each, an engine block is judged bolt by bolt.
"""

from __future__ import annotations

from collections.abc import Iterator

from model.analysis.lugs import Bolt, Lug
from model.diagram import Component, Diagram
from model.edits import Edit, changed, setting
from model.survey import Survey
from rules.fixing import end
from rules.profiles import Profile
from rules.rule import Answer, Fault, Finding, Fix, Missing, Rule
from rules.wording import named

PANELS = frozenset({"panel", "fuse_block"})
POSTS = frozenset({"battery_bank", "stud"})
BARS = frozenset({"busbar", "terminal_block"})

RULE = Rule(
    slug="too_many_on_one_stud",
    number="4.11",
    title="Too many terminals on one stud",
    topic="conductors",
    severity="fault",
    looks_at="each terminal, stud and post",
    subjects=lambda survey: survey.bolts,
    messages={
        "crowded": "{lugs_count} conductors end on {bolt}: {wires}. At most {limit_count} belong "
                   "on one stud.",
        "posts": "{lugs_count} conductors end on the {posts_count} posts of {bolt}: {wires}. At "
                 "most {limit_count} belong on each.",
    },
    remedy="Fit a busbar with one screw for each.",
    sources=("abyc_e11_terminals", "common_practice"),
    quiet={
        "one_screw": "it is a bar with a screw for each conductor",
        "negative": "it is a negative post or stud: 8.11 judges it",
    },
    figures=("stud_lugs_max_count",),
    fix="sometimes",
)


def check(bolt: Bolt, survey: Survey, profile: Profile) -> Answer:
    """Judge one stud."""
    limit = profile["stud_lugs_max_count"]
    part = survey.diagram.components[bolt.component]
    if bolt.count <= limit.value * _posts(part) or _is_negative_stud(bolt, part, survey):
        return None
    if part.kind in PANELS and bolt.name == f"{part.id}.-":
        bar = part.parameters.get("negative_bar")
        if bar is None:
            return Missing((f"{part.id}.negative_bar",), (part.id,))
        if bar:
            return None
    if part.parameters.get("one_screw_each") is True:
        return None
    wires = tuple(dict.fromkeys(lug.conductor.id for lug in bolt.lugs))
    return Fault(
        "posts" if _posts(part) > 1 else "crowded", (part.id, *wires),
        {"lugs_count": bolt.count, "posts_count": _posts(part), "limit_count": limit},
        {"bolt": named(survey.diagram, [bolt.name]), "wires": named(survey.diagram, wires)})


def _posts(part: Component) -> int:
    """Return how many equal posts a terminal stands for: one for each battery side by side."""
    return int(part.parameters.get("parallel_count", 1)) if part.kind == "battery_bank" else 1


def _is_negative_stud(bolt: Bolt, part: Component, survey: Survey) -> bool:
    """Say whether 8.11 judges it."""
    return part.kind in POSTS | BARS and survey.potentials[bolt.node].side == "-"


def fixes(finding: Finding, survey: Survey, profile: Profile) -> Iterator[Fix]:
    """Offer to spread the lugs over the bar's own free studs, or a bar in place of the stud."""
    part = survey.diagram.components[finding.where[0]]
    most = int(profile.value("stud_lugs_max_count"))
    bolt = next((one for one in survey.bolts if one.component == part.id and one.count > most
                 and {lug.conductor.id for lug in one.lugs} == set(finding.where[1:])), None)
    if bolt is None or any((lug.conductor.parallel_count or 1) > 1 for lug in bolt.lugs):
        return
    spoken = named(survey.diagram, [part.id])
    if part.kind == "stud":
        title = f"Fit a busbar in place of {spoken}"
        yield Fix(title, "choice", _bar_instead(survey.diagram, part, bolt, title))
    elif part.kind in BARS:
        used = {one.name for one in survey.bolts}
        studs = range(1, 1 + part.parameters.get("stud_count", len(finding.where)))
        free = [stud for n in studs if (stud := f"{part.id}.s{n}") not in used]
        surplus = _lightest_last(bolt)[most:]
        if len(free) >= len(surplus):
            wires = named(survey.diagram, [lug.conductor.id for lug in surplus])
            title = f"Move {wires} to free studs of {spoken}"
            moves = [(lug.conductor.id, lug.side, stud)
                     for lug, stud in zip(surplus, free, strict=False)]
            yield Fix(title, "mechanical", _spread(survey.diagram, title, moves))


def _lightest_last(bolt: Bolt) -> list[Lug]:
    """Return the lugs of a bolt, heaviest conductor first."""
    return sorted(bolt.lugs, key=lambda lug: lug.area_mm2, reverse=True)


def _bar_instead(diagram: Diagram, part: Component, bolt: Bolt, title: str) -> Edit:
    """Return the edit that makes a stud a busbar with a screw for each of its conductors."""
    count = len(bolt.lugs)
    bar = changed(part, kind="busbar", parameters={
        **part.parameters, "stud_count": count, "one_screw_each": True})
    moves = [(lug.conductor.id, lug.side, f"{part.id}.s{n}")
             for n, lug in enumerate(bolt.lugs, start=1)]
    return _spread(diagram, title, moves, bar)


def _spread(
    diagram: Diagram, title: str, moves: list[tuple[str, str, str]], *parts: Component
) -> Edit:
    """Return the edit that takes ends of conductors to other studs."""
    wires = [changed(diagram.conductors[item], **{side: end(stud)}, path=None, label_at=None)
             for item, side, stud in moves]
    return setting(diagram, title, *parts, *wires)
