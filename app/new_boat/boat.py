"""A whole boat from answers: the builders in their order, the boat's own facts, its modes."""

from __future__ import annotations

from collections.abc import Mapping
from typing import Literal

from app.drawing.conductors import is_drawn, routed_anew
from app.drawing.placing import placed_parts
from app.new_boat.always_on import always_on
from app.new_boat.answers import Answers
from app.new_boat.bank import bow_bank, house_bank, reserve_bank
from app.new_boat.engine import engine, links
from app.new_boat.heavy import feed_bank, inverter, motor
from app.new_boat.on_sheet import on_sheet
from app.new_boat.panel import panel
from app.new_boat.plan import Plan
from app.new_boat.shore import shore
from app.new_boat.sources import solar, wind
from model.diagram import DcSystem, Diagram, Mode, Place, SheetPath
from model.edits import changed

# How often each conductor is routed again when the others have their paths: once parts what lay
# on one another.
ROUNDS = 1

PLACES: Mapping[str, tuple[str, str]] = {
    "engine0": ("Engine space", "engine_space"),
    "engine1": ("Engine space", "engine_space"), "deck": ("On deck", "deck"),
    "locker": ("Technical locker", "locker"),
    "bow": ("Bow", "locker"), "bilge": ("Bilge", "bilge"), "saloon": ("Saloon", "accommodation")}


def boat_of(answers: Answers) -> Diagram:
    """Return the diagram of a boat as it was answered, its conductors routed."""
    plan = plan_of(answers)
    return _routed(plan.diagram(on_sheet(plan)))


def _routed(diagram: Diagram) -> Diagram:
    """Return the diagram with the path of each drawn conductor, so that no edit looks for it."""
    parts = placed_parts(diagram)
    wires = [wire for wire in diagram.conductors.values() if is_drawn(wire, parts)]
    paths = routed_anew(diagram, parts, wires, {}, ROUNDS)
    return diagram.replaced(conductors=diagram.conductors.with_items(
        (wire.id, changed(wire, path=SheetPath(points=paths[wire.id]))) for wire in wires))


def plan_of(answers: Answers) -> Plan:
    """Return the plan of a boat, whose parts have no place on the sheet yet."""
    settled = answers.settled()
    plan = Plan(settled)
    house_bank(plan)
    plan.named["heavy bus"] = plan.named["house bus"]
    for number in range(settled.engines):
        engine(plan, number)
    if settled.engines:
        links(plan)
    if settled.solar:
        solar(plan)
    if settled.wind:
        wind(plan)
    if settled.bow_bank:
        bow_bank(plan)
        feed_bank(plan, plan.named["bow bank"], "bow_converter", "Bow charging", "bow", "bow")
    if settled.needs_reserve:
        reserve_bank(plan)
        feed_bank(plan, plan.named["reserve bank"], "reserve_converter", "Reserve charging",
                  "reserve", "near")
    if settled.shore_v:
        shore(plan)
    if settled.inverter:
        inverter(plan)
    if settled.thruster:
        motor(plan, "thruster", "Bow thruster")
    if settled.windlass:
        motor(plan, "windlass", "Windlass")
    panel(plan)
    always_on(plan)
    _facts(plan)
    return plan


def _facts(plan: Plan) -> None:
    answers = plan.answers
    plan.boat = {
        "name": answers.name, "rule_set": answers.rule_set, "length_m": answers.length_m,
        "length_unit": "ft" if answers.rule_set == "us" else "m", "hull": "grp",
        "kept": "afloat", "status": "planned", "aboard": ("handheld_radio", "jump_pack")}
    if answers.shore_v:
        plan.boat |= {"shore_nominal_v": answers.shore_v, "shore_polarity_assured": False}
    returns: Literal["drawn", "implied"] = "drawn" if answers.negatives else "implied"
    for volts in {answers.house_v, answers.start_v if answers.engines else answers.house_v}:
        item = f"dc{volts}"
        plan.systems[item] = DcSystem(
            id=item, name=f"{volts} V", nominal_v=volts, earthing="negative_earthed",
            negative_datum=plan.named["datum"], returns=returns)
    _places(plan)
    _modes(plan)


def _places(plan: Plan) -> None:
    used = {part.place for part in plan.parts.values()}
    petrol = plan.answers.fuel == "petrol"
    for item, (name, environment) in PLACES.items():
        if item in used:
            if petrol and environment == "engine_space":
                environment = "petrol_engine_space"
            plan.places[item] = Place.read(
                {"id": item, "name": name, "environment": environment})


def _modes(plan: Plan) -> None:
    engines = tuple(one["block"] for one in plan.engines)
    inlets = tuple(part.id for part in plan.parts.values() if part.kind == "shore_inlet")
    plan.modes = [Mode(id="anchor", name="At anchor", purpose="at_anchor", usual=True,
                       sun_fraction=0.5),
                  Mode(id="passage", name="On passage", purpose="passage", usual=True,
                       sun_fraction=0.5)]
    if engines:
        plan.modes.append(Mode(id="motoring", name="Motoring", purpose="motoring", usual=True,
                               engines_running=engines))
    if inlets:
        plan.modes.append(Mode(id="shore", name="On shore power", purpose="shore", usual=True,
                               shore_connected=inlets))

