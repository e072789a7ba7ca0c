"""The sheet of the lithium batteries: their limits, and what happens when they shut down."""

from __future__ import annotations

from app.drawing.wording import designation, figure
from app.pack.schedules import UNKNOWN
from app.pack.tables import Column, Row, Table
from app.reports import CAUTION
from model.analysis.management import stated_limit
from model.diagram import Component, Diagram
from model.kinds import kind_of
from model.kinds.storage import LITHIUM

LIMITS = (("max_charge_v", "V", "Charge at most"), ("float_v", "V", "Float"),
          ("max_charge_a", "A", "Charge at most"), ("max_discharge_a", "A", "Discharge at most"),
          ("min_c", "\u00b0C", "No colder than"), ("max_c", "\u00b0C", "No warmer than"))


def lithium_table(diagram: Diagram) -> Table | None:
    """Return limits and shutdown of each lithium battery, or None when there is none."""
    batteries = [part for part in diagram.components.values() if part.kind == "battery_bank"
                 and part.parameters.get("chemistry") in LITHIUM]
    if not batteries:
        return None
    columns = (Column("Battery", 0.08, "bold"), Column("Name", 0.14),
               *(Column(f"{title}, {unit}", 0.08) for _, unit, title in LIMITS),
               Column("When its management shuts down", 0.3))
    rows = tuple(Row((designation(part), part.name or kind_of(part).title,
                      *(figure(stated_limit(diagram, part, name), "") or UNKNOWN
                        for name, _, _ in LIMITS),
                      _shutdown(diagram, part)), part.id) for part in batteries)
    return Table("Lithium batteries", columns, rows,
                 "The management opens without asking when a limit is passed: light and "
                 "instruments on this battery go out.", CAUTION)


def _shutdown(diagram: Diagram, battery: Component) -> str:
    unit = diagram.components.get(str(battery.parameters.get("management_unit", "")))
    if unit is None:
        inside = battery.parameters.get("management") == "internal"
        return "It disconnects the battery by itself." if inside else UNKNOWN
    drives = [f"{_called(diagram, row['id'])} ({row.get('role', 'both')})"
              for row in unit.parameters.get("drives", ())]
    stops = [_called(diagram, item) for item in unit.parameters.get("stops", ())]
    alarm = str(unit.parameters.get("alarm", UNKNOWN)).replace("_", " ")
    return (f"{designation(unit)} opens {', '.join(drives) or UNKNOWN}; stops first: "
            f"{', '.join(stops) or 'nothing'}; alarm: {alarm}.")


def _called(diagram: Diagram, item: str) -> str:
    part = diagram.components.get(item)
    return designation(part) if part is not None else item
