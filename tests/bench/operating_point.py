"""The operating point of boats of many parts: the whole way, the arrays alone, and ngspice."""

from __future__ import annotations

import subprocess
import tempfile
from collections.abc import Callable
from pathlib import Path

from model.analysis.operating_point.build import build
from model.analysis.operating_point.solver import solve
from model.diagram import Diagram
from model.storage import dumps
from model.survey import Survey
from tests.bench.figures import RUNS, Figure, timed_ms
from tests.boat_builder import Boat
from tests.reference.spice.netlist import Boat as Netlist
from tests.reference.spice.run import is_installed, operating_point_text, starts

SMALL, MIDDLE, LARGE = 100, 500, 5000
FANOUT = 10  # loads at a bar, and bars one behind the other
DRAWS = ({"current_a": 0.05}, {"power_w": 0.5}, {"resistance_ohm": 300.0})
SHORT_M, LONG_M = 0.4, 1.5


def operating_point(runs: int = RUNS) -> list[Figure]:
    """Solve once to warm up; then boats of each size, their growth, and one against ngspice."""
    surveys = {parts: Survey(boat(parts)) for parts in (SMALL, MIDDLE, LARGE)}
    whole = {parts: _times(_whole(survey), runs) for parts, survey in surveys.items()}
    figures = []
    for parts, goal_ms in ((SMALL, 10.0), (LARGE, 300.0)):
        survey = surveys[parts]
        network = build(survey.graph, survey.state(), _start_v(survey)).network
        title = f"Operating point of {parts} parts"
        figures += [
            Figure(f"{title}, diagram to answer", whole[parts], goal_ms),
            Figure(f"{title}, its {network.nodes} nodes alone",
                   _times(lambda n=network: solve(n), runs), goal_ms),
        ]
    figures.append(Figure(f"Operating point, growth from {MIDDLE} to {LARGE} parts",
                          whole[LARGE], 12.0, whole[MIDDLE]))
    title = f"Operating point of {MIDDLE} parts against a whole run of ngspice"
    if not is_installed():
        print(f"{title}: left out, ngspice is not installed")
        return figures
    return [*figures, Figure(title, whole[MIDDLE], 0.5, _ngspice(surveys[MIDDLE].diagram, runs))]


def boat(parts: int) -> Diagram:
    """A bank and bars in rows of ten behind its switch, each bar with loads behind fuses."""
    made = Boat(returns="implied", negative_datum="X2.s1")
    made.battery("G1", internal_resistance_ohm=0.002, rest_v=12.7, max_charge_a=100)
    made.part("X2", "busbar", pole="-", stud_count=4).fuse("F0", 500).switch("Q1")
    made.wire("N1", "G1.-", "X2.s1", "95 mm2", cores=("-",), length_m=SHORT_M)
    made.wire("A1", "G1.+", "F0.a", "95 mm2", length_m=SHORT_M)
    made.wire("A2", "F0.b", "Q1.a", "95 mm2", length_m=SHORT_M)
    left, bar = parts - 4, 0
    while left > 0:
        feed = "Q1.b" if bar % FANOUT == 0 else f"X1{bar - 1}.s2"
        made.part(f"X1{bar}", "busbar", pole="+", stud_count=FANOUT + 2)
        made.wire(f"B{bar}", feed, f"X1{bar}.s1", "35 mm2", length_m=SHORT_M)
        branches = min(FANOUT, (left - 1) // 2)
        for place in range(branches):
            _branch(made, bar, place)
        left, bar = left - 1 - 2 * branches, bar + 1
    return made.diagram()


def _branch(made: Boat, bar: int, place: int) -> None:
    item = f"{bar}x{place}"
    made.fuse(f"F{item}", 10).load(f"E{item}", nominal_v=12, **DRAWS[place % len(DRAWS)])
    made.wire(f"C{item}", f"X1{bar}.s{place + 3}", f"F{item}.a", "2.5 mm2", length_m=SHORT_M)
    made.wire(f"D{item}", f"F{item}.b", f"E{item}.+", "2.5 mm2", length_m=LONG_M)


def _start_v(survey: Survey) -> list[float]:
    return [potential.nominal_v or 0.0 for potential in survey.potentials]


def _whole(survey: Survey) -> Callable[[], object]:
    """The work from diagram to answer, the survey's graph already made."""
    state = survey.state()
    survey.operating_point(state)
    return lambda: survey.operating_point(state)


def _times(work: Callable[[], object], runs: int) -> tuple[float, ...]:
    return tuple(timed_ms(work) for _ in range(runs))


def _ngspice(diagram: Diagram, runs: int) -> tuple[float, ...]:
    """Whole runs of ngspice on the same network, its netlist already on the disk. [ms].

    It prints all volts by one command: one for each node takes it ten times as long.
    """
    spice = Netlist(dumps(diagram)).write()
    lines = operating_point_text(spice, starts(spice)).splitlines()
    lines = [line for line in lines if not line.startswith("print")]
    lines.insert(lines.index("op") + 1, "print all")
    with tempfile.TemporaryDirectory() as folder:
        path = Path(folder) / "boat.cir"
        path.write_text("\n".join(lines), encoding="utf-8")
        return _times(lambda: subprocess.run(
            ["ngspice", "-b", str(path)], capture_output=True, check=False, timeout=300), runs)
