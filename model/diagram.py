"""The diagram: one immutable value that holds everything the owner has drawn.

Physical fields have no default: absent (None) means unknown, and what needs the field answers
"cannot tell". Yes/no fields are three-valued. Only drawing matters have defaults. This module
knows no kind of component, no rule and no screen.

Annotations are values here: as text, every start would evaluate two hundred of them to load a file.
"""

from typing import Annotated, Any, Literal

from msgspec import Meta, field
from msgspec.structs import force_setattr

from model.frozen_map import FrozenMap
from model.record import Number, PositiveNumber, Record, set_frozen

FORMAT_VERSION: Literal[1] = 1

Pole = Literal["+", "-", "L", "L2", "N", "E", "signal"]
YesNo = bool | None
Known = Literal["measured", "maker", "estimated"]
Severity = Literal["danger", "fault", "caution", "note"]

Id = Annotated[str, Meta(min_length=1, max_length=60, pattern=r"^[A-Za-z0-9_][A-Za-z0-9_\-]*$")]
Parameters = FrozenMap[str, Any]

SheetMm = Annotated[float, Meta(ge=-100_000, le=100_000)]
Point = tuple[SheetMm, SheetMm]
Count = Annotated[int, Meta(ge=1)]
Share = Annotated[float, Meta(ge=0, le=1)]
Degrees = Annotated[float, Meta(ge=-90, le=90)]


def _round(record: Record, *names: str) -> None:
    """Round sheet millimetres as the file does, so that what is saved equals what was drawn."""
    for name in names:
        point = getattr(record, name)
        if point is not None:
            force_setattr(record, name, _to_hundredth(point))


def _round_all(record: Record, name: str) -> None:
    points = getattr(record, name)
    if points is not None:
        force_setattr(record, name, tuple(_to_hundredth(point) for point in points))


def _to_hundredth(point: Point) -> Point:
    return (round(point[0], 2) + 0.0, round(point[1], 2) + 0.0)


class Override(Record, frozen=True, kw_only=True):
    """The owner's own figure in place of one of the rule set's, with the reason."""

    value: Number
    reason: str


class BoatInfo(Record, frozen=True, kw_only=True):
    """The boat, the title block and what is aboard but not drawn."""

    name: str = ""
    type_text: str = ""
    title: str = "Electrical system"
    number: str = ""
    edition: str = "1"
    date: str = ""
    drawn_by: str = ""
    approved_by: str = ""
    status: Literal["as_found", "planned", "as_built"] = "as_found"
    rule_set: Literal["us", "iso"] = "iso"
    length_unit: Literal["m", "ft"] = "m"
    overrides: FrozenMap[str, Override] = FrozenMap()
    length_m: PositiveNumber | None = None
    hull: Literal["grp", "wood", "steel", "aluminium", "other"] | None = None
    kept: Literal["afloat", "trailer", "ashore"] | None = None
    weeks_idle: PositiveNumber | None = None
    shore_nominal_v: PositiveNumber | None = None
    shore_polarity_assured: YesNo = None
    lowest_temperature_c: Number | None = None
    latitude_deg: Degrees | None = None
    autonomy_target_days: PositiveNumber | None = None
    passage_h: PositiveNumber | None = None
    aboard: tuple[
        Literal["hand_start", "jump_pack", "handheld_radio", "portable_ac_only"], ...
    ] = ()
    warnings: tuple[tuple[str, str], ...] = ()
    spares: tuple[tuple[str, float, int], ...] = ()
    printed: tuple[tuple[str, str, str], ...] = ()
    lightning_system: YesNo = None
    bonding_view: Literal["bonded", "unbonded", "owner_undecided"] | None = None
    extra: FrozenMap[str, str] = FrozenMap()

    def __post_init__(self) -> None:
        set_frozen(self, "overrides", "extra")


