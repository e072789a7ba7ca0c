"""Parts whose plus and minus were changed over with the cores left as they were.

A negative core that ends alone at a port for plus and minus goes to the part's minus: so a return
may be drawn beside the feed. But where the positive core ends at the minus of the same part, the
two were changed over. Both at its minus would be a short circuit that nobody drew.
"""

from __future__ import annotations

from collections.abc import Mapping

from model.diagram import Diagram
from model.kinds.record import Port

Cores = tuple[str, ...]
MINUS = Port("-", {"-": "-"})
BOTH = {"+", "-"}


def crossed_parts(diagram: Diagram, ports: Mapping[str, tuple[Port, ...]]) -> frozenset[str]:
    """Return the parts whose plus and minus are changed over; `ports` are those of each part."""
    at: dict[str, dict[str, set[Cores]]] = {}
    for wire in diagram.conductors.values():
        for end in wire.ends():
            at.setdefault(end.component, {}).setdefault(end.terminal, set()).add(wire.cores)
    return frozenset(item for item, cores in at.items()
                     if cores.get(MINUS.id) == {("+",)} and _is_crossed(cores, ports[item]))


def _is_crossed(cores: Mapping[str, set[Cores]], ports: tuple[Port, ...]) -> bool:
    """Say whether negative cores end at ports for both poles, and at none anything else."""
    both = [cores[port.id] for port in ports if port.id in cores and is_for_both(port)]
    return MINUS in ports and bool(both) and all(found == {("-",)} for found in both)


def is_for_both(port: Port) -> bool:
    """Say whether a port has a plus of its own and leads a negative core to the part's minus."""
    return port.poles.keys() == BOTH and port.poles["-"] == "-"
