"""What the owner answers about a new boat, and what can be answered. Knows no diagram.

The questions are records: the page asks them, the tests walk through all their choices.
"""

from __future__ import annotations

from collections.abc import Callable
from typing import Any, Literal

from msgspec import Struct
from msgspec.structs import replace

SMALLEST_M, LARGEST_M = 4.0, 20.0


class Answers(Struct, frozen=True):
    """The answers, with what most boats have."""

    name: str = ""
    length_m: float = 11.0
    rule_set: Literal["us", "iso"] = "iso"
    engines: int = 1
    fuel: Literal["diesel", "petrol"] = "diesel"
    start_v: int = 12
    house_v: int = 12
    chemistry: Literal["flooded", "agm", "lfp"] = "agm"
    capacity_ah: int = 400
    solar: bool = True
    wind: bool = False
    shore_v: int = 230
    shore_unit: Literal["charger", "inverter_charger"] = "charger"
    windlass: bool = True
    thruster: bool = False
    inverter: bool = False
    fridge: bool = True
    heater: bool = False
    bow_bank: bool = False
    negatives: bool = False

    def settled(self) -> Answers:
        """Return the answers without what was not asked; one source at least is aboard."""
        asked = {q.key for q in QUESTIONS if q.is_asked(self)}
        usual = {q.key: getattr(USUAL, q.key) for q in QUESTIONS if q.key not in asked}
        unasked = {key: False if isinstance(value, bool) else value
                   for key, value in usual.items()}
        answers = replace(self, **unasked)
        if not (answers.engines or answers.solar or answers.wind or answers.shore_v):
            answers = replace(answers, solar=True)
        return answers

    @property
    def is_one_voltage(self) -> bool:
        """Say whether the engine starts on the volts of the house."""
        return self.engines > 0 and self.start_v == self.house_v

    @property
    def needs_reserve(self) -> bool:
        """Say whether nothing but lithium could feed lights and radio."""
        return self.chemistry == "lfp" and not self.is_one_voltage


USUAL = Answers()


class Choice(Struct, frozen=True):
    """One of the answers to a question: its value and its words."""

    value: Any
    words: str


YES_NO = (Choice(True, "Yes"), Choice(False, "No"))


class Question(Struct, frozen=True):
    """One question: its field, its words, and why it is asked; free text has no choices."""

    key: str
    page: str
    words: str
    why: str
    choices: tuple[Choice, ...] = ()
    is_asked: Callable[[Answers], bool] = lambda _answers: True


def _has_engine(answers: Answers) -> bool:
    return answers.engines > 0


def _has_bow_motor(answers: Answers) -> bool:
    return answers.windlass or answers.thruster


def _has_no_inverter_yet(answers: Answers) -> bool:
    return not answers.shore_v or answers.shore_unit == "charger"


QUESTIONS = (
    Question("name", "Boat", "What is she called?", "It stands in the title block."),
    Question("length_m", "Boat", "How long is she?",
             "The lengths of cable are estimated from it until you measure them."),
    Question("rule_set", "Boat", "Which practice is she checked against?",
             "Figures differ: how far a fuse may be from a battery, what a cable carries.",
             (Choice("iso", "ISO 13297, metric sizes"), Choice("us", "ABYC, AWG sizes"))),
    Question("engines", "Engine", "How many engines?",
             "Each gets a battery of its own to start it.",
             (Choice(0, "None"), Choice(1, "One"), Choice(2, "Two"))),
    Question("fuel", "Engine", "What do they burn?",
             "Petrol vapour asks for parts that make no spark, and for a blower.",
             (Choice("diesel", "Diesel"), Choice("petrol", "Petrol")), _has_engine),
    Question("start_v", "Engine", "Volts of the starter?",
             "Between different volts a converter charges the house bank.",
             (Choice(12, "12 V"), Choice(24, "24 V")), _has_engine),
    Question("house_v", "Bank", "Volts of the house?",
             "At 24 V every current is half, and cables are thinner.",
             (Choice(12, "12 V"), Choice(24, "24 V"))),
    Question("chemistry", "Bank", "What kind of battery?",
             "It decides the fuse at the post, the charging volts and what watches the cells.",
             (Choice("flooded", "Lead, with acid"), Choice("agm", "Lead, AGM"),
              Choice("lfp", "Lithium, LFP"))),
    Question("capacity_ah", "Bank", "How large is the whole bank?",
             "Charger, inverter and main fuse are chosen to suit it.",
             (Choice(200, "200 Ah"), Choice(400, "400 Ah"), Choice(600, "600 Ah"))),
    Question("solar", "Charging", "Solar panels?",
             "They come with a disconnect, a controller and a fuse.", YES_NO),
    Question("wind", "Charging", "A wind generator?",
             "It comes with a brake and a load for what is too much.", YES_NO),
    Question("shore_v", "Charging", "Shore power?",
             "It kills: inlet, main breaker, leakage trip and earth are drawn with it.",
             (Choice(0, "None"), Choice(230, "230 V, 50 Hz"), Choice(120, "120 V, 60 Hz"))),
    Question("shore_unit", "Charging", "What does it charge with?",
             "An inverter-charger also makes alternating current away from the quay.",
             (Choice("charger", "A charger"), Choice("inverter_charger", "An inverter-charger")),
             lambda answers: bool(answers.shore_v)),
    Question("windlass", "Loads", "An electric windlass?",
             "It needs a thick cable, and a breaker within reach.", YES_NO),
    Question("thruster", "Loads", "A bow thruster?",
             "The largest current aboard after the starter.", YES_NO),
    Question("bow_bank", "Loads", "A bank of their own in the bow?",
             "A thin charging cable then takes the place of a long thick one.", YES_NO,
             _has_bow_motor),
    Question("inverter", "Loads", "An inverter?",
             "It gets a socket with its own leakage trip, apart from shore power.", YES_NO,
             _has_no_inverter_yet),
    Question("fridge", "Loads", "A refrigerator?",
             "It gets a circuit of its own.", YES_NO),
    Question("heater", "Loads", "A diesel heater?",
             "Its glow plug sizes the circuit.", YES_NO),
    Question("negatives", "Sheet", "Draw the negatives too?",
             "Without them they are taken to run beside the positives: a simpler sheet.",
             (Choice(False, "Only the main ones"), Choice(True, "All of them"))),
)
PAGES = tuple(dict.fromkeys(question.page for question in QUESTIONS))


def questions_of(page: str, answers: Answers) -> tuple[Question, ...]:
    """Return what a page asks after what has been answered."""
    return tuple(q for q in QUESTIONS if q.page == page and q.is_asked(answers))


def answered(answers: Answers, key: str, value: Any) -> Answers:
    """Return the answers with one of them given anew."""
    return replace(answers, **{key: value})
