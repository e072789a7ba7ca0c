"""Where neutral and earth are joined: a bond made, moved to a relay or taken away, a change-over
that takes the neutral along."""

from __future__ import annotations

from collections.abc import Iterator
from functools import partial

from model.analysis.alternating import (
    CHANGE_OVER,
    OWN_SOURCES,
    ac_sources,
    fed_from,
    inlets,
    joined_way,
    neutral_way,
)
from model.diagram import Component
from model.edits import Edit, put
from model.edits import apply as applied
from model.survey import Survey
from rules.fixing import together, with_fields, without
from rules.rule import Fix
from rules.wording import named

# The field, the state and what is done, by the kind of a source.
BONDED = {"generating_set": ("neutral_bond", "at_frame",
                             "Bond neutral and earth at the frame of {item}"),
          "isolation_transformer": ("secondary_bond", "bonded",
                                    "Bond neutral and earth at the secondary of {item}"),
          "inverter_charger": ("output_neutral", "relay_bonded",
                               "Let a relay in {item} bond neutral and earth while it supplies, if "
                               "it has one")}


def bonded(survey: Survey, part: Component) -> Iterator[Fix]:
    """Offer to bond the neutral of a source at the source.

    Nothing where that bond would stay while a shore inlet supplies: its neutral is not, or not
    known to be, switched away.
    """
    field, state, words = BONDED[part.kind]
    if state == "relay_bonded" or not _meets_shore(survey, part):
        title = words.format(item=named(survey.diagram, [part.id]))
        yield Fix(title, "choice", with_fields(survey.diagram, title, part.id, **{field: state}))


def _meets_shore(survey: Survey, part: Component) -> bool:
    graph = survey.graph
    source = next(one for one in ac_sources(graph) if one.part.id == part.id)
    return any(source.earth in fed_from(graph, inlet.earth)
               and any(neutral_way(graph, inlet.neutral, source.neutral))
               for inlet in inlets(graph))


def bond_removed(survey: Survey, bond: Component) -> Fix:
    """Return the fix that makes a link of neutral and earth a relay's, or takes it away where no
    source aboard needs it.
    """
    diagram = survey.diagram
    neutral = fed_from(survey.graph, survey.graph.number[f"{bond.id}.n"])
    if any(one.neutral in neutral and one.part.kind in OWN_SOURCES
           for one in ac_sources(survey.graph)):
        title = (f"Replace {named(diagram, [bond.id])} by a relay that closes while its own source "
                 "supplies")
        return Fix(title, "choice", with_fields(
            diagram, title, bond.id, present_when="this_source_supplies"))
    title = f"Take out {named(diagram, [bond.id])}"
    wires = [wire.id for wire in diagram.conductors.values()
             if bond.id in {end.component for end in wire.ends()}]
    return Fix(title, "choice", together(
        diagram, title, partial(without, title=title, conductors=wires),
        lambda left: Edit(title, (put(left, "components", bond.id, None),))))


def switched_away(survey: Survey, one: int, other: int) -> Iterator[Fix]:
    """Offer change-overs that take the neutral along, where that parts two neutrals."""
    diagram, graph = survey.diagram, survey.graph
    switches = list(dict.fromkeys(
        edge.owner for edge in joined_way(graph, one, other) or ()
        if edge.role == "join" and diagram.components[edge.owner].kind == CHANGE_OVER))
    if not switches:
        return
    what = "a change-over that takes" if len(switches) == 1 else "change-overs that take"
    title = f"Fit {what} the neutral along as {named(diagram, switches)}"
    edit = together(diagram, title, *(
        partial(with_fields, title=title, item=item, switches_neutral=True) for item in switches))
    after = Survey(applied(diagram, edit)).graph
    joined, unsaid = neutral_way(after, after.number[graph.names[one]],
                                 after.number[graph.names[other]])
    if not joined and not unsaid:
        yield Fix(title, "choice", edit)
