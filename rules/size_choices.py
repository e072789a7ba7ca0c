"""What each size of a conductor would mean: amperes carried, the largest device, the drop.

For a person who picks a size; the rules judge by the same tables and the same solved network.
"""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass, replace

from model.analysis.ampacity_range import ampacity_range
from model.analysis.taps import Guard
from model.analysis.voltage_drop import Drop
from model.diagram import Conductor, Size
from model.edits import apply as applied
from model.edits import changed
from model.survey import Survey
from model.tables import conductor_sizes, resistance_ohm_per_km
from rules.allowance import largest_device_a
from rules.drop_limits import limit_of
from rules.fixing import with_fields
from rules.profiles import Profile

SOLVED_C = 20.0  # the heat of copper that drops are solved with


@dataclass(frozen=True, slots=True)
class SizeChoice:
    """A size, and what it would mean where the conductor runs.

    `carries_a` and `device_a` are None where the ampacity cannot be told [A]; `drop_percent` of
    the nominal volts is that of the consumer `item` that would come worst off against its own
    `limit_percent` [%], None where length or load are not known. `needs_a` is the largest current
    that is asked of it, `guard_a` the largest device before it, None where unknown or none [A];
    `unrated` are nearer devices that would count if their rating were known.
    """

    size: Size
    carries_a: float | None
    device_a: float | None
    drop_percent: float | None = None
    item: str = ""
    limit_percent: float | None = None
    needs_a: float | None = None
    guard_a: float | None = None
    unrated: tuple[str, ...] = ()

    @property
    def suits(self) -> bool:
        """Say whether it carries what is asked of it, suits its device and drops little enough."""
        carries = self.carries_a is not None and self.needs_a is not None and (
            self.carries_a >= self.needs_a)
        drops = self.drop_percent is None or self.limit_percent is None or (
            self.drop_percent <= self.limit_percent)
        guarded = self.guard_a is None or (
            self.device_a is not None and self.guard_a <= self.device_a)
        return carries and drops and guarded


def size_choices(survey: Survey, wire_id: str, profile: Profile) -> tuple[SizeChoice, ...]:
    """Return what every size of the conductor's standard, or the rule set's, would mean."""
    wire = survey.diagram.conductors[wire_id]
    standard = wire.size.standard if wire.size is not None else (
        "awg" if profile.id == "us" else "mm2")
    sizes = conductor_sizes(standard)
    known = survey if wire.size is not None else Survey(applied(
        survey.diagram, with_fields(survey.diagram, "", wire_id, size=sizes[len(sizes) // 2])))
    duty = known.duty.conductors.get(wire_id)
    needs_a = None if duty is None or duty.current_a == 0.0 else duty.current_a
    guards = _guards(known, wire_id)
    guard_a = max((guard.rated_a for guard in guards if guard.rated_a is not None), default=None)
    unrated = tuple(sorted({device for guard in guards for device in guard.unknown}))
    return tuple(replace(_choice(known, wire, size, profile), needs_a=needs_a, guard_a=guard_a,
                         unrated=unrated) for size in sizes)


def _guards(known: Survey, wire_id: str) -> list[Guard]:
    """Return the worst device before each end of a conductor."""
    guards = [known.guard(edge, node) for edge in known.graph.edges_of.get(wire_id, ())
              if known.is_ungrounded(edge) for node in (edge.a, edge.b)]
    return [guard for guard in guards if guard is not None]


def _choice(
    known: Survey, wire: Conductor, size: Size, profile: Profile
) -> SizeChoice:
    bounds = ampacity_range(changed(wire, size=size), known.diagram, profile.ampacity_table)
    device_a = None if bounds.low_a is None else largest_device_a(bounds.low_a, profile)
    choice = SizeChoice(size, bounds.low_a, device_a or None)
    falls = list(_falls(known, wire.id, size, profile))
    if not falls:
        return choice
    percent, item, limit = max(falls, key=lambda fall: fall[0] / fall[2])
    return replace(choice, drop_percent=percent, item=item, limit_percent=limit)


def _falls(
    known: Survey, wire_id: str, size: Size, profile: Profile
) -> Iterator[tuple[float, str, float]]:
    """Yield what each consumer behind the conductor would lose with a size, with its limit. [%]."""
    wire = known.diagram.conductors[wire_id]
    if wire.length_m is None or wire.size is None:
        return
    thinner = _ohm_per_km(wire, size) / _ohm_per_km(wire, wire.size)
    for drop in known.drops:
        if wire_id in drop.shares and known.diagram.components[drop.item].kind != "starter":
            yield _percent(drop, wire_id, thinner), drop.item, limit_of(drop, known, profile).value


def _ohm_per_km(wire: Conductor, size: Size) -> float:
    return resistance_ohm_per_km(size, SOLVED_C, wire.tinned is True).value


def _percent(drop: Drop, wire_id: str, thinner: float) -> float:
    """Return a drop when one conductor has so many times its resistance. [%]."""
    own_v = drop.shares[wire_id]
    return 100 * (drop.drop_v + own_v * (thinner - 1)) / drop.nominal_v
