"""What the window shows of its diagram: the sheet with badges or bands, the names, the report."""

from __future__ import annotations

from typing import TYPE_CHECKING

from app.drawing.badges import Badge
from app.drawing.empty_sheet import empty_marks
from app.drawing.frame import frame_marks, sheet_size_mm
from app.drawing.sheet import SheetLook, sheet_drawing
from app.drawing.wording import designation
from app.live_looks import live_looks
from app.window.desk import positions_of
from app.window.rulers import field_name
from app.words import _

if TYPE_CHECKING:
    from app.window.main_window import MainWindow
    from model.diagram import Diagram
    from model.survey import LiveState
    from rules.engine import Report


class Showing:
    """Keeps the parts of one window showing its diagram as it is."""

    def __init__(self, window: MainWindow) -> None:
        self._window = window

    def pointed(self, x: float, y: float) -> None:
        """Tell in the log line where on the sheet the pointer is. [mm]."""
        self._window.log.place.setText(f"{field_name(x, y):4} {x:.1f}, {y:.1f} mm")

    def diagram_changed(self, before: Diagram | None, diagram: Diagram) -> None:
        """Show what differs from the diagram before, and ask for its check."""
        self._forget_what_is_gone(diagram)
        workspace = self._window.workspace
        is_fresh = workspace.undo_label is None and workspace.redo_label is None
        if is_fresh and before is not diagram:
            self._forget_the_other_diagram()
        if before is None or before.boat is not diagram.boat or before.sheet is not (
            diagram.sheet) or bool(before.components) != bool(diagram.components):
            self._show_frame(diagram)
        self.refresh()
        self._window.desk.choose(self._window.scene.selection)
        if before is not diagram:
            self._window.worker.ask(self._window.workspace.serial, diagram)
        self._show_names(diagram)

    def _forget_the_other_diagram(self) -> None:
        """Begin with nothing chosen and every switch in its usual position."""
        self._window.foot.notices.forget()
        self._window.scene.select(())
        self._window.desk.positions, self._window.desk.mode_id = {}, ""

    def _show_frame(self, diagram: Diagram) -> None:
        counts = dict(self._window.report.counts()) if self._window.report is not None else {}
        marks = frame_marks(diagram.sheet, diagram.boat, counts)
        if not diagram.components:
            marks += empty_marks(diagram.sheet)
        self._window.scene.show_frame(sheet_size_mm(diagram.sheet.size), marks)

    def _show_names(self, diagram: Diagram) -> None:
        name = diagram.boat.name or _("Unnamed boat")
        self._window.bar.show_boat(name, _("present diagram, edition {edition}").format(
            edition=diagram.boat.edition))
        changed = self._window.workspace.is_changed
        path = self._window.workspace.path
        file = path.name if path else _("not saved yet")
        self._window.log.saved.setText(file + (_(" · changed") if changed else ""))
        self._window.log.counts.setText(
            _("{parts} parts   {wires} conductors   {rules} figures").format(
                parts=len(diagram.components), wires=len(diagram.conductors),
                rules="ISO" if diagram.boat.rule_set == "iso" else "US"))
        self._window.setWindowTitle(f"{name}[*] - Loomwright")
        self._window.setWindowModified(changed)
        self._window.bar.finder.offer(self._window.commands.finder_entries)

    def refresh(self) -> None:
        """Show the diagram as it is, with badges when drawing and bands when operating."""
        self._window.scene.show(sheet_drawing(self._window.workspace.diagram, self._look()))
        self._window.foot.positions.show_positions(
            self._window.workspace.diagram, self._window.desk.positions, self._window.desk.mode_id)
        self._window.log.mode.setText(self._mode_words())

    def _mode_words(self) -> str:
        """Return what the window does now: draw, or operate the boat in one of her modes."""
        if not self._window.view.is_operating:
            return _("Draw")
        mode = self._window.workspace.diagram.modes.get(self._window.desk.mode_id)
        return _("Operate: {mode}").format(
            mode=(mode.name or mode.id) if mode else _("everything running"))

    def show_foot(self, _tab: int = 0) -> None:
        """Fill the Live table, or the Walk list, when it comes to the front."""
        foot, diagram = self._window.foot, self._window.workspace.diagram
        if foot.currentWidget() is foot.live and not self._window.view.is_operating:
            foot.live.show_state(diagram, self.live_state())
        if foot.currentWidget() is foot.walk and self._window.report is not None:
            foot.walk.show_report(self._window.report, diagram)

    def go_to_field(self, item: str, field: str) -> None:
        """Choose what a field belongs to, and let it be typed; the boat's own when nothing is."""
        diagram, window = self._window.workspace.diagram, self._window
        if item in diagram.components or item in diagram.conductors or "." in item:
            window.show_item(item)
        else:
            window.desk.choose(())
        name = f"{item}.{field}" if item in diagram.systems else field
        window.particulars.focus_field(name)

    def _look(self) -> SheetLook:
        if not self._window.view.is_operating:
            return SheetLook(positions=self._window.desk.positions, badges=self._badges())
        diagram, state = self._window.workspace.diagram, self.live_state()
        self._window.foot.live.show_state(diagram, state)
        return SheetLook(self._window.desk.positions, live_looks(diagram, state))

    def live_state(self) -> LiveState:
        """Return what is live with the switches as they stand."""
        from model.survey import Survey  # not needed for the first paint

        return Survey(self._window.workspace.diagram).live(
            self._window.desk.positions, mode_id=self._window.desk.mode_id or None)

    def _badges(self) -> dict[str, list[Badge]]:
        """Return the badges by item. Under ten parts only dangers show; notes never do."""
        badges: dict[str, list[Badge]] = {}
        if self._window.report is None:
            return badges
        few = len(self._window.workspace.diagram.components) < 10
        shown = ("danger",) if few else ("danger", "fault", "caution")
        for number, finding in enumerate(self._window.report.findings, start=1):
            if finding.severity in shown and finding.where:
                item = finding.where[0].partition(".")[0]
                badges.setdefault(item, []).append(Badge(finding.severity, number))
        return badges

    def reported(self, serial: int, report: Report) -> None:
        """Show a report, unless the diagram has changed since it was asked for."""
        if serial != self._window.workspace.serial:
            return
        badges = self._badges()
        self._window.report = report
        self._window.foot.notices.show_report(report, self._window.workspace.diagram)
        self._window.foot.show_counts(report.counts(), report.rules_run, len(report.cannot_tell))
        self._window.particulars.show_report(report)
        self.show_foot()
        self._show_frame(self._window.workspace.diagram)
        if not self._window.view.is_operating and badges != self._badges():
            self.refresh()

    def _forget_what_is_gone(self, diagram: Diagram) -> None:
        """Drop positions of switches, and a mode, that the diagram has no more."""
        if self._window.desk.mode_id not in diagram.modes:
            self._window.desk.mode_id = ""
        self._window.desk.positions = {
            handle: position for handle, position in self._window.desk.positions.items()
            if position in positions_of(diagram, handle)}

    def part_title(self, item: str) -> str:
        """Return how the finder names a part or conductor."""
        diagram = self._window.workspace.diagram
        thing = diagram.components.get(item) or diagram.conductors.get(item)
        name = getattr(thing, "name", "")
        return f"{designation(thing)}  {name}".strip() if thing is not None else item
