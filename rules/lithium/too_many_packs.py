"""What it checks.
How many lithium packs are joined in series and side by side.

Why it matters.
The switch inside a pack stands the volts of a few of them. In a longer string, the first one to
open gets all the volts and fails; and packs in series drift apart.

Fails when.
There are more than the maker allows, or packs of 12 V stand in series with neither the maker's word
nor an equaliser.

Passes when.
The counts are within the maker's, or an equaliser keeps them level.

Limits.
Packs drawn as parts of their own count where no contact is between them. An equaliser counts on the
bank whose plus or midpoint it is connected to.
"""

from __future__ import annotations

from model.analysis.lithium_banks import LithiumBank, lithium_banks
from model.analysis.reach import reach
from model.survey import Survey
from rules.profiles import Profile
from rules.rule import Answer, Fault, Missing, Rule
from rules.wording import named

LIMITS = {"max_in_series": "in series", "max_in_parallel": "side by side"}


def _counts(bank: LithiumBank) -> dict[str, int]:
    """Return how many packs there are, by the limit that is meant for it."""
    return {"max_in_series": bank.series_count, "max_in_parallel": bank.parallel_count}


RULE = Rule(
    slug="too_many_packs",
    number="6.12",
    title="Too many drop-in packs in series or parallel",
    topic="lithium",
    severity="fault",
    looks_at="each lithium bank of several packs",
    subjects=lambda survey: [
        bank for bank in lithium_banks(survey.graph) if max(_counts(bank).values()) > 1],
    messages={
        "many": "{battery}: {packs_count} packs stand {how}; the maker allows {limit_count}.",
        "drift": "{battery}: {packs_count} packs of 12 V stand in series, without an equaliser or "
                 "the maker's word that they may.",
    },
    remedy="Use fewer packs, or a pack of the whole voltage.",
    sources=("battery_makers",),
    quiet={"approved": "the maker allows so many", "level": "an equaliser keeps them level"},
    figures=("drop_in_v",),
)


def check(bank: LithiumBank, survey: Survey, profile: Profile) -> Answer:
    """Judge one bank."""
    names, asked = {"battery": named(survey.diagram, bank.ids)}, []
    for limit, count in _counts(bank).items():
        stated = [b.parameters[limit] for b in bank.batteries if limit in b.parameters]
        if stated and count > min(stated):
            return Fault("many", bank.ids, {"packs_count": count, "limit_count": min(stated)},
                         {**names, "how": LIMITS[limit]})
        if count > 1:
            asked += [f"{b.id}.{limit}" for b in bank.batteries if limit not in b.parameters]
    if _drifts(bank, survey, profile):
        return Fault("drift", bank.ids, {"packs_count": bank.series_count}, names)
    return Missing(tuple(asked), bank.ids) if asked else None


def _drifts(bank: LithiumBank, survey: Survey, profile: Profile) -> bool:
    """Say whether small packs stand in series with nothing that keeps them level."""
    return (bank.series_count > 1
            and not any("max_in_series" in b.parameters for b in bank.batteries)
            and any(b.parameters.get("block_nominal_v") == profile.value("drop_in_v")
                    for b in bank.batteries)
            and not _is_levelled(bank, survey))


def _is_levelled(bank: LithiumBank, survey: Survey) -> bool:
    graph = survey.graph
    starts = [node for battery in bank.batteries for node in graph.nodes_of(battery.id)
              if not graph.names[node].endswith(".-")]
    joined = reach(graph, starts, lambda edge, _: (
        edge.role in ("conductor", "join", "overcurrent")))
    return any(survey.diagram.components[graph.component_of[node]].kind == "equaliser"
               for node in joined)
