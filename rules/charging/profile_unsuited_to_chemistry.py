"""What it checks.
The volts each charger, controller and alternator is set to, against what suits the chemistry of the
batteries it charges.

Why it matters.
Too high, and lead boils its water away or lithium cells are damaged; too low, and lead is never
full and sulphates.

Fails when.
Absorption or float lies outside what suits the chemistry, a lithium or gel battery is equalised, or
the volts to lithium are shifted by temperature.

Passes when.
The volts suit it, or the battery maker's own figures are recorded and they are kept.

Limits.
Volts above a stated limit are told by 3.4 alone, as is a source made for other nominal volts. An
AGM battery may be equalised as far as its stated limit goes. A stage for equalising counts when it
is recorded; compensation by temperature is asked towards lithium alone. A relay that joins lithium
and lead is 3.10's matter: what lies behind it is not compared, nor what lies behind a diode
splitter that takes volts. Of other lithium cells than iron phosphate nothing is known.
"""

from __future__ import annotations

from collections.abc import Iterator, Mapping
from dataclasses import dataclass, replace

from model.analysis.battery_model import BLOCK_V
from model.analysis.charging import behind_diode, charged, is_lithium, outlets
from model.analysis.charging_profile import (
    ChargingProfile,
    above_limit,
    charging_profile,
    source_nominal_field,
    stated_v,
)
from model.analysis.joinable import post_v
from model.diagram import Component
from model.edits import apply as applied
from model.graph import TerminalGraph
from model.survey import Survey
from rules.fixing import with_fields
from rules.ordering import in_order
from rules.profiles import Figure, Profile
from rules.rule import Answer, Fault, Finding, Fix, Missing, Rule, Sourced
from rules.wording import named, quantity

NEVER_EQUALISED = ("gel", "lfp")


@dataclass(frozen=True, slots=True)
class Pair:
    """A source with a profile of its own, and one battery it charges."""

    source: str
    battery: str


def _pairs(survey: Survey) -> Iterator[Pair]:
    for outlet in outlets(survey.graph):
        if not charging_profile(survey.diagram, outlet.source).absorption_field:
            continue
        direct = charged(survey.graph, outlet.node, over_relays=False)
        kinds = {is_lithium(survey.diagram.components[item]) for item in direct}
        for item in in_order(charged(survey.graph, outlet.node)):
            fits = is_lithium(survey.diagram.components[item]) in kinds
            if fits and not behind_diode(survey.graph, outlet.node, item):
                yield Pair(outlet.source, item)


RULE = Rule(
    slug="profile_unsuited_to_chemistry",
    number="3.5",
    title="Charging profile does not suit the chemistry",
    topic="charging",
    severity="fault",
    looks_at="each source with volts of its own, with each battery it charges",
    subjects=_pairs,
    messages={
        "high": "{source} is set to {set_v}; {battery} should get {limit_v} at most.",
        "low": "{source} is set to {set_v}; {battery} should get {limit_v} at least to be full.",
        "float_high": "{source} floats at {set_v}; {battery} should be held at {limit_v} at most.",
        "float_low": "{source} floats at {set_v}; {battery} needs {limit_v} to be kept full.",
        "equalises": "{source} equalises at {set_v}, and {battery} must not be equalised.",
        "compensates": "{source} shifts its volts by temperature; {battery} wants them fixed.",
    },
    remedy="Set the profile from the battery maker's sheet.",
    sources=("battery_makers", "abyc_e13"),
    quiet={
        "maker": "the battery maker's own figures are recorded, and say otherwise",
        "no_float": "it has no float stage, for a lithium battery",
        "relay": "the battery is of another family behind a relay that volts work: that is 3.10's",
    },
    figures=("lead_absorption_min_v", "lead_absorption_max_v", "gel_absorption_max_v",
             "lfp_absorption_min_v", "lfp_absorption_max_v", "lead_float_min_v",
             "lead_float_max_v", "lfp_float_max_v"),
    fix="sometimes",
)

LOWEST = {"flooded": "lead_absorption_min_v", "agm": "lead_absorption_min_v",
          "lfp": "lfp_absorption_min_v"}
HIGHEST = {"flooded": "lead_absorption_max_v", "agm": "lead_absorption_max_v",
           "gel": "gel_absorption_max_v", "lfp": "lfp_absorption_max_v"}
FLOAT_HIGHEST = {"flooded": "lead_float_max_v", "agm": "lead_float_max_v",
                 "gel": "lead_float_max_v", "lfp": "lfp_float_max_v"}
FLOAT_LOWEST = {"flooded": "lead_float_min_v", "agm": "lead_float_min_v",
                "gel": "lead_float_min_v"}


def check(pair: Pair, survey: Survey, profile: Profile) -> Answer:
    """Judge one pair: first what is stated, then what is missing."""
    battery = survey.diagram.components[pair.battery]
    settings = charging_profile(survey.diagram, pair.source)
    volts, chemistry = post_v(survey.graph, battery.id), battery.parameters.get("chemistry", "")
    if chemistry == "other_lithium" or _is_made_for_others(pair.source, volts, survey):
        return None
    if volts is not None:
        limits = _Limits(survey.graph, battery.id, profile, chemistry, volts / BLOCK_V)
        for message, figures in _breaches(settings, limits):
            return Fault(message, (pair.source, pair.battery), figures, {
                "source": named(survey.diagram, [pair.source]),
                "battery": named(survey.diagram, [pair.battery])})
    unknown = _unknown(battery, pair.source, settings)
    return Missing(unknown, (pair.source, pair.battery)) if unknown else None


