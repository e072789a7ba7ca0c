"""What it checks.
Each source of AC aboard: whether its neutral is joined to earth while it supplies.

Why it matters.
Without that link a fault to a metal case trips nothing. The case stays live until somebody touches
it.

Fails when.
A generating set, an inverter-charger or a transformer feeds the boat with a floating neutral, and
no bond is drawn.

Passes when.
The source bonds it by itself or by a relay, or a bond is drawn. By ISO also where no shore supply
is joined but through a transformer, and every breaker opens both conductors.

Limits.
A floating inverter that feeds fixed wiring belongs to 9.13. A drawn bond counts for every source
that it is joined to whenever that source supplies.
"""

from __future__ import annotations

from collections.abc import Iterator

from model.analysis.alternating import (
    AcSource,
    State,
    ac_sources,
    ac_states,
    consumers,
    fed_from,
    inlets,
    live_devices,
    opens_neutral,
    passes_in,
    poles_field,
    terminal,
)
from model.analysis.reach import reach
from model.survey import Survey
from rules.neutral_bonds import bonded
from rules.profiles import Profile
from rules.rule import Answer, Fault, Finding, Fix, Missing, Rule
from rules.wording import named

FIELDS = {"generating_set": "neutral_bond", "isolation_transformer": "secondary_bond",
          "inverter_charger": "output_neutral", "inverter": "output_neutral"}
FLOATING = ("none", "floating")

RULE = Rule(
    slug="own_neutral_floating",
    number="9.5",
    title="Neutral and earth not joined when the boat makes its own power",
    topic="alternating",
    severity="danger",
    looks_at="each source of AC aboard that feeds something",
    subjects=lambda survey: [
        source for source in ac_sources(survey.graph) if source.part.kind in FIELDS
        and len(fed_from(survey.graph, source.live)) > 1],
    messages={"floating": "While {source} supplies, its neutral is joined to no earth."},
    remedy="Bond neutral and earth at the source, by a relay or a link.",
    sources=("abyc_e11", "iso_ac_earthing"),
    quiet={"relay": "a relay in the source bonds it", "link": "a bond is drawn at it",
           "ungrounded": "the rule set lets it float: shore ends at a transformer or there is "
                         "none, and every breaker opens both conductors"},
    fix="sometimes",
)


def check(source: AcSource, survey: Survey, profile: Profile) -> Answer:
    """Judge one source."""
    part = source.part
    field = FIELDS[part.kind]
    state = part.parameters.get(field)
    if _has_link(source, survey) or state not in (None, *FLOATING):
        return None
    if state is None:
        return Missing((f"{part.id}.{field}",), (part.id,))
    if part.kind == "inverter":
        return None
    single, unsaid = _poles(source, survey) if _may_float(survey, profile) else (True, ())
    if unsaid and not single:
        return Missing(unsaid, (part.id,))
    return Fault("floating", (part.id,), {}, {
        "source": named(survey.diagram, [part.id])}) if single else None


def _may_float(survey: Survey, profile: Profile) -> bool:
    """Say whether neutrals aboard need no earth: ISO 13297:2020 cl. 6.8 b."""
    lives = {terminal(survey.graph, part, "L") for part in consumers(survey.graph)}
    return profile.id == "iso" and all(
        lives.isdisjoint(fed_from(survey.graph, inlet.live)) for inlet in inlets(survey.graph))


def _poles(source: AcSource, survey: Survey) -> tuple[bool, tuple[str, ...]]:
    """Say whether a device behind a source opens one pole, and which fields would tell more."""
    graph = survey.graph
    fed = fed_from(graph, source.live)
    opens = [(edge, opens_neutral(graph, edge)) for edge in live_devices(graph) if edge.a in fed]
    return any(both is False for _, both in opens), tuple(
        poles_field(graph, edge) for edge, both in opens if both is None)


def _has_link(source: AcSource, survey: Survey) -> bool:
    """Say whether a bond is drawn at the source's neutral in every state in which it supplies."""
    graph = survey.graph
    lives = [terminal(graph, part, "L") for part in consumers(graph)]
    states = ac_states(graph)
    supplies = [state for state in states
                if not reach(graph, [source.live], passes_in(state)).isdisjoint(lives)]
    return all(_is_linked(source, state, survey) for state in supplies or states)


def _is_linked(source: AcSource, state: State, survey: Survey) -> bool:
    graph, closed = survey.graph, passes_in(state)
    neutral, earth = (reach(graph, [node], closed) for node in (source.neutral, source.earth))
    return any(graph.number[f"{part.id}.n"] in neutral and graph.number[f"{part.id}.e"] in earth
               for part in survey.diagram.components.values()
               if part.kind == "neutral_earth_bond")


def fixes(finding: Finding, survey: Survey, profile: Profile) -> Iterator[Fix]:
    """Offer to bond it at the source, unless the bond would stay on shore power."""
    yield from bonded(survey, survey.diagram.components[finding.where[0]])