class DcSystem(Record, frozen=True, kw_only=True):
    """A galvanically separate or differently fed DC system, such as "12 V" or "48 V"."""

    id: Id
    name: str = ""
    nominal_v: PositiveNumber | None = None
    earthing: Literal["negative_earthed", "insulated"] | None = None
    negative_datum: str | None = None
    returns: Literal["implied", "drawn"] = "implied"


class Place(Record, frozen=True, kw_only=True):
    """Somewhere aboard; on the sheet a tinted outline, a grouping and not geography."""

    id: Id
    name: str = ""
    environment: (
        Literal[
            "accommodation",
            "engine_space",
            "petrol_engine_space",
            "petrol_tank_space",
            "battery_space",
            "bilge",
            "galley",
            "heads",
            "deck",
            "machinery",
            "helm",
            "locker",
        ]
        | None
    ) = None
    ambient_c: Number | None = None
    vented: YesNo = None
    reachable: YesNo = None
    distance_to_m: FrozenMap[str, float] = FrozenMap()
    outline: tuple[Point, ...] | None = None
    name_at: Point | None = None

    def __post_init__(self) -> None:
        set_frozen(self, "distance_to_m")
        _round(self, "name_at")
        _round_all(self, "outline")


class Component(Record, frozen=True, kw_only=True):
    """One part. What its parameters may be is in the record of its kind."""

    id: Id
    kind: str
    designation: str = ""
    name: str = ""
    place: str | None = None
    position_note: str = ""
    parameters: Parameters = FrozenMap()
    known: FrozenMap[str, Known] = FrozenMap()
    mounted_on: str | None = None
    return_by: Literal["own_conductor", "case", "isolated"] | None = None
    enclosure: str | None = None
    ignition_protected: YesNo = None
    installed: str | None = None
    warning_text: str = ""
    stored: YesNo = None
    extra: FrozenMap[str, str] = FrozenMap()
    at: Point | None = None
    turn: Literal[0, 90, 180, 270] = 0
    mirrored: bool = False
    label_at: Point | None = None
    row_of: str | None = None

    def __post_init__(self) -> None:
        set_frozen(self, "parameters", "known", "extra")
        _round(self, "at", "label_at")


class Size(Record, frozen=True, kw_only=True):
    """A conductor size as printed on the jacket: the row of a table, not a number."""

    standard: Literal["mm2", "awg", "sae"]
    text: str


class End(Record, frozen=True, kw_only=True):
    """One end of a conductor: the component and the terminal it goes to, and the lug there."""

    component: str
    terminal: str
    stack: Count | None = None
    lug_hole_mm: PositiveNumber | None = None
    termination: (
        Literal["ring", "captive_fork", "open_fork", "screw_clamp", "plug", "bare"] | None
    ) = None
    covered: YesNo = None


class Joint(Record, frozen=True, kw_only=True):
    """A joint along a conductor's run."""

    type: Literal["crimped", "soldered", "twist_on", "fork", "wing_nut", "household"]
    sealed: YesNo = None
    place: str | None = None


class SheetPath(Record, frozen=True, kw_only=True):
    """Where a conductor runs on the sheet: corner points with both ends, in mm."""

    points: tuple[Point, ...]
    by_hand: bool = False

    def __post_init__(self) -> None:
        _round_all(self, "points")


