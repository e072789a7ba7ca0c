"""Where the parts of a new boat stand on the sheet: in columns and rows of the 2.5 mm grid.

Sources at the top, the buses across the middle, banks below them, engines left, loads right, the
negative bus at the foot. A column is as wide as what stands in it; the next larger paper is taken
where they do not fit.
"""

from __future__ import annotations

import math
from collections.abc import Iterator, Mapping

from msgspec import Struct
from msgspec.structs import replace

from app.drawing.frame import ground_box
from app.drawing.marks import Box
from app.drawing.placing import placed_part
from app.new_boat.plan import Plan
from model.diagram import Component, Place
from model.frozen_map import FrozenMap

# How far down each row is on A3; on A2 all from the fuses down stand lower. [mm]
ROW_MM = {
    "source": 35.0, "stop": 57.5, "indicator": 70.0, "earth": 82.5, "device": 82.5, "side": 82.5,
    "trip": 42.5, "top panel": 22.5,
    "fuse": 110.0, "bus": 125.0, "engine bus": 137.5, "under": 137.5, "block": 152.5,
    "panel": 150.0, "switch": 150.0, "post": 167.5, "bank": 192.5, "machine": 167.5,
    "engine": 210.0, "shunt": 212.5, "negative": 230.0, "plate": 240.0,
    "engine panel": 97.5, "engine fuse": 117.5, "converter": 140.0, "upper negative": 95.0,
    "bow negative": 135.0, "reserve feed": 140.0, "reserve device": 162.5, "reserve post": 182.5,
    "reserve switch": 160.0, "reserve bank": 207.5,
}
# How much lower the rows are on A2: those that are fed from the sources, by whether much is drawn
# between the devices and the fuses, and the upper ones. [mm]
LOWER_MM = {False: 80.0, True: 107.5}
HIGH_LOWER_MM = {"source": 7.5, "stop": 20.0, "indicator": 22.5, "earth": 12.5, "device": 32.5,
                 "side": 32.5, "trip": 7.5, "top panel": 7.5}
HIGH_ROWS = frozenset(HIGH_LOWER_MM)
TIER_MM = 155.0
UPWARD = frozenset({"fuse", "post", "switch"})  # rows whose devices are fed from below
FEED_MM, ENGINE_MM, MOTOR_MM = 17.5, 117.5, 45.0
OUTLINED = frozenset({"solar_array", "wind_generator", "shore_inlet", "windlass", "thruster"})
# Where lettering stands by hand, as a second tier or a full sheet leaves no room beside.
LABEL_AT = {("battery_bank", "bank"): (-30.5, 12.5)}
STUD_MM, LINK_AT_MM, BESIDE_MM = 5.0, 102.5, 22.5
BLOCK_MM, RESERVE_MM, BLOCK_WIDE_MM = 105.0, 47.5, 77.5


class Air(Struct, frozen=True):
    """How much room things have beside one another, on a sheet that is more or less full. [mm]"""

    wide: Mapping[str, float]
    panel_mm: float
    engines_mm: float = 0.0  # more beside two engines than beside one
    margin_mm: float = 12.5  # left of an engine whose negatives are drawn
    earth_mm: float = 12.5  # for the earth of the AC side, beside the store
    heavy_mm: float = 22.5  # from the store to the first of the heavy loads
    inverter_mm: float = MOTOR_MM
    bow_mm: float = 25.0  # from the last motor of the bow to its bank


AIRY = Air({"dc_dc_charger": 42.5, "solar_controller": 47.5, "wind_controller": 62.5,
            "shore_charger": 57.5}, panel_mm=77.5, engines_mm=10.0)
TIGHT = Air({"dc_dc_charger": 32.5, "solar_controller": 42.5, "wind_controller": 55.0,
             "shore_charger": 47.5}, panel_mm=60.0)
TIGHTER = replace(TIGHT, inverter_mm=32.5, bow_mm=5.0)
TIGHTEST = replace(TIGHTER, margin_mm=7.5, earth_mm=2.5, heavy_mm=17.5)


