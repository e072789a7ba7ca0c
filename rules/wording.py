"""Sentences of findings: slots filled, figures with their units, ids spoken as designations."""

from __future__ import annotations

from collections.abc import Iterable, Mapping

from model.diagram import Diagram, Size
from model.kinds import kind_of
from rules.rule import Fault, Sourced

MM_PER_INCH = 25.4
M_PER_FOOT = 0.3048
MOST_NAMED, SHOWN_OF_MANY = 4, 2
UNITS = {"mm": "mm", "m": "m", "a": "A", "v": "V", "w": "W", "percent": "%", "c": "°C",
         "count": "", "ratio": "", "mm2": "mm²", "ah": "Ah", "s": "s", "h": "h", "ohm": "Ω",
         "ka": "kA", "wh": "Wh", "months": "months", "ma": "mA"}  # fmt: skip
DIGITS, MOST_DIGITS = 3, 5  # told of a figure, and of two that would else look the same
FIELD_WORDS = {
    "length_m": "length", "size": "size", "sheath": "sheath", "insulation_c": "insulation class",
    "engine_space_m": "length in the engine space", "colour": "colour", "ac": "AC supply",
    "shore_nominal_v": "shore supply voltage", "ends_insulated": "insulation of the ends",
    "coil_supply": "supply of the coil", "earth": "way from its earth to the boat's ground",
    "shore_polarity_assured": "polarity of the shore supply",
    "from": "other end", "to": "other end", "label_printed": "printed label",
    "installed": "date it was installed",
    "bundle_count": "number of cables it is bundled with",
    "lowest_temperature_c": "lowest temperature in the area", "in+": "supply of the input",
    "spares": "list of spares", "nominal_v": "nominal voltage",
}


def plain_value(figure: float | Sourced) -> float:
    """Return a figure's plain number."""
    return figure if isinstance(figure, int | float) else figure.value


class Told(str):
    """Names in a message: `{loads:hangs/hang}` tells them with the verb that goes with one or with
    several, `{loads:~it/they}` that word alone.
    """

    __slots__ = ()

    def __format__(self, spec: str) -> str:
        if not spec:
            return str(self)
        is_word_alone = spec.startswith("~")
        one, _, several = spec.removeprefix("~").partition("/")
        word = several if " and " in self else one
        return word if is_word_alone else f"{self} {word}"


def sentence(template: str, fault: Fault, diagram: Diagram) -> str:
    """Return the message with its slots filled."""
    figures = {name: plain_value(figure) for name, figure in fault.figures.items()}
    names = {name: Told(text) for name, text in fault.names.items()}
    return template.format(**told_apart(figures, diagram), **names)


def told_apart(figures: Mapping[str, float], diagram: Diagram) -> dict[str, str]:
    """Return figures with their units, to as many digits as it takes to tell them apart."""
    texts = {name: quantity(name, value, diagram) for name, value in figures.items()}
    for digits in range(DIGITS + 1, MOST_DIGITS + 1):
        alike = [name for name, text in texts.items() if any(
            texts[other] == text and figures[other] != figures[name] for other in texts)]
        texts.update((name, quantity(name, figures[name], diagram, digits)) for name in alike)
    return texts


def quantity(name: str, value: float, diagram: Diagram, digits: int = DIGITS) -> str:
    """Return a figure with the unit its name ends with; lengths also in inches or feet."""
    unit = name.rpartition("_")[2]
    words = f"{value:.{digits}g}" if abs(value) < 1000 else f"{value:.0f}"
    text = f"{words} {UNITS[unit]}".rstrip()
    if diagram.boat.length_unit == "ft" and unit == "mm":
        return f"{text} ({value / MM_PER_INCH:.3g} in)"
    if diagram.boat.length_unit == "ft" and unit == "m":
        return f"{text} ({value / M_PER_FOOT:.3g} ft)"
    return text


def named(diagram: Diagram, items: Iterable[str]) -> str:
    """Return ids as a person reads them: designations joined by commas and "and".

    Of many the first are told with their names, and how many more there are.
    """
    listed = list(items)
    spoken = [designation(diagram, item) for item in listed]
    if len(spoken) > MOST_NAMED:
        spoken = [with_name(diagram, item) for item in listed[:SHOWN_OF_MANY]]
        spoken.append(f"{len(listed) - SHOWN_OF_MANY} more")
    if len(spoken) < 2:
        return "".join(spoken)
    return f"{', '.join(spoken[:-1])} and {spoken[-1]}"


def designation(diagram: Diagram, item: str) -> str:
    """Return what a conductor, component or way is called on the sheet."""
    if item == "boat":
        return "the boat"
    owner, _, part = item.partition(".")
    thing = diagram.conductors.get(owner) or diagram.components.get(owner)
    called = (thing.designation if thing is not None else "") or owner
    return f"{called}.{part}" if part else called


def place_name(diagram: Diagram, item: str) -> str:
    """Return what a place is called."""
    return diagram.places[item].name or item


def size_words(size: Size) -> str:
    """Return a conductor size as a person reads it."""
    return f"{size.text} mm²" if size.standard == "mm2" else f"{size.text} {size.standard.upper()}"


def with_name(diagram: Diagram, item: str) -> str:
    """Return a designation with the part's name after it in brackets, where it has one."""
    thing = diagram.components.get(item)
    called = designation(diagram, item)
    return f"{called} ({thing.name})" if thing is not None and thing.name else called


def field_words(diagram: Diagram, item: str, field: str) -> str:
    """Return a field's title as it reads in a sentence."""
    component = diagram.components.get(item.partition(".")[0])
    if component is None:
        return FIELD_WORDS.get(field, field.replace("_", " "))
    for spec in kind_of(component).fields:
        if spec.name == field:
            return _lowered(spec.title)
        for column in spec.columns:
            if column.name == field and "." in item:
                return _lowered(column.title)
    return FIELD_WORDS.get(field, field.replace("_", " "))


def _lowered(title: str) -> str:
    return title[:1].lower() + title[1:]
