"""The sources that rules cite, by key: clause, edition, the rule set it belongs to, standing."""

from __future__ import annotations

from collections.abc import Iterable, Mapping
from dataclasses import dataclass
from functools import cache

from model.table_files import table_rows


@dataclass(frozen=True, slots=True)
class Source:
    """A source as it is cited. `rule_set` is "us", "iso" or "any"."""

    key: str
    rule_set: str
    text: str
    standing: str


@cache
def sources() -> Mapping[str, Source]:
    """Return all sources by key."""
    return {
        row["key"]: Source(row["key"], row["rule_set"], row["text"], row["standing"])
        for row in table_rows("rule_sources")
    }


def cited(keys: Iterable[str], rule_set: str) -> tuple[str, ...]:
    """Return the texts of the sources that belong to a rule set; all when none does."""
    known = [sources()[key] for key in keys]
    fitting = [source for source in known if source.rule_set in (rule_set, "any")]
    return tuple(source.text for source in fitting or known)
