"""What it checks.
The sum of inverters and loads on a lithium battery against what its management or its maker allows,
for long and for moments, also with one pack out.

Why it matters.
Above its limit the management opens, and the kettle has put out the navigation lights.

Fails when.
What may run together for long is above the lasting limit, or with a heavy motor or the inverter's
peak on top above the limit for moments, or above what is left when one pack is out.

Passes when.
It is below.

Limits.
All loads on the battery are taken to run, of a group that never runs together the largest; motors
of short times count for moments only.
"""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass

from model.analysis.fed_by import fed_loads
from model.analysis.management import lithium_batteries, unit_of
from model.diagram import Component
from model.kinds.storage import nominal_v
from model.survey import Survey
from rules.always_on import current_a
from rules.motors import is_short_time_motor
from rules.profiles import Profile
from rules.rule import Answer, Fault, Missing, Rule
from rules.wording import named

INVERTERS = ("inverter", "inverter_charger")


@dataclass(frozen=True, slots=True)
class Drawn:
    """What a battery is asked for, and the fields that are missing to say so. [A]."""

    lasting_a: float
    moments_a: float
    missing: tuple[str, ...]


def _limited(survey: Survey) -> Iterator[Component]:
    for battery in lithium_batteries(survey.diagram):
        if "max_discharge_a" in battery.parameters or unit_of(survey.diagram, battery) is not None:
            yield battery


RULE = Rule(
    slug="discharge_above_limit",
    number="6.8",
    title="Discharge above the management limit",
    topic="lithium",
    severity="fault",
    looks_at="each lithium battery with a limit of its own or a management unit",
    subjects=_limited,
    messages={
        "lasting": "What hangs on {battery} can draw {drawn_a} for long; {limit_a} is its limit.",
        "moments": "What hangs on {battery} can draw {drawn_a} for moments; {limit_a} is its "
                   "limit.",
        "lost": "What hangs on {battery} can draw {drawn_a} for long; with one pack out {limit_a} "
                "is its limit.",
    },
    remedy="Fit more packs, a smaller inverter, or a limit in the inverter's settings.",
    sources=("battery_makers",),
    quiet={"limited": "the inverter is limited in its settings"},
    figures=("inverter_efficiency_ratio",),
)


def check(battery: Component, survey: Survey, profile: Profile) -> Answer:
    """Judge one battery."""
    drawn = _drawn(battery, survey, profile)
    limit_a, peak_a = _limits_a(battery, survey)
    where, names = (battery.id,), {"battery": named(survey.diagram, [battery.id])}
    if limit_a is not None and drawn.lasting_a > limit_a:
        return Fault("lasting", where, {"drawn_a": drawn.lasting_a, "limit_a": limit_a}, names)
    if peak_a is not None and drawn.moments_a > peak_a:
        return Fault("moments", where, {"drawn_a": drawn.moments_a, "limit_a": peak_a}, names)
    packs = battery.parameters.get("parallel_count", 1)
    left_a = None if limit_a is None or packs == 1 else limit_a * (packs - 1) / packs
    if left_a is not None and drawn.lasting_a > left_a:
        return Fault("lost", where, {"drawn_a": drawn.lasting_a, "limit_a": round(left_a, 1)},
                     names, severity="caution")
    asked = (() if limit_a is not None or not drawn.lasting_a
             else (f"{battery.id}.max_discharge_a",))
    return Missing((*asked, *drawn.missing), where) if asked or drawn.missing else None


def _limits_a(battery: Component, survey: Survey) -> tuple[float | None, float | None]:
    """Return the limit for long and the one for moments. [A]."""
    unit = unit_of(survey.diagram, battery)
    stated = [battery.parameters.get("max_discharge_a"),
              None if unit is None else unit.parameters.get("discharge_limit_a")]
    peak_a = battery.parameters.get("peak_discharge_a")
    return (min((float(limit) for limit in stated if limit is not None), default=None),
            None if peak_a is None else float(peak_a))


def _drawn(battery: Component, survey: Survey, profile: Profile) -> Drawn:
    volts = nominal_v(battery.parameters)
    lasting: dict[str, float] = {}
    extra, missing = [0.0], []
    for item in fed_loads(survey.graph, [battery.id], {}):
        load = survey.diagram.components[item]
        if load.kind in INVERTERS:
            full = _inverter_a(load, volts, profile)
            if full is None:
                missing.append(f"{item}.rated_w" if volts else f"{battery.id}.block_nominal_v")
                continue
            lasting[item] = full[0]
            extra.append(full[1] - full[0])
            continue
        amperes = current_a(load)
        if amperes is None:
            continue
        if is_short_time_motor(load):
            extra.append(amperes)
        else:
            group = str(load.parameters.get("never_with", item))
            lasting[group] = max(lasting.get(group, 0.0), amperes)
    total_a = round(sum(lasting.values()), 1)
    return Drawn(total_a, round(total_a + max(extra), 1), tuple(missing))


def _inverter_a(
    inverter: Component, volts: float | None, profile: Profile
) -> tuple[float, float] | None:
    """Return what an inverter draws at its rating and at its peak, None when not known. [A]."""
    facts = inverter.parameters
    if "dc_limit_a" in facts:
        return float(facts["dc_limit_a"]), float(facts["dc_limit_a"])
    rated_w: float | None = facts.get("rated_w")
    if rated_w is None or volts is None:
        return None
    efficiency = facts.get("efficiency") or profile.value("inverter_efficiency_ratio")
    peak_w: float = facts.get("peak_w", rated_w)
    return rated_w / (volts * efficiency), peak_w / (volts * efficiency)
