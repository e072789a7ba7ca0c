"""What the large parts of a boat are rated, so that bank, sources and loads suit each other."""

from __future__ import annotations

from collections.abc import Mapping

from app.new_boat.answers import Answers
from app.new_boat.figures import KIN, figure

INVERTERS_W = (300, 500, 800, 1200, 1600, 2000)
CHARGERS_A = (10, 15, 20, 30, 40, 50, 60, 80)
SPARE = 0.95  # of what a bank bears or takes


def inverter_w(answers: Answers) -> int:
    """Return the largest inverter whose full load the house bank bears. [W]"""
    bears_a = figure(f"{KIN[answers.chemistry]}_lasting_per_ah") * answers.capacity_ah * SPARE
    most_a = min(bears_a, figure("inverter_most_a"))
    return max((w for w in INVERTERS_W if inverter_a(w, answers.house_v) <= most_a),
               default=INVERTERS_W[0])


def inverter_a(watts: float, house_v: float) -> float:
    """Return what an inverter draws at full load and low volts. [A]"""
    return watts / (house_v * figure("inverter_lowest_v") * figure("inverter_efficiency"))


def is_large(answers: Answers) -> bool:
    """Say whether the boat carries the larger motors."""
    return answers.length_m >= figure("large_from_m")


def motor_a(name: str, answers: Answers) -> float:
    """Return the working current of the windlass or thruster. [A]"""
    watts = figure(f"{name}_w_{'large' if is_large(answers) else 'small'}")
    return round(watts / answers.house_v)


def charging_a(answers: Answers) -> Mapping[str, float]:
    """Return what each source may give the house bank. [A]

    The shore charger gives a tenth of the capacity in an hour; the others share what the bank
    takes beside that.
    """
    wanted = {}
    if answers.engines:
        wanted["converter"] = figure("converter_w") / answers.house_v
    if answers.solar:
        wanted["solar"] = 2 * figure("panel_w") / answers.house_v
    if answers.wind:
        wanted["wind"] = figure("wind_w") / answers.house_v
    shore_a = 0.0
    if answers.shore_v:
        least_a = figure("charger_share_per_h") * answers.capacity_ah
        shore_a = next(a for a in CHARGERS_A if a >= least_a)
    takes_a = figure(f"{KIN[answers.chemistry]}_charge_per_ah") * _lasting_ah(answers) * SPARE
    asks_a = sum(a * (answers.engines if name == "converter" else 1) for name, a in wanted.items())
    share = min(1.0, (takes_a - shore_a) / asks_a) if asks_a else 1.0
    return {"shore": shore_a, **{name: int(a * share) for name, a in wanted.items()}}


def _lasting_ah(answers: Answers) -> float:
    """Return the capacity that charging is measured by: of lithium, that with one pack out. [Ah]"""
    packs = answers.capacity_ah / figure("block_ah")
    if answers.chemistry != "lfp" or packs < 2:
        return answers.capacity_ah
    return answers.capacity_ah * (packs - 1) / packs
