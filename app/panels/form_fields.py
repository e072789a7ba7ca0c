"""The fields that conductors, parts of every kind, systems and the boat have, in their order."""

from __future__ import annotations

from app.words import decimal
from model.diagram import Size
from model.kinds.record import Field
from model.units import QuantityError, parse_size

COLOURS = ("red", "black", "yellow", "green", "green_yellow", "blue", "light_blue", "brown",
           "white", "grey", "orange", "purple")

WIRE_FIELDS = (
    Field("designation", "Designation", "text"),
    Field("size", "Size", "text", sentence="As printed: 16, 16 mm2, 2/0, 6 AWG.",
          checks=("1.4", "4.1", "4.19")),
    Field("length_m", "Length, one way", "number", "m", checks=("1.2", "4.2")),
    Field("insulation_c", "Insulation class", "number", "C", checks=("1.4", "4.1")),
    Field("sheath", "Sheath", "choice", choices=("none", "part", "whole"),
          sentence="In conduit, sheath or enclosure for the length that counts.",
          checks=("1.2", "1.3", "1.12")),
    Field("colour", "Colour", "choice", choices=COLOURS, checks=("4.9", "4.10")),
    Field("sleeve_colour", "Sleeves at both ends", "choice", choices=COLOURS, checks=("4.9",)),
    Field("purpose", "Purpose", "choice",
          choices=("power", "control", "sense", "data", "bonding", "case_ground", "lightning",
                   "bank_link")),
    Field("parallel_count", "Cables side by side", "count", minimum=1, checks=("1.21", "4.15")),
    Field("engine_space_m", "In the engine space", "number", "m", checks=("4.1", "4.6")),
    Field("bundle_count", "Bundled with, in all", "count", minimum=1, checks=("4.1", "4.7")),
    Field("in_enclosure", "Inside an enclosure", "yes_no", checks=("1.3", "4.5")),
    Field("factory_harness", "Factory harness", "yes_no", checks=("1.12", "4.9")),
    Field("label_printed", "Labelled at", "choice", choices=("none", "one_end", "both_ends")),
    Field("label", "Label", "text"),
    Field("return_length_m", "Return length", "number", "m", checks=("4.2",)),
    Field("max_drop_v", "Drop at most", "number", "V", checks=("4.3",)),
    Field("construction", "Construction", "choice", choices=("stranded", "solid"),
          checks=("4.14",)),
    Field("cable_type", "Cable type", "choice", choices=("marked", "welding", "unmarked"),
          checks=("4.24",)),
    Field("tinned", "Tinned", "yes_no"),
    Field("bundle", "Bundle", "text", sentence="The same word for all that lie in one bundle.",
          checks=("4.7",)),
    Field("in_bilge", "In the bilge", "yes_no", checks=("4.22",)),
    Field("near_fuel", "Near fuel", "yes_no"),
    Field("joint_above_water", "Joints sealed above the water", "yes_no",
          sentence="At the bilge: sealed, above the water, with a drip loop.", checks=("7.11",)),
    Field("spare", "Spare", "yes_no", checks=("4.21",)),
    Field("ends_insulated", "Ends insulated", "yes_no", checks=("4.21",)),
)

SYSTEM_FIELDS = (
    Field("nominal_v", "Voltage", "number", "V", checks=("1.8", "4.2")),
    Field("earthing", "Earthing", "choice", choices=("negative_earthed", "insulated"),
          sentence="Whether the negative is joined to engine, hull or earth.",
          checks=("1.1", "1.19", "2.9")),
)

GENERAL_FIELDS = (
    Field("designation", "Designation", "text"),
    Field("name", "Name", "text"),
    Field("position_note", "Where it is", "text",
          sentence="In words: behind the nav seat, port side."),
)
MORE_GENERAL_FIELDS = (
    Field("ignition_protected", "Ignition protected", "yes_no",
          sentence="Marked by its maker as making no spark outside its case.", checks=("1.23",)),
    Field("return_by", "Returns by", "choice", choices=("own_conductor", "case", "isolated"),
          checks=("2.9",)),
    Field("stored", "Stored, not fitted", "yes_no"),
    Field("warning_text", "Warning label", "text"),
)

BOAT_FIELDS = (
    Field("name", "Boat", "text"),
    Field("type_text", "Type", "text"),
    Field("title", "Title", "text"),
    Field("edition", "Edition", "text"),
    Field("date", "Date", "text"),
    Field("drawn_by", "Drawn by", "text"),
    Field("rule_set", "Checked against", "choice", choices=("iso", "us"),
          sentence="Whose figures the checks read: ISO 13297, or 33 CFR 183 and ABYC."),
    Field("status", "The drawing is", "choice", choices=("as_found", "planned", "as_built")),
    Field("length_unit", "Lengths in", "choice", choices=("m", "ft")),
    Field("length_m", "Length of the boat", "number", "m", checks=("5.12",)),
    Field("shore_polarity_assured", "Shore polarity assured", "yes_no",
          sentence="Live and neutral cannot be exchanged at the quay.", checks=("9.3", "9.11")),
    Field("lightning_system", "Lightning system", "yes_no", checks=("7.14",)),
    Field("bonding_view", "Underwater metal", "choice",
          choices=("bonded", "unbonded", "owner_undecided"), checks=("7.10",)),
    Field("kept", "Kept", "choice", choices=("afloat", "trailer", "ashore"), checks=("10.1",)),
    Field("lowest_temperature_c", "Coldest in the area", "number", "C", minimum=-60,
          checks=("6.9", "3.16")),
    Field("weeks_idle", "Left alone at most", "number", "weeks", checks=("10.4", "5.13")),
    Field("hull", "Hull", "choice", choices=("grp", "wood", "steel", "aluminium", "other")),
)


def size_shown(size: Size | None) -> str:
    """Return a size as it stands in its field."""
    if size is None:
        return ""
    unit = {"mm2": "mm²", "awg": "AWG", "sae": "SAE"}[size.standard]
    return f"{decimal(size.text)} {unit}"


def read_size(text: str) -> tuple[Size | None, str | None]:
    """Return the size that was typed, or why it cannot be read."""
    try:
        standard, printed = parse_size(text)
    except QuantityError as error:
        return None, str(error)
    return Size.read({"standard": standard, "text": printed}), None