def _is_made_for_others(source: str, bank_v: float | None, survey: Survey) -> bool:
    """Say whether a source is made for other nominal volts than the bank has: 3.4's cause."""
    part = survey.diagram.components[source]
    source_v = part.parameters.get(source_nominal_field(part))
    return (part.parameters.get("wide_range") is not True and source_v is not None
            and bank_v is not None and source_v != bank_v)


@dataclass(frozen=True, slots=True)
class _Limits:
    """The limits of a battery of a chemistry and of so many times 12 V: its maker's, else usual.
    """

    graph: TerminalGraph
    battery: str
    profile: Profile
    chemistry: str
    blocks: float

    def usual(self, names: Mapping[str, str]) -> Figure | None:
        """Return what is usual for the chemistry, at the battery's volts. [V]"""
        name = names.get(self.chemistry)
        if name is None:
            return None
        figure = self.profile[name]
        return figure if self.blocks == 1 else replace(figure, value=figure.value * self.blocks)

    def stated(self, field: str) -> float | None:
        """Return the maker's own figure. [V]"""
        return stated_v(self.graph, self.battery, field)

    def exceeded_by(self, set_v: float) -> bool:
        """Say whether volts are above the maker's limit: that is 3.4's."""
        most_v = self.stated("max_charge_v")
        return most_v is not None and set_v > most_v


Breach = tuple[str, dict[str, float | Sourced]]


def _breaches(settings: ChargingProfile, limits: _Limits) -> Iterator[Breach]:
    yield from _of_absorption(settings.absorption_v, limits)
    yield from _of_float(settings.float_v, limits)
    if limits.chemistry in NEVER_EQUALISED and settings.equalise_v and not limits.exceeded_by(
            settings.equalise_v):
        yield "equalises", {"set_v": settings.equalise_v}
    if limits.chemistry == "lfp" and settings.compensates:
        yield "compensates", {}


def _of_absorption(set_v: float | None, limits: _Limits) -> Iterator[Breach]:
    """Compare absorption; above a stated limit it is 3.4's, below one it is enough to reach it."""
    most_v, highest, lowest = (
        limits.stated("max_charge_v"), limits.usual(HIGHEST), limits.usual(LOWEST))
    if set_v is None:
        return
    if most_v is None and highest is not None and set_v > highest.value:
        yield "high", {"set_v": set_v, "limit_v": highest}
    if lowest is not None and set_v < lowest.value and (most_v is None or set_v < most_v):
        yield "low", {"set_v": set_v, "limit_v": lowest}


def _of_float(float_v: float | None, limits: _Limits) -> Iterator[Breach]:
    """Compare float, if there is such a stage, with the maker's figure or the usual ones."""
    maker_v = limits.stated("float_v")
    if not float_v:
        return
    if maker_v is not None:
        if float_v > maker_v and not limits.exceeded_by(float_v):
            yield "float_high", {"set_v": float_v, "limit_v": maker_v}
        return
    highest, lowest = limits.usual(FLOAT_HIGHEST), limits.usual(FLOAT_LOWEST)
    if highest is not None and float_v > highest.value and not limits.exceeded_by(float_v):
        yield "float_high", {"set_v": float_v, "limit_v": highest}
    if lowest is not None and float_v < lowest.value:
        yield "float_low", {"set_v": float_v, "limit_v": lowest}


def _unknown(battery: Component, source: str, settings: ChargingProfile) -> tuple[str, ...]:
    fields = [f"{battery.id}.{name}" for name in ("chemistry", "block_nominal_v")
              if name not in battery.parameters]
    if settings.absorption_v is None:
        fields.append(settings.absorption_field)
    if settings.float_v is None and settings.float_field:
        fields.append(settings.float_field)
    if battery.parameters.get("chemistry") == "lfp" and settings.compensates is None:
        fields.append(f"{source}.temperature_compensation")
    if battery.parameters.get("chemistry") == "agm" and settings.equalise_v and (
            "max_charge_v" not in battery.parameters):
        fields.append(f"{battery.id}.max_charge_v")
    return tuple(fields)


def fixes(finding: Finding, survey: Survey, profile: Profile) -> Iterator[Fix]:
    """Offer to set the stage to the limit, where that suits all batteries the source charges."""
    diagram, source = survey.diagram, finding.where[0]
    settings = charging_profile(diagram, source)
    field = {"high": settings.absorption_field, "low": settings.absorption_field,
             "float_high": settings.float_field, "float_low": settings.float_field}.get(
                 finding.message_id, f"{source}.{_SWITCHED_OFF.get(finding.message_id, '')}")
    item, _, name = field.partition(".")
    value = finding.figures.get("limit_v", 0 if name == "equalise_v" else False)
    words = quantity("v", value, diagram) if "limit_v" in finding.figures else "off"
    title = f"Set the {_STAGES[name]} of {named(diagram, [item])} to {words}"
    edit = with_fields(diagram, title, item, **{name: value})
    after = Survey(applied(diagram, edit))
    pairs = [pair for pair in _pairs(after) if pair.source == source]
    if not any(isinstance(check(pair, after, profile), Fault)
               or (above_limit(after.graph, source, pair.battery) or ("",))[0] == field
               for pair in pairs):
        yield Fix(title, "choice", edit)


_SWITCHED_OFF = {"equalises": "equalise_v", "compensates": "temperature_compensation"}
_STAGES = {"absorption_v": "absorption", "set_v": "regulated voltage", "float_v": "float",
           "equalise_v": "equalising", "temperature_compensation": "temperature compensation"}
