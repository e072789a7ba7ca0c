"""What it checks.
The midpoints of banks in series: what else leaves them than balancing gear.

Why it matters.
A load on one half empties that half alone. The charger then overcharges the other half before the
first is full, and both are ruined within months.

Fails when.
A consumer, a charger or a converter hangs on the midpoint.

Passes when.
Only balancing gear and monitors do, or an equaliser is there that is rated for all of it.

Limits.
What is drawn is counted with its full current, as if all ran at once; power at the volts of the
part, else at those of the midpoint. The fuse of a monitor's lead
belongs to 1.16.
"""

from __future__ import annotations

from model.analysis.joinable import post_v
from model.analysis.midpoints import Midpoint, midpoints
from model.diagram import Component
from model.kinds import kind_of
from model.survey import Survey
from rules.ordering import in_order
from rules.profiles import Profile
from rules.rule import Answer, Fault, Missing, Rule
from rules.wording import named

RULE = Rule(
    slug="half_of_series_bank_used",
    number="3.21",
    title="Load or charger on one half of a series bank",
    topic="charging",
    severity="fault",
    looks_at="each midpoint of a series bank",
    subjects=lambda survey: midpoints(survey.graph),
    messages={
        "used": "{users:hangs/hang} on the midpoint above {battery}: one half is drained or "
                "charged alone.",
        "exceeds": "{users:draws/draw} {drain_a} from the midpoint above {battery}; {equalisers} "
                   "can balance {rated_a}.",
    },
    remedy="Feed from a converter, or fit an equaliser that is sized for the drain.",
    sources=("installers", "common_practice"),
    quiet={
        "equaliser": "an equaliser that is rated for the current is connected",
        "monitor": "only a monitor's lead leaves the midpoint",
    },
)
RATINGS = ("current_a", "rated_a", "rated_output_a", "charge_a")
POWERS = ("power_w", "rated_w")


def check(midpoint: Midpoint, survey: Survey, profile: Profile) -> Answer:
    """Judge one midpoint by what hangs on it and what balances it."""
    users, equalisers = in_order(midpoint.users), in_order(midpoint.equalisers)
    names = {"users": named(survey.diagram, users),
             "battery": named(survey.diagram, [midpoint.battery]),
             "equalisers": named(survey.diagram, equalisers)}
    where = (midpoint.battery, *users)
    if not users:
        return None
    if not equalisers:
        return Fault("used", where, {}, names)
    components = survey.diagram.components
    ratings = {item: components[item].parameters.get("rated_a") for item in equalisers}
    drains = {item: _drain_a(components[item], _midpoint_v(midpoint, survey)) for item in users}
    unknown = [*(f"{item}.rated_a" for item, a in ratings.items() if a is None),
               *(_unstated(components[item], midpoint.battery)
                 for item, a in drains.items() if a is None)]
    if unknown:
        return Missing(tuple(unknown), where)
    rated_a = sum(a for a in ratings.values() if a is not None)
    drain_a = sum(a for a in drains.values() if a is not None)
    if drain_a <= rated_a:
        return None
    return Fault("exceeds", where, {"drain_a": drain_a, "rated_a": rated_a}, names)


def _drain_a(user: Component, midpoint_v: float | None) -> float | None:
    """Return what a part draws or gives at most, None when nothing says it. [A]"""
    p = user.parameters
    amperes = next((p[name] for name in RATINGS if name in p), None)
    watts = next((p[name] for name in POWERS if name in p), None)
    volts = p.get("nominal_v", p.get("input_v", midpoint_v))
    if amperes is None and watts is not None and volts is not None:
        return float(watts / volts)
    return amperes


def _midpoint_v(midpoint: Midpoint, survey: Survey) -> float | None:
    """Return the nominal volts of a midpoint: of the post, or of the blocks below a tap. [V]"""
    p = survey.diagram.components[midpoint.battery].parameters
    if midpoint.below_count is None:
        return post_v(survey.graph, midpoint.battery)
    return midpoint.below_count * p["block_nominal_v"] if "block_nominal_v" in p else None


def _unstated(user: Component, battery: str) -> str:
    """Return the field that would say what a part draws or gives."""
    if any(name in user.parameters for name in POWERS):
        return f"{battery}.block_nominal_v"
    names = (name for name in (*RATINGS, *POWERS) if kind_of(user).field(name) is not None)
    return f"{user.id}.{next(names, RATINGS[0])}"
