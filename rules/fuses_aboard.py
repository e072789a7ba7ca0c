"""The fuses in service: loose ones and those in the ways of panels and blocks."""

from __future__ import annotations

from model.graph import Edge
from model.survey import Survey

IN_WAYS = ("fuse", "fuse_and_switch")


def devices_aboard(survey: Survey) -> dict[str, Edge]:
    """Return the fuses and breakers that are not stored spares, by their items."""
    return {edge.item: edge for edge in survey.graph.edges if edge.role == "overcurrent"
            and survey.diagram.components[edge.owner].stored is not True}


def is_fuse(device: Edge, survey: Survey) -> bool:
    """Say whether a device is a fuse; a way of a fuse block is one unless it says otherwise."""
    kind = survey.diagram.components[device.owner].kind
    usual = "fuse" if kind == "fuse_block" else ""
    return kind == "fuse" or device.device.get("device", usual) in IN_WAYS
