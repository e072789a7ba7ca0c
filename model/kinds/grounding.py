"""Kinds of the earthing and AC side that carry no current when all is well."""

from __future__ import annotations

from model.kinds.building import (
    ac_poles,
    choice,
    fixed_ports,
    number,
    port,
    text,
    yes_no,
)
from model.kinds.record import Handle, Kind, Link, Parameters, Port

EARTH = Kind(
    "earth_plate", "Earth plate", "E", "earthing", "Plate in the water.",
    (yes_no("capacitor_only", "For a radio, through a capacitor", "7.10", first=True),
     text("anode_group", "Anode group", "7.15")),
    fixed_ports(port("n", "-")), role="earth",
)
HULL_BOND = Kind(
    "hull_bond", "Hull bond", "E", "earthing", "The one point where the negative meets the hull.",
    (yes_no("metal_hull", "Metal hull", "7.1 7.7", first=True),
     text("anode_group", "Anode group", "7.15")),
    fixed_ports(port("n", "-")), role="earth",
)
BONDING_BUS = Kind(
    "bonding_bus", "Bonding bus", "X", "earthing", "Joins the metal parts that are bonded.",
    (text("anode_group", "Anode group", "7.15", first=True),),
    fixed_ports(port("n", "bonding")), role="earth",
)
ISOLATION_TRANSFORMER = Kind(
    "isolation_transformer", "Isolating transformer", "T", "alternating",
    "Parts the boat from the quay: no conductor passes.",
    (number("rated_w", "Rated power", "VA", "9.16", first=True),
     choice("secondary_bond", "Secondary neutral", "bonded floating", "9.5", first=True),
     yes_no("polarising", "Polarises", "9.3", first=True)),
    fixed_ports(Port("ac_in", ac_poles("in")), Port("ac_out", ac_poles("out"))),
    lambda _p: (Link("inL", "outL", "converter", one_way=True),), role="converter",
)
GALVANIC_ISOLATOR = Kind(
    "galvanic_isolator", "Galvanic isolator", "R", "alternating",
    "Blocks small DC in the protective earth, lets a fault current pass.",
    (number("rated_a", "Rated current", "A", "7.5 7.6", first=True),
     yes_no("fail_safe", "Fails closed", "7.6", first=True)),
    fixed_ports(Port("a", ac_poles("a")), Port("b", ac_poles("b"))),
    lambda _p: tuple(Link(f"a{pole}", f"b{pole}", "join") for pole in ("L", "L2", "N", "E")),
    role="measuring", inline=True,
)

TRANSFER_POSITIONS = ("1", "0", "2")


def _transfer_links(parameters: Parameters) -> tuple[Link, ...]:
    both = parameters.get("switches_neutral")
    links: list[Link] = []
    for position in ("1", "2"):
        closed = frozenset({position})
        for pole in ("L", "L2", "N", "E"):
            if pole in ("L", "L2") or (pole == "N" and both):
                links.append(Link(f"{position}{pole}", f"c{pole}", "contact", "", closed,
                                  device=parameters))
            else:
                links.append(Link(f"{position}{pole}", f"c{pole}", "join"))
    return tuple(links)


AC_TRANSFER_SWITCH = Kind(
    "ac_transfer_switch", "AC transfer switch", "Q", "alternating",
    "Takes AC from one supply or another, never both.",
    (choice("type", "Type", "rotary interlocked relay", "9.4", first=True),
     yes_no("break_before_make", "Breaks before it makes", "9.4 9.6", first=True),
     yes_no("switches_neutral", "Switches the neutral", "9.4 9.5", first=True),
     number("rated_a", "Rated current", "A", "9.10", first=True),
     text("position_names", "What each position does", "12.3")),
    fixed_ports(Port("1", ac_poles("1")), Port("2", ac_poles("2")), Port("c", ac_poles("c"))),
    _transfer_links,
    lambda _p: (Handle("", TRANSFER_POSITIONS, "1"),), role="switch",
)
FUEL_TANK = Kind(
    "fuel_tank", "Fuel tank", "X", "earthing", "Metal tank or fill that must be bonded.",
    (choice("fuel", "Fuel", "diesel petrol", "7.13 5.15", first=True),
     yes_no("metal", "Metal", "7.13", first=True)),
    fixed_ports(port("n", "bonding")), role="earth",
)

NEUTRAL_EARTH_BOND = Kind(
    "neutral_earth_bond", "Neutral-earth bond", "E", "alternating",
    "Where the neutral meets the protective earth, at the source that supplies.",
    (choice("present_when", "Present when", "always this_source_supplies", "9.4 9.5", first=True),),
    fixed_ports(port("n", "N"), port("e", "E")), role="earth",
)

KINDS = (
    EARTH, HULL_BOND, BONDING_BUS, ISOLATION_TRANSFORMER, GALVANIC_ISOLATOR, AC_TRANSFER_SWITCH,
    FUEL_TANK, NEUTRAL_EARTH_BOND,
)
