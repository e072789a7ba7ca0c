"""Another kind in the place of a part, its connections and what is known of it kept.

A conductor goes to the terminal of the same name, else to one on the same side of the part that
takes its cores. What finds no terminal keeps its cable and ends on a loose stud beside the part.
"""

from __future__ import annotations

from collections.abc import Mapping
from typing import Any, Literal

from msgspec import Struct
from msgspec.structs import replace

from app.drafting.inserting import with_pole
from app.drafting.next_part import beside
from app.drafting.parts import new_component, repathed
from app.drafting.wires import connect_edit
from app.drawing.conductors import is_drawn
from app.drawing.placing import placed_part, placed_parts
from app.drawing.routing import snapped
from app.words import _, within
from model.diagram import Component, Conductor, Diagram, End, Mode
from model.edits import Edit, apply, changed, merge, setting
from model.kinds import Kind, Port, catalogue, kind_of
from model.validity import has_item

Side = Literal["start", "finish"]
LOOSE_MM = 15.0  # from a part to a stud that holds what no terminal takes
_SAME_POSITION = {"in": "on", "pulled": "off", "on": "in", "off": "pulled"}


class Plan(Struct, frozen=True):
    """What replacing a part by a kind keeps: ports by the old port, and what finds none.

    `loose` are conductors with the side that ends nowhere; `lost` the titles of known fields that
    the new kind does not have.
    """

    kind: str
    ports: Mapping[str, str]
    loose: tuple[tuple[str, Side], ...]
    kept: int
    lost: tuple[str, ...]

    def words(self) -> str:
        """Return what is kept and what is not, to be read before it is done."""
        ends = f"{len(self.loose)} of its conductors" if len(self.loose) > 1 else "one conductor"
        told = [f"{self.kept} fields stay." if self.kept != 1 else "1 field stays."]
        if self.lost:
            told.append(f"Not on the new part: {', '.join(self.lost)}.")
        if self.loose:
            names = ", ".join(dict.fromkeys(wire for wire, _ in self.loose))
            told.append(f"No terminal for {ends} ({names}): a loose end is drawn beside it.")
        else:
            told.append("Every conductor finds a terminal.")
        return " ".join(told)


def plans(diagram: Diagram, item: str) -> tuple[Plan, ...]:
    """Return the kinds that can stand in for a part, those that keep most first."""
    component = diagram.components[item]
    own = kind_of(component)
    wired = any(item in {end.component for end in wire.ends()}
                for wire in diagram.conductors.values())
    found = []
    for kind in catalogue().values():
        if kind.slug == own.slug or not _is_akin(own, kind) or not _keeps_rows(diagram, item, kind):
            continue
        plan = plan_for(diagram, item, kind)
        if not wired or plan.ports:
            found.append(plan)
    same_family = {plan.kind: catalogue()[plan.kind].family == own.family for plan in found}
    return tuple(sorted(found, key=lambda plan: (
        len(plan.loose), not same_family[plan.kind], -plan.kept)))


def _is_akin(own: Kind, kind: Kind) -> bool:
    """Say whether two kinds do alike: in a line both, or of one role; a panel is no plain bar."""
    if own.inline and kind.inline:
        return True
    return own.role == kind.role and (own.field("ways") is None) == (kind.field("ways") is None)


def _keeps_rows(diagram: Diagram, item: str, kind: Kind) -> bool:
    """Say whether the loads drawn in the rows of a part find those rows on the new kind."""
    after = diagram.replaced(components=diagram.components.with_item(
        item, _renewed(diagram.components[item], kind)))
    rows = [part.row_of.partition(".") for part in diagram.components.values() if part.row_of]
    return all(has_item(after, owner, way) for owner, _, way in rows if owner == item)


