"""Profiles: the figures of a practice, each with its clause. No figure stands in a rule's file.

A profile is a folder of `assets/profiles` with one file a topic. The owner's own figures
(`boat.overrides`) take the place of a profile's, and say so.
"""

from __future__ import annotations

import math
import tomllib
from collections.abc import Mapping
from dataclasses import dataclass, replace
from functools import cache
from importlib.resources import files
from importlib.resources.abc import Traversable
from typing import Any, Literal

from model.diagram import BoatInfo
from model.tables import drop_limit_percent, placement_limit

RuleSet = Literal["us", "iso"]
RULE_SETS: tuple[RuleSet, ...] = ("us", "iso")
STANDINGS = ("read", "common", "memory")
# The unit a figure's name ends in, and what is absurd for it: more than any boat could mean.
MOST = {"mm": 10_000.0, "mm2": 1000.0, "m": 100.0, "a": 50_000.0, "v": 1000.0, "w": 1e6,
        "h": 8760.0, "s": 86_400.0, "ah": 100_000.0, "c": 1000.0, "ratio": 100.0,
        "percent": 100.0, "count": 1000.0, "wh": 1e7,
        "months": 1200, "y": 100, "ma": 1000}  # fmt: skip


class BadProfile(Exception):
    """A profile with a figure that is missing or cannot be: file, key and reason."""

    def __init__(self, file: str, key: str, reason: str) -> None:
        super().__init__(f"{file}, {key}: {reason}.")
        self.file, self.key, self.reason = file, key, reason


@dataclass(frozen=True, slots=True)
class Figure:
    """A figure of a profile: value, unit, sentence, where it stands, whether it was read there."""

    name: str
    value: float
    unit: str
    sentence: str
    source: str
    confirmed: bool


@dataclass(frozen=True, slots=True)
class Profile:
    """A practice to check against: id, title, figures by name, and whose table of ampacity."""

    id: RuleSet
    title: str
    figures: Mapping[str, Figure]
    ampacity_table: RuleSet = "us"

    def __getitem__(self, name: str) -> Figure:
        """Return a figure by name."""
        return self.figures[name]

    def value(self, name: str) -> float:
        """Return a figure's plain value, in the unit its name ends with."""
        return self.figures[name].value

    def confirmed(self) -> Profile:
        """Return the practice with what stands from memory replaced by what was read elsewhere.

        A figure nobody confirms stays. The confirmed table of ampacity is the federal one.
        """
        figures = dict(self.figures)
        for name, figure in self.figures.items():
            if not figure.confirmed:
                twins = (profile(other).figures.get(name) for other in RULE_SETS)
                figures[name] = next((t for t in twins if t is not None and t.confirmed), figure)
        return replace(self, figures=figures, ampacity_table="us")


@cache
def profile(rule_set: RuleSet) -> Profile:
    """Return a shipped profile. Raise BadProfile for one with a figure that cannot be."""
    return read_profile(files("assets").joinpath("profiles", rule_set))


def read_profile(folder: Traversable) -> Profile:
    """Return the profile that a folder holds: `profile.toml` and one file of figures a topic.

    Raise BadProfile with file, key and reason.
    """
    about = _toml(folder.joinpath("profile.toml"))
    for key in ("id", "title", "ampacity_table"):
        if key not in about:
            raise BadProfile("profile.toml", key, "it is missing")
    figures: dict[str, Figure] = {}
    for file in sorted(folder.iterdir(), key=lambda entry: entry.name):
        if file.name.endswith(".toml") and file.name != "profile.toml":
            for name, row in _toml(file).items():
                if name in figures:
                    raise BadProfile(file.name, name, "it stands in another file too")
                figures[name] = _figure(file.name, name, row)
    return Profile(about["id"], about["title"], figures, about["ampacity_table"])


def _toml(file: Traversable) -> dict[str, Any]:
    try:
        return tomllib.loads(file.read_text(encoding="utf-8"))
    except (OSError, UnicodeDecodeError, tomllib.TOMLDecodeError) as error:
        raise BadProfile(file.name, "the whole file", f"it cannot be read ({error})") from error


def _figure(file: str, name: str, row: Any) -> Figure:
    if not isinstance(row, dict):
        raise BadProfile(file, name, "a figure has a value, unit, sentence, source and standing")
    for key in ("unit", "sentence", "source", "standing"):
        if not isinstance(row.get(key), str):
            raise BadProfile(file, f"{name}.{key}", "it is missing, or is no text")
    if row["standing"] not in STANDINGS:
        raise BadProfile(file, f"{name}.standing", f"it is one of {', '.join(STANDINGS)}")
    value = _value(file, name, row)
    most = MOST.get(name.rpartition("_")[2])
    if most is None:
        raise BadProfile(file, name, f"its name ends in one of {', '.join(sorted(MOST))}")
    if not 0 < value <= most:
        raise BadProfile(file, name, f"{value:g} is not above 0 and at most {most:g}")
    return Figure(name, value, row["unit"], row["sentence"], row["source"],
                  row["standing"] != "memory")


def _value(file: str, name: str, row: Mapping[str, Any]) -> float:
    """Return a figure's own value, or that of the row it names in the table of placement [mm] or
    of drop limits [%].
    """
    if "drop" in row:
        return drop_limit_percent(*row["drop"]).value
    if "placement" in row:
        distance_mm = placement_limit(*row["placement"]).max_distance_mm
        if distance_mm is None:
            raise BadProfile(file, f"{name}.placement", "that row asks for no device")
        return distance_mm
    value = row.get("value")
    if isinstance(value, bool) or not isinstance(value, int | float) or not math.isfinite(value):
        raise BadProfile(file, f"{name}.value", "it is missing, or is no number")
    return float(value)


def profile_of(boat: BoatInfo, rule_set: str | None = None) -> Profile:
    """Return the profile asked for, else the boat's own, with the owner's overrides in it."""
    chosen = profile("us" if (rule_set or boat.rule_set) == "us" else "iso")
    own = {name: given for name, given in boat.overrides.items() if name in chosen.figures}
    if not own:
        return chosen
    figures = dict(chosen.figures)
    for name, given in own.items():
        figures[name] = replace(figures[name], value=given.value, confirmed=True,
                                source=f"the owner's own figure: {given.reason}")
    return replace(chosen, figures=figures)
