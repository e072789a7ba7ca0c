"""A boat that is left alone: what charges its banks then, and what they give."""

from __future__ import annotations

from collections.abc import Iterable

from model.survey import Survey
from rules.profiles import Profile

LITHIUM = ("lfp", "other_lithium")


def is_charged(batteries: Iterable[str], survey: Survey) -> bool:
    """Say whether sun or shore charges batteries while nobody is aboard."""
    away = [mode for mode in survey.diagram.modes.values()
            if mode.purpose in ("left_unattended", "laid_up")]
    if any(mode.shore_connected for mode in away):
        return True
    components = survey.diagram.components
    return any(components[source].kind == "solar_array"
               for bank in survey.banks if set(bank.batteries) & set(batteries)
               for source in survey.charge_sources[bank.id])


def unsized(batteries: Iterable[str], survey: Survey) -> tuple[str, ...]:
    """Return the fields without which it cannot be told what batteries give."""
    parts = [survey.diagram.components[item] for item in batteries]
    return tuple(f"{part.id}.{name}" for part in parts for name in ("capacity_ah", "chemistry")
                 if name not in part.parameters)


def usable_ah(batteries: Iterable[str], survey: Survey, profile: Profile) -> float:
    """Return what batteries in parallel give before they are harmed. [Ah]."""
    parts = [survey.diagram.components[item] for item in batteries]
    return round(sum(part.parameters["capacity_ah"] * profile.value(
        "usable_lithium_ratio" if part.parameters["chemistry"] in LITHIUM
        else "usable_lead_ratio") for part in parts), 1)
