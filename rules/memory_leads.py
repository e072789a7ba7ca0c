"""Leads to clocks, memories and trackers: 10.9 owns them, 1.1 leaves them to it."""

from __future__ import annotations

from model.analysis.leads import LeadEnd
from model.survey import Survey
from rules.safety_loads import role_of


def is_memory(end: LeadEnd, survey: Survey) -> bool:
    """Say whether a branch of a lead ends, without a device, at a clock, memory or tracker."""
    return end.kind == "load" and (
        role_of(survey.diagram.components[end.item]) in ("memory", "tracker"))
