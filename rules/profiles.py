"""Profiles: the figures of a practice, each with its clause. No figure stands in a rule's file.

The owner's own figures (`boat.overrides`) take the place of a profile's, and say so.
"""

from __future__ import annotations

import tomllib
from collections.abc import Mapping
from dataclasses import dataclass
from functools import cache
from importlib.resources import files
from typing import Any, Literal

from model.diagram import BoatInfo
from model.tables import placement_limit

RuleSet = Literal["us", "iso"]
RULE_SETS: tuple[RuleSet, ...] = ("us", "iso")


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
    """A practice to check against: id, title, figures by name."""

    id: RuleSet
    title: str
    figures: Mapping[str, Figure]

    def __getitem__(self, name: str) -> Figure:
        """Return a figure by name."""
        return self.figures[name]

    def value(self, name: str) -> float:
        """Return a figure's plain value, in the unit its name ends with."""
        return self.figures[name].value


@cache
def profile(rule_set: RuleSet) -> Profile:
    """Return a shipped profile."""
    text = files("assets").joinpath("profiles", f"{rule_set}.toml").read_text(encoding="utf-8")
    data = tomllib.loads(text)
    figures = {
        name: Figure(name, _value(row), row["unit"], row["sentence"], row["source"],
                     row["standing"] != "memory")
        for name, row in data["figures"].items()
    }
    return Profile(data["id"], data["title"], figures)


def _value(row: Mapping[str, Any]) -> float:
    """Return a figure's own value, or that of the row of the placement table it names. [mm]"""
    if "placement" not in row:
        return float(row["value"])
    distance_mm = placement_limit(*row["placement"]).max_distance_mm
    assert distance_mm is not None, f"{row['placement']} asks for no device"
    return distance_mm


def profile_of(boat: BoatInfo, rule_set: str | None = None) -> Profile:
    """Return the profile asked for, else the boat's own, with the owner's overrides in it."""
    chosen = profile("us" if (rule_set or boat.rule_set) == "us" else "iso")
    own = {name: given for name, given in boat.overrides.items() if name in chosen.figures}
    if not own:
        return chosen
    figures = dict(chosen.figures)
    for name, given in own.items():
        base = figures[name]
        figures[name] = Figure(name, given.value, base.unit, base.sentence,
                               f"the owner's own figure: {given.reason}", True)
    return Profile(chosen.id, chosen.title, figures)
