"""The steps that make something dead, as sentences in the order to take them.

Sources first, then switches, fuses and covers; then the proof and what stays live all the same.
Common practice, no source.
"""

from __future__ import annotations

from collections.abc import Iterable, Mapping

from model.analysis.isolation import Isolation, forward, left_alone, target_nodes
from model.analysis.isolation_devices import Action, Devices
from model.analysis.reach import live_passes, reach, source_nodes
from model.graph import TerminalGraph

ORDER: tuple[Action, ...] = (
    "stop_engine", "stop_generator", "brake", "unplug", "open", "pull", "cover")
SENTENCES: Mapping[Action, str] = {
    "stop_engine": "Stop {it} and see that nobody starts it.",
    "stop_generator": "Stop {it} and see that neither a hand nor an automatic start runs it.",
    "brake": "Brake {it} by its stop, and leave it braked.",
    "unplug": "Unplug the shore lead at {it}.",
    "open": "Turn {it} to {position}.",
    "pull": "Pull fuse {it}.",
    "cover": "Cover {it} so that no light falls on it.",
}


def called(graph: TerminalGraph, item: str) -> str:
    """Return a designation with the name after it in brackets, where it has one."""
    owner, _, part = item.partition(".")
    component = graph.diagram.components.get(owner)
    conductor = graph.diagram.conductors.get(owner)
    thing = component or conductor
    text = (thing.designation if thing is not None else "") or owner
    name = component.name if component is not None else ""
    if part and component is not None:
        text = f"{text}.{part}"
        ways = component.parameters.get("ways", ())
        name = next((way.get("label", "") for way in ways if way["id"] == part), name)
    return f"{text} ({name})" if name else text


def listed(graph: TerminalGraph, items: Iterable[str]) -> str:
    """Return several things by designation and name."""
    spoken = [called(graph, item) for item in items]
    return spoken[0] if len(spoken) == 1 else f"{', '.join(spoken[:-1])} and {spoken[-1]}"


def isolation_steps(devices: Devices, found: Isolation, number: int = 0) -> tuple[str, ...]:
    """Return the steps of one of the least sets, the first unless said."""
    chosen = frozenset(found.sets[number])
    graph = devices.graph
    steps = []
    for source in found.parts[number]:
        stop = devices.stopping.get(source)
        verb = "brake" if graph.diagram.components[source].kind == "wind_generator" else "stop"
        how = f"{verb} {called(graph, stop)}" if stop else "wait until it stands still"
        steps.append(f"Before anything is opened, {how}: {called(graph, source)} would run on "
                     "without its battery.")
    for device in sorted((devices.by_id[item] for item in found.sets[number]),
                         key=lambda d: ORDER.index(d.action)):
        steps.append(SENTENCES[device.action].format(
            it=called(graph, device.id), position=device.position))
    steps += [_lifting(graph, source) for source in found.unavoidable
              if graph.diagram.components[source].kind == "battery_bank"]
    return (*steps, *_closing(devices, found, chosen))


def _lifting(graph: TerminalGraph, battery: str) -> str:
    return (f"Take the lead off a terminal of {called(graph, battery)}, the negative one first, "
            "and cover its lug.")


def _closing(devices: Devices, found: Isolation, chosen: frozenset[str]) -> list[str]:
    """Return the proof, what stays live, what keeps a charge, and the keys."""
    graph = devices.graph
    goal = frozenset(target_nodes(graph, found.target))
    sources = [s for s in devices.sources if s not in found.unavoidable and s != found.target]
    it = called(graph, found.target)
    steps = [f"Leave {called(graph, handle)} as it is: in another position {it} could be live "
             "again." for handle in left_alone(devices, chosen, goal, sources)]
    steps.append(f"Test for dead with a meter at {it}; try the meter on something live before "
                 "and after.")
    kinds = {s: graph.diagram.components[s].kind for s in devices.sources}
    batteries = [s for s in kinds if kinds[s] == "battery_bank"]
    if batteries:
        steps.append(f"Batteries stay live at their posts: {listed(graph, batteries)}.")
    arrays = [s for s in kinds if kinds[s] == "solar_array"
              and devices.stopping.get(s) not in chosen]
    if arrays:
        steps.append("Arrays stay live in daylight up to their open device: "
                     f"{listed(graph, arrays)}.")
    charged = _charged(devices, chosen, goal)
    if charged:
        steps.append(f"Capacitors in {listed(graph, charged)} keep their charge: wait the time "
                     "its maker gives, then test again.")
    if chosen or found.unavoidable:
        steps.append("Lock or label what was opened, take the keys, and tell everybody aboard.")
    return steps


def _charged(devices: Devices, chosen: frozenset[str], goal: frozenset[int]) -> list[str]:
    """Return the inverters from which the charge of their capacitors reaches the target."""
    graph = devices.graph
    return [item for item, component in graph.diagram.components.items()
            if component.kind in ("inverter", "inverter_charger")
            and goal & reach(graph, graph.nodes_of(item), forward(devices, chosen))]


def isolation_notes(devices: Devices, found: Isolation) -> tuple[str, ...]:
    """Return what must be known beside the sets: none, nothing to do, posts, more sets."""
    graph, it = devices.graph, called(devices.graph, found.target)
    notes = []
    for source in found.unavoidable:
        where = f"{called(graph, source)} reaches {it} with no device between"
        notes.append(f"None: lift a battery terminal. {where}."
                     if graph.diagram.components[source].kind == "battery_bank"
                     else f"None: {where}, and has no brake.")
    component = graph.diagram.components.get(found.target)
    if component is not None and component.kind == "battery_bank":
        notes.append(f"The posts of {it} stay live whatever is opened. This is about the other "
                     "sources.")
    if found.sets == ((),) and not notes:
        notes.append(f"As switches usually stand, no source reaches {it}.")
    if any(found.sets) and not notes and not _is_live(devices, found.target):
        notes.append("Contacts that close by themselves (floats, coils, buttons) are counted as "
                     "closed.")
    if found.has_more:
        notes.append(f"There are more least sets than these {len(found.sets)}.")
    return tuple(notes)


def _is_live(devices: Devices, target: str) -> bool:
    graph = devices.graph
    starts = [n for s in devices.sources for n in source_nodes(graph, s)]
    return not reach(graph, starts, live_passes(graph, {})).isdisjoint(target_nodes(graph, target))
