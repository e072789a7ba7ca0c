"""What it checks.
Whether the earth of each AC consumer is joined to the earth of what feeds it.

Why it matters.
With the earth missing, a fault makes the metal case live, and nothing trips.

Fails when.
No earth conductor joins the consumer's case to its supply.

Passes when.
It does, or the gear is double insulated.

Limits.
Earths cannot be switched on the drawing: every kind passes them through.
"""

from __future__ import annotations

from collections.abc import Iterator
from functools import partial

from model.analysis.alternating import ac_sources, consumers, fed_from, passes_ac, terminal
from model.analysis.reach import came_from, way_back
from model.diagram import Component, Conductor
from model.kinds import kind_of
from model.survey import Survey
from rules.fixing import together, with_fields
from rules.profiles import Profile
from rules.rule import Answer, Fault, Finding, Fix, Missing, Rule
from rules.wording import named

RULE = Rule(
    slug="safety_earth_missing",
    number="9.8",
    title="Safety earth missing or switched",
    topic="alternating",
    severity="danger",
    looks_at="each AC consumer that something feeds",
    subjects=lambda survey: consumers(survey.graph),
    messages={"none": "{part} is fed with AC and no earth conductor comes with it."},
    remedy="Run an unswitched earth to it.",
    sources=("abyc_e11",),
    quiet={"double": "it is double insulated"},
    fix="sometimes",
)


def check(part: Component, survey: Survey, profile: Profile) -> Answer:
    """Judge one consumer."""
    graph = survey.graph
    live, earth = (terminal(graph, part, pole) for pole in ("L", "E"))
    feeding = [s for s in ac_sources(graph) if live in fed_from(graph, s.live)]
    if not feeding or any(earth in fed_from(graph, source.earth) for source in feeding):
        return None
    double = part.parameters.get("double_insulated")
    if double is None:
        return Missing((f"{part.id}.double_insulated",), (part.id,))
    return None if double else Fault(
        "none", (part.id,), {}, {"part": named(survey.diagram, [part.id])})


def fixes(finding: Finding, survey: Survey, profile: Profile) -> Iterator[Fix]:
    """Offer cables with an earth core in place of those without, on the way to what feeds it."""
    diagram, item = survey.diagram, finding.where[0]
    bare = _without_earth(diagram.components[item], survey)
    if bare and all(_may_have_earth(wire, survey) for wire in bare):
        ids = [wire.id for wire in bare]
        cable = "a cable" if len(ids) == 1 else "cables"
        title = f"Replace {named(diagram, ids)} by {cable} with an earth core"
        yield Fix(title, "mechanical", together(diagram, title, *(
            partial(with_fields, title=title, item=wire.id, cores=(*wire.cores, "E"))
            for wire in bare)))


def _without_earth(part: Component, survey: Survey) -> list[Conductor]:
    """Return the cables without an earth on the nearest way from a consumer to what feeds it."""
    graph = survey.graph
    live = terminal(graph, part, "L")
    came = came_from(graph, [live], passes_ac)
    ways = [way_back(came, source.live) for source in ac_sources(graph)
            if source.live in came and source.part is not part]
    wires = [survey.diagram.conductors[edge.owner] for edge in min(ways, key=len)
             if edge.role == "conductor"] if ways else []
    return [wire for wire in wires if "E" not in wire.cores]


def _may_have_earth(wire: Conductor, survey: Survey) -> bool:
    """Say whether a cable has live and neutral in it, and an earth terminal at both ends."""
    parts = survey.diagram.components
    ports = [next(port for port in kind_of(parts[end.component]).ports(
        parts[end.component].parameters) if port.id == end.terminal) for end in wire.ends()]
    return {"L", "N"} <= set(wire.cores) and all("E" in port.poles for port in ports)
