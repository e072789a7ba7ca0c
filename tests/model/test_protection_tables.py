"""The tables of fuses against their own rows."""

from __future__ import annotations

import pytest

from model.protection_tables import (
    class_interrupts_a,
    device_volts,
    fuse_classes,
    interrupt_steps_a,
    large_bank,
    least_interrupt_a,
    needed_interrupt_a,
)
from model.table_files import table_rows

ROWS = {row["condition"]: row for row in table_rows("breaker_interrupting_capacity")}


@pytest.mark.parametrize(("cranking_a", "condition"), [
    (1, "total connected battery CCA <= 650 A"), (650, "total connected battery CCA <= 650 A"),
    (651, "CCA 651-1100 A"), (1100, "CCA 651-1100 A"), (1101, "CCA > 1100 A")])
@pytest.mark.parametrize(("place", "column"), [
    ("main", "main_device_min_interrupting_a"), ("branch", "branch_breaker_min_interrupting_a")])
def test_a_lead_bank_finds_its_row(
    cranking_a: float, condition: str, place: str, column: str
) -> None:
    for volts in (12, 24):
        found = needed_interrupt_a(volts, cranking_a, place)  # type: ignore[arg-type]
        assert found is not None
        assert found.value == float(ROWS[condition][column])
        assert found.confirmed


def test_rows_from_memory_say_so_and_other_volts_have_none() -> None:
    from_memory = needed_interrupt_a(32, 1000, "main")
    assert from_memory is not None
    assert not from_memory.confirmed
    assert needed_interrupt_a(48, 1000, "main") is None


def test_the_clause_on_large_banks_is_read_from_its_row() -> None:
    row = next(row for condition, row in ROWS.items() if condition.startswith("bank >"))
    clause = large_bank()
    for figure in (clause.above_cranking_a, clause.above_ah):
        assert f"{figure:g}" in row["condition"]
    for figure in (clause.suffices_a, clause.where_above_a):
        assert f"{figure:g}" in row["main_device_min_interrupting_a"]
    assert max(interrupt_steps_a()) == clause.suffices_a


def test_every_class_of_the_table_has_its_word_and_volts() -> None:
    assert {row.word for row in fuse_classes()} == {
        "class_t", "bolted", "terminal", "blade", "glass"}
    assert all(row.made_for_v for row in fuse_classes())
    assert list(device_volts()) == sorted(device_volts())


def test_a_class_breaks_less_at_higher_volts_and_bounds_are_those_of_its_rows() -> None:
    rows = [row for row in table_rows("fuse_classes") if row["fuse_class"].startswith("MRBF")]
    for volts, column in ((12, "interrupting_a_at_12to14v"), (48, "interrupting_a_at_48to58v")):
        found = class_interrupts_a("terminal", volts)
        assert found is not None
        assert found.low.value == found.high.value == float(rows[0][column])
    assert class_interrupts_a("glass", 12) is None
    assert class_interrupts_a("bolted", 12).low.value >= least_interrupt_a()  # type: ignore[union-attr]


def test_only_what_was_read_is_confirmed() -> None:
    at_12, at_48 = class_interrupts_a("terminal", 12), class_interrupts_a("terminal", 48)
    assert at_12 is not None
    assert at_48 is not None
    assert at_12.low.confirmed
    assert not at_48.low.confirmed
