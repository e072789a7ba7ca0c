"""What it checks.
What shares the fuse or breaker of autopilot and steering.

Why it matters.
The winch or the pump stalls, the breaker trips, and the boat turns with nobody steering.

Fails when.
The first device on the way back from a motor that draws more than the figure is one that an
autopilot or a steering drive cannot do without, whatever smaller fuse is behind it.

Passes when.
It has a device of its own, or shares with small things, or the motor has a fuse of its own built
in.

Limits.
Whether the motor's fault opens devices farther back than its first is not judged.
"""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass

from model.analysis.load_supply import blown_by, needed_by, own_devices
from model.survey import Survey
from rules.daily_use import drawn_a
from rules.motors import MOTOR_KINDS
from rules.ordering import in_order
from rules.own_feed import own_feed
from rules.profiles import Profile
from rules.rule import Answer, Fault, Finding, Fix, Missing, Rule
from rules.safety_loads import pumps, role_of
from rules.wording import named

MOTORS = MOTOR_KINDS | {"bilge_pump_automatic", "bilge_pump_manual", "winch", "blower"}


@dataclass(frozen=True, slots=True)
class SharedSteering:
    """A device with steering and motors behind it."""

    device: str
    steering: str
    motors: tuple[str, ...]


def _shared(survey: Survey) -> Iterator[SharedSteering]:
    graph, parts = survey.graph, survey.diagram.components
    steering = pumps(survey, "autopilot", "steering")
    motors = [load for load in own_devices(graph) if load not in steering and (
        {parts[load].kind, role_of(parts[load])} & MOTORS)]
    for load in steering:
        for device in in_order(needed_by(graph, load)):
            stalling = in_order(motor for motor in motors if device in blown_by(graph, motor))
            if stalling:
                yield SharedSteering(device, load, tuple(stalling))


RULE = Rule(
    slug="steering_shares_breaker",
    number="10.14",
    title="Steering or autopilot on the same breaker as a heavy motor",
    topic="safety_circuits",
    severity="caution",
    looks_at="each autopilot and steering drive that shares its device with a motor",
    subjects=_shared,
    messages={"shared": "{steering} shares {device} with {motor}, a motor of {motor_a}, more than "
                        "{limit_a}."},
    remedy="Give steering a breaker of its own.",
    sources=("common_practice",),
    quiet={"steering": "the motor is itself of the steering",
           "built_in": "a fuse built into the motor opens first"},
    figures=("heavy_motor_a",),
    fix="sometimes",
)


def check(shared: SharedSteering, survey: Survey, profile: Profile) -> Answer:
    """Judge one device."""
    limit = profile["heavy_motor_a"]
    drawn = {item: drawn_a(item, survey) for item in shared.motors}
    heavy = {item: amps for item, amps in drawn.items() if amps is not None and amps > limit.value}
    where = (shared.device, shared.steering)
    if heavy:
        worst = max(heavy, key=lambda item: heavy[item])
        return Fault("shared", (*where, worst), {"motor_a": heavy[worst], "limit_a": limit}, {
            "steering": named(survey.diagram, [shared.steering]),
            "device": named(survey.diagram, [shared.device]),
            "motor": named(survey.diagram, [worst])})
    unsaid = tuple(f"{item}.current_a" for item, amps in drawn.items() if amps is None)
    return Missing(unsaid, (*where, *shared.motors)) if unsaid else None


def fixes(finding: Finding, survey: Survey, profile: Profile) -> Iterator[Fix]:
    """Offer the steering a way or fuse of its own."""
    device, steering, _ = finding.where
    yield from own_feed(survey, profile, steering, device)
