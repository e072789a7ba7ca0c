"""The contributors' page of figures from memory says of each which checks rest on it."""

from __future__ import annotations

import re
from functools import cache
from pathlib import Path

import rules
from model.table_files import table_rows
from rules.book import book
from rules.profiles import RULE_SETS, profile

ROOT = Path(__file__).parents[2]


@cache
def listed() -> dict[str, tuple[set[str], set[str]]]:
    """Return by figure, table or clause the rule sets and the checks of its row."""
    page = (ROOT / "DEVELOPERS.md").read_text(encoding="utf-8")
    page = page.partition("## Figures from memory")[2].partition("\n## ")[0]
    rows = [line.split("|")[1:5] for line in page.splitlines() if line.startswith("| ")][1:]
    rows = [row for row in rows if "---" not in row[0]]
    assert all(confirms.strip() for *_, confirms in rows)
    return {re.search("`(.+)`", name)[1]: (  # type: ignore[index]
        set(re.findall("us|iso", where)), set(re.findall(r"\d+\.\d+", checks)))
        for name, where, checks, _ in rows}


def test_each_figure_from_memory_is_listed_with_the_checks_that_read_it() -> None:
    wanted: dict[str, tuple[set[str], set[str]]] = {}
    for rule_set in RULE_SETS:
        for name, figure in profile(rule_set).figures.items():
            if not figure.confirmed:
                checks = {r.record.number for r in book() if name in r.record.figures}
                wanted.setdefault(name, (set(), checks))[0].add(rule_set)
    known = {row["key"] for row in table_rows("rule_sources")}
    tables = {file.stem for file in (ROOT / "assets/tables").glob("*.csv")}
    assert {n: row for n, row in listed().items() if n not in known | tables} == wanted


def test_each_clause_from_memory_is_listed_with_the_checks_that_name_it() -> None:
    for row in table_rows("rule_sources"):
        checks = {r.record.number for r in book() if row["key"] in r.record.sources}
        if row["standing"] == "from memory":
            assert listed()[row["key"]] == ({row["rule_set"]}, checks)
        else:
            assert row["key"] not in listed()


def test_each_check_that_may_rest_on_an_ampacity_from_memory_is_listed() -> None:
    folder = Path(rules.__file__).parent
    for rule in book():
        text = (folder / rule.record.topic / f"{rule.record.slug}.py").read_text(encoding="utf-8")
        if "unverified=" in text:
            assert rule.record.number in listed()["ampacity_iso13297"][1]


def test_each_table_that_is_listed_has_a_row_from_memory() -> None:
    for name in ("ampacity_iso13297", "ampacity_correction_factors", "fuse_classes",
                 "breaker_interrupting_capacity"):
        assert name in listed()
        assert any("from memory" in row["confirmation"] for row in table_rows(name))
