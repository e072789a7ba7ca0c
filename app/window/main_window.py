"""The main window. It joins the parts; each part does its own work."""

from __future__ import annotations

from collections.abc import Callable, Mapping
from functools import partial
from pathlib import Path
from typing import TYPE_CHECKING

from PySide6.QtCore import QByteArray, QSettings, Qt, QTimer
from PySide6.QtGui import QAction, QCloseEvent, QGuiApplication, QKeySequence, QResizeEvent
from PySide6.QtWidgets import (
    QHBoxLayout,
    QMainWindow,
    QMenu,
    QSplitter,
    QVBoxLayout,
    QWidget,
)

from app.actions import ACTIONS, CONDITIONS, MENUS, by_id, of_menu
from app.canvas.scene import SheetScene
from app.canvas.view import SheetView
from app.drawing.badges import Badge
from app.drawing.empty_sheet import empty_marks
from app.drawing.frame import frame_marks, sheet_size_mm
from app.drawing.sheet import SheetLook, sheet_drawing
from app.drawing.theme import Palette
from app.drawing.wording import designation
from app.live_looks import live_looks
from app.panels.locker import Locker
from app.panels.particulars import Particulars
from app.style import style_sheet
from app.window.bar import Bar
from app.window.commands import WindowCommands
from app.window.desk import WindowDesk, positions_of
from app.window.files import Files
from app.window.foot import Foot, LogLine
from app.window.rulers import FramedView, field_name
from app.worker import Worker
from app.workspace import Workspace
from model.diagram import Diagram

if TYPE_CHECKING:
    from model.survey import LiveState
    from rules.engine import Report

PIXELS_PER_MM = 96 / 25.4
FOLD_BELOW_PX = 1300


