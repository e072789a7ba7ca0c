"""The network of terminals: one edge for each core of a conductor and each way through a part.

One function makes both views: plain arrays of integers for the hot questions, and, on request, a
networkx multigraph for exports and outside checks. A test ties the two.
"""

from __future__ import annotations

from collections.abc import Callable, Hashable, Mapping
from copy import copy
from functools import cached_property
from itertools import takewhile
from typing import TYPE_CHECKING, Any, NamedTuple, TypeVar

from msgspec import Struct, field

from model.crossed_ends import crossed_parts, is_for_both
from model.diagram import Component, Conductor, Diagram
from model.kinds import Kind, kind_of
from model.kinds.record import Handle, Link, Port
from model.wired_alike import begins_with_parts, is_wired_alike, joined_otherwise

if TYPE_CHECKING:
    import networkx

T = TypeVar("T")
METAL = ("steel", "aluminium")


class Edge(Struct, frozen=True, eq=False):
    """One way between two terminals; each is itself alone, as a terminal is.

    `role` is "conductor" for a core of a conductor, else the role of the link inside a part.
    `owner` is the conductor's or component's id and `item` what a finding names ("P1.w3").
    `handle` is the full id of the switch that works it, None when nothing does.
    """

    index: int
    a: int
    b: int
    role: str
    owner: str
    item: str
    core: str = ""
    handle: str | None = None
    closed_in: frozenset[str] = frozenset()
    one_way: bool = False
    device: Mapping[str, Any] = field(default_factory=dict)

    def other(self, node: int) -> int:
        """Return the node at the other end."""
        return self.b if node == self.a else self.a


class _Inside(NamedTuple):
    """What a part has inside, by its kind and parameters."""

    kind: Kind
    ports: tuple[Port, ...]
    handles: tuple[Handle, ...]
    links: tuple[Link, ...]


