"""What is not known, as a person asks for it: "the size of W3", "whether G1 is heated".

A field that is a noun is asked for as that noun; what is answered by yes or no, or by a choice
that is no noun, is asked as a question within the sentence.
"""

from __future__ import annotations

from collections.abc import Iterable

from model.diagram import Diagram
from rules.wording import field_words, named

# field: the question, its verb for one item, and the rest.
QUESTIONS: dict[str, tuple[str, str, str]] = {
    "alternator_approved": ("whether", "is", "approved by the maker for an alternator"),
    "audible": ("whether", "can", "be heard too"),
    "auto_independent_of_manual": ("whether", "works", "whatever the hand switch says"),
    "auto_start": ("whether", "starts", "by itself"),
    "above_fuel_gear": ("whether", "is", "above fuel gear"),
    "below_fuel_gear": ("whether", "is", "below fuel gear"),
    "blocking_diode": ("whether", "has", "a blocking diode"),
    "blocking_diodes": ("whether", "has", "blocking diodes"),
    "boxed": ("whether", "is", "in a box"),
    "break_before_make": ("whether", "breaks", "before it makes"),
    "breaker_built_in": ("whether", "has", "a breaker built in"),
    "capacitor_only": ("whether", "is", "joined through a capacitor only"),
    "case_terminal": ("whether", "has", "a terminal for its case"),
    "close_by": ("by what", "is", "closed"),
    "cold_charge_cutoff": ("whether", "stops", "charging when cold"),
    "counts_current": ("whether", "counts", "current"),
    "covered": ("whether", "is", "covered"),
    "critical": ("whether", "is", "critical"),
    "double_insulated": ("whether", "is", "double insulated"),
    "driven_by": ("by what", "is", "driven"),
    "drives": ("what", "drives", ""),
    "dump_load": ("whether", "has", "a diversion load"),
    "duty": ("what", "is", "made for"),
    "enclosed": ("whether", "is", "in an enclosure"),
    "factory_harness": ("whether", "is", "part of a maker's harness"),
    "fail_safe": ("whether", "fails", "closed"),
    "field_contacts": ("whether", "has", "contacts for the field"),
    "for_fixed_wiring": ("whether", "is", "made for fixed wiring"),
    "full_duty": ("whether", "carries", "its full rating for hours"),
    "hand_start": ("whether", "can", "be started by hand"),
    "heated": ("whether", "is", "heated"),
    "heater": ("whether", "heats", ""),
    "held_off_by_inverter": ("whether", "is", "held off while the inverter runs"),
    "hold_down": ("whether", "is", "held down"),
    "ignition_protected": ("whether", "is", "ignition protected"),
    "installed": ("when", "was", "installed"),
    "intermittent": ("whether", "runs", "for short times only"),
    "isolated": ("whether", "is", "isolated"),
    "kept": ("where", "is", "kept"),
    "label_printed": ("whether", "has", "a printed label"),
    "latching": ("whether", "stays", "as it was left"),
    "lockable": ("whether", "can", "be locked"),
    "make_before_break": ("whether", "makes", "before it breaks"),
    "maker_table": ("whether", "follows", "the maker's short-time table"),
    "metal": ("whether", "is", "of metal"),
    "metal_hull": ("whether", "is", "on a metal hull"),
    "mounted_on": ("what", "is", "mounted on"),
    "needs_battery_side": ("whether", "needs", "the battery side of the shunt"),
    "negative_bar": ("whether", "has", "a negative bar of its own"),
    "on_post": ("whether", "is", "on the battery's post"),
    "one_screw_each": ("whether", "has", "one screw for each"),
    "open_below_v": ("below how many volts", "opens", ""),
    "opens_on_discharge": ("whether", "opens", "on high discharge"),
    "oversizing_allowed": ("whether", "may", "be given a larger array"),
    "own_battery": ("whether", "has", "a battery of its own"),
    "own_fuse": ("whether", "has", "a fuse of its own"),
    "own_switch": ("whether", "has", "a switch of its own"),
    "polarising": ("whether", "polarises", ""),
    "poles": ("which poles", "opens", ""),
    "poles_opened": ("which poles", "opens", ""),
    "portable": ("whether", "is", "portable"),
    "power_share": ("whether", "limits", "its AC current"),
    "pre_charge": ("whether", "has", "a pre-charge"),
    "present_when": ("when", "is", "present"),
    "regulates": ("what", "regulates", ""),
    "remote": ("how", "is", "worked from afar"),
    "reports_state_of_charge": ("whether", "reports", "the state of charge"),
    "role": ("what", "is", "for"),
    "run_signal": ("from where", "gets", "its run signal"),
    "run_signal_only": ("whether", "closes", "by its run signal only"),
    "runs_without_power": ("whether", "runs", "without power"),
    "sense": ("where", "senses", ""),
    "sense_resistors_built_in": ("whether", "has", "its sense resistors built in"),
    "senses": ("which side", "senses", ""),
    "shares_control": ("whether", "shares", "sense or data with others"),
    "soft_start": ("whether", "charges", "its capacitors softly"),
    "spare": ("whether", "is", "a spare"),
    "spare_aboard": ("whether", "has", "a spare aboard"),
    "start_above_v": ("above how many volts", "starts", ""),
    "start_feed": ("whether", "has", "a terminal for the starter"),
    "stays_live": ("whether", "is", "meant to stay live"),
    "stop": ("by what", "is", "stopped"),
    "stop_below_v": ("below how many volts", "stops", ""),
    "stop_by": ("by what", "is", "stopped"),
    "stop_input": ("whether", "has", "an input that stops it"),
    "stop_within_reach": ("by what", "is", "stopped"),
    "surge_protected": ("whether", "is", "protected against surges"),
    "survives_no_battery": ("whether", "may", "lose its battery while it charges"),
    "switch_duty": ("whether", "may", "be used as a switch"),
    "switched_pole": ("which pole", "switches", ""),
    "switches_neutral": ("whether", "switches", "the neutral"),
    "synchronising": ("whether", "synchronises", ""),
    "temperature_compensation": ("whether", "compensates", "for temperature"),
    "temperature_sensor": ("whether", "has", "a temperature sensor"),
    "thermal_cutout": ("whether", "has", "a thermal cut-out"),
    "two_feeds_wanted": ("whether", "has", "two feeds on purpose"),
    "under_charger": ("whether", "is", "under a charger"),
    "vented_overboard": ("whether", "is", "vented overboard"),
    "weeks_idle": ("for how many weeks", "is", "left alone at most"),
    "wide_range": ("whether", "suits", "several voltages"),
    "within_reach": ("whether", "is", "within reach at once"),
}
PLURALS = {"is": "are", "was": "were", "has": "have", "can": "can", "may": "may",
           "switches": "switch"}


def asked_for(diagram: Diagram, field: str, items: Iterable[str]) -> str:
    """Return what would have to be known of some items, as it stands in a sentence."""
    listed = list(items)
    who = named(diagram, listed)
    if field not in QUESTIONS:
        return f"the {field_words(diagram, listed[0], field)} of {who}"
    question, verb, rest = QUESTIONS[field]
    spoken = verb if len(listed) == 1 else PLURALS.get(verb, verb.removesuffix("s"))
    return f"{question} {who} {spoken} {rest}".rstrip()


def cannot_tell_sentence(title: str, fields: Iterable[str], diagram: Diagram) -> str:
    """Return what would settle a check: "... without knowing the size of W3 and W4"."""
    asked: dict[tuple[str, str], list[str]] = {}
    for name in fields:
        item, _, field = name.rpartition(".")
        asked.setdefault((field, field_words(diagram, item, field)), []).append(item)
    parts = [asked_for(diagram, field, items) for (field, _), items in asked.items()]
    needed = f"{', '.join(parts[:-1])} and {parts[-1]}" if len(parts) > 1 else parts[0]
    return f"{title}: cannot be judged without knowing {needed}."