class Columns:
    """The columns of one boat: how far from the left each zone begins. [mm]"""

    def __init__(self, plan: Plan, paper: str, air: Air) -> None:
        self.ground = ground_box(paper)
        self.plan, self.paper, self.air, answers = plan, paper, air, plan.answers
        wants_room = answers.negatives or answers.engines > 1
        self.lower_mm = 0.0 if paper == "A3" else LOWER_MM[wants_room]
        self.engine = self.ground.x0 + (air.margin_mm if wants_room else 0.0)
        left = self.engine + (ENGINE_MM if plan.engines else 0) + (
            air.engines_mm if answers.engines > 1 else 0.0)
        self.charge = dict(self._charging(left))
        self.block = left + BESIDE_MM
        below_mm = BLOCK_MM + (RESERVE_MM if answers.needs_reserve else 0)
        self.bus_end = max(self._charge_end, self.block + below_mm)
        has_unit = any(part.kind == "inverter_charger" for part in plan.parts.values())
        self.unit = self.bus_end + (60.0 if answers.negatives else 47.5)
        earth_mm = air.earth_mm * (
            answers.negatives or (answers.inverter and not answers.shore_v))
        self.store = self.unit + 37.5 if has_unit else self.bus_end + 50 + earth_mm
        self.upper_negative = self.bus_end + (30.0 if has_unit else 17.5)
        self._rightmost()

    def _rightmost(self) -> None:
        """Note where panel and bow stand, and where all ends."""
        answers, air = self.plan.answers, self.air
        self.panel = self.store + 25
        self.bow_bus = max(self.panel + 20, self._heavy_end())
        motors = answers.windlass + answers.thruster
        self.bow = max(self.panel + air.panel_mm + 17.5,
                       self.bow_bus + MOTOR_MM * (motors - 1) + air.bow_mm)
        top = 155 if answers.inverter else 90
        self.end = max(self.panel + air.panel_mm, self._heavy_end(),
                       self.store + top if answers.shore_v else 0,
                       self.bow + 45 if answers.bow_bank else 0)

    @property
    def fits(self) -> bool:
        """Say whether all columns stand on the paper."""
        return self.end <= self.ground.x1

    def _charging(self, left: float) -> Iterator[tuple[int, float]]:
        """Yield each column over the battery bus with its place, and note where they end."""
        columns: dict[int, float] = {}
        for item, (zone, column, row) in self.plan.slots.items():
            if zone == "charge" and row in ("device", "fuse", "source"):
                width = self.air.wide.get(self.plan.parts[item].kind, 0.0)
                columns[column] = max(columns.get(column, 0.0), width)
        for column, width in sorted(columns.items()):
            yield column, left + (BESIDE_MM if width else FEED_MM - STUD_MM)
            left += width or FEED_MM
        self._charge_end = left

    def _heavy_end(self) -> float:
        columns = {slot[1] for slot in self.plan.slots.values()
                   if slot[0] == "heavy" and slot[2] == "device"}
        return self.heavy_x(len(columns))

    def heavy_x(self, column: int) -> float:
        """Return how far from the left a column of heavy loads stands; an inverter is the first.
        [mm]
        """
        first = self.air.inverter_mm if self.plan.answers.inverter else MOTOR_MM
        return self.store + self.air.heavy_mm + (
            first + MOTOR_MM * (column - 1) if column else 0.0)

    def y(self, row: str) -> float:
        """Return how far down a row is. [mm]"""
        if row in HIGH_ROWS:
            return ROW_MM[row] + (HIGH_LOWER_MM[row] if self.lower_mm else 0.0)
        return ROW_MM[row] + self.lower_mm


def on_sheet(plan: Plan) -> str:
    """Give every part of a plan its place; return the paper it stands on."""
    columns = _columns(plan)
    panel = plan.parts[plan.named["panel"]]
    plan.parts[panel.id] = panel.replaced(parameters=FrozenMap(
        {**panel.parameters, "width_mm": columns.air.panel_mm}))
    block = plan.parts[plan.named["block"]]
    plan.parts[block.id] = block.replaced(parameters=FrozenMap(
        {**block.parameters, "width_mm": BLOCK_WIDE_MM}))
    for item, (zone, column, row) in plan.slots.items():
        x, y, turn = _place(columns, plan.parts[item], zone, column, row)
        has_no_room = (len(plan.engines) > 1 if zone.startswith("engine")
                       else zone == "store" and columns.air is TIGHTEST)
        plan.parts[item] = plan.parts[item].replaced(
            at=(_grid(x), _grid(y)), turn=turn,
            label_at=LABEL_AT.get((plan.parts[item].kind, row)) if has_no_room else None)
    plan.places = {item: _outlined(columns, place) for item, place in plan.places.items()}
    for bar in [part for part in plan.parts.values() if part.kind == "busbar"]:
        _spread_studs(plan, bar, _limits(columns, bar, plan.slots[bar.id]))
    return columns.paper