class Conductor(Record, frozen=True, kw_only=True):
    """A cable of one or more cores, drawn as one line. Lengths are one way, along the cable."""

    id: Id
    designation: str = ""
    cores: Annotated[tuple[Pole, ...], Meta(min_length=1)] = ("+",)
    start: End = field(name="from")
    finish: End = field(name="to")
    purpose: (
        Literal[
            "power",
            "control",
            "sense",
            "data",
            "bonding",
            "case_ground",
            "lightning",
            "bank_link",
        ]
        | None
    ) = None
    size: Size | None = None
    parallel_count: Count | None = None
    length_m: PositiveNumber | None = None
    return_length_m: PositiveNumber | None = None
    insulation_c: PositiveNumber | None = None
    construction: Literal["stranded", "solid"] | None = None
    cable_type: Literal["marked", "welding", "unmarked"] | None = None
    tinned: YesNo = None
    sheath: Literal["none", "part", "whole"] | None = None
    in_enclosure: YesNo = None
    factory_harness: YesNo = None
    engine_space_m: PositiveNumber | None = None
    route: tuple[str, ...] = ()
    bundle: str | None = None
    bundle_count: Count | None = None
    in_bilge: YesNo = None
    near_fuel: YesNo = None
    joint_above_water: YesNo = None
    colour: str | None = None
    sleeve_colour: str | None = None
    joints: tuple[Joint, ...] = ()
    label: str = ""
    label_printed: Literal["none", "one_end", "both_ends"] | None = None
    spare: YesNo = None
    ends_insulated: YesNo = None
    max_drop_v: PositiveNumber | None = None
    known: FrozenMap[str, Known] = FrozenMap()
    extra: FrozenMap[str, str] = FrozenMap()
    path: SheetPath | None = None
    label_at: Point | None = None

    def __post_init__(self) -> None:
        set_frozen(self, "known", "extra")
        _round(self, "label_at")

    def ends(self) -> tuple[End, End]:
        """Return both ends, start first."""
        return (self.start, self.finish)


class Mode(Record, frozen=True, kw_only=True):
    """One way of living aboard: positions of switches, what runs, what is away."""

    id: Id
    name: str = ""
    purpose: (
        Literal[
            "at_anchor",
            "passage",
            "motoring",
            "shore",
            "generator",
            "laid_up",
            "left_unattended",
            "emergency",
            "work",
        ]
        | None
    ) = None
    usual: YesNo = None
    positions: FrozenMap[str, str] = FrozenMap()
    engines_running: tuple[str, ...] = ()
    shore_connected: tuple[str, ...] = ()
    generators_running: tuple[str, ...] = ()
    sun_fraction: Share | None = None
    wind_mps: PositiveNumber | None = None
    absent: tuple[str, ...] = ()
    load_current_a: FrozenMap[str, float] = FrozenMap()
    state_of_charge: FrozenMap[str, float] = FrozenMap()

    def __post_init__(self) -> None:
        set_frozen(self, "positions", "load_current_a", "state_of_charge")


class Acceptance(Record, frozen=True, kw_only=True):
    """A finding the owner has accepted: rule, ids, the written reason, and the facts then."""

    id: Id
    rule: str
    where: tuple[str, ...]
    reason: Annotated[str, Meta(min_length=1)]
    by: str = ""
    date: str = ""
    facts: FrozenMap[str, str] = FrozenMap()

    def __post_init__(self) -> None:
        set_frozen(self, "facts")


class Sheet(Record, frozen=True, kw_only=True):
    """The paper the diagram is drawn for."""

    size: Literal["A4", "A3", "A2", "Letter", "Tabloid"] = "A3"
    grid_mm: float = 2.5
    legend: bool = True


COLLECTIONS = ("systems", "places", "components", "conductors", "modes", "acceptances")


class Diagram(Record, frozen=True, kw_only=True):
    """Everything drawn. Collections are keyed by id; nothing in it can be changed."""

    format_version: Literal[1] = FORMAT_VERSION
    boat: BoatInfo = BoatInfo()
    sheet: Sheet = Sheet()
    systems: FrozenMap[str, DcSystem] = FrozenMap()
    places: FrozenMap[str, Place] = FrozenMap()
    components: FrozenMap[str, Component] = FrozenMap()
    conductors: FrozenMap[str, Conductor] = FrozenMap()
    modes: FrozenMap[str, Mode] = FrozenMap()
    acceptances: FrozenMap[str, Acceptance] = FrozenMap()
    extra: FrozenMap[str, str] = FrozenMap()

    def __post_init__(self) -> None:
        set_frozen(self, *COLLECTIONS, "extra")
