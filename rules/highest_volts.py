"""The highest voltage a system may reach: what its devices must stand."""

from __future__ import annotations

from model.analysis.systems import systems_of
from model.kinds.storage import is_same_nominal, nominal_v
from model.survey import Survey
from rules.profiles import Profile


def highest_charging_v(nominal: float, survey: Survey, profile: Profile) -> tuple[float, bool]:
    """Return the highest charging voltage of a system, and whether it is assumed. [V].

    Assumed from what the system is called: a bank of 51.2 V is of a 48 V system.
    """
    stated = [
        component.parameters["max_charge_v"] for component in survey.diagram.components.values()
        if component.kind == "battery_bank" and "max_charge_v" in component.parameters
        and is_same_nominal(nominal_v(component.parameters) or 0, nominal)
    ]
    if stated:
        return max(stated), False
    system_v = next((abs(s.nominal_v) for s in systems_of(survey.diagram, [nominal])
                     if s.nominal_v is not None), nominal)
    return round(system_v * profile.value("charging_v_ratio"), 2), True