class TerminalGraph:
    """Nodes are terminals, numbered; `edges_at[node]` are the numbers of the edges there.

    `ports` are those of each component. `handles` are the handles of all switches by their full
    ids, `normal` the usual position of each.
    """

    def __init__(self, diagram: Diagram, before: TerminalGraph | None = None) -> None:
        """Make the network; what is as `before` is taken over: parts, and conductors up to the
        first that differs.
        """
        self.diagram = diagram
        self._kept: dict[Hashable, Any] = {}
        self._of_wiring: dict[Hashable, Any] = {}
        self._of_devices: dict[Hashable, Any] = {}
        self._by_terminal: dict[Hashable, list[Any]] = {}
        self._rows_before: Mapping[Hashable, list[Any]] = {}
        self._apart: frozenset[int] = frozenset()
        first = before if before and begins_with_parts(before.diagram, diagram) else None
        self._begin(first)
        for component in list(diagram.components.values())[len(self._insides):]:
            is_as_before = before is not None and (
                before.diagram.components.get(component.id) == component)
            self._add_component(component, before._insides[component.id] if (
                before is not None and is_as_before) else _inside(component))
        self._linked = len(self.edges)
        for component in diagram.components.values():
            self._add_case(component)
        self._add_hull()
        self._inner = len(self.edges)
        self._crossed = crossed_parts(diagram, self.ports)
        others = None if first is None or self._crossed != first._crossed else joined_otherwise(
            first.diagram, diagram)
        kept = 0 if first is None or others is None else self._keep_conductors(first, others)
        for conductor in list(diagram.conductors.values())[kept:]:
            self._add_conductor(conductor)
        if first is not None and others is not None:
            self._carry(first, others)

    def _begin(self, first: TerminalGraph | None) -> None:
        """Begin with the parts of another network, none when there is none."""
        self.names: list[str] = list(first.names) if first else []
        self.number: dict[str, int] = dict(first.number) if first else {}
        self.component_of: list[str] = list(first.component_of) if first else []
        self.edges: list[Edge] = first.edges[:first._linked] if first else []
        self.edges_at: list[list[int]] = [[number for number in row if number < first._linked]
                                          for row in first.edges_at] if first else []
        self.kinds: dict[str, Kind] = dict(first.kinds) if first else {}
        self.handles: dict[str, Handle] = dict(first.handles) if first else {}
        self.normal: dict[str, str] = dict(first.normal) if first else {}
        self.ports: dict[str, tuple[Port, ...]] = dict(first.ports) if first else {}
        self._insides: dict[str, _Inside] = dict(first._insides) if first else {}

    def _keep_conductors(self, before: TerminalGraph, others: frozenset[str]) -> int:
        """Take over the edges of the first conductors, up to one of those that are joined
        otherwise; return how many conductors that are: none when edges have other numbers now.
        """
        if self._inner != before._inner:
            return 0
        pairs = zip(before.diagram.conductors, self.diagram.conductors, strict=False)
        kept = list(takewhile(lambda pair: pair[0] == pair[1] and pair[0] not in others, pairs))
        for item, _ in kept:
            for edge in before.edges_of.get(item, ()):
                self._put(edge)
        return len(kept)

    def _carry(self, before: TerminalGraph, others: frozenset[str]) -> None:
        """Take over what was kept by terminal, but at the ends of some conductors and new parts."""
        new = [item for item in self.diagram.components if item not in before.diagram.components]
        self._apart = frozenset(
            node for graph in (before, self) for item in (*others, *new)
            for edge in graph.edges_of.get(item, ()) for node in (edge.a, edge.b)
        ).union(range(len(before.names), len(self.names)))
        self._rows_before = before._by_terminal

    def node(self, component: str, terminal: str) -> int:
        """Return the number of a terminal, made if it is new."""
        name = f"{component}.{terminal}"
        known = self.number.get(name)
        if known is not None:
            return known
        number = len(self.names)
        self.names.append(name)
        self.number[name] = number
        self.component_of.append(component)
        self.edges_at.append([])
        return number

    def nodes_of(self, component: str) -> list[int]:
        """Return the numbers of a component's terminals."""
        return self._nodes_by_component.get(component, [])

    @cached_property
    def neighbours(self) -> list[list[tuple[int, Edge]]]:
        """Return for each terminal the terminals next to it, each with the edge that leads there.
        """
        edges = self.edges
        return [[(edges[number].other(node), edges[number]) for number in numbers]
                for node, numbers in enumerate(self.edges_at)]

    def by_terminal(self, name: Hashable, row: Callable[[int], T]) -> list[T]:
        """Return for each terminal what follows from what is joined at it alone, kept: after
        another conductor was drawn `row` is asked for the terminals at which it ends.

        It may read what `of_wiring` may of the edges at its terminal and of their parts; the name
        must tell all else that it reads.
        """
        return _keeping(self._by_terminal, name, lambda: self._rows(name, row))

    def _rows(self, name: Hashable, row: Callable[[int], T]) -> list[T]:
        before = self._rows_before.get(name)
        if before is None:
            return [row(node) for node in range(len(self.names))]
        rows = [*before, *([] for _ in range(len(before), len(self.names)))]
        for node in self._apart:
            rows[node] = row(node)
        return rows

    def once(self, name: Hashable, make: Callable[[], T]) -> T:
        """Return what an analysis works out for this network, and keeps for the next question."""
        return _keeping(self._kept, name, make)

    def of_wiring(self, name: Hashable, make: Callable[[], T]) -> T:
        """Return what follows from how things are wired, whatever the figures: `after` keeps it.

        It may read of a conductor its ends, cores and purpose and nothing else, of a part all but
        what `FREE_OF_WIRING` and `measures` name. It may hold no edge: with an edge comes its
        device, figures included.
        """
        return _keeping(self._of_wiring, name, make)

    def of_devices(self, name: Hashable, make: Callable[[], T]) -> T:
        """Return what follows from the wiring and the figures of parts: as `of_wiring`, but it may
        hold edges and read all of a part, so that an edit of any part ends it.
        """
        return _keeping(self._of_devices, name, make)

    def after(self, diagram: Diagram) -> TerminalGraph:
        """Return the network of the diagram after an edit, with what still holds of the wiring."""
        if not is_wired_alike(self.diagram, diagram):
            return TerminalGraph(diagram, self)
        if self.diagram.components == diagram.components:
            graph = copy(self)
            graph.diagram, graph._kept = diagram, {}
            return graph
        graph = TerminalGraph(diagram, self)
        if graph.names == self.names and list(map(_joint, graph.edges)) == (
                list(map(_joint, self.edges))):
            graph._of_wiring, graph._by_terminal = self._of_wiring, self._by_terminal
        return graph

    @cached_property
    def bare(self) -> frozenset[int]:
        """Return the terminals at which nothing is drawn and from which nothing leads on inside.

        The bars of a distribution part do not count as leading on.
        """
        return frozenset(node for node in range(len(self.names)) if self._is_bare(node))

    def _is_bare(self, node: int) -> bool:
        part = self.diagram.components[self.component_of[node]]
        own_joins = kind_of(part).role == "distribution"
        return not any(
            self.edges[i].role == "conductor" or (self.edges[i].role == "join" and not own_joins)
            for i in self.edges_at[node])

    @cached_property
    def _nodes_by_component(self) -> dict[str, list[int]]:
        found: dict[str, list[int]] = {}
        for number, component in enumerate(self.component_of):
            found.setdefault(component, []).append(number)
        return found

    @cached_property
    def edges_of(self) -> dict[str, list[Edge]]:
        """Return the edges of each component and conductor by its id."""
        found: dict[str, list[Edge]] = {}
        for edge in self.edges:
            found.setdefault(edge.owner, []).append(edge)
        return found

    @cached_property
    def terminal_of_port(self) -> dict[str, str]:
        """Return, for each port that is no terminal itself ("F1.a"), the terminal it stands for.

        Of several poles it is the one a conductor uses there, else the first.
        """
        used: dict[tuple[str, str], list[str]] = {}
        for wire in self.diagram.conductors.values():
            for end in wire.ends():
                used.setdefault((end.component, end.terminal), []).extend(wire.cores)
        found = {}
        for component, ports in self.ports.items():
            for port in ports:
                name = f"{component}.{port.id}"
                if name not in self.number:
                    cores = used.get((component, port.id), ())
                    pole = next((p for p in port.poles if p in cores), next(iter(port.poles)))
                    found[name] = f"{component}.{self._terminal(component, port, pole, 1)}"
        return found

    def is_closed(self, edge: Edge, positions: Mapping[str, str]) -> bool:
        """Say whether an edge conducts with the switches in these positions."""
        if edge.handle is None:
            return True
        position = positions.get(edge.handle, self.normal[edge.handle])
        return position in edge.closed_in

    def _add_component(self, component: Component, inside: _Inside) -> None:
        self._insides[component.id] = inside
        self.kinds[component.id] = inside.kind
        self.ports[component.id] = inside.ports
        for port in inside.ports:
            for terminal in port.poles.values():
                self.node(component.id, terminal)
        for handle in inside.handles:
            name = full_id(component.id, handle.id)
            self.handles[name], self.normal[name] = handle, handle.normal
        for link in inside.links:
            self._add_link(component, link)

    def _add_link(self, component: Component, link: Link) -> None:
        handle = None if link.handle is None else full_id(component.id, link.handle)
        self._edge(
            self.node(component.id, link.a), self.node(component.id, link.b), link.role,
            component.id, full_id(component.id, link.item), handle=handle,
            closed_in=link.closed_in, one_way=link.one_way, device=link.device,
        )

    def _add_case(self, component: Component) -> None:
        """A part that returns through its mounting is joined to the block's negative."""
        if component.return_by != "case" or component.mounted_on is None:
            return
        block = next(iter(self.nodes_of(component.mounted_on)), None)
        own = self.number.get(f"{component.id}.-")
        if block is not None and own is not None:
            self._edge(own, block, "join", component.id, component.id)

    def _add_hull(self) -> None:
        """Bonds to one metal hull are joined by the hull."""
        metal = self.diagram.boat.hull in METAL
        bonds = [part.id for part in self.diagram.components.values()
                 if part.kind == "hull_bond" and part.parameters.get("metal_hull", metal) is True]
        for item in bonds[1:]:
            self._edge(self.nodes_of(bonds[0])[0], self.nodes_of(item)[0], "join", item, item)

    def _add_conductor(self, conductor: Conductor) -> None:
        ends = [(end.component, next(
            port for port in self.ports[end.component] if port.id == end.terminal))
            for end in conductor.ends()]
        for core in conductor.cores:
            nodes = [self.node(component, terminal) for component, port in ends if (
                terminal := self._terminal(component, port, core, len(conductor.cores)))]
            if len(nodes) == len(ends):
                a, b = nodes
                self._edge(a, b, "conductor", conductor.id, conductor.id, core=core)

    def _terminal(self, component: str, port: Port, core: str, core_count: int) -> str | None:
        """Return the terminal a core goes to at a port, as it is drawn."""
        if component in self._crossed and is_for_both(port):
            return port.poles["+"]
        return port.terminal_for(core, core_count)

    def _edge(self, a: int, b: int, role: str, owner: str, item: str, **more: Any) -> None:
        self._put(Edge(len(self.edges), a, b, role, owner, item, **more))

    def _put(self, edge: Edge) -> None:
        self.edges.append(edge)
        self.edges_at[edge.a].append(edge.index)
        self.edges_at[edge.b].append(edge.index)

    def networkx(self) -> networkx.MultiGraph:
        """Return the same network as a networkx multigraph of terminal names."""
        import networkx

        graph = networkx.MultiGraph()
        graph.add_nodes_from(self.names)
        for edge in self.edges:
            graph.add_edge(self.names[edge.a], self.names[edge.b], key=edge.index, edge=edge)
        return graph


def _inside(part: Component) -> _Inside:
    kind = kind_of(part)
    return _Inside(kind, kind.ports(part.parameters), tuple(kind.handles(part.parameters)),
                   tuple(kind.links(part.parameters)))


def _keeping(store: dict[Hashable, Any], name: Hashable, make: Callable[[], T]) -> T:
    """Return what is kept under a name, made and kept on the first question."""
    if name not in store:
        store[name] = make()
    kept: T = store[name]
    return kept


def _joint(edge: Edge) -> tuple[object, ...]:
    """Return what an edge joins, and when."""
    return (edge.a, edge.b, edge.role, edge.owner, edge.item, edge.core, edge.handle,
            edge.closed_in, edge.one_way)


def full_id(component: str, item: str) -> str:
    """Return the id of a thing inside a component; of an only one, the component's own."""
    return f"{component}.{item}" if item else component
