"""What it checks.
The volts lost between each charging source at its rated output and the bank it charges, out and
back.

Why it matters.
A charger that does not see the battery's own volts takes the loss for a full battery: it goes to
float early, and the bank is never full.

Fails when.
The loss is above the limit: a small one for solar controllers and shore chargers, which have to be
exact, a larger one for all others.

Passes when.
The loss is within the limit, or the source senses at the battery. Where a regulator senses on the
way, only what lies behind counts.

Limits.
Rated output alone on the way, or less where panels, generator or input are known to give less;
copper at 20 °C, to the nearest bank as switches usually stand. Contacts, fuses and shunts lose
nothing here; what a diode splitter takes belongs to 3.6, the way of an alternator to a house bank
farther away to 3.24.
"""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass
from itertools import accumulate

from model.analysis.battery_model import BLOCK_V
from model.analysis.charging import Outlet, nearest_charged, outlets, regulator_of
from model.analysis.charging_lead import LeadOhm, out_and_back_ohm
from model.analysis.copper import copper_mm2
from model.analysis.joinable import post_v
from model.analysis.regulator_sense import sense_node, sensed_point, supply_node
from model.edits import apply as applied
from model.graph import Edge
from model.kinds import kind_of
from model.survey import Survey
from rules.charging_output import output_at
from rules.drop_limits import SPARE_COPPER
from rules.fixing import thicker, with_fields
from rules.profiles import Figure, Profile
from rules.rule import Answer, Fault, Finding, Fix, Missing, Rule
from rules.wording import named, size_words

EXACT = ("solar_controller", "shore_charger")


@dataclass(frozen=True, slots=True)
class Charging:
    """An output, the battery nearest to it, and what the way there and back has; where a regulator
    senses on that way, from there on.
    """

    outlet: Outlet
    battery: str
    lead: LeadOhm


def _chargings(survey: Survey) -> Iterator[Charging]:
    graph = survey.graph
    for outlet in outlets(graph):
        battery, way = nearest_charged(graph, outlet.node)
        unseen = _unseen(survey, outlet, way)
        if unseen:
            yield Charging(outlet, battery, out_and_back_ohm(graph, unseen, battery))


def _unseen(survey: Survey, outlet: Outlet, way: tuple[Edge, ...]) -> tuple[Edge, ...]:
    """Return the part of a way that lies behind where an external regulator senses; nothing when it
    senses elsewhere, which is 3.7's.
    """
    regulator = regulator_of(survey.diagram, survey.diagram.components[outlet.source])
    sensing = None if regulator is None else sense_node(survey.graph, regulator.id)
    if sensing is None:
        return way
    point = sensed_point(survey.graph, sensing, {}, way)
    nodes = list(accumulate(way, lambda node, edge: edge.other(node), initial=outlet.node))
    places = [place for place, node in enumerate(nodes) if node in point]
    return way[max(places):] if places else ()


RULE = Rule(
    slug="charging_lead_drop",
    number="3.19",
    title="Voltage lost in charging leads",
    topic="charging",
    severity="fault",
    looks_at="each output of a charging source, with the nearest bank",
    subjects=_chargings,
    messages={
        "percent": "{source} loses {drop_v} on the way to {battery} and back at {rated_a}, more "
                   "than {limit_percent}; {wire} causes {share_v} of it.",
        "volts": "{source} loses {drop_v} on the way to {battery} and back at {rated_a}, more than "
                 "{limit_v} on 12 V; {wire} causes {share_v} of it.",
    },
    remedy="Fit a thicker or shorter lead, or sense at the battery.",
    sources=("abyc_e11_drop", "common_practice"),
    quiet={
        "sense": "the source senses at the battery",
    },
    figures=("charging_drop_max_percent", "exact_charging_drop_max_v"),
    fix="sometimes",
)