def plan_for(diagram: Diagram, item: str, kind: Kind) -> Plan:
    """Return what replacing a part by a kind would keep."""
    before = diagram.components[item]
    after = _renewed(before, kind)
    olds = {port.id: port for port in kind_of(before).ports(before.parameters)}
    news = {port.id: port for port in kind.ports(after.parameters)}
    sides = {name: _sides(before, port) for name, port in olds.items()}
    new_sides = {name: _sides(after, port) for name, port in news.items()}
    wires = [(wire, side, end.terminal) for wire in diagram.conductors.values()
             for side, end in _sided_ends(wire) if end.component == item]
    ports: dict[str, str] = {}
    loose: list[tuple[str, Side]] = []
    for wire, side, terminal in sorted(wires, key=lambda entry: entry[2] not in news):
        if terminal not in ports:
            best = _best_port(wire, olds[terminal], sides[terminal], news, new_sides,
                              set(ports.values()))
            if best is not None:
                ports[terminal] = best
        taken = news.get(ports.get(terminal, ""))
        if taken is None or not _takes(taken, wire):
            loose.append((wire.id, side))
    lost = tuple(spec.title.lower() for spec in kind_of(before).fields
                 if spec.name in before.parameters and spec.name not in after.parameters
                 and not spec.drawing)
    return Plan(kind.slug, ports, tuple(loose), len(after.parameters), lost)


def _sided_ends(wire: Conductor) -> tuple[tuple[Side, End], tuple[Side, End]]:
    return ("start", wire.start), ("finish", wire.finish)


def _renewed(component: Component, kind: Kind) -> Component:
    """Return the part as one of the kind, with the fields both have."""
    kept = {spec.name: component.parameters[spec.name] for spec in kind.fields
            if spec.name in component.parameters
            and spec.expected(component.parameters[spec.name]) is None}
    known = {name: how for name, how in component.known.items() if name in kept}
    made: Component = changed(component, kind=kind.slug, parameters=kept, known=known,
                              label_at=None)
    return made


def _sides(component: Component, port: Port) -> frozenset[str]:
    """Return whether power goes in or out at a port, by the ways through its part."""
    sides = set()
    for link in kind_of(component).links(component.parameters):
        if link.role in ("converter", "diode"):
            sides |= {"in"} if link.a in port.poles.values() else set()
            sides |= {"out"} if link.b in port.poles.values() else set()
    return frozenset(sides)


def _takes(port: Port, wire: Conductor) -> bool:
    return all(port.terminal_for(core, len(wire.cores)) is not None for core in wire.cores)


def _best_port(
    wire: Conductor, old: Port, side: frozenset[str], news: Mapping[str, Port],
    new_sides: Mapping[str, frozenset[str]], taken: set[str],
) -> str | None:
    """Return the new port for what ended on an old one, or None."""
    def score(port: Port) -> tuple[bool, int, bool, int]:
        agreeing = len(side & new_sides[port.id]) - len(side ^ new_sides[port.id])
        return (port.id == old.id, agreeing, port.poles.keys() == old.poles.keys(),
                len(port.poles.keys() & old.poles.keys()))

    fit = [port for port in news.values()
           if _takes(port, wire) and (port.id not in taken or set(port.poles) == {"-"})
           and (port.id == old.id or set(wire.cores) <= set(port.poles))
           and not (side and new_sides[port.id] and not side & new_sides[port.id])]
    return max(fit, key=score).id if fit else None


def replace_edit(diagram: Diagram, item: str, plan: Plan) -> Edit:
    """Return the edit that puts a part of the plan's kind in the place of another."""
    kind = catalogue()[plan.kind]
    after_part = _renewed(diagram.components[item], kind)
    beside = next((wire for wire in diagram.conductors.values()
                   if item in {end.component for end in wire.ends()}), None)
    if beside is not None and kind.inline:
        after_part = with_pole(after_part, beside)
    label = _("Replace {part} by {kind}").format(part=item, kind=within(kind.title))
    studs = _studs(diagram, after_part, plan, label)
    after = apply(diagram, studs)
    wires = [_rejoined(wire, item, plan, studs) for wire in after.conductors.values()
             if item in {end.component for end in wire.ends()}]
    modes = [_kept_mode(mode, item, after_part) for mode in after.modes.values()]
    systems = _kept_data(after, item, after_part, plan)
    step = setting(after, label, after_part, *wires,
                   *(mode for mode in modes if mode != after.modes[mode.id]), *systems)
    done = merge(studs, step)
    return replace(merge(done, _drawn(apply(diagram, done), item, label)), label=label)


