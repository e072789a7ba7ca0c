"""What it checks.
Whether the gas of batteries with caps can leave, and whether a charger or switch stands above them.

Why it matters.
While they charge, such batteries give off hydrogen. Where it collects, the spark of a switch is
enough for an explosion; its acid mist eats what stands above.

Fails when.
A flooded battery stands in a closed box or an unvented place with no vent to the open air, or
directly under a charger or switch.

Passes when.
Its gas can leave, and nothing electrical stands directly above it.

Limits.
Sealed types are not judged. Only eyes can tell: until it is answered the question stands on the
list of what to look at aboard.
"""

from __future__ import annotations

from model.diagram import Component
from model.survey import Survey
from rules.batteries_aboard import batteries_aboard
from rules.places import place_of
from rules.profiles import Profile
from rules.rule import Answer, Fault, Missing, Rule
from rules.wording import named

RULE = Rule(
    slug="vented_cells_closed_in",
    number="5.11",
    title="Vented cells in a closed space or under a charger",
    topic="batteries",
    severity="danger",
    looks_at="each flooded battery",
    subjects=batteries_aboard,
    messages={
        "closed_in": "The gas of {battery} cannot leave: no vent to the open air.",
        "under": "A charger or switch stands directly above {battery}, a flooded battery.",
    },
    remedy="Lead a vent overboard from the highest point; move what stands above.",
    sources=("abyc_e10", "iso_batteries"),
    quiet={
        "sealed": "it is of a sealed type",
        "vented": "its gas is led to the open air, or box and place are open to it",
    },
    questions={
        "chemistry": "{item}: has it caps to top it up with water (flooded), or is it sealed?",
        "vented_overboard": "{item}: is its gas led to the open air?",
        "under_charger": "{item}: does a charger, inverter or switch stand directly above it?",
        "boxed": "{item}: does it stand in a closed box?",
        "place": "{item}: in which space does it stand?",
        "vented": "{item}: is the space open at the top to fresh air?",
    },
)


def check(battery: Component, survey: Survey, profile: Profile) -> Answer:
    """Judge one battery."""
    facts = battery.parameters
    if facts.get("chemistry") not in (None, "flooded"):
        return None
    if "chemistry" not in facts:
        return Missing((f"{battery.id}.chemistry",), (battery.id,))
    names = {"battery": named(survey.diagram, [battery.id])}
    if facts.get("under_charger") is True:
        return Fault("under", (battery.id,), {}, names)
    asked = [] if "under_charger" in facts else [f"{battery.id}.under_charger"]
    if facts.get("vented_overboard") is None:
        asked.append(f"{battery.id}.vented_overboard")
    elif facts["vented_overboard"] is False:
        closed, unsaid = _closed_in(battery, survey)
        if closed:
            return Fault("closed_in", (battery.id,), {}, names)
        asked += unsaid
    return Missing(tuple(asked), (battery.id,)) if asked else None


def _closed_in(battery: Component, survey: Survey) -> tuple[bool, list[str]]:
    """Say whether the gas collects around the battery; if that is not known, what would tell."""
    boxed = battery.parameters.get("boxed")
    place = place_of(survey.diagram, battery)
    if boxed is True or (place is not None and place.vented is False):
        return True, []
    unsaid = [] if boxed is False else [f"{battery.id}.boxed"]
    if place is None:
        unsaid.append(f"{battery.id}.place")
    elif place.vented is None:
        unsaid.append(f"{place.id}.vented")
    return False, unsaid
