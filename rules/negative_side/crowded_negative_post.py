"""What it checks.
How many conductors end on each negative battery post, stud and stud of a negative bar.

Why it matters.
A tall stack of lugs works loose and heats, and the one at the top is the one that is forgotten.

Fails when.
More end on one than the standard lets share a stud.

Passes when.
They end on a bar, and one cable joins it to the post.

Limits.
Equal cables side by side count each. Positive posts and studs, and those of other parts, belong to
4.11.
"""

from __future__ import annotations

from collections.abc import Callable, Iterator

from model.analysis.copper import copper_mm2
from model.diagram import Conductor, Diagram
from model.edits import Edit
from model.survey import Survey
from rules.fixing import connected, moved, placed, together
from rules.ordering import in_order
from rules.profiles import Profile
from rules.rule import Answer, Fault, Finding, Fix, Rule
from rules.wording import named

OF_THE_CABLE = ("size", "parallel_count", "insulation_c", "construction", "cable_type", "tinned",
                "colour", "engine_space_m")


def _posts(survey: Survey) -> Iterator[tuple[str, list[Conductor]]]:
    """Yield each negative post and stud with the conductors that end on it."""
    at: dict[str, list[Conductor]] = {}
    for wire in survey.diagram.conductors.values():
        for end in wire.ends():
            part = survey.diagram.components[end.component]
            is_post = part.kind == "battery_bank" and end.terminal == "-"
            is_stud = part.parameters.get("pole") == "-" and (
                part.parameters.get("one_screw_each") is not True)
            if is_post or is_stud:
                at.setdefault(f"{end.component}.{end.terminal}", []).append(wire)
    yield from at.items()


RULE = Rule(
    slug="crowded_negative_post",
    number="8.11",
    title="Too many terminals on a negative post or stud",
    topic="negative_side",
    severity="fault",
    looks_at="each negative battery post and negative stud",
    subjects=_posts,
    messages={
        "crowded": "{found_count} conductors end on {post}; {most_count} may share a stud.",
    },
    remedy="Fit a negative bar beside the battery and join it by one cable.",
    sources=("abyc_e11", "common_practice"),
    quiet={
        "one_screw": "it is a bar with one screw for each",
        "other": "it is a positive post or stud, or another part: 4.11 judges it",
        "inside": "the conductors end inside the item itself",
    },
    figures=("negative_stud_terminals_count",),
    fix="always",
)


def check(post: tuple[str, list[Conductor]], survey: Survey, profile: Profile) -> Answer:
    """Count what ends on one post."""
    terminal, wires = post
    found = sum(wire.parallel_count or 1 for wire in wires)
    most = profile["negative_stud_terminals_count"]
    if found <= most.value:
        return None
    part, _, stud = terminal.partition(".")
    spoken = named(survey.diagram, [part])
    return Fault("crowded", (part, *in_order(wire.id for wire in wires)),
                 {"found_count": found, "most_count": most},
                 {"post": spoken + {"-": "'s minus"}.get(stud, f".{stud}")})


def fixes(finding: Finding, survey: Survey, profile: Profile) -> Iterator[Fix]:
    """Offer a bar: all conductors move to it, and one cable as large as the largest joins it."""
    diagram = survey.diagram
    post, wires = next(p for p in _posts(survey) if p[0].partition(".")[0] == finding.where[0]
                       and in_order(w.id for w in p[1]) == list(finding.where[1:]))
    largest = max(wires, key=lambda wire: copper_mm2(wire) or 0.0)
    title = f"Fit a negative bar beside {named(diagram, finding.where[:1])}"
    bar, fitted = placed(diagram, title, "busbar", finding.where[0], pole="-",
                         stud_count=len(wires) + 1, one_screw_each=True)
    cable = {name: value for name in OF_THE_CABLE
             if (value := getattr(largest, name)) is not None}
    steps: list[Callable[[Diagram], Edit]] = [
        lambda _: fitted,
        lambda d: connected(d, title, post, f"{bar}.s1", cores=("-",), **cable)]
    steps += [_onto(title, wire.id, post, f"{bar}.s{place}")
              for place, wire in enumerate(wires, start=2)]
    yield Fix(title, "choice", together(diagram, title, *steps))


def _onto(title: str, wire: str, post: str, stud: str) -> Callable[[Diagram], Edit]:
    def moving(diagram: Diagram) -> Edit:
        return moved(diagram, title, wire, post, stud)
    return moving
