"""What `isolate` prints, and the ways that `live` tells of what is still live."""

from __future__ import annotations

from collections.abc import Mapping
from typing import Any

from model.analysis.isolation_steps import called, isolation_notes, isolation_steps, listed
from model.analysis.still_live import StillLive
from model.diagram import Diagram
from model.graph import TerminalGraph
from model.survey import Survey


def isolate_json(diagram: Diagram, target: str) -> dict[str, Any]:
    """Return all least sets by id and the steps of the first; no set when none is enough.

    Raise NotDrawn for a target that is not drawn.
    """
    survey = Survey(diagram)
    devices, found = survey.devices, survey.isolation(target)
    answer: dict[str, Any] = {
        "target": target,
        "sets": [] if found.unavoidable else [list(chosen) for chosen in found.sets],
        "steps": list(isolation_steps(devices, found)),
    }
    notes = isolation_notes(devices, found)
    return {**answer, "note": " ".join(notes)} if notes else answer


def isolate_text(diagram: Diagram, answer: Mapping[str, Any]) -> str:
    """Return an answer as people read it: the steps, then the other sets."""
    graph = TerminalGraph(diagram)
    lines = [f"To make {called(graph, answer['target'])} dead"]
    lines += [answer["note"]] if "note" in answer else []
    lines += [f"{number:3}. {step}" for number, step in enumerate(answer["steps"], start=1)]
    others = answer["sets"][1:]
    if others:
        lines += ["", "Any of these does the same:"]
        lines += [f"  {listed(graph, chosen)}" for chosen in others]
    return "\n".join(lines)


def still_live_text(diagram: Diagram, found: StillLive) -> str:
    """Return what is live although its own bank is switched off, and by which way."""
    graph = TerminalGraph(diagram)
    unexpected = [part for part in found.parts.values() if part.is_unexpected]
    if not unexpected:
        return ""
    groups = [group for group in found.loads if group.is_unexpected]
    loads = {item for group in groups for item in group.loads}
    lines = ["", "Still live although switched off:"]
    for part in unexpected:
        if part.id not in loads:
            lines.append(f"  {called(graph, part.id)}")
            lines += [f"    from {source}: {' - '.join(way)}" for source, way in part.ways.items()]
    for group in groups:
        behind = f"behind {called(graph, group.at)}" if group.at else "on no bar or panel"
        lines += [f"  Loads {behind}, from {', '.join(group.sources)}:",
                  f"    {listed(graph, group.loads)}"]
    return "\n".join(lines)
