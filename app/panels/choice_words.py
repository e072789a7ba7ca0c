"""What the choices of a field are called on screen: the trade's word, never the file's."""

from __future__ import annotations

from collections.abc import Mapping

from app.drawing.wording import CHEMISTRY_NAMES, FUSE_NAMES
from app.words import N_, _, in_words

UNITS: Mapping[str, str] = {"C": "°C", "deg": "°", "ohm": "Ω", "mohm": "mΩ", "1/K": N_("per °C")}
WORDS: Mapping[str, str] = {
    **CHEMISTRY_NAMES, **FUSE_NAMES,
    "other_lithium": N_("another lithium"),
    "iso": "ISO 13297", "us": N_("ABYC, 33 CFR"),
    "m": N_("metres"), "ft": N_("feet"),
    "grp": "GRP", "green_yellow": N_("green and yellow"),
    "CCA_SAE": N_("CCA (SAE)"), "mppt": "MPPT", "pwm": "PWM",
    "L_N_E": N_("L, N, earth"), "L_L2_N_E": N_("L1, L2, N, earth"), "L_and_N": N_("L and N"),
    "E": N_("earth"), "co_alarm": N_("CO alarm"),
    "+": N_("positive"), "-": N_("negative"),
}


def choice_words(choice: str) -> str:
    """Return how a choice reads."""
    return _(WORDS[choice]) if choice in WORDS else in_words(choice)


def unit_words(unit: str) -> str:
    """Return how a unit is printed."""
    return _(UNITS.get(unit, unit))
