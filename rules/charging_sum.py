"""What charges a battery at once: with shore power, with the engine, or with both."""

from __future__ import annotations

from collections.abc import Iterable, Iterator
from dataclasses import dataclass

from model.analysis.charging import FROM_AC, Outlet, works_by_signal
from model.survey import Survey
from rules.charging_output import Output, output_at
from rules.ordering import in_order


@dataclass(frozen=True, slots=True)
class ChargingSum:
    """The sources that give most together, and what they give as far as it is known [A]; `missing`
    are the fields that would tell more of any source.
    """

    sources: tuple[str, ...]
    given_a: float
    missing: tuple[str, ...]


def charging_sum(survey: Survey, outlets: Iterable[Outlet]) -> ChargingSum:
    """Return the larger of what comes with shore power and what comes with the engine; sun and
    wind count in both.
    """
    return _largest(survey, list(_together(survey, list(outlets))))


def sum_of_all(survey: Survey, outlets: Iterable[Outlet]) -> ChargingSum:
    """Return what all sources give at once: an engine may be run on shore power."""
    return _largest(survey, [list(outlets)])


def _largest(survey: Survey, apart: list[list[Outlet]]) -> ChargingSum:
    groups = [_by_source(survey, group) for group in apart]
    sums = [sum(_source_a(survey, own) for own in group.values()) for group in groups]
    given_a = max(sums)
    missing = in_order(field for group in groups for own in group.values()
                       for output in own for field in output.missing)
    return ChargingSum(tuple(in_order(groups[sums.index(given_a)])), given_a, tuple(missing))


def _together(survey: Survey, outlets: list[Outlet]) -> Iterator[list[Outlet]]:
    """Yield what charges while the engine is stopped, and what does without shore power."""
    components = survey.diagram.components
    yield [outlet for outlet in outlets if components[outlet.source].kind != "alternator"
           and not works_by_signal(survey.graph, components[outlet.source])]
    yield [outlet for outlet in outlets if components[outlet.source].kind not in FROM_AC]


def _by_source(survey: Survey, outlets: list[Outlet]) -> dict[str, list[Output]]:
    outputs: dict[str, list[Output]] = {}
    for outlet in outlets:
        outputs.setdefault(outlet.source, []).append(output_at(survey, outlet))
    return outputs


def _source_a(survey: Survey, outputs: list[Output]) -> float:
    """Return what the outputs of one source give together, within its rating. [A]."""
    amperes = [output.amperes for output in outputs if output.amperes is not None]
    rated_a = survey.diagram.components[outputs[0].source].parameters.get("rated_a")
    return sum(amperes) if rated_a is None else max(min(sum(amperes), rated_a), *amperes)
