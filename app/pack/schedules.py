"""The conductor schedule and the protection schedule."""

from __future__ import annotations

from collections.abc import Iterable

from app.drawing.wording import designation, figure, length_text, parallel_text, size_text
from app.pack.tables import Column, Row, Table
from model.analysis.ampacity import RuleSet
from model.analysis.protection import NO_DEVICE, UNKNOWN_RATING
from model.diagram import Conductor, Diagram, End
from model.graph import Edge
from model.kinds import kind_of
from model.storage.plain import natural_key
from model.survey import Survey

UNKNOWN = "?"


def conductor_schedule(diagram: Diagram, survey: Survey) -> Table:
    """Return every conductor with both ends, its size, and what protects it."""
    columns = (
        Column("No.", 0.05, "bold"), Column("From", 0.16), Column("To", 0.16),
        Column("Cores", 0.05), Column("Size", 0.07), Column("Length", 0.06),
        Column("Insulation", 0.065), Column("Sheath", 0.055), Column("Colour", 0.075),
        Column("Carries", 0.065), Column("Protected by", 0.125), Column("Purpose", 0.065),
    )
    rows = tuple(_conductor_row(diagram, survey, diagram.conductors[item])
                 for item in sorted(diagram.conductors, key=natural_key))
    return Table(
        "Conductor schedule", columns, rows,
        "Lengths are one way. A question mark is a fact nobody has written down yet. 'Carries' is "
        "the corrected ampacity by the rule set's table; figures from memory are marked *. "
        "'F1 after 0.2 m' is a lead that starts at a battery and meets its device there.",
    )


def _conductor_row(diagram: Diagram, survey: Survey, wire: Conductor) -> Row:
    rule_set: RuleSet = diagram.boat.rule_set
    carries = ""
    if not set(wire.cores) & {"signal", "E", "N", "L"}:
        found = survey.ampacity(wire, rule_set)
        carries = UNKNOWN if found.value_a is None else f"{found.value_a:.3g} A"
        if found.value_a is not None and not found.confirmed:
            carries += " *"
    cells = (
        designation(wire), _end_text(diagram, wire.start), _end_text(diagram, wire.finish),
        " ".join(wire.cores), parallel_text(wire) + size_text(wire.size),
        length_text(wire.length_m, diagram.boat.length_unit) or UNKNOWN,
        figure(wire.insulation_c, "°C") or UNKNOWN, wire.sheath or UNKNOWN,
        (wire.colour or UNKNOWN).replace("_", " "), carries, _protected_by(survey, wire),
        (wire.purpose or "power").replace("_", " "),
    )
    return Row(cells, wire.id)


def _end_text(diagram: Diagram, end: End) -> str:
    """Return an end as it is marked: the part, a colon and the terminal; then what it is."""
    component = diagram.components[end.component]
    name = component.name or kind_of(component).title.lower()
    return f"{designation(component)}:{end.terminal} {name}"


def _protected_by(survey: Survey, wire: Conductor) -> str:
    """Return the devices between this conductor and each battery that can feed it.

    A lead before its device shows the device it leads to, and how far that is from the battery.
    """
    if wire.id in survey.starter_circuit:
        return "starter circuit"
    edge = next((e for e in survey.graph.edges_of.get(wire.id, ()) if e.core == "+"), None)
    if edge is None or not survey.is_ungrounded(edge):
        return ""
    devices = []
    for node in (edge.a, edge.b):
        feed = survey.protection.worst(edge, node)
        if feed is None:
            continue
        if feed.rated_a == NO_DEVICE:
            devices += _met_by(survey, wire)
        elif feed.device:
            rated = "" if feed.rated_a == UNKNOWN_RATING else f" {feed.rated_a:g} A"
            devices.append(f"{feed.device}{rated}")
    return ", ".join(dict.fromkeys(devices))


def _met_by(survey: Survey, wire: Conductor) -> list[str]:
    """Return the devices met at the ends of a battery's lead, with the way to them."""
    unit = survey.diagram.boat.length_unit
    ends = [end for lead in survey.leads for end in lead.ends if wire.id in end.conductors]
    met = []
    for end in ends:
        away = UNKNOWN if end.missing else length_text(end.length_m, unit)
        met.append(f"{end.item} after {away}" if end.kind == "device" else "none at the battery")
    return met or ["none at the battery"]


def protection_schedule(diagram: Diagram, survey: Survey) -> Table:
    """Return every overcurrent device with its ratings and what it protects."""
    columns = (
        Column("Device", 0.08, "bold"), Column("Name", 0.2), Column("Sort", 0.12),
        Column("Rated", 0.07), Column("Voltage", 0.08), Column("Interrupts", 0.1),
        Column("Protects", 0.2), Column("Thinnest carries", 0.15),
    )
    rows = tuple(_device_row(diagram, survey, edge) for edge in _devices(survey))
    return Table("Protection schedule", columns, rows,
                 "Replace a device only by one of the same class and ratings.")


def _devices(survey: Survey) -> Iterable[Edge]:
    seen: dict[str, Edge] = {}
    for edge in survey.graph.edges:
        if edge.role == "overcurrent":
            seen.setdefault(edge.item, edge)
    return (seen[item] for item in sorted(seen, key=natural_key))


def _device_row(diagram: Diagram, survey: Survey, edge: Edge) -> Row:
    from model.analysis.ways import series_from

    component = diagram.components[edge.owner]
    device = edge.device
    sort = str(device.get("class") or device.get("device") or component.kind).replace("_", " ")
    ac = component.kind in ("ac_breaker", "residual_current_breaker", "ac_panel")
    volts = (figure(device.get("rated_ac_v"), "V AC") if ac
             else figure(device.get("rated_dc_v"), "V DC")) or UNKNOWN
    wires: list[str] = []
    for node in survey.protection.downstream.get(edge.index, ()):
        wires += series_from(survey.graph, node)[0]
    carried = [a.value_a for a in (
        survey.ampacity(diagram.conductors[w], diagram.boat.rule_set) for w in wires)
        if a.value_a is not None]
    name = str(device.get("label") or component.name)
    cells = (
        edge.item, name, sort, figure(device.get("rated_a"), "A") or UNKNOWN, volts,
        figure(device.get("interrupt_a"), "A") or UNKNOWN, ", ".join(wires),
        f"{min(carried):.3g} A" if carried else "" if ac or not wires else UNKNOWN,
    )
    return Row(cells, edge.owner if edge.item == edge.owner else "")
