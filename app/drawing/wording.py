"""What is written beside parts and conductors: ratings and figures, short, with units."""

from __future__ import annotations

from collections.abc import Callable, Mapping, Sequence
from typing import Any

from model.diagram import Component, Conductor, Diagram, Size
from model.kinds.conversion import output_ids
from model.kinds.storage import nominal_v

CHEMISTRY_NAMES = {
    "flooded": "flooded", "agm": "AGM", "gel": "gel", "lfp": "LiFePO₄", "other_lithium": "lithium",
}
FUSE_NAMES = {
    "blade": "blade", "bolted": "bolted", "terminal": "terminal", "class_t": "class T",
    "cartridge": "cartridge", "glass": "glass",
}
FEET_PER_METRE = 1 / 0.3048
Parameters = Mapping[str, Any]


def figure(value: float | None, unit: str) -> str:
    """Return "300 A", without a needless decimal, or an empty text for an unknown value."""
    if value is None:
        return ""
    if unit == "W" and value >= 10_000:
        return f"{value / 1000:g} kW"
    return f"{value:g} {unit}"


def _joined(*parts: str) -> str:
    return " ".join(part for part in parts if part)


def _battery(p: Parameters) -> str:
    return _joined(
        figure(nominal_v(p), "V"), figure(p.get("capacity_ah"), "Ah"),
        CHEMISTRY_NAMES.get(p.get("chemistry", ""), ""),
    )


def _array(p: Parameters) -> str:
    watts = p.get("panel_w")
    count = p.get("series_count", 1) * p.get("parallel_count", 1)
    if watts is None:
        return ""
    return f"{watts * count:g} W" + (f" ({count} × {watts:g})" if count > 1 else "")


def _fuse(p: Parameters) -> str:
    return _joined(figure(p.get("rated_a"), "A"), FUSE_NAMES.get(p.get("class", ""), ""))


def _conversion(p: Parameters) -> str:
    volts = ""
    if p.get("input_v") is not None and p.get("output_v") is not None:
        volts = f"{p['input_v']:g}→{p['output_v']:g} V"
    return _joined(volts, figure(p.get("rated_output_a"), "A"))


def _charger(p: Parameters) -> str:
    outputs = len(output_ids(p))
    return _joined(figure(p.get("rated_a"), "A"), f"{outputs} outputs" if outputs > 1 else "")


def _inverter_charger(p: Parameters) -> str:
    return _joined(figure(p.get("rated_w"), "W"), figure(p.get("charge_a"), "A"))


def _load(p: Parameters) -> str:
    return figure(p.get("current_a"), "A") or figure(p.get("power_w"), "W")


def _residual(p: Parameters) -> str:
    return _joined(figure(p.get("rated_a"), "A"), figure(p.get("residual_ma"), "mA"))


def _volts_amps(p: Parameters) -> str:
    return _joined(figure(p.get("nominal_v"), "V"), figure(p.get("rated_a"), "A"))


_BY_KIND: Mapping[str, Callable[[Parameters], str]] = {
    "battery_bank": _battery,
    "alternator": _volts_amps,
    "wind_generator": _volts_amps,
    "shore_inlet": _volts_amps,
    "solar_array": _array,
    "fuse": _fuse,
    "dc_dc_converter": _conversion,
    "dc_dc_charger": _conversion,
    "shore_charger": _charger,
    "inverter_charger": _inverter_charger,
    "residual_current_breaker": _residual,
    "battery_management_unit": lambda _p: "",
    "starter": lambda p: figure(p.get("cranking_a"), "A"),
    "solar_controller": lambda p: figure(p.get("rated_output_a"), "A"),
    "wind_controller": lambda p: figure(p.get("rated_output_a"), "A"),
}


def rating(component: Component) -> str:
    """Return the short rating that stands beside a part's designation."""
    p = component.parameters
    special = _BY_KIND.get(component.kind)
    if special is not None:
        return special(p)
    for name, unit in (("rated_a", "A"), ("rated_continuous_a", "A"), ("rated_w", "W"),
                       ("bus_rated_a", "A")):
        if name in p:
            return figure(p[name], unit)
    return _load(p)


def designation(item: Component | Conductor) -> str:
    """Return the designation, which is the id until the owner gives another."""
    return item.designation or item.id


def where_text(diagram: Diagram, where: Sequence[str]) -> str:
    """Return where a notice is: the first item with its name, and how many more it is about."""
    if not where:
        return ""
    owner, _, way = where[0].partition(".")
    thing = diagram.components.get(owner) or diagram.conductors.get(owner)
    called = designation(thing) if thing is not None else owner
    name = getattr(thing, "name", "")
    first = f"{called}.{way}" if way else f"{called} {name}".strip()
    return first if len(where) == 1 else f"{first}, {len(where) - 1} more"


def size_text(size: Size | None) -> str:
    """Return a conductor size as people write it, or "?"."""
    if size is None:
        return "?"
    if size.standard == "mm2":
        return f"{size.text} mm²"
    return f"{size.text} {'AWG' if size.standard == 'awg' else 'SAE'}"


def length_text(length_m: float | None, unit: str = "m") -> str:
    """Return a length as the boat's owner measures, or an empty text."""
    if length_m is None:
        return ""
    return f"{length_m * FEET_PER_METRE:.3g} ft" if unit == "ft" else f"{round(length_m, 2):g} m"


def parallel_text(conductor: Conductor) -> str:
    """Return "2 × " for two equal cables side by side."""
    count = conductor.parallel_count or 1
    return f"{count} × " if count > 1 else ""
