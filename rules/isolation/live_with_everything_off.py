"""What it checks.
What is still joined to a bank with every manual disconnect open.

Why it matters.
Who has turned everything off believes that nothing is live: for work, for leaving the boat, in a
fire.

Fails when.
A load or panel bypasses the bank's switch and is not meant to stay live.

Passes when.
Only what is meant to stay live does: automatic bilge pumps, alarms, trackers, memory, monitors,
charging sources.

Limits.
A breaker on the way counts as a switch where its maker allows it, a contactor where a knob works
it by hand. A bank without any battery switch belongs to 2.1. What a way round the bank's switch
feeds on its far side, and a source other than a battery that keeps things live, belong to 2.3 and
2.4.
"""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass

from model.analysis.banks import Bank, is_main_switch
from model.analysis.reach import reach
from model.analysis.second_path import bridged as bridged_path
from model.analysis.unswitched import (
    has_main_switch,
    loads_behind_ways,
    posts,
    unsaid_switches,
    unswitched,
)
from model.edits import apply as applied
from model.survey import Survey
from rules.always_on import is_always_on
from rules.daily_use import drawn_a
from rules.fixing import moved
from rules.ordering import in_order
from rules.profiles import Profile
from rules.rewiring import far_side, is_single, terminal_name
from rules.rule import Answer, Fault, Finding, Fix, Missing, Rule
from rules.wording import named


@dataclass(frozen=True, slots=True)
class Bypass:
    """What one conductor from a bank keeps live past the bank's switch."""

    bank: Bank
    conductor: str
    loads: tuple[str, ...]
    panels: tuple[str, ...]


def _bypasses(survey: Survey) -> Iterator[Bypass]:
    bridged = _behind_bridged_switches(survey)
    for bank in survey.banks:
        reached = unswitched(survey.graph, bank, as_usual=True)
        if not has_main_switch(survey.graph, reached.switches):
            continue
        for conductor in sorted({*reached.loads.values(), *reached.panels.values()}):
            yield Bypass(
                bank, conductor,
                tuple(in_order(i for i, via in reached.loads.items()
                               if via == conductor and i not in bridged)),
                tuple(in_order(i for i, via in reached.panels.items() if via == conductor
                               and not loads_behind_ways(survey.graph, i) & bridged)))


def _behind_bridged_switches(survey: Survey) -> frozenset[str]:
    graph = survey.graph
    paths = [bridged_path(graph, item) for item in graph.diagram.components
             if is_main_switch(graph, item)]
    return frozenset(load for path in paths if path is not None for load in path.loads)


RULE = Rule(
    slug="live_with_everything_off",
    number="2.2",
    title="Item stays live with everything switched off",
    topic="isolation",
    severity="caution",
    looks_at="each conductor from a bank that passes no switch",
    subjects=_bypasses,
    messages={
        "live": "With every switch off these stay live from {bank} over {lead}: {items}.",
        "heavy": "With every switch off these stay live from {bank} over {lead}: {items}. {heavy} "
                 "draws {current_a}, more than {limit_a}.",
    },
    remedy="Move it behind the switch, or list it on the isolation card.",
    sources=("iso_switch", "abyc_e11_switch"),
    quiet={
        "always_on": "it is an automatic bilge pump, a gas or smoke detector, an alarm, a tracker, "
                     "a clock or a memory feed",
        "stays_live": "the owner lists it as meant to stay live",
        "charging": "it is a charger's or solar controller's output",
        "monitor": "it is a battery monitor",
        "bridged": "a way round the bank's switch feeds it: 2.3 judges that",
        "breaker": "a breaker parts it that its maker allows as a switch",
    },
    figures=("heavy_load_a",),
    fix="sometimes",
)


def check(bypass: Bypass, survey: Survey, profile: Profile) -> Answer:
    """Judge what one conductor keeps live."""
    components = survey.diagram.components
    kinds = {item: is_always_on(components[item]) for item in bypass.loads}
    loads = tuple(item for item, kind in kinds.items() if kind is False)
    unsure = tuple(item for item, kind in kinds.items() if kind is None)
    panels = tuple(item for item in bypass.panels if _feeds_other(item, survey))
    unsaid, certain = unsaid_switches(survey.graph, bypass.bank, as_usual=True)
    if not certain & set(loads) and not panels:
        fields = unsaid if loads else [f"{item}.role" for item in unsure]
        return Missing(tuple(fields), (bypass.conductor, *loads, *unsure)) if fields else None
    loads = tuple(item for item in loads if item in certain)
    items = (*panels, *loads)
    currents = {item: amps for item in loads
                if (amps := drawn_a(item, survey)) is not None}
    heaviest = max(currents, key=lambda item: currents[item], default="")
    heavy = bool(heaviest) and currents[heaviest] > profile.value("heavy_load_a")
    return Fault(
        "heavy" if heavy else "live", (bypass.conductor, bypass.bank.id, *items),
        {"current_a": round(currents[heaviest], 1), "limit_a": profile["heavy_load_a"]}
        if heavy else {},
        {"items": named(survey.diagram, items),
         "bank": named(survey.diagram, bypass.bank.batteries),
         "lead": named(survey.diagram, [bypass.conductor]),
         "heavy": named(survey.diagram, [heaviest])},
        severity="danger" if heavy else "caution")


def fixes(finding: Finding, survey: Survey, profile: Profile) -> Iterator[Fix]:
    """Offer to take the conductor's end from the bank's side to the far side of its switch."""
    graph, diagram = survey.graph, survey.diagram
    wire, bank_id = finding.where[:2]
    bank = next(b for b in survey.banks if b.id == bank_id)
    near = next((n for e in graph.edges_of[wire] for n in (e.a, e.b)
                 if n in reach(graph, posts(graph, bank), lambda e, _: (
                     e.owner != wire and e.role in ("conductor", "join", "overcurrent")))), None)
    far = None if near is None else far_side(survey, bank)
    if near is not None and far is not None and is_single(diagram.conductors[wire]):
        title = f"Take {named(diagram, [wire])} behind the switch of {named(diagram, [bank_id])}"
        edit = moved(diagram, title, wire, terminal_name(graph, near), terminal_name(graph, far))
        left = _bypasses(Survey(applied(diagram, edit)))
        if all(bypass.conductor != wire for bypass in left):
            yield Fix(title, "choice", edit)


def _feeds_other(panel: str, survey: Survey) -> bool:
    """Say whether a panel feeds anything that is not meant to stay live."""
    loads = loads_behind_ways(survey.graph, panel)
    return any(is_always_on(survey.diagram.components[item]) is False for item in loads)
