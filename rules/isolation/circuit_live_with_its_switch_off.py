"""What it checks.
Each battery switch, and each switch that names what it kills: what is behind it when it is off.

Why it matters.
Who has turned the switch off believes that its circuit is dead and puts his hands or a spanner on
it.

Fails when.
With the switch off a second path feeds what is behind it: a relay between banks, a diode, a
converter, a second switch, a conductor round it.

Passes when.
Nothing but the switch leads there, or only a link that is marked for emergencies.

Limits.
What leaves the bank before its switch belongs to 2.2. A charging source on the load side belongs to
2.4, unless its maker allows losing the battery. A main switch of another bank counts only when the
switch says what it kills: else both are known to feed the place.
"""

from __future__ import annotations

from collections.abc import Iterator

from model.analysis.banks import is_main_switch
from model.analysis.second_path import SecondPath, second_paths
from model.analysis.starter import is_emergency_link
from model.edits import apply as applied
from model.survey import Survey
from rules.fixing import moved, without
from rules.ordering import in_order
from rules.profiles import Profile
from rules.rewiring import is_single, terminal_name
from rules.rule import Answer, Fault, Finding, Fix, Rule
from rules.wording import named

JOINTS = ("contact", "diode", "converter")


def _paths(survey: Survey) -> Iterator[SecondPath]:
    """Yield the second path of each switch; of two that are each other's, the first alone."""
    graph, parts = survey.graph, survey.diagram.components
    kills = {item: bool(str(parts[item].parameters.get("kills", "")).strip())
             for item in in_order(parts)}
    switches = {item: is_named for item, is_named in kills.items()
                if (is_named or is_main_switch(graph, item)) and not is_emergency_link(graph, item)}
    seen: set[frozenset[str]] = set()
    for path in second_paths(graph, switches):
        pairs = {frozenset((path.switch, e.owner)) for e in path.way}
        if not pairs & seen:
            seen |= pairs
            yield path


RULE = Rule(
    slug="circuit_live_with_its_switch_off",
    number="2.3",
    title="Opening a switch does not kill the circuit it is named for",
    topic="isolation",
    severity="danger",
    looks_at="each battery switch, and each switch that names what it kills",
    subjects=_paths,
    messages={
        "live": "With {switch} off, {loads} can still be live from {source}, by way of {way}.",
    },
    remedy="Open the second path too, or take its end to the battery's side of the switch; list "
           "both on the isolation card.",
    sources=("common_practice",),
    quiet={
        "emergency": "the other way leads over a link that is marked for emergencies",
    },
    fix="sometimes",
)


def check(path: SecondPath, survey: Survey, profile: Profile) -> Answer:
    """Tell of a switch that has a second path."""
    joints = tuple(dict.fromkeys(e.owner for e in path.way if e.role in JOINTS))
    way = joints or tuple(dict.fromkeys(e.owner for e in path.way if e.role == "conductor"))
    return Fault("live", (path.switch, *way, *path.loads), {}, {
        "switch": named(survey.diagram, [path.switch]),
        "loads": named(survey.diagram, path.loads),
        "source": named(survey.diagram, [path.source]), "way": named(survey.diagram, way)})


def fixes(finding: Finding, survey: Survey, profile: Profile) -> Iterator[Fix]:
    """Offer to take the second path's end to the battery's side of the switch."""
    graph, diagram = survey.graph, survey.diagram
    path = next((p for p in _paths(survey) if p.switch == finding.where[0]), None)
    if path is None:
        return
    if len(path.way) == 1:
        title = f"Take out {named(diagram, [path.way[0].owner])}"
        yield Fix(title, "choice", without(diagram, title, [path.way[0].owner]))
    last = max((i for i, e in enumerate(path.way) if e.role in JOINTS), default=None)
    lead = None if last is None else next(
        (e for e in path.way[last:] if e.role == "conductor"), None)
    if lead is None:
        return
    wire = diagram.conductors[lead.owner]
    joint = path.way[last or 0].owner
    far = next(f"{e.component}.{e.terminal}" for e in wire.ends() if e.component != joint)
    target = terminal_name(graph, path.supply)
    title = f"Take {named(diagram, [wire.id])} to the battery's side of " + (
        named(diagram, [path.switch]))
    edit = moved(diagram, title, wire.id, far, target)
    if is_single(wire) and path.switch not in {
            left.switch for left in _paths(Survey(applied(diagram, edit)))}:
        yield Fix(title, "choice", edit)
