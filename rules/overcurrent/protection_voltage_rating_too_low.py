"""What it checks.
The DC voltage rating of each fuse and breaker against the highest voltage it may have to break.

Why it matters.
A DC arc does not go out by itself. A device opened at more than its rated voltage may keep on
burning inside its holder.

Fails when.
The rated DC voltage is below the highest charging voltage there, or below an array's open-circuit
voltage, or only an AC rating is recorded.

Passes when.
The rated DC voltage is not below the highest charging voltage.

Limits.
Where no battery of these nominal volts states its highest charging voltage, a usual one is assumed
and the finding says so.
"""

from __future__ import annotations

from collections.abc import Iterator

from model.analysis.reach import ever_joined
from model.graph import Edge
from model.protection_tables import device_volts
from model.survey import Survey
from rules.fixing import with_fields
from rules.highest_volts import highest_charging_v
from rules.ordering import in_order
from rules.profiles import Profile
from rules.rule import Answer, Fault, Finding, Fix, Missing, Rule, Sourced
from rules.wording import named, quantity


def _devices(survey: Survey) -> Iterator[Edge]:
    """Yield the ways through each fuse and breaker that stands in no negative."""
    for edge in survey.graph.edges:
        if edge.role == "overcurrent" and survey.potentials[edge.a].side != "-":
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
        "too_low": "{device} is rated {rated_v} DC; the voltage there may be "
                   "{highest_v}{assumed}.",
        "ac_only": "{device} has an AC rating only ({rated_ac_v}); it stands at up to "
                   "{highest_v} DC{assumed}.",
    },
    remedy="Fit a device rated for that DC voltage.",
    sources=("abyc_e11", "cfr_voltage", "iso_overcurrent"),
    quiet={
        "negative": "it stands in the negative",
        "unfed": "nothing whose volts are known feeds it",
    },
    figures=("charging_v_ratio",),
    fix="always",
)


def check(device: Edge, survey: Survey, profile: Profile) -> Answer:
    """Judge one device."""
    highest = _highest_v(device, survey, profile)
    if highest is None or isinstance(highest, Missing):
        return highest
    highest_v, assumed = highest
    rated_v, rated_ac_v = device.device.get("rated_dc_v"), device.device.get("rated_ac_v")
    names = {"device": named(survey.diagram, [device.item]),
             "assumed": " (assumed, no battery states it)" if assumed else ""}
    if rated_v is None and rated_ac_v is not None:
        figures: dict[str, float | Sourced] = {"rated_ac_v": rated_ac_v, "highest_v": highest_v}
        return Fault("ac_only", (device.item,), figures, names)
    if rated_v is None:
        return Missing((f"{device.item}.rated_dc_v",), (device.item,))
    if rated_v >= highest_v:
        return None
    sources = (profile["charging_v_ratio"].source,) if assumed else ()
    return Fault("too_low", (device.item,), {"rated_v": rated_v, "highest_v": highest_v}, names,
                 sources=sources)


def _highest_v(
    device: Edge, survey: Survey, profile: Profile
) -> tuple[float, bool] | Missing | None:
    """Return the highest voltage at a device, and whether it is assumed. [V].

    Where batteries feed it, their highest charging voltage; else the open-circuit voltage of the
    arrays that do. None when nothing that feeds it has a known nominal voltage.
    """
    nominal_v = survey.potentials[device.a].nominal_v
    if nominal_v is None:
        return _open_circuit_v(device, survey)
    return highest_charging_v(nominal_v, survey, profile)


def _open_circuit_v(device: Edge, survey: Survey) -> tuple[float, bool] | Missing | None:
    nodes = ever_joined(survey.graph, [device.a])
    parts = (survey.diagram.components[item]
             for item in in_order(survey.graph.component_of[node] for node in nodes))
    arrays = [part for part in parts if part.kind == "solar_array"]
    if not arrays:
        return None
    unknown = tuple(f"{array.id}.{field}" for array in arrays
                    for field in ("panel_voc_v", "series_count") if field not in array.parameters)
    if unknown:
        return Missing(unknown, (device.item, *(array.id for array in arrays)))
    return max(array.parameters["panel_voc_v"] * array.parameters["series_count"]
               for array in arrays), False


def fixes(finding: Finding, survey: Survey, profile: Profile) -> Iterator[Fix]:
    """Offer the same device made for the volts it stands at."""
    device = finding.where[0]
    volts = next((v for v in device_volts() if v >= finding.figures["highest_v"]), None)
    if volts is not None:
        title = (f"Fit a device for {quantity('v', volts, survey.diagram)} DC as "
                 f"{named(survey.diagram, [device])}")
        yield Fix(title, "mechanical",
                  with_fields(survey.diagram, title, device, rated_dc_v=volts))