def _columns(plan: Plan) -> Columns:
    """Return the columns on the smallest paper, and as wide as there is room."""
    tries = [Columns(plan, "A3", TIGHT), *(
        Columns(plan, "A2", air) for air in (AIRY, TIGHT, TIGHTER, TIGHTEST))]
    if plan.answers.negatives or plan.answers.engines > 1:
        del tries[0]
    return next((columns for columns in tries if columns.fits), tries[-1])


def _outlined(columns: Columns, place: Place) -> Place:
    """Give a place its tinted outline, where its parts stand together."""
    if place.id.startswith("engine"):
        up = TIER_MM * int(place.id[-1])
        box = Box(columns.engine + 2.5, columns.y("machine") - 10 - up,
                  columns.engine + 52.5, columns.y("engine") + 17.5 - up)
        return place.replaced(outline=_corners(box), name_at=(box.x0 + 20, box.y1 - 2))
    bodies = [part.body for item in columns.plan.slots
              if columns.plan.parts[item].place == place.id
              and (part := placed_part(columns.plan.parts[item])) is not None
              and part.component.kind in OUTLINED]
    if not bodies:
        return place
    top = max(columns.ground.y0 + 1.5, min(b.y0 for b in bodies) - 6)
    box = Box(max(columns.ground.x0 + 1.5, min(b.x0 for b in bodies) - 5), top,
              min(columns.ground.x1 - 1.5, max(b.x1 for b in bodies) + BESIDE_MM + 5),
              max(b.y1 for b in bodies) + 1)
    return place.replaced(outline=_corners(box), name_at=(box.x0 + 2, box.y0 + 4))


def _corners(box: Box) -> tuple[tuple[float, float], ...]:
    return ((box.x0, box.y0), (box.x1, box.y0), (box.x1, box.y1), (box.x0, box.y1))


def _grid(mm: float) -> float:
    return round(mm / 2.5) * 2.5


Spot = tuple[float, float, int]


def _place(columns: Columns, part: Component, zone: str, column: int, row: str) -> Spot:
    turn = 180 if row in UPWARD and part.kind != "dc_dc_charger" else 0
    if zone.startswith("engine"):
        return _engine_place(columns, part, int(zone[-1]), column, row, turn)
    if zone == "charge":
        return _charge_place(columns, column, row, turn)
    if zone == "store":
        return _store_place(columns, part, column, row, turn)
    if zone == "link":
        if part.name.startswith("House"):
            return columns.bus_end - 22.5, columns.y("engine bus"), 270
        return columns.engine + LINK_AT_MM, columns.y("engine bus") - 37.5, 180
    if zone == "alternating":
        x = columns.store + (75 if columns.plan.answers.inverter else 10)
        return (x - 17.5, columns.y("trip"), 180) if row == "trip" else (
            x, columns.y("top panel"), 0)
    if zone == "panel":
        return columns.panel, columns.y(row), 0
    if zone == "heavy":
        return _heavy_place(columns, part, column, row, turn)
    if zone == "bow":
        return _bow_place(columns, part, column, row, turn)
    return _reserve_place(columns, column, row, turn)


def _engine_place(columns: Columns, part: Component, number: int, column: int, row: str,
                  turn: int) -> Spot:
    """An engine's corner: starter and alternator over the block, the start bank at their right.

    The second engine stands a tier higher.
    """
    left, up = columns.engine, number * TIER_MM
    if row == "bus":
        return left + 12.5, columns.y("engine bus") - up, 0
    if part.kind == "instrument":
        return left + 20, columns.y("engine panel") - up, 90
    if row == "fuse":
        return left + 40, columns.y("engine fuse") - up, 180
    x = {"engine_block": 27.5, "starter": 12.5, "alternator": 40.0, "battery_bank": 85.0,
         "battery_switch": 85.0}.get(part.kind)
    if x is None:  # the fuses at the post: alternator's left of the switch, converter's right
        x = 60.0 if column == 1 else 110.0
        if column == 3 and number:  # above what comes from the engine below
            row = "engine fuse"
    return left + x, columns.y(row) - up, turn


def _charge_place(columns: Columns, column: int, row: str, turn: int) -> Spot:
    if row == "bus":
        return columns.block, columns.y(row), 0
    if row == "block":
        return columns.block, columns.y(row), 0
    x = columns.charge[column]
    aside = {"side": 22.5, "indicator": -15.0, "earth": 32.5}.get(row, 0.0)
    return x + aside, columns.y(row), 0 if row == "stop" else turn


