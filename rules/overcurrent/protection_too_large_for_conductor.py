"""What it checks.
Each fuse and breaker against the conductors in series behind it, as far as the load, the next
device or a branch.

Why it matters.
A device protects the conductor, not the load. One rated above what the conductor carries lets it
run hot until the insulation fails.

Fails when.
The rating is above the corrected ampacity of the weakest of these conductors.

Passes when.
The rating is not above the ampacity, or it is the next standard size up and within the margin of
the rule set.

Limits.
The next standard size is asked for although the federal text allows any rating up to the margin.
Conductors tapped from a busbar, stud or panel bus farther on belong to 1.3. Windlass, winch and
thruster circuits are short-time circuits and belong to 1.17.
"""

from __future__ import annotations

from collections.abc import Iterator

from model.analysis.taps import Circuit
from model.survey import Survey
from rules.allowance import largest_device_a, next_standard_a, weakest
from rules.fixing import thicker, with_fields
from rules.motors import is_short_time_motor
from rules.profiles import Profile
from rules.rule import Answer, Fault, Finding, Fix, Missing, Rule
from rules.wording import named, size_words

RULE = Rule(
    slug="protection_too_large_for_conductor",
    number="1.4",
    title="Fuse or breaker larger than the conductor allows",
    topic="overcurrent",
    severity="fault",
    looks_at="each fuse and breaker with the conductors behind it",
    subjects=lambda survey: survey.circuits,
    messages={
        "too_large": "{device} is rated {rated_a}; {wire} behind it carries {ampacity_a} "
                     "({ratio_percent} of it). The next standard size is {next_a}.",
        "at_most": "{device} is rated {rated_a}; {wire} behind it carries at most {ampacity_a} "
                   "({ratio_percent} of it), whatever its {unsaid}.",
    },
    remedy="Fit a smaller device or a larger conductor.",
    sources=("abyc_e11", "cfr_rating", "iso_overcurrent"),
    quiet={
        "next_size": "the rating is the next standard size up and within the rule set's margin",
        "short_time": "it is a short-time motor circuit: 1.17 judges it",
        "second_device": "the conductors are protected a second time by a smaller device",
    },
    figures=("next_size_max_ratio", "danger_ratio"),
    fix="always",
)


def check(circuit: Circuit, survey: Survey, profile: Profile) -> Answer:
    """Judge a device by the weakest conductor in series behind it."""
    if _is_short_time(circuit, survey):
        return None
    rated_a = circuit.guard.rated_a
    ratings = Missing(tuple(f"{item}.rated_a" for item in circuit.guard.unknown),
                      (circuit.conductor, *circuit.guard.unknown))
    if rated_a is None:
        return ratings
    suits = weakest(survey, circuit.chain, rated_a, profile)
    if suits.verdict in ("covered", "next_size"):
        return None
    if circuit.guard.unknown:
        return ratings
    if suits.verdict == "unknown":
        return Missing(suits.missing, (suits.conductor, circuit.at))
    unsaid = suits.ampacity.missing
    figures = {"rated_a": rated_a, "ampacity_a": suits.ampacity_a,
               "ratio_percent": round(100 * suits.ratio, 1),
               "next_a": next_standard_a(suits.ampacity_a)}
    return Fault(
        "at_most" if unsaid else "too_large",
        tuple(dict.fromkeys((suits.conductor, circuit.guard.device, circuit.at))), figures,
        {"device": named(survey.diagram, [circuit.guard.device]),
         "wire": named(survey.diagram, [suits.conductor]),
         "unsaid": " and ".join(_WORDS[field] for field in unsaid)},
        severity="danger" if suits.ratio > profile.value("danger_ratio") else "fault",
        sources=(*suits.ampacity.sources, profile["next_size_max_ratio"].source),
        unverified=not suits.ampacity.confirmed)


def fixes(finding: Finding, survey: Survey, profile: Profile) -> Iterator[Fix]:
    """Offer the device that suits the conductor, and the conductor that suits the device."""
    diagram = survey.diagram
    wire, device = finding.where[:2]
    ampacity = survey.ampacity_range(diagram.conductors[wire], profile.ampacity_table)
    smaller_a = largest_device_a(ampacity.low_a or 0.0, profile)
    if smaller_a:
        title = f"Fit {smaller_a:g} A as {named(diagram, [device])}"
        yield Fix(title, "choice", with_fields(diagram, title, device, rated_a=smaller_a))
    size = thicker(survey, wire, profile, carries_a=finding.figures["rated_a"])
    if size is not None:
        title = f"Replace {named(diagram, [wire])} by {size_words(size)}"
        yield Fix(title, "choice", with_fields(diagram, title, wire, size=size))


_WORDS = {"insulation_c": "insulation", "engine_space_m": "length in the engine space"}


def _is_short_time(circuit: Circuit, survey: Survey) -> bool:
    """Say whether the circuit ends at a motor that runs for short times only."""
    loads = [survey.diagram.components[item] for item in circuit.serves.loads]
    return bool(loads) and all(is_short_time_motor(load) for load in loads)