class MainWindow(QMainWindow):
    """One diagram in one window."""

    def __init__(self, workspace: Workspace, state_folder: Path) -> None:
        super().__init__()
        self.workspace = workspace
        self.palette_name: Palette = "day"
        self.report: Report | None = None
        self.scene = SheetScene(self.palette_name)
        self.desk = WindowDesk(workspace, self.scene, self.say, self._selected, self.set_position)
        self.view = SheetView(self.desk)
        self.files = Files(self, workspace, state_folder, self.say)
        self.commands = WindowCommands(self)
        self.actions_by_id = self._make_actions()
        self.bar = Bar(self.actions_by_id, self._make_menu())
        self.locker = Locker(self.palette_name)
        self.particulars = Particulars(self.desk.refusal)
        self.foot, self.log = Foot(), LogLine()
        self.framed = FramedView(self.view)
        self.worker = Worker(self)
        self._settings = QSettings(str(state_folder / "window.ini"), QSettings.Format.IniFormat)
        self._lay_out()
        self._wire()
        self.setStyleSheet(style_sheet(self.palette_name))
        self.setMinimumSize(1100, 700)
        self._restore_layout()
        self._diagram_changed(None, workspace.diagram)
        QTimer.singleShot(0, self.view.fit)

    def _lay_out(self) -> None:
        self.setWindowTitle("Loomwright")
        self._upright = QSplitter(Qt.Orientation.Vertical)
        self._upright.addWidget(self.framed)
        self._upright.addWidget(self.foot)
        self._upright.setStretchFactor(0, 1)
        self._upright.setSizes([620, 190])
        self._upright.setChildrenCollapsible(False)
        middle = QHBoxLayout()
        middle.setContentsMargins(0, 0, 0, 0)
        middle.setSpacing(0)
        middle.addWidget(self.locker)
        middle.addWidget(self._upright, 1)
        middle.addWidget(self.particulars)
        whole = QWidget()
        column = QVBoxLayout(whole)
        column.setContentsMargins(0, 0, 0, 0)
        column.setSpacing(0)
        column.addWidget(self.bar)
        column.addLayout(middle, 1)
        column.addWidget(self.log)
        self.setCentralWidget(whole)

    def _wire(self) -> None:
        self.workspace.listeners.append(self._diagram_changed)
        self.locker.chosen.connect(self._arm)
        self.view.pointed.connect(self._pointed)
        self.view.scaled.connect(self._scaled)
        self.view.menu_wanted.connect(lambda at: self._edit_menu().exec(at))
        self.view.file_dropped.connect(lambda name: self.files.open(Path(name)))
        self.foot.notices.shown_item.connect(self.show_item)
        self.foot.live.shown_item.connect(self.show_item)
        self.foot.currentChanged.connect(self._show_live_table)
        self.foot.positions.worked.connect(self.set_position)
        self.foot.positions.mode_chosen.connect(self.set_mode)
        self.particulars.shown_item.connect(self.show_item)
        self.worker.reported.connect(self._reported)
        self.bar.mode_chosen.connect(self._mode_chosen)
        self.bar.finder.found.connect(self.commands.go_to)
        self.log.zoom_in.connect(lambda: self.view.zoom(1.25))
        self.log.zoom_out.connect(lambda: self.view.zoom(0.8))
        self.log.fit.connect(lambda: self.view.fit())

    def _make_actions(self) -> Mapping[str, QAction]:
        made = {}
        for action in ACTIONS:
            item = QAction(action.title, self)
            if action.shortcut:
                item.setShortcut(QKeySequence(action.shortcut))
            item.setToolTip(f"{action.sentence} {action.shortcut}".strip())
            item.setStatusTip(action.sentence)
            item.triggered.connect(lambda _=False, key=action.id: self.run(key))
            if action.is_for_the_sheet:
                item.setShortcutContext(Qt.ShortcutContext.WidgetShortcut)
                self.view.addAction(item)
            else:
                self.addAction(item)
            made[action.id] = item
        return made

    def _make_menu(self) -> QMenu:
        menu = QMenu(self)
        for title in MENUS:
            part = menu.addMenu(title)
            for action in of_menu(title):
                part.addAction(self.actions_by_id[action.id])
            if title == "File":
                recent = part.addMenu("Recent files")
                recent.aboutToShow.connect(partial(self._fill_recent, recent))
        return menu

    def _fill_recent(self, menu: QMenu) -> None:
        menu.clear()
        for path in self.files.recent():
            menu.addAction(str(path), partial(self.files.open, path))
        menu.setEnabled(True)
        if menu.isEmpty():
            menu.addAction("None yet").setEnabled(False)

    def _edit_menu(self) -> QMenu:
        menu = QMenu(self)
        for action in of_menu("Edit"):
            menu.addAction(self.actions_by_id[action.id])
        return menu

    def run(self, action_id: str) -> None:
        """Run an action by its id, when its condition holds."""
        action = by_id(action_id)
        if not CONDITIONS[action.condition](self.commands):
            return
        function: Callable[..., object] = getattr(self.commands, action.function)
        if action.argument or action.function == "set_operating":
            function(action.argument)
        else:
            function()

    def say(self, sentence: str) -> None:
        """Tell the person something in the log line."""
        self.log.words.setText(sentence)

    def _arm(self, kind: str) -> None:
        self.commands.set_operating("")
        self.view.arm(kind)
        self.view.setFocus(Qt.FocusReason.OtherFocusReason)
        self.say("Click on the sheet to place it; Enter places, space turns, Escape lets go.")

    def _mode_chosen(self, mode: str) -> None:
        if mode == "print":
            self.files.print_dialog()
        else:
            self.commands.set_operating("" if mode == "draw" else mode)

    def _pointed(self, x: float, y: float) -> None:
        self.log.place.setText(f"{field_name(x, y):4} {x:.1f}, {y:.1f} mm")

    def _scaled(self, scale: float) -> None:
        self.log.scale.setText(f"{scale / PIXELS_PER_MM:.0%}")

    def _selected(self, selection: frozenset[str]) -> None:
        self.particulars.show_selection(self.workspace.diagram, selection)
        if self.report is not None:
            self.particulars.show_findings(tuple(self.report.findings))
        self._enable()

    def _enable(self) -> None:
        for action in ACTIONS:
            allowed = CONDITIONS[action.condition](self.commands)
            self.actions_by_id[action.id].setEnabled(allowed)
        undo, redo = self.workspace.undo_label, self.workspace.redo_label
        self.actions_by_id["edit.undo"].setToolTip(f"Undo: {undo}" if undo else "Nothing to undo")
        self.actions_by_id["edit.redo"].setToolTip(f"Redo: {redo}" if redo else "Nothing to redo")

    def _diagram_changed(self, before: Diagram | None, diagram: Diagram) -> None:
        self._forget_what_is_gone(diagram)
        if before is None or before.boat is not diagram.boat or before.sheet is not (
            diagram.sheet) or bool(before.components) != bool(diagram.components):
            self._show_frame(diagram)
        self.refresh()
        self.desk.choose(self.scene.selection)
        if before is not diagram:
            self.worker.ask(self.workspace.serial, diagram)
        self._show_names(diagram)

    def _show_frame(self, diagram: Diagram) -> None:
        counts = dict(self.report.counts()) if self.report is not None else {}
        marks = frame_marks(diagram.sheet, diagram.boat, counts)
        if not diagram.components:
            marks += empty_marks(diagram.sheet)
        self.scene.show_frame(sheet_size_mm(diagram.sheet.size), marks)

    def _show_names(self, diagram: Diagram) -> None:
        name = diagram.boat.name or "Unnamed boat"
        self.bar.show_boat(name, f"present diagram, edition {diagram.boat.edition}")
        changed = self.workspace.is_changed
        file = self.workspace.path.name if self.workspace.path else "not saved yet"
        self.log.saved.setText(f"{file}{' · changed' if changed else ''}")
        self.log.counts.setText(
            f"{len(diagram.components)} parts   {len(diagram.conductors)} conductors   "
            f"{'ISO' if diagram.boat.rule_set == 'iso' else 'US'} figures")
        self.setWindowTitle(f"{name}[*] - Loomwright")
        self.setWindowModified(changed)
        self.bar.finder.set_entries(self.commands.finder_entries())

    def refresh(self) -> None:
        """Show the diagram as it is, with badges when drawing and bands when operating."""
        self.scene.show(sheet_drawing(self.workspace.diagram, self._look()))
        self.foot.positions.show_positions(
            self.workspace.diagram, self.desk.positions, self.desk.mode_id)
        self.log.mode.setText(self._mode_words())

    def _mode_words(self) -> str:
        """Return what the window does now: draw, or operate the boat in one of her modes."""
        if not self.view.is_operating:
            return "Draw"
        mode = self.workspace.diagram.modes.get(self.desk.mode_id)
        return f"Operate: {(mode.name or mode.id) if mode else 'everything running'}"

    def _show_live_table(self, _tab: int = 0) -> None:
        """Fill the Live table when it comes to the front while drawing."""
        if self.foot.currentWidget() is self.foot.live and not self.view.is_operating:
            self.foot.live.show_state(self.workspace.diagram, self.live_state())

    def _look(self) -> SheetLook:
        if not self.view.is_operating:
            return SheetLook(positions=self.desk.positions, badges=self._badges())
        state = self.live_state()
        self.foot.live.show_state(self.workspace.diagram, state)
        return SheetLook(self.desk.positions, live_looks(self.workspace.diagram, state))

    def live_state(self) -> LiveState:
        """Return what is live with the switches as they stand."""
        from model.survey import Survey  # not needed for the first paint

        return Survey(self.workspace.diagram).live(
            self.desk.positions, mode_id=self.desk.mode_id or None)

    def _badges(self) -> dict[str, list[Badge]]:
        """Return the badges by item. Under ten parts only dangers show; notes never do."""
        badges: dict[str, list[Badge]] = {}
        if self.report is None:
            return badges
        few = len(self.workspace.diagram.components) < 10
        shown = ("danger",) if few else ("danger", "fault", "caution")
        for number, finding in enumerate(self.report.findings, start=1):
            if finding.severity in shown and finding.where:
                item = finding.where[0].partition(".")[0]
                badges.setdefault(item, []).append(Badge(finding.severity, number))
        return badges

    def _reported(self, serial: int, report: Report) -> None:
        if serial != self.workspace.serial:
            return
        badges = self._badges()
        self.report = report
        self.foot.notices.show_report(report, self.workspace.diagram)
        self.foot.show_counts(report.counts(), report.rules_run, len(report.cannot_tell))
        self.particulars.show_findings(tuple(report.findings))
        self._show_frame(self.workspace.diagram)
        if not self.view.is_operating and badges != self._badges():
            self.refresh()

    def set_mode(self, mode_id: str) -> None:
        """Take a mode's positions and what runs in it; the empty id is everything running."""
        mode = self.workspace.diagram.modes.get(mode_id)
        self.desk.mode_id = mode_id if mode is not None else ""
        self.desk.positions = dict(mode.positions) if mode is not None else {}
        self.say(f"Mode: {mode.name or mode.id}" if mode is not None else "Everything running")
        self.refresh()

    def _forget_what_is_gone(self, diagram: Diagram) -> None:
        """Drop positions of switches, and a mode, that the diagram has no more."""
        if self.desk.mode_id not in diagram.modes:
            self.desk.mode_id = ""
        self.desk.positions = {
            handle: position for handle, position in self.desk.positions.items()
            if position in positions_of(diagram, handle)}

    def set_position(self, handle: str, position: str) -> None:
        """Put a switch in a position, as a hand does; the diagram is not changed."""
        self.desk.positions[handle] = position
        self.say(f"{self.part_title(handle)}: {position.replace('_', ' ')}")
        self.refresh()

    def show_item(self, item: str) -> None:
        """Choose an item and bring it to the middle."""
        drawing = self.scene.drawing
        if item not in drawing.parts and item not in drawing.paths and item not in drawing.rows:
            item = item.partition(".")[0]
        if item in drawing.parts:
            body = drawing.parts[item].body
            self.view.show_point((body.x0 + body.x1) / 2, (body.y0 + body.y1) / 2)
        elif item in drawing.paths:
            path = drawing.paths[item]
            self.view.show_point(*path[len(path) // 2])
        elif item in drawing.rows:
            row = drawing.rows[item]
            self.view.show_point((row.x0 + row.x1) / 2, (row.y0 + row.y1) / 2)
        self.desk.choose({item})

    def set_palette_name(self, palette: Palette) -> None:
        """Show everything in another palette."""
        self.palette_name = palette
        self.scene.set_palette(palette)
        self.framed.level.palette_name = palette
        self.framed.upright.palette_name = palette
        self.setStyleSheet(style_sheet(self.palette_name))
        for part in (self.bar, self.locker, self.particulars):
            part.set_palette(palette)
        self.framed.follow()

    def part_title(self, item: str) -> str:
        """Return how the finder names a part or conductor."""
        diagram = self.workspace.diagram
        thing = diagram.components.get(item) or diagram.conductors.get(item)
        name = getattr(thing, "name", "")
        return f"{designation(thing)}  {name}".strip() if thing is not None else item

    def _restore_layout(self) -> None:
        saved = self._settings.value("geometry")
        if isinstance(saved, QByteArray) and not saved.isEmpty():
            self.restoreGeometry(saved)
        else:
            screen = QGuiApplication.primaryScreen().availableGeometry()
            self.resize(min(1600, screen.width()), min(1000, screen.height()))
        split = self._settings.value("split")
        if isinstance(split, QByteArray):
            self._upright.restoreState(split)

    def resizeEvent(self, event: QResizeEvent) -> None:
        """Fold the Locker in a narrow window, so that the sheet has room."""
        super().resizeEvent(event)
        self.locker.set_folded(self.width() < FOLD_BELOW_PX)

    def closeEvent(self, event: QCloseEvent) -> None:
        """Ask about unsaved changes, remember the layout, stop the worker."""
        if not self.files.may_leave():
            event.ignore()
            return
        self._settings.setValue("geometry", self.saveGeometry())
        self._settings.setValue("split", self._upright.saveState())
        self.workspace.listeners.remove(self._diagram_changed)
        self.worker.stop()
        self.workspace.close()
        event.accept()
