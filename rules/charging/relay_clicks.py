"""What it checks.
Each voltage-sensing relay between two banks: whether what charges one side can hold the other up
too.

Why it matters.
The relay closes on a full bank, the empty one pulls the volts down, the relay opens, the volts rise
again: it clicks through the night, its contacts burn, and the second bank is never charged.

Fails when.
The source gives less than a tenth of the second bank's ampere-hours, the relay's lead loses much at
the source's current, or an inverter, windlass or thruster there asks for more than the source.

Passes when.
The source is strong enough, or the relay waits before it opens or is worked by a signal.

Limits.
The strongest source of a side counts, alone, of each side that is charged and that the relay
senses. Copper at 20 °C; contacts lose nothing.
"""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import replace

from model.analysis.battery_model import BLOCK_V
from model.analysis.charging import charging_way
from model.analysis.charging_lead import LeadOhm, out_ohm
from model.analysis.fed_by import fed_loads
from model.analysis.heavy_loads import heavy_a, heavy_field, is_heavy
from model.analysis.relays_between_banks import RelayBetween, Side, relays_between, side_v
from model.diagram import Component
from model.survey import Survey
from rules.charging_output import output_at
from rules.ordering import in_order
from rules.profiles import Figure, Profile
from rules.rule import Answer, Fault, Missing, Rule
from rules.wording import named

RULE = Rule(
    slug="relay_clicks",
    number="3.8",
    title="Relay will click on and off",
    topic="charging",
    severity="caution",
    looks_at="each voltage-sensing relay between two banks",
    subjects=lambda survey: relays_between(survey.graph),
    messages={
        "weak": "{relay}: {source} gives {source_a}, less than {share_percent} of the ampere-hours "
                "of {banks} ({bank_ah}).",
        "lead": "{relay}: between {source} and {banks} its lead loses {drop_v} at {source_a}, more "
                "than {limit_v}.",
        "load": "{relay}: {load} on {banks} draws {load_a}, more than the {source_a} of {source}.",
    },
    remedy="Raise the source, shorten or thicken the lead, or use a converter.",
    sources=("relay_makers",),
    quiet={
        "delay": "the relay waits before it acts",
        "senses": "it senses the other side alone",
        "signal": "the relay is worked by a signal, not by volts",
    },
    figures=("relay_source_min_percent", "relay_lead_drop_max_v"),
)


def check(between: RelayBetween, survey: Survey, profile: Profile) -> Answer:
    """Judge one relay from each side that is charged and that it may sense."""
    relay, p = between.relay, between.relay.parameters
    if p.get("run_signal_only") is True or p.get("close_delay_s"):
        return None
    near = [side for side in between.sides if side.charging and _is_sensed(side, relay, survey)]
    answers = [_judged(relay.id, side, far, survey, profile) for side in near
               for far in between.sides if far is not side]
    faults = [answer for answer in answers if isinstance(answer, Fault)]
    unsaid = [] if "close_delay_s" in p else ["close_delay_s"]
    unsaid += ["senses"] if len(faults) < len(answers) and "senses" not in p else []
    if faults and unsaid:
        return Missing(tuple(f"{relay.id}.{name}" for name in unsaid), faults[0].where)
    return faults[0] if faults else next((a for a in answers if a is not None), None)


def _is_sensed(side: Side, relay: Component, survey: Survey) -> bool:
    """Say whether a relay may close because a side is charged."""
    terminal = survey.graph.names[side.node].rpartition(".")[2]
    return relay.parameters.get("senses") in (None, "both", terminal.removesuffix("+"))


def _judged(relay: str, near: Side, far: Side, survey: Survey, profile: Profile) -> Answer:
    given = [output_at(survey, outlet) for outlet in near.charging]
    sizes = {item: survey.diagram.components[item].parameters.get("capacity_ah")
             for item in in_order(far.batteries)}
    unknown = [field for out in given for field in out.missing]
    unknown += [f"{item}.capacity_ah" for item, size in sizes.items() if size is None]
    if unknown:
        return Missing(tuple(unknown), (relay, *sizes))
    source_a, source = max((out.amperes, out.source) for out in given
                           if out.amperes is not None)
    bank_ah = sum(size for size in sizes.values() if size is not None)
    names = {"relay": named(survey.diagram, [relay]), "source": named(survey.diagram, [source]),
             "banks": named(survey.diagram, sizes)}
    where, figures = (relay, source, *sizes), {"source_a": source_a}
    share, most_v = profile["relay_source_min_percent"], _most_v(far, survey, profile)
    if 100 * source_a / bank_ah < share.value:
        return Fault("weak", where, {**figures, "share_percent": share, "bank_ah": bank_ah}, names)
    lead = _lead(near, far, survey)
    drop_v = round(lead.ohm * source_a, 3)
    if drop_v > most_v.value:
        return Fault("lead", where, {**figures, "drop_v": drop_v, "limit_v": most_v}, names)
    load_a, load = max(_heavy(far, survey), default=(0.0, ""))
    if load_a > source_a:
        return Fault("load", (*where, load), {**figures, "load_a": load_a},
                     {**names, "load": named(survey.diagram, [load])})
    unsaid = (*lead.missing, *_unstated(far, survey))
    return Missing(unsaid, where) if unsaid else None


def _most_v(far: Side, survey: Survey, profile: Profile) -> Figure:
    """Return what the relay's lead may lose, at the nominal volts of the banks. [V]"""
    figure, blocks = profile["relay_lead_drop_max_v"], side_v(survey.graph, far) / BLOCK_V
    return figure if blocks == 1 else replace(figure, value=figure.value * blocks)


def _lead(near: Side, far: Side, survey: Survey) -> LeadOhm:
    """Return what the relay's lead has, from the posts on one side to those on the other. [ohm]"""
    ways = [charging_way(survey.graph, side.node, side.batteries) for side in (near, far)]
    return out_ohm(survey.graph, (*ways[0], *ways[1]))


def _heavy(far: Side, survey: Survey) -> Iterator[tuple[float, str]]:
    """Yield what heavy loads on a side draw, as far as it is stated. [A]"""
    for item in fed_loads(survey.graph, far.batteries, {}):
        load_a = heavy_a(survey.diagram.components[item], side_v(survey.graph, far))
        if load_a is not None:
            yield load_a, item


def _unstated(far: Side, survey: Survey) -> list[str]:
    """Return the fields that would say what heavy loads on a side draw."""
    loads = (survey.diagram.components[item]
             for item in in_order(fed_loads(survey.graph, far.batteries, {})))
    return [heavy_field(load) for load in loads
            if is_heavy(load) and heavy_a(load, side_v(survey.graph, far)) is None]