def _store_place(columns: Columns, part: Component, column: int, row: str, turn: int) -> Spot:
    if row == "upper negative":
        return columns.upper_negative, columns.y(row), 90
    if row == "plate":
        return columns.panel - 15, columns.y(row), 0
    x = {-1: columns.bus_end, 0: columns.store, 1: columns.unit}[column]
    aside = {"indicator": 17.5, "earth": -17.5}.get(row, 0.0)
    row = "indicator" if row == "earth" else row
    return x + aside, columns.y(row), 0 if row in ("device", "stop", "source") else turn


def _heavy_place(columns: Columns, part: Component, column: int, row: str, turn: int) -> Spot:
    if row == "bus":
        return columns.store, columns.y(row), 0
    x = columns.heavy_x(column)
    if part.kind in ("windlass", "thruster"):
        return x + 15, columns.y(row), 0
    return x, columns.y(row), turn


def _reserve_place(columns: Columns, column: int, row: str, turn: int) -> Spot:
    """The reserve bank stands under the battery bus, its converter at its left."""
    x = columns.bus_end - 32.5 - 32.5 * column
    return x, columns.y(f"reserve {row}"), 0 if row in ("device", "bank", "feed") else 180


def _bow_place(columns: Columns, part: Component, column: int, row: str, turn: int) -> Spot:
    """The bow bank stands right of the panel, its motors over both, its converter beside it."""
    motor_x = columns.bow_bus + MOTOR_MM * column
    if part.kind == "breaker":
        return motor_x, columns.y("fuse"), 180
    if part.kind in ("windlass", "thruster"):
        return motor_x + 15, columns.y("device"), 0
    if row == "bus":
        return columns.bow_bus, columns.y(row), 0
    if row == "negative":
        return columns.bow + 40, columns.y("bow negative"), 90
    if part.kind == "dc_dc_charger":
        return columns.bow + 25, columns.y("converter"), 0
    if part.kind == "fuse" and column == 1:
        return columns.bow + 25, columns.y(row), turn
    return columns.bow, columns.y(row), turn


def _limits(columns: Columns, bar: Component, slot: tuple[str, int, str]) -> tuple[float, float]:
    """Return from where to where a bar may reach. [mm]"""
    zone, _, row = slot
    if row == "negative" and zone == "store":
        return columns.engine, columns.panel - 12.5
    if row == "upper negative":
        return columns.y("stop"), math.inf
    if row == "negative":
        return columns.y("device") + 15, math.inf
    if row != "bus":
        return -math.inf, math.inf
    if zone.startswith("engine"):
        return columns.engine, columns.engine + 90.0
    if zone == "charge":
        return -math.inf, columns.bus_end
    return columns.store - 7.5, math.inf


def _spread_studs(plan: Plan, bar: Component, limits: tuple[float, float]) -> None:
    """Place each stud of a bar under or over what it leads to, and not nearer than 5 mm.

    At one height beside an upright bar the nearest part comes first: the others' lines pass below.
    """
    assert bar.at is not None
    wanted, apart = {}, {}
    axis = 1 if bar.turn else 0
    for wire in plan.wires.values():
        for own, other in (wire.ends(), wire.ends()[::-1]):
            if own.component == bar.id:
                part = placed_part(plan.parts[other.component])
                at = bar.at
                if part is not None and (part.component.kind != "busbar" or part.component.turn):
                    at = part.port(other.terminal).at
                assert at is not None
                wanted[own.terminal] = _grid(min(max(at[axis], limits[0]), limits[1]))
                apart[own.terminal] = abs(at[0] - bar.at[0]) if axis else 0.0
    order = sorted(wanted, key=lambda stud: (wanted[stud], apart[stud]))
    places = _kept_apart([wanted[stud] for stud in order], limits[1])
    first = min(places)
    at_mm = dict(zip(order, places, strict=True))
    studs = sorted(order, key=lambda stud: int(stud[1:]))
    at = (bar.at[0], first) if axis else (first, bar.at[1])
    plan.parts[bar.id] = bar.replaced(at=at, parameters=FrozenMap({
        **bar.parameters, "stud_at_mm": tuple(at_mm[stud] - first for stud in studs)}))


def _kept_apart(wanted: list[float], most: float) -> list[float]:
    """Return places from the least to the largest, 5 mm apart at least: those too near one another
    move on, those beyond `most` back. [mm]
    """
    places: list[float] = []
    for mm in wanted:
        places.append(max(mm, places[-1] + STUD_MM) if places else mm)
    for number in reversed(range(len(places))):
        places[number] = min(places[number], most)
        most = places[number] - STUD_MM
    return places
