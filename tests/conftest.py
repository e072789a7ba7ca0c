"""What every test shares: no screen is needed, and the checks against outside figures report.

The largest deviations found in a run are gathered from all workers and printed at its end.
"""

from __future__ import annotations

import os
from typing import Any

import pytest

os.environ.setdefault("QT_QPA_PLATFORM", "offscreen")
# Windows speak the system's language; what tests compare is English.
os.environ["LC_ALL"] = os.environ["LANGUAGE"] = "C.UTF-8"

GATHERED: dict[str, float] = {}


def pytest_sessionfinish(session: pytest.Session) -> None:
    """Hand a worker's deviations over to the run that prints them."""
    from tests.model.analysis.operating_point.balanced import DEVIATIONS

    output = getattr(session.config, "workeroutput", None)
    if output is not None:
        output["deviations"] = dict(DEVIATIONS)
    else:
        _gather(DEVIATIONS)


def pytest_testnodedown(node: Any) -> None:
    """Take a worker's deviations when it is done."""
    _gather(getattr(node, "workeroutput", {}).get("deviations", {}))


def pytest_terminal_summary(terminalreporter: Any) -> None:
    """Print the largest deviation of each outside check."""
    if GATHERED:
        terminalreporter.section("largest deviations")
        for name, deviation in sorted(GATHERED.items()):
            terminalreporter.write_line(f"{name:55} {deviation:.2e}")


def _gather(found: dict[str, float]) -> None:
    for name, deviation in found.items():
        GATHERED[name] = max(GATHERED.get(name, 0.0), deviation)
