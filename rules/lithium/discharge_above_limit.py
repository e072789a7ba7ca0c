"""What it checks.
The sum of inverters, converters and loads on a lithium bank against what its management or its
makers allow, for long and for moments, also with one pack out.

Why it matters.
Above its limit the management opens, and the kettle has put out the navigation lights.

Fails when.
What may run together for long is above the lasting limit, or with a heavy motor or the inverter's
peak on top above the limit for moments, or above what is left when one pack is out.

Passes when.
It is below.

Limits.
All loads on the bank are taken to run, of a group that never runs together the largest; motors of
short times count for moments only. A bank is the batteries joined with no contact between; those
side by side share the current. A charger of another bank counts at its full output.
"""

from __future__ import annotations

from model.analysis.joinable import post_v
from model.analysis.lithium_banks import LithiumBank, lithium_banks, stated_limit
from model.analysis.management import unit_of
from model.survey import Survey
from rules.drawn import drawn
from rules.profiles import Profile
from rules.rule import Answer, Fault, Missing, Rule
from rules.wording import named


def _limited(survey: Survey) -> list[LithiumBank]:
    return [bank for bank in lithium_banks(survey.graph) if any(
        "max_discharge_a" in battery.parameters or unit_of(survey.diagram, battery) is not None
        for battery in bank.batteries)]


RULE = Rule(
    slug="discharge_above_limit",
    number="6.8",
    title="Discharge above the management limit",
    topic="lithium",
    severity="fault",
    looks_at="each lithium bank with a limit of its own or a management unit",
    subjects=_limited,
    messages={
        "lasting": "What hangs on {battery} can draw {drawn_a} for long; {limit_a} is the limit.",
        "moments": "What hangs on {battery} can draw {drawn_a} for moments; {limit_a} is the "
                   "limit.",
        "lost": "What hangs on {battery} can draw {drawn_a} for long; with one pack out {limit_a} "
                "is the limit.",
    },
    remedy="Fit more packs, a smaller inverter, or a limit in the inverter's settings.",
    sources=("battery_makers",),
    quiet={"limited": "the inverter is limited in its settings"},
    figures=("inverter_efficiency_ratio", "converter_efficiency_ratio"),
)


def check(bank: LithiumBank, survey: Survey, profile: Profile) -> Answer:
    """Judge one bank."""
    limit_of = stated_limit(survey.diagram, bank, "max_discharge_a", "discharge_limit_a")
    limit_a, left_a = bank.limit_a(limit_of), bank.limit_with_one_out_a(limit_of)
    peak_a = bank.limit_a(lambda battery: battery.parameters.get("peak_discharge_a"))
    posts = [survey.graph.number[f"{battery.id}.+"] for battery in bank.batteries]
    volts = post_v(survey.graph, bank.ids[0])
    asked = drawn(survey, posts, volts, profile)
    lasting_a, moments_a = asked.lasting_a, round(asked.lasting_a + asked.extra_a, 1)
    for message, drawn_a, most_a in (
            ("lasting", lasting_a, limit_a), ("moments", moments_a, peak_a),
            ("lost", lasting_a, left_a)):
        if most_a is not None and drawn_a > most_a:
            return Fault(message, bank.ids, {"drawn_a": drawn_a, "limit_a": most_a},
                         {"battery": named(survey.diagram, bank.ids)},
                         severity="caution" if message == "lost" else None)
    fields = [*asked.missing]
    if lasting_a:
        fields += [f"{b.id}.max_discharge_a" for b in bank.batteries if limit_of(b) is None]
    if limit_a is not None and moments_a > limit_a:
        fields += [f"{b.id}.peak_discharge_a" for b in bank.batteries
                   if "peak_discharge_a" not in b.parameters]
    return Missing(tuple(fields), bank.ids) if fields else None
