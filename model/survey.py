"""The survey: the lazy, cached front of all electrical questions to one diagram.

A rule is given one and asks it; it never leaves the thread that made it.
"""

from __future__ import annotations

from collections.abc import Iterable, Mapping
from functools import cached_property

from model.analysis.ampacity import Ampacity, RuleSet, ampacity
from model.analysis.ampacity_range import AmpacityRange, ampacity_range
from model.analysis.backfeed import backfed
from model.analysis.banks import Bank, banks
from model.analysis.bundles import Bundle, bundles
from model.analysis.cables_beside import cables_beside
from model.analysis.charge_paths import charge_sources
from model.analysis.cranking import Cranked, cranked
from model.analysis.design_current import DesignCurrent, Duty, design_currents
from model.analysis.device_currents import drawn_by_loads
from model.analysis.device_sides import DeviceSide, device_sides
from model.analysis.drawn_returns import Return, drawn_returns
from model.analysis.fault_table import FaultTable, fault_table
from model.analysis.interrupting import Breaking, breakings, unfused_reach, usual_reach
from model.analysis.isolation import Isolation, isolation
from model.analysis.isolation_devices import Devices
from model.analysis.leads import Lead, Zone, leads, posts_of, zones
from model.analysis.lugs import Bolt, bolts
from model.analysis.negative_devices import NegativeDevice, negative_devices
from model.analysis.negatives import NegativeCut, negative_cuts
from model.analysis.no_way_home import Stranded, no_way_home
from model.analysis.operating_point import OperatingPoint, Round, operating_point
from model.analysis.operating_point.state import State
from model.analysis.parallel import ParallelCables, parallel_cables
from model.analysis.polarity import Potential, potentials
from model.analysis.protection import ProtectionTable, protection_table
from model.analysis.reach import LiveState, active_sources, live_components, live_state
from model.analysis.runs import runs
from model.analysis.sense_leads import SenseLead, sense_leads
from model.analysis.starter import starter_circuit
from model.analysis.taps import Circuit, Guard, Network, circuits, guard_of, taps
from model.analysis.voltage_drop import Drop, drops
from model.analysis.wrong_side import WrongSide, as_meant, wrong_sides
from model.diagram import Conductor, Diagram, Mode
from model.errors import NotDrawn, UnknownPosition
from model.graph import Edge, TerminalGraph
from model.kinds import kind_of

__all__ = ["LiveState", "Survey"]


