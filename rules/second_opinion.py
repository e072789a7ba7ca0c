"""What a confirmed figure says where a finding rests on one from memory.

The verdict keeps its severity when the figures that were read in print reach it too; where they
differ it is told as a caution. Either way the finding shows both.
"""

from __future__ import annotations

from model.survey import Survey
from rules.profiles import Figure, Profile
from rules.rule import Fault, Rule, Severity

UNVERIFIED_AT_MOST: Severity = "caution"


def second_opinion(
    record: Rule, fault: Fault, agreeing: Fault | None, survey: Survey, profile: Profile
) -> str:
    """Return the sentences on what a finding rests on and what was read in print."""
    read = _read_in_print(record, fault, survey, profile)
    if agreeing is not None:
        same = f"; the confirmed one ({read}) reaches the same verdict" if read else ""
        return f"The limit is an unverified figure, from memory{same}."
    if read:
        return ("The limit is an unverified figure, from memory; by the confirmed one "
                f"({read}) there would be no finding, so this is a caution.")
    return ("The limit is an unverified figure, from memory, and none that was read in print "
            "bears it out, so this is a caution.")


def _read_in_print(record: Rule, fault: Fault, survey: Survey, profile: Profile) -> str:
    twin = profile.confirmed()
    parts = [
        _both(profile[name], twin[name]) for name in record.figures
        if not profile[name].confirmed and twin[name].confirmed
        and any(given is profile[name] for given in fault.figures.values())
    ]
    if fault.unverified and profile.ampacity_table != twin.ampacity_table:
        wires = [item for item in fault.where if item in survey.diagram.conductors]
        parts += [text for item in wires[:1] if (text := _ampacity(item, survey, twin))]
    return "; ".join(parts)


def _both(given: Figure, read: Figure) -> str:
    return f"{read.value:g} {read.unit} against {given.value:g} {given.unit}, {read.source}"


def _ampacity(item: str, survey: Survey, twin: Profile) -> str:
    found = survey.ampacity_range(survey.diagram.conductors[item], twin.ampacity_table)
    if found.high_a is None:
        return ""
    return f"{found.high_a:.3g} A, {', '.join(found.sources)}"