def check(charging: Charging, survey: Survey, profile: Profile) -> Answer:
    """Judge one output by what it loses, then by where it senses."""
    source, battery = charging.outlet.source, charging.battery
    senses = _senses_at_battery(source, survey)
    if senses is True:
        return None
    output, nominal_v = output_at(survey, charging.outlet), post_v(survey.graph, battery)
    unknown = (*output.missing, *(() if nominal_v else (f"{battery}.block_nominal_v",)))
    where = (charging.lead.culprit, source, battery)
    if unknown:
        return Missing(unknown, (source, battery))
    assert nominal_v is not None
    assert output.amperes is not None
    limit_v, figure = _limit(source, nominal_v, survey, profile)
    drop_v = round(charging.lead.ohm * output.amperes, 3)
    if drop_v <= limit_v:
        missing = charging.lead.missing
        return Missing(missing, (source, battery)) if missing else None
    if senses is None:
        return Missing((_sense_field(source, survey),), (source, battery))
    share_v = dict(charging.lead.shares)[charging.lead.culprit] * output.amperes
    limit_name = "limit_percent" if figure.unit == "%" else "limit_v"
    return Fault("percent" if figure.unit == "%" else "volts", where,
                 {"drop_v": drop_v, "rated_a": output.amperes, limit_name: figure,
                  "share_v": share_v},
                 {"source": named(survey.diagram, [source]),
                  "battery": named(survey.diagram, [battery]),
                  "wire": named(survey.diagram, [charging.lead.culprit])})


def _limit(
    source: str, nominal_v: float, survey: Survey, profile: Profile
) -> tuple[float, Figure]:
    """Return how much a source may lose [V], and the figure it comes from."""
    percent, volts = profile["charging_drop_max_percent"], profile["exact_charging_drop_max_v"]
    if survey.diagram.components[source].kind in EXACT:
        return round(volts.value * nominal_v / BLOCK_V, 3), volts
    return round(percent.value * nominal_v / 100, 3), percent


def _senses_at_battery(source: str, survey: Survey) -> bool | None:
    """Say whether a source senses at the battery; None when its kind could and it is not said, or
    when a regulator may sense by its supply. What a sense wire sees is left out before.
    """
    part = survey.diagram.components[source]
    regulator = regulator_of(survey.diagram, part)
    if regulator is not None:
        by_supply = supply_node(survey.graph, regulator.id) is not None
        return None if by_supply and sense_node(survey.graph, regulator.id) is None else False
    sense = part.parameters.get("sense")
    if sense is None and kind_of(part).field("sense") is not None:
        return None
    return sense == "own_terminal"


def _sense_field(source: str, survey: Survey) -> str:
    """Return what would say where a source senses."""
    regulator = regulator_of(survey.diagram, survey.diagram.components[source])
    return f"{source if regulator is None else regulator.id}.sense"


def fixes(finding: Finding, survey: Survey, profile: Profile) -> Iterator[Fix]:
    """Offer the copper that brings the loss within the limit, and to sense at the battery."""
    wire, source, battery = finding.where[:3]
    diagram = survey.diagram
    limit_v, _ = _limit(source, post_v(survey.graph, battery) or BLOCK_V, survey, profile)
    share_v, mm2 = finding.figures["share_v"], copper_mm2(diagram.conductors[wire]) or 0.0
    left_v = share_v - (finding.figures["drop_v"] - limit_v)
    if left_v > 0:
        strands = diagram.conductors[wire].parallel_count or 1
        size = thicker(survey, wire, profile,
                       least_mm2=mm2 / strands * share_v / left_v * SPARE_COPPER)
        if size is not None:
            title = f"Lay {named(diagram, [wire])} in {size_words(size)}"
            edit = with_fields(diagram, title, wire, size=size)
            after = Survey(applied(diagram, edit))
            if not any(isinstance(check(charging, after, profile), Fault)
                       for charging in _chargings(after) if charging.outlet.source == source):
                yield Fix(title, "choice", edit)
    part = diagram.components[source]
    if kind_of(part).field("sense") is not None and regulator_of(diagram, part) is None:
        title = f"Sense {named(diagram, [source])} at {named(diagram, [battery])}"
        yield Fix(title, "choice", with_fields(diagram, title, source, sense="own_terminal"))
