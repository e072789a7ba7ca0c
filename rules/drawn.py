"""What batteries are asked for at most: loads, inverters, and what converters take for theirs."""

from __future__ import annotations

from collections.abc import Iterable
from dataclasses import dataclass

from model.analysis.banks import loads_at
from model.analysis.fed_by import fed_nodes
from model.diagram import Component
from model.kinds import kind_of
from model.survey import Survey
from rules.always_on import current_a
from rules.motors import is_short_time_motor
from rules.profiles import Profile

INVERTERS = ("inverter", "inverter_charger")
CONVERTERS = ("dc_dc_converter", "dc_dc_charger")


@dataclass(frozen=True, slots=True)
class Drawn:
    """What runs together for long, the most that comes on top for moments [A], and the fields that
    are missing to say so.
    """

    lasting_a: float = 0.0
    extra_a: float = 0.0
    missing: tuple[str, ...] = ()


def drawn(
    survey: Survey, starts: Iterable[int], volts: float | None, profile: Profile,
    counted: frozenset[int] = frozenset(),
) -> Drawn:
    """Return what is drawn from some terminals of these volts when all that hangs there runs.

    Of a group that never runs together the largest counts; motors of short times count for
    moments. A converter takes what its loads ask for, one that charges all it is made for. What
    hangs on the terminals in `counted` is counted already.
    """
    near = fed_nodes(survey.graph, starts) - counted
    parts = survey.diagram.components
    groups: dict[str, float] = {}
    found = [_by_load(parts[item], volts, profile) for item in loads_at(survey.graph, near)]
    for item, one in zip(loads_at(survey.graph, near), found, strict=True):
        group = str(parts[item].parameters.get("never_with", item))
        groups[group] = max(groups.get(group, 0.0), one.lasting_a)
    known = counted | near
    taken = [_by_converter(parts[edge.owner], edge.b, survey, profile, known)
             for edge in survey.graph.edges if edge.role == "converter" and edge.a in near
             and edge.b not in known and parts[edge.owner].kind in CONVERTERS]
    return Drawn(round(sum(groups.values()) + sum(one.lasting_a for one in taken), 1),
                 max((one.extra_a for one in (*found, *taken)), default=0.0),
                 tuple(field for one in (*found, *taken) for field in one.missing))


def _by_load(load: Component, volts: float | None, profile: Profile) -> Drawn:
    if load.kind in INVERTERS:
        return _by_inverter(load, volts, profile)
    amperes = current_a(load, volts)
    if amperes is None:
        field = "current_a" if kind_of(load).field("cranking_a") is None else "cranking_a"
        return Drawn(missing=(f"{load.id}.{field}",))
    return Drawn(extra_a=amperes) if is_short_time_motor(load) else Drawn(amperes)


def _by_inverter(inverter: Component, volts: float | None, profile: Profile) -> Drawn:
    """Return what an inverter draws at its rating, and what its peak adds."""
    facts = inverter.parameters
    if "dc_limit_a" in facts:
        return Drawn(float(facts["dc_limit_a"]))
    if "rated_w" not in facts:
        return Drawn(missing=(f"{inverter.id}.rated_w",))
    volts = volts or facts.get("input_v")
    if volts is None:
        return Drawn(missing=(f"{inverter.id}.input_v",))
    given_v = volts * (facts.get("efficiency") or profile.value("inverter_efficiency_ratio"))
    rated_w = facts["rated_w"]
    return Drawn(rated_w / given_v, (facts.get("peak_w", rated_w) - rated_w) / given_v)


def _by_converter(
    converter: Component, output: int, survey: Survey, profile: Profile, counted: frozenset[int]
) -> Drawn:
    """Return what a converter takes at its input for what is behind it, or for a charge."""
    facts = converter.parameters
    if converter.kind == "dc_dc_charger":
        full_a = charger_input_a(converter, profile)
        return Drawn(full_a) if isinstance(full_a, float) else Drawn(missing=full_a)
    if "current_limit_a" in facts:
        return Drawn(float(facts["current_limit_a"]))
    behind = drawn(survey, [output], facts.get("output_v"), profile, counted)
    if behind == Drawn():
        return behind
    unknown = _unstated(converter, "output_v", "input_v")
    if unknown:
        return Drawn(missing=(*behind.missing, *unknown))
    ratio = _input_ratio(converter, profile)
    most_a = facts.get("rated_output_a", behind.lasting_a + behind.extra_a)
    lasting_a = min(behind.lasting_a, most_a)
    return Drawn(lasting_a * ratio, min(behind.extra_a, most_a - lasting_a) * ratio,
                 behind.missing)


def charger_input_a(charger: Component, profile: Profile) -> float | tuple[str, ...]:
    """Return what a DC-DC charger takes at full output, or the fields that would tell. [A]."""
    facts = charger.parameters
    if "current_limit_a" in facts:
        return float(facts["current_limit_a"])
    unknown = _unstated(charger, "rated_output_a", "output_v", "input_v")
    return unknown or float(facts["rated_output_a"] * _input_ratio(charger, profile))


def taken_a(
    drawn_a: float, converters: Iterable[Component], profile: Profile
) -> float | tuple[str, ...]:
    """Return what is taken from a bank for a load behind converters, from the bank on, or the
    fields that would tell; each gives no more than it is made for. [A]
    """
    passed = tuple(converters)
    unknown = tuple(field for one in passed for field in _unstated(one, "output_v", "input_v"))
    if unknown:
        return unknown
    for one in reversed(passed):
        given_a = min(drawn_a, one.parameters.get("rated_output_a", drawn_a))
        drawn_a = given_a * _input_ratio(one, profile)
    return drawn_a


def _input_ratio(converter: Component, profile: Profile) -> float:
    """Return the amperes a converter takes for each that it gives."""
    facts = converter.parameters
    efficiency = facts.get("efficiency") or profile.value("converter_efficiency_ratio")
    return float(facts["output_v"] / (facts["input_v"] * efficiency))


def _unstated(part: Component, *names: str) -> tuple[str, ...]:
    return tuple(f"{part.id}.{name}" for name in names if name not in part.parameters)
