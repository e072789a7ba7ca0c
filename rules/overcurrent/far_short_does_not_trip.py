"""What it checks.
The smallest current that a short at the far end of each circuit drives through its fuse or breaker.

Why it matters.
A long thin conductor limits the current of a short. When it is not well above the rating, the
device holds, and the conductor heats until something else ends it.

Fails when.
With the bank half charged, hot copper and contacts as they are in practice, the current is less
than the multiple of the rating at which a device opens soon.

Passes when.
The current reaches that multiple at every end of the circuit.

Limits.
Running chargers and alternators are left out: they may be off. Lengths and sizes that are not
recorded count as no resistance, so that what is found is certain.
"""

from __future__ import annotations

from collections.abc import Iterator
from functools import partial

from model.analysis.far_shorts import FarShort, far_shorts
from model.survey import Survey
from model.tables import conductor_sizes, standard_device_ratings_a
from rules.fixing import applied, together, with_fields
from rules.profiles import Profile
from rules.rule import Answer, Fault, Finding, Fix, Missing, Rule
from rules.wording import named, size_words

RULE = Rule(
    slug="far_short_does_not_trip",
    number="1.9",
    title="A short at the far end would not blow the fuse",
    topic="overcurrent",
    severity="fault",
    looks_at="each fuse and breaker with the far ends of its circuit",
    subjects=far_shorts,
    messages={
        "holds": "A short at {end} drives {fault_a} through {device} of {rated_a}; it opens soon "
                 "from {needed_a}.",
    },
    remedy="Fit a larger conductor or a smaller fuse, or supply the load from a battery near it.",
    sources=("common_practice",),
    quiet={
        "self_limiting": "only a source that limits itself feeds the circuit",
        "electronic": "the device is electronic and opens on overload",
    },
    figures=("trip_ratio", "heavy_circuit_a"),
    fix="sometimes",
)


def check(short: FarShort, survey: Survey, profile: Profile) -> Answer:
    """Judge one device by the weakest short in its circuit."""
    where = (short.device, short.conductors[-1], short.end)
    if short.rated_a is None:
        return Missing((f"{short.device}.rated_a",), where)
    needed_a = short.rated_a * profile.value("trip_ratio")
    fault_a = round(short.current_a, 1)
    if fault_a >= needed_a:
        return Missing(short.unstated, where) if short.unstated else None
    if short.unknown_banks:
        return Missing(tuple(f"{b}.capacity_ah" for b in short.unknown_banks), where)
    heavy = short.rated_a > profile.value("heavy_circuit_a")
    return Fault("holds", where,
                 {"fault_a": fault_a, "rated_a": short.rated_a, "needed_a": needed_a},
                 {"device": named(survey.diagram, [short.device]),
                  "end": named(survey.diagram, [short.end])},
                 severity="danger" if heavy else "fault")


def fixes(finding: Finding, survey: Survey, profile: Profile) -> Iterator[Fix]:
    """Offer the largest device that opens soon, and conductors thick enough for this one."""
    device = finding.where[0]
    short = next(s for s in far_shorts(survey) if s.device == device)
    most_a = finding.figures["fault_a"] / profile.value("trip_ratio")
    duty = survey.drawn_by_loads.get(device)
    drawn_a = 0.0 if duty is None else round(duty.current_a, 2)
    fits = [r for r in standard_device_ratings_a() if drawn_a <= r <= most_a]
    if fits:
        title = f"Fit {max(fits):g} A as {named(survey.diagram, [device])}"
        yield Fix(title, "choice",
                  with_fields(survey.diagram, title, device, rated_a=max(fits)))
    yield from _thicker(short, finding.figures["needed_a"], survey)


def _thicker(short: FarShort, needed_a: float, survey: Survey) -> Iterator[Fix]:
    """Offer the smallest size of all conductors to that end with which the device opens soon."""
    wires = [survey.diagram.conductors[item] for item in short.conductors]
    standard = next((wire.size.standard for wire in wires if wire.size is not None), "mm2")
    sizes = conductor_sizes(standard)
    for place, size in enumerate(sizes):
        thin = [wire.id for wire in wires
                if wire.size is not None and wire.size in sizes[:place]]
        title = f"Replace {named(survey.diagram, thin)} by {size_words(size)}"
        edit = together(survey.diagram, title, *(
            partial(with_fields, title=title, item=item, size=size) for item in thin))
        after = Survey(applied(survey.diagram, edit))
        found = next((s for s in far_shorts(after) if s.device == short.device), None)
        if thin and found is not None and found.current_a >= needed_a:
            yield Fix(title, "choice", edit)
            return