def _studs(diagram: Diagram, part: Component, plan: Plan, label: str) -> Edit:
    """Return the edit that puts a stud beside the part for each end that finds no terminal."""
    done = Edit(label, ())
    after = diagram
    placed = placed_part(part)
    for number, (wire_id, _side) in enumerate(plan.loose):
        wire = diagram.conductors[wire_id]
        body = None if placed is None else placed.body
        at = (0.0, 0.0) if body is None else (
            snapped(body.x1 + LOOSE_MM), snapped(body.y0 + number * 5.0))
        stud = new_component(after, "stud", at)
        spec = catalogue()["stud"].field("pole")
        pole = {"pole": wire.cores[0]} if spec and wire.cores[0] in spec.choices else {}
        fields: dict[str, Any] = {"name": f"Loose end of {wire_id}", "parameters": pole,
                                  "place": part.place}
        if len(wire.cores) > 1:
            stud = stud.replaced(kind=_holder_of(wire))
            fields["parameters"] = {}
        if body is None:
            fields["at"] = None
        step = setting(after, label, changed(stud, **fields))
        after, done = apply(after, step), merge(done, step)
    return done


def _holder_of(wire: Conductor) -> str:
    """Return the kind of part that holds all cores of a cable that ends nowhere."""
    return "ac_load" if set(wire.cores) & {"L", "L2", "N"} else "box"


def _rejoined(wire: Conductor, item: str, plan: Plan, studs: Edit) -> Conductor:
    ends: dict[str, End] = {}
    for side, end in _sided_ends(wire):
        if end.component != item:
            continue
        if (wire.id, side) in plan.loose:
            stud = studs.changes[plan.loose.index((wire.id, side))].after
            assert isinstance(stud, Component)
            port = next(port for port in kind_of(stud).ports(stud.parameters)
                        if _takes(port, wire))
            ends[side] = changed(end, component=stud.id, terminal=port.id)
        else:
            ends[side] = changed(end, terminal=plan.ports[end.terminal])
    made: Conductor = changed(wire, **ends)
    return made


def _kept_mode(mode: Mode, item: str, part: Component) -> Mode:
    """Return a mode with the positions that the new part has; pulled and off mean the same."""
    handles = {f"{item}.{handle.id}" if handle.id else item: handle.positions
               for handle in kind_of(part).handles(part.parameters)}
    positions = {}
    for name, position in mode.positions.items():
        if name.partition(".")[0] != item:
            positions[name] = position
        elif name in handles:
            same = position if position in handles[name] else _SAME_POSITION.get(position)
            if same in handles[name]:
                positions[name] = same
    made: Mode = changed(mode, positions=positions)
    return made


def _kept_data(diagram: Diagram, item: str, part: Component, plan: Plan) -> list[Any]:
    """Return systems whose negative is measured at the part, where that terminal stays or goes."""
    terminals = {terminal for port in kind_of(part).ports(part.parameters)
                 for terminal in port.poles.values()}
    found = []
    for system in diagram.systems.values():
        owner, _dot, terminal = (system.negative_datum or "").partition(".")
        if owner == item and terminal not in terminals:
            moved = plan.ports.get(terminal)
            datum = f"{item}.{moved}" if moved in terminals else None
            found.append(changed(system, negative_datum=datum))
    return found


def _drawn(diagram: Diagram, item: str, label: str) -> Edit:
    """Return the edit that gives the conductors of a part their lines anew."""
    parts = placed_parts(diagram)
    wires = [repathed(diagram, parts, wire, {item}, None) for wire in diagram.conductors.values()
             if item in {end.component for end in wire.ends()} and is_drawn(wire, parts)]
    return setting(diagram, label, *wires)


def external_regulator_edit(diagram: Diagram, alternator: str) -> Edit:
    """Return the edit that gives an alternator a regulator of its own, joined to its field."""
    machine = diagram.components[alternator]
    box = new_component(diagram, "regulator", (0.0, 0.0))
    box = beside(diagram, (alternator, "field"), box, "field") or box.replaced(at=None)
    label = _("Fit an external regulator to {part}").format(part=alternator)
    parameters = {**machine.parameters, "regulation": "external", "regulator": box.id}
    known = machine.known.with_item("set_v", None)
    set_v = parameters.pop("set_v", None)
    fields: dict[str, Any] = {"parameters": {"regulates": alternator}, "place": machine.place}
    if set_v is not None:
        fields["parameters"]["absorption_v"] = set_v
    step = setting(diagram, label, changed(box, **fields),
                   changed(machine, parameters=parameters, known=known))
    joined = connect_edit(apply(diagram, step), (box.id, "field"), (alternator, "field"))
    return replace(merge(step, joined), label=label)

