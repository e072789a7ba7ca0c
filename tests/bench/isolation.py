"""How long it takes to say how to make something dead: the panel, and the worst part aboard."""

from __future__ import annotations

from model.storage import load
from model.survey import Survey
from tests.bench.figures import DEMO, RUNS, Figure, timed_ms


def isolation(runs: int = RUNS) -> list[Figure]:
    """Ask once for the imports; then the panel, and the part that took longest of all."""
    diagram = load(DEMO)
    Survey(diagram).isolation("P1")
    survey = Survey(diagram)
    targets = [*diagram.components, *diagram.conductors]
    once = {target: timed_ms(lambda t=target: survey.isolation(t)) for target in targets}
    worst = max(targets, key=lambda target: once[target])

    def times(target: str) -> tuple[float, ...]:
        return tuple(timed_ms(lambda: Survey(diagram).isolation(target)) for _ in range(runs))

    return [
        Figure("Isolation of the panel P1, all least sets", times("P1"), goal=100.0),
        Figure(f"Isolation of {worst}, the worst of {len(targets)}", times(worst), goal=1000.0),
    ]
