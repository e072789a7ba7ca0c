"""Overcurrent protection: kinds that open a circuit when the current is too high."""

from __future__ import annotations

from model.kinds.building import (
    CLOSED,
    ac_through_links,
    ac_through_ports,
    choice,
    count,
    number,
    on_off,
    reference,
    text,
    through_links,
    through_ports,
    typical,
    yes_no,
)
from model.kinds.record import Handle, Kind, Link, Parameters

FUSE_CLASSES = "blade bolted terminal class_t cartridge glass"

DEVICE_FIELDS = (
    number("rated_a", "Rated current", "A", "1.4 1.5 1.6", first=True),
    number("rated_dc_v", "Rated DC voltage", "V", "1.8", first=True),
    number("interrupt_a", "Interrupting rating", "A", "1.7 6.6", first=True),
    number("interrupt_at_v", "at a voltage of", "V", "1.7"),
    number("rated_ac_v", "Rated AC voltage", "V", "1.8"),
    choice("poles", "Opens", "+ - both", "1.19 8.10"),
    yes_no("full_duty", "Carries its full rating for hours", "1.6"),
    yes_no("on_post", "On the battery post", "1.2",
           "Bolted to the post: the conductor before it has no length."),
    yes_no("ignition_protected", "Ignition protected", "1.23"),
    yes_no("spare_aboard", "Spare aboard", "12.9"),
)

FUSE = Kind(
    "fuse", "Fuse", "F", "protection", "Melts when the current is too high for too long.",
    (
        choice("class", "Class", FUSE_CLASSES, "1.7 1.15", first=True),
        *DEVICE_FIELDS,
        choice("speed", "Speed", "fast slow", "1.17"),
        number("holder_rated_a", "Holder rating", "A", "1.26"),
    ),
    through_ports,
    lambda p: through_links(
        p, lambda a, b: Link(a, b, "overcurrent", "", frozenset({"in"}), device=p)),
    lambda _p: (Handle("", ("in", "pulled"), "in"),),
    role="protection", inline=True,
)

BREAKER = Kind(
    "breaker", "Breaker", "F", "protection", "Trips when the current is too high; can be reset.",
    (
        *DEVICE_FIELDS,
        choice("trip", "Trips by", "thermal magnetic electronic", "1.7"),
        choice("reset", "Reset", "manual_trip_free automatic", "1.18", first=True),
        yes_no("switch_duty", "May be used as a switch", "1.20 2.1"),
        reference("series_rating_with", "Series rating with", "1.7"),
        choice("role", "Duty", "bank load source_stop", "2.1"),
        text("kills", "Kills", "2.3"),
        yes_no("within_reach", "Within reach at once", "2.11"),
    ),
    through_ports,
    lambda p: through_links(p, lambda a, b: Link(a, b, "overcurrent", "", CLOSED, device=p)),
    lambda _p: on_off("on"),
    role="protection", inline=True,
)

AC_FIELDS = (
    number("rated_a", "Rated current", "A", "9.1 9.9", first=True, typical=typical(16)),
    number("rated_ac_v", "Rated AC voltage", "V", "9.9"),
    choice("poles_opened", "Opens", "L L_and_N", "9.2 9.3", first=True),
    count("residual_ma", "Residual current trip", "9.12", unit="mA"),
    number("interrupt_a", "Interrupting rating", "A", "1.7"),
    reference("interlock_with", "Interlocked with", "9.6"),
)


def _ac_contact(parameters: Parameters) -> tuple[Link, ...]:
    return ac_through_links(
        parameters, lambda a, b: Link(a, b, "overcurrent", "", CLOSED, device=parameters))


AC_BREAKER = Kind(
    "ac_breaker", "AC breaker", "F", "protection", "Breaker in an AC cable.",
    AC_FIELDS, ac_through_ports, _ac_contact, lambda _p: on_off("on"),
    role="protection", inline=True,
)

RESIDUAL_CURRENT_BREAKER = Kind(
    "residual_current_breaker", "Residual-current breaker", "F", "protection",
    "Trips when current leaks past the neutral.",
    AC_FIELDS, ac_through_ports, _ac_contact, lambda _p: on_off("on"),
    role="protection", inline=True,
)

KINDS = (FUSE, BREAKER, AC_BREAKER, RESIDUAL_CURRENT_BREAKER)
