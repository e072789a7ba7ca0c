"""The loads that safety circuits are about, by role or by kind where no role is stated."""

from __future__ import annotations

from model.diagram import Component
from model.survey import Survey

USUAL = {"bilge_pump": "bilge_pump_automatic", "alarm": "water_alarm", "gas_alarm": "gas_alarm",
         "memory_feed": "memory", "tracker": "tracker", "radio": "radio",
         "autopilot": "autopilot", "navigation_light": "navigation_light",
         "instrument": "instrument", "windlass": "windlass", "thruster": "thruster"}
"""What a load of a kind is for when its role is not stated."""


def role_of(load: Component) -> str:
    """Return what a load is for: as stated, else as its kind usually is; "" when neither says."""
    return str(load.parameters.get("role") or USUAL.get(load.kind, ""))


def with_roles(survey: Survey, *roles: str) -> list[Component]:
    """Return the DC loads of some roles that are not stored."""
    loads = survey.graph.once("DC loads with a role", lambda: tuple(
        (role, part) for part in survey.diagram.components.values()
        if (role := role_of(part)) and part.stored is not True
        and f"{part.id}.+" in survey.graph.number))
    return [part for role, part in loads if role in roles]


def pumps(survey: Survey, *roles: str) -> list[str]:
    """Return the ids of the pumps of some roles."""
    return [part.id for part in with_roles(survey, *roles)]
