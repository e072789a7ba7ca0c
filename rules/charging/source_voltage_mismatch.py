"""What it checks.
The nominal voltage of each charging source, and the volts of its stages, against the batteries it
charges without a converter between. A DC-DC converter that is wired to a battery is such a source.

Why it matters.
A 24 V source on a 12 V bank boils it within the hour and destroys what hangs on it; a source set
above what the maker allows does the same more slowly.

Fails when.
The nominal voltages differ, or a stage of the source is set to more than the battery's stated
limit.

Passes when.
They agree, or a converter is between.

Limits.
Where banks of different volts are joined by contacts that is the cause, and 2.8 speaks. A limit
that nobody stated is not guessed here: 3.5 compares with what is usual for the chemistry. Behind a
diode splitter that takes volts the limit is not compared. Flooded batteries are equalised above
their limit on purpose.
"""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass

from model.analysis.charging import Outlet, behind_diode, charged, outlets
from model.analysis.charging_profile import above_limit, source_nominal_field
from model.analysis.joinable import joinable, post_v
from model.edits import apply as applied
from model.graph import TerminalGraph
from model.kinds.storage import is_same_nominal
from model.survey import Survey
from rules.fixing import with_fields
from rules.ordering import in_order
from rules.profiles import Profile
from rules.rule import Answer, Fault, Finding, Fix, Missing, Rule
from rules.wording import named, quantity


@dataclass(frozen=True, slots=True)
class Supply:
    """A charging source and the batteries that one of its outputs charges; `direct` are those that
    no diode with a loss parts from it."""

    source: str
    batteries: tuple[str, ...]
    direct: tuple[str, ...]


def _supplies(survey: Survey) -> Iterator[Supply]:
    for outlet in _outlets(survey.graph):
        batteries = in_order(charged(survey.graph, outlet.node))
        if batteries:
            direct = tuple(item for item in batteries
                           if not behind_diode(survey.graph, outlet.node, item))
            yield Supply(outlet.source, tuple(batteries), direct)


def _outlets(graph: TerminalGraph) -> Iterator[Outlet]:
    """Yield what charges batteries, and what does when it is wired to one."""
    yield from outlets(graph)
    for part in graph.diagram.components.values():
        if part.kind == "dc_dc_converter" and part.stored is not True:
            yield Outlet(part.id, graph.number[f"{part.id}.out+"])


RULE = Rule(
    slug="source_voltage_mismatch",
    number="3.4",
    title="Source voltage does not match the bank",
    topic="charging",
    severity="danger",
    looks_at="each output of a charging source that a battery is joined to",
    subjects=_supplies,
    messages={
        "nominal": "{source} is made for {source_v} and charges {battery} of {bank_v}.",
        "above": "{source} is set to {set_v}; {battery} stands {most_v} at most.",
        "equalises": "{source} equalises at {set_v}; {battery} stands {most_v} at most.",
    },
    remedy="Fit a converter between them, or the source that suits the bank; set it to the "
           "battery maker's limit.",
    sources=("common_practice",),
    quiet={
        "wide_range": "the source is made for several voltages and set to this one",
        "joined": "banks of different volts are joined: 2.8 judges that",
    },
    fix="sometimes",
)


def check(supply: Supply, survey: Survey, profile: Profile) -> Answer:
    """Judge one source by its nominal volts, then by what it is set to."""
    nominal = _nominal(supply, survey)
    return nominal if isinstance(nominal, Fault) else _above(supply, survey) or nominal


def _nominal(supply: Supply, survey: Survey) -> Fault | Missing | None:
    part = survey.diagram.components[supply.source]
    if part.parameters.get("wide_range") is True:
        return None
    field = source_nominal_field(part)
    source_v = part.parameters.get(field)
    stated = {item: post_v(survey.graph, item) for item in supply.batteries}
    banks_v = {item: volts for item, volts in stated.items() if volts is not None}
    unknown = [f"{item}.block_nominal_v" for item in supply.batteries if item not in banks_v]
    if source_v is None or unknown:
        own = [] if source_v is not None else [f"{part.id}.{field}"]
        return Missing((*own, *unknown), (part.id, *supply.batteries))
    fitting = {item for item, volts in banks_v.items() if is_same_nominal(volts, source_v)}
    for item, volts in banks_v.items():
        if item not in fitting and not fitting & joinable(survey.graph, item).keys():
            return Fault("nominal", (part.id, item),
                         {"source_v": source_v, "bank_v": volts},
                         _names(survey, part.id, item))
    return None


def _above(supply: Supply, survey: Survey) -> Fault | Missing | None:
    unsaid: list[str] = []
    for item in supply.direct:
        above = above_limit(survey.graph, supply.source, item)
        if above is None:
            continue
        field, set_v, most_v = above
        equalises = field.endswith(".equalise_v")
        if equalises and "chemistry" not in survey.diagram.components[item].parameters:
            unsaid.append(item)
            continue
        return Fault(
            "equalises" if equalises else "above", (supply.source, item),
            {"set_v": set_v, "most_v": most_v}, _names(survey, supply.source, item))
    fields = tuple(f"{item}.chemistry" for item in unsaid)
    return Missing(fields, (supply.source, *unsaid)) if unsaid else None


def _names(survey: Survey, source: str, battery: str) -> dict[str, str]:
    return {"source": named(survey.diagram, [source]), "battery": named(survey.diagram, [battery])}


def fixes(finding: Finding, survey: Survey, profile: Profile) -> Iterator[Fix]:
    """Offer the source that suits the bank, or to set it to the battery's limit."""
    diagram, source = survey.diagram, finding.where[0]
    if finding.message_id == "nominal":
        item = source
        name, value = source_nominal_field(diagram.components[source]), finding.figures["bank_v"]
        title = f"Fit a source of {quantity('v', value, diagram)} as {named(diagram, [source])}"
    else:
        above = above_limit(survey.graph, source, finding.where[1])
        item, _, name = above[0].partition(".") if above is not None else ("", "", "")
        value = finding.figures["most_v"] if name != "equalise_v" else 0
        title = (f"Set {named(diagram, [item])} to {quantity('v', value, diagram)}" if value
                 else f"Set the equalising of {named(diagram, [item])} to off")
    edit = with_fields(diagram, title, item, **{name: value})
    after = Survey(applied(diagram, edit))
    if not any(isinstance(check(supply, after, profile), Fault)
               for supply in _supplies(after) if supply.source == source):
        yield Fix(title, "choice", edit)
