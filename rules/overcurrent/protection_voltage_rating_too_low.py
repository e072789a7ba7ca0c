"""What it checks.
The DC voltage rating of each fuse and breaker against the highest voltage it may have to break.

Why it matters.
A DC arc does not go out by itself. A device opened at more than its rated voltage may keep on
burning inside its holder.

Fails when.
The rated DC voltage is below the highest charging voltage there, or only an AC rating is recorded.

Passes when.
The rated DC voltage is not below the highest charging voltage.

Limits.
Where no battery of these nominal volts states its highest charging voltage, a usual one is assumed
and the finding says so.
"""

from __future__ import annotations

from collections.abc import Iterator

from model.graph import Edge
from model.kinds.storage import nominal_v
from model.survey import Survey
from rules.profiles import Profile
from rules.rule import Answer, Fault, Missing, Rule, Sourced
from rules.wording import named


def _devices(survey: Survey) -> Iterator[Edge]:
    """Yield one way through each DC fuse and breaker."""
    seen: set[str] = set()
    for edge in survey.graph.edges:
        if edge.role == "overcurrent" and edge.item not in seen and (
                survey.potentials[edge.a].side == "+" or survey.potentials[edge.b].side == "+"):
            seen.add(edge.item)
            yield edge


RULE = Rule(
    slug="protection_voltage_rating_too_low",
    number="1.8",
    title="Fuse voltage rating below the system",
    topic="overcurrent",
    severity="danger",
    looks_at="each DC fuse and breaker",
    subjects=_devices,
    messages={
        "too_low": "{device} is rated {rated_v} DC; charging brings the voltage there to "
                   "{highest_v}{assumed}.",
        "ac_only": "{device} has an AC rating only ({rated_ac_v}); it stands at up to "
                   "{highest_v} DC{assumed}.",
    },
    remedy="Fit a device rated for that DC voltage.",
    sources=("abyc_e11", "cfr_voltage", "iso_overcurrent"),
    figures=("charging_v_ratio",),
)


def check(device: Edge, survey: Survey, profile: Profile) -> Answer:
    """Judge one device."""
    volts = [p.nominal_v for p in (survey.potentials[device.a], survey.potentials[device.b])
             if p.side == "+" and p.nominal_v is not None]
    if not volts:
        return None
    highest, assumed = _highest_v(max(volts), survey, profile)
    rated_v, rated_ac_v = device.device.get("rated_dc_v"), device.device.get("rated_ac_v")
    names = {"device": named(survey.diagram, [device.item]),
             "assumed": " (assumed, no battery states it)" if assumed else ""}
    if rated_v is None and rated_ac_v is not None:
        figures: dict[str, float | Sourced] = {"rated_ac_v": rated_ac_v, "highest_v": highest}
        return Fault("ac_only", (device.item,), figures, names)
    if rated_v is None:
        return Missing((f"{device.item}.rated_dc_v",), (device.item,))
    if rated_v >= highest:
        return None
    sources = (profile["charging_v_ratio"].source,) if assumed else ()
    return Fault("too_low", (device.item,), {"rated_v": rated_v, "highest_v": highest}, names,
                 sources=sources)


def _highest_v(nominal: float, survey: Survey, profile: Profile) -> tuple[float, bool]:
    """Return the highest charging voltage for nominal volts, and whether it is assumed. [V]."""
    stated = [
        component.parameters["max_charge_v"] for component in survey.diagram.components.values()
        if component.kind == "battery_bank" and "max_charge_v" in component.parameters
        and nominal_v(component.parameters) == nominal
    ]
    if stated:
        return max(stated), False
    return round(nominal * profile.value("charging_v_ratio"), 2), True