class Survey:
    """Electrical facts of a diagram.

    `before` is the survey of a diagram much like it, such as before an edit: what it worked out of
    the wiring holds while the wiring is the same, and its volts are good starts for the solver.
    They change nothing but how soon this one's answers are found.
    """

    def __init__(self, diagram: Diagram, before: Survey | None = None) -> None:
        self.diagram = diagram
        # Of one that was overtaken before it had answered, what was before it.
        self._solved_before: Mapping[str, OperatingPoint] = {}
        self._wired_before: TerminalGraph | None = None
        if before is not None:
            answered = before.__dict__
            self._solved_before = (
                before.duty.points if "duty" in answered else before._solved_before)
            self._wired_before = before.graph if "graph" in answered else before._wired_before
        self._ampacities: dict[tuple[str, str], Ampacity] = {}
        self._ranges: dict[tuple[str, str], AmpacityRange] = {}

    @cached_property
    def graph(self) -> TerminalGraph:
        """Return the network of terminals."""
        if self._wired_before is None:
            return TerminalGraph(self.diagram)
        return self._wired_before.after(self.diagram)

    @cached_property
    def potentials(self) -> list[Potential]:
        """Return polarity and nominal volts by terminal number."""
        return self.graph.of_wiring("potentials", lambda: potentials(self.graph))

    @cached_property
    def starter_circuit(self) -> frozenset[str]:
        """Return the conductors of starter circuits."""
        return self.graph.of_wiring("starter_circuit", lambda: starter_circuit(self.graph))

    @cached_property
    def protection(self) -> ProtectionTable:
        """Return the feeds seen from every conductor end."""
        return self.graph.of_devices("protection", lambda: protection_table(self.graph))

    @cached_property
    def banks(self) -> tuple[Bank, ...]:
        """Return the banks."""
        return self.graph.of_wiring("banks", lambda: banks(self.graph, self.potentials))

    @cached_property
    def charge_sources(self) -> Mapping[str, frozenset[str]]:
        """Return the sources that can charge each bank, by bank id."""
        return self.graph.of_wiring(
            "charge_sources", lambda: charge_sources(self.graph, self.banks))

    @cached_property
    def negative_cuts(self) -> tuple[NegativeCut, ...]:
        """Return what every device that opens a negative alone cuts off."""
        return self.graph.of_wiring("negative_cuts", lambda: negative_cuts(self.graph))

    @cached_property
    def devices(self) -> Devices:
        """Return what a hand can open, pull, stop or cover."""
        return Devices(self.graph)

    def isolation(self, target: str) -> Isolation:
        """Return how to make something dead; raise NotDrawn for what is not drawn."""
        return isolation(self.graph, target, self.devices)

    @cached_property
    def zones(self) -> Mapping[str, Zone]:
        """Return what needs no device at each battery: posts, links of the bank, starter."""
        return self.graph.of_devices("zones", lambda: zones(self.graph, self.starter_circuit))

    @cached_property
    def leads(self) -> tuple[Lead, ...]:
        """Return where conductors become live from a battery without a device before them."""
        return leads(self.graph, self.starter_circuit, self.zones)

    @cached_property
    def taps(self) -> tuple[Circuit, ...]:
        """Return the conductors tapped from a guarded busbar, stud or branch."""
        return taps(self._network)

    @cached_property
    def circuits(self) -> tuple[Circuit, ...]:
        """Return the conductors that start at the device which limits them."""
        return circuits(self._network)

    @cached_property
    def duty(self) -> Duty:
        """Return design currents, solved once over the duty cases."""
        return design_currents(self)

    def solved_before(self, case: str) -> OperatingPoint | None:
        """Return the answer of a duty case before the edit."""
        return self._solved_before.get(case)

    @cached_property
    def drops(self) -> tuple[Drop, ...]:
        """Return the voltage drop of every load and panel, from what feeds it and back."""
        return drops(self)

    @cached_property
    def cranked(self) -> tuple[Cranked, ...]:
        """Return the drop of every starter in each way it can be cranked, the usual one first."""
        return cranked(self)

    @cached_property
    def runs(self) -> tuple[tuple[str, ...], ...]:
        """Return the conductors of DC power in groups that carry one and the same current."""
        return self.graph.of_wiring("runs", lambda: runs(self.graph))

    @cached_property
    def drawn_returns(self) -> tuple[Return, ...]:
        """Return the returns of loads and panels, as far as they are drawn or have to be."""
        return tuple(drawn_returns(self))

    @cached_property
    def no_way_home(self) -> tuple[Stranded, ...]:
        """Return what negatives that are drawn lead to no battery, by their cause."""
        return no_way_home(self)

    @cached_property
    def bolts(self) -> tuple[Bolt, ...]:
        """Return the studs, screws and posts on which conductors end."""
        return bolts(self.graph)

    @cached_property
    def parallel_cables(self) -> tuple[ParallelCables, ...]:
        """Return the power conductors that lie side by side between the same two points."""
        return self.graph.of_wiring("parallel_cables", lambda: parallel_cables(self.graph))

    @cached_property
    def drawn_by_loads(self) -> Mapping[str, DesignCurrent]:
        """Return the largest current of each fuse and breaker by what the loads draw."""
        return drawn_by_loads(self)

    @cached_property
    def device_sides(self) -> tuple[DeviceSide, ...]:
        """Return each DC fuse and breaker from the side a battery feeds it."""
        return device_sides(
            self.graph, self.protection, self.potentials, posts_of(self.zones))

    @cached_property
    def faults(self) -> FaultTable:
        """Return the networks from which the fault current at any terminal is read."""
        return fault_table(self)

    @cached_property
    def breakings(self) -> tuple[Breaking, ...]:
        """Return how each fuse and breaker stands to the largest fault through it."""
        return breakings(self)

    @cached_property
    def negative_devices(self) -> tuple[NegativeDevice, ...]:
        """Return the fuses and breakers that stand in a negative conductor."""
        return negative_devices(self)

    @cached_property
    def cables_beside(self) -> Mapping[str, tuple[str, ...]]:
        """Return the conductors drawn side by side between the same points, by each one's id."""
        return self.graph.of_wiring("cables_beside", lambda: cables_beside(self.graph))

    @cached_property
    def sense_leads(self) -> tuple[SenseLead, ...]:
        """Return the thin wires to meters, sense terminals, coils and data modules."""
        return sense_leads(self.graph)

    @cached_property
    def usual_reach(self) -> Mapping[str, frozenset[int]]:
        """Return the terminals each bank feeds as things usually stand, by bank id."""
        return self.graph.of_wiring("usual_reach", lambda: usual_reach(self))

    @cached_property
    def unfused_reach(self) -> frozenset[int]:
        """Return the terminals that are usually fed with no device before them."""
        return self.graph.of_wiring("unfused_reach", lambda: unfused_reach(self))

    @cached_property
    def bundles(self) -> tuple[Bundle, ...]:
        """Return the bundles of DC power conductors."""
        return bundles(self)

    @cached_property
    def wrong_sides(self) -> tuple[WrongSide, ...]:
        """Return the batteries and parts that are connected the wrong way round."""
        return wrong_sides(self.graph)

    def as_meant(self) -> Survey:
        """Return the survey of the boat with what is the wrong way round turned right: this one
        when nothing is.
        """
        diagram = as_meant(self.graph)
        return self if diagram is self.graph.diagram else Survey(diagram)

    @cached_property
    def _network(self) -> Network:
        unknown = any(edge.role == "overcurrent" and edge.device.get("rated_a") is None
                      for edge in self.graph.edges)
        best = protection_table(self.graph, 0.0) if unknown else self.protection
        return Network(self.graph, self.protection, best, self.starter_circuit, self.zones)

    def largest_before(self, node: int) -> tuple[float, float] | None:
        """Return between which bounds the rating of the worst device before a terminal lies,
        equal when all ratings are known; None when no device is before it. [A].
        """
        high_a = self.protection.largest.get(node)
        return None if high_a is None else (self._network.best.largest[node], high_a)

    def guard(self, edge: Edge, node: int) -> Guard | None:
        """Return the worst device before a conductor's end; ways without any are not counted."""
        return guard_of(self._network, edge, node)

    def ampacity(self, conductor: Conductor, rule_set: RuleSet) -> Ampacity:
        """Return a conductor's corrected ampacity by a rule set's tables."""
        key = (conductor.id, rule_set)
        if key not in self._ampacities:
            self._ampacities[key] = ampacity(conductor, self.diagram, rule_set)
        return self._ampacities[key]

    def ampacity_range(self, conductor: Conductor, rule_set: RuleSet) -> AmpacityRange:
        """Return between which bounds a conductor's ampacity lies."""
        key = (conductor.id, rule_set)
        if key not in self._ranges:
            self._ranges[key] = ampacity_range(conductor, self.diagram, rule_set)
        return self._ranges[key]

    def is_ungrounded(self, edge: Edge) -> bool:
        """Say whether a DC core is of the ungrounded side: every one in an insulated system."""
        if edge.core in ("signal", "L", "L2", "N", "E"):
            return False
        sides = {self.potentials[edge.a].side, self.potentials[edge.b].side}
        if sides <= {"-"}:
            return False
        return edge.core == "+" or "+" in sides

    def live(
        self, positions: Mapping[str, str] | None = None,
        sources: Mapping[str, bool] | None = None, mode_id: str | None = None,
    ) -> LiveState:
        """Return what is live. Raise UnknownPosition or NotDrawn for what is not there."""
        mode = self._mode(mode_id)
        standing = {**(mode.positions if mode else {}), **(positions or {})}
        self._check_positions(standing)
        active = active_sources(self.diagram, mode, sources)
        return live_state(
            self.graph, active, standing, lambda p: set(backfed(self.graph, active, p)))

    def state(
        self, mode_id: str | None = None, positions: Mapping[str, str] | None = None,
        sources: Mapping[str, bool] | None = None, absent: Iterable[str] = (),
        load_a: Mapping[str, float] | None = None, short_time: Iterable[str] = (),
        copper_c: float = 20.0,
    ) -> State:
        """Return the state to solve: a mode's, with what is set otherwise."""
        mode = self._mode(mode_id)
        standing = {**(mode.positions if mode else {}), **(positions or {})}
        self._check_positions(standing)
        active = active_sources(self.diagram, mode, sources)
        from_ac = [s for s in active
                   if self.diagram.components[s].kind in ("shore_inlet", "generating_set")]
        return State(
            positions=standing, sources=frozenset(active),
            absent=frozenset(absent) | frozenset(mode.absent if mode else ()),
            load_a={**(mode.load_current_a if mode else {}), **(load_a or {})},
            charge=dict(mode.state_of_charge) if mode else {},
            live_ac=live_components(self.graph, from_ac, standing),
            sun=1.0 if mode is None or mode.sun_fraction is None else mode.sun_fraction,
            wind_mps=None if mode is None else mode.wind_mps, copper_c=copper_c,
            short_time_loads=frozenset(short_time),
        )

    def operating_point(
        self, state: State, *near: OperatingPoint | None, first: Round | None = None
    ) -> OperatingPoint:
        """Return volts and amperes in a state; `near` are answers of states much like it, the
        likest first, and `first` is its first round where that is known.
        """
        return operating_point(self.graph, state, self.start_v, *near, first=first)

    @cached_property
    def start_v(self) -> list[float]:
        """Return the volts from which operating points are searched, by terminal number."""
        return [p.nominal_v or 0.0 for p in self.potentials]

    def _mode(self, mode_id: str | None) -> Mode | None:
        if mode_id is None:
            return None
        mode = self.diagram.modes.get(mode_id)
        if mode is None:
            raise NotDrawn("mode", mode_id, tuple(self.diagram.modes))
        return mode

    def _check_positions(self, positions: Mapping[str, str]) -> None:
        for handle_id, position in positions.items():
            component_id, _, item = handle_id.partition(".")
            component = self.diagram.components.get(component_id)
            handles = kind_of(component).handles(component.parameters) if component else ()
            own = next((h for h in handles if h.id == item), None)
            if own is None or position not in own.positions:
                raise UnknownPosition(handle_id, position, own.positions if own else ())
