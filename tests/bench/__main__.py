"""Runs the benches named on the command line, or all: recheck, start, frame, drag, fitting,
isolation, operating_point, fleet, drag_checking, drag_many, memory, layouts."""

from __future__ import annotations

import os
import sys

os.environ.setdefault("QT_QPA_PLATFORM", "offscreen")


def main(names: list[str]) -> int:
    """Print the figures of each bench."""
    from app.main_window import make_application
    from tests.bench.editing import drag_among_many, drag_while_checking, memory
    from tests.bench.fleet import fleet_frame
    from tests.bench.isolation import isolation
    from tests.bench.layouts import layouts
    from tests.bench.operating_point import operating_point
    from tests.bench.recheck import recheck
    from tests.bench.sheet import drag, fitting, frame
    from tests.bench.start import start

    benches = {"recheck": recheck, "start": start, "frame": frame, "drag": drag,
               "fitting": fitting, "isolation": isolation, "operating_point": operating_point,
               "fleet": fleet_frame, "drag_checking": drag_while_checking,
               "drag_many": drag_among_many, "memory": memory,
               "layouts": layouts}
    unknown = sorted(set(names) - set(benches))
    if unknown:
        print(f"There is no bench {', '.join(unknown)}; there are {', '.join(benches)}.")
        return 2
    application = make_application()
    for name in names or list(benches):
        for figure in benches[name]():
            print(figure.text(), flush=True)
    del application
    return 0


if __name__ == "__main__":
    sys.exit(main(sys.argv[1:]))
