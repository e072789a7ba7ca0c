"""The main window. It joins the parts; each part does its own work.

It comes in two steps. The shell (bar, menu, Locker, log line) needs no model and is painted at
once; furnish() brings the diagram with the sheet, the Particulars and the foot.
"""

from __future__ import annotations

from collections.abc import Callable, Mapping
from pathlib import Path
from typing import TYPE_CHECKING

from PySide6.QtCore import QByteArray, Qt, QTimer, Signal
from PySide6.QtGui import (
    QAction,
    QCloseEvent,
    QGuiApplication,
    QKeyEvent,
    QKeySequence,
    QPaintEvent,
    QResizeEvent,
)
from PySide6.QtWidgets import (
    QAbstractButton,
    QHBoxLayout,
    QMainWindow,
    QSplitter,
    QVBoxLayout,
    QWidget,
)

from app.actions import ACTIONS, CONDITIONS, by_id
from app.drawing.theme import Palette
from app.panels.lettering import set_lettering
from app.panels.locker import Locker
from app.style import style_sheet
from app.window.bar import Bar
from app.window.colours import Colours, wear
from app.window.language import mark_language, window_settings
from app.window.leaving import settle, take_typed
from app.window.log_line import LogLine
from app.window.menus import edit_menu, whole_menu
from app.words import _, in_words

if TYPE_CHECKING:
    from app.workspace import Workspace
    from model.survey import LiveState
    from rules.engine import Report

PIXELS_PER_MM = 96 / 25.4
FOLD_BELOW_PX = 1300
PANELS = ("locker", "particulars", "foot")


class MainWindow(QMainWindow):
    """One diagram in one window. Nothing but the shell works before it is furnished."""

    painted = Signal()
    furnished = Signal()

    def __init__(self, state_folder: Path) -> None:
        super().__init__()
        self._settings = window_settings(state_folder)
        self.colours = Colours(self._settings, self.set_palette_name)
        self.palette_name: Palette = self.colours.palette
        self.report: Report | None = None
        self.is_furnished = False
        self._was_painted = False
        self._has_left = False
        self.state_folder = state_folder
        # Before there are children, each of which would be polished at once.
        self._dress()
        self.actions_by_id = self._make_actions()
        self.menu = whole_menu(self)
        mark_language(self.actions_by_id, self._settings)
        self.bar = Bar(self.actions_by_id, self.menu, self.palette_name)
        self.locker = Locker(self.palette_name)
        self.log = LogLine()
        self._lay_out()
        self.setMinimumSize(1100, 700)
        self._restore_size()

    def _lay_out(self) -> None:
        self.setWindowTitle("Loomwright")
        self._desk_space = QWidget()
        self._desk_space.setObjectName("desk")
        self._desk_space.setAttribute(Qt.WidgetAttribute.WA_StyledBackground)
        self._middle = QHBoxLayout()
        self._middle.setContentsMargins(0, 0, 0, 0)
        self._middle.setSpacing(0)
        self._middle.addWidget(self.locker)
        self._middle.addWidget(self._desk_space, 1)
        whole = QWidget()
        self._room = QWidget()
        self._room.setLayout(self._middle)
        self._column = QVBoxLayout(whole)
        self._column.setContentsMargins(0, 0, 0, 0)
        self._column.setSpacing(0)
        self._column.addWidget(self.bar)
        self._column.addWidget(self._room, 1)
        self._column.addWidget(self.log)
        self.setCentralWidget(whole)

    def furnish(self, workspace: Workspace, path: Path | None = None) -> None:
        """Bring the diagram, or the one of a file, and the parts that work on it; do so once."""
        # These need the model, which the first paint does not wait for.
        from app.canvas.scene import SheetScene
        from app.canvas.view import SheetView
        from app.panels.particulars import Particulars
        from app.window.commands import WindowCommands
        from app.window.desk import WindowDesk
        from app.window.files import Files
        from app.window.foot import Foot
        from app.window.judging import Judging
        from app.window.new_boat_pages import Pages
        from app.window.rulers import FramedView
        from app.window.showing import Showing
        from app.worker import Worker

        self.setUpdatesEnabled(False)  # until all stands in its place, to be painted once
        self.workspace = workspace
        self.scene = SheetScene(self.palette_name)
        self.desk = WindowDesk(workspace, self.scene, self.say, self._selected, self.set_position)
        self.view = SheetView(self.desk)
        self.files = Files(self, workspace, self.state_folder, self.say)
        self.commands = WindowCommands(self)
        self.particulars = Particulars(self.desk.typed)
        self.foot, self.framed, self.worker = Foot(), FramedView(self.view), Worker(self)
        self.showing = Showing(self)
        self.judging = Judging(self)
        self.pages = Pages(self, self._room, self._column, self._settings)
        self._lay_out_furniture()
        self._wire()
        self.is_furnished = True
        if self.palette_name != "day":
            self._dress_furniture()
        if path is None or not self.files.open(path):
            self.showing.diagram_changed(None, workspace.diagram)
        QTimer.singleShot(0, self._show_furnished)

    def _show_furnished(self) -> None:
        self.view.fit()
        self.setUpdatesEnabled(True)
        self.furnished.emit()

    def _lay_out_furniture(self) -> None:
        self._upright = QSplitter(Qt.Orientation.Vertical)
        self._upright.addWidget(self.framed)
        self._upright.addWidget(self.foot)
        self._upright.setStretchFactor(0, 1)
        self._upright.setSizes([620, 190])
        self._upright.setChildrenCollapsible(False)
        self._middle.replaceWidget(self._desk_space, self._upright)
        self._desk_space.hide()
        self._desk_space.deleteLater()
        self._middle.addWidget(self.particulars)
        split = self._settings.value("split")
        if isinstance(split, QByteArray):
            self._upright.restoreState(split)
        for name in PANELS:
            if self._settings.value(f"hidden/{name}") == "yes":
                self._panel(name).hide()

    def _panel(self, name: str) -> QWidget:
        panel: QWidget = getattr(self, name)
        return panel

    def toggle_panel(self, name: str) -> None:
        """Show or hide one of the panels, and remember it."""
        panel = self._panel(name)
        panel.setVisible(panel.isHidden())
        self._settings.setValue(f"hidden/{name}", "yes" if panel.isHidden() else "no")

    def _wire(self) -> None:
        self.workspace.listeners.append(self.showing.diagram_changed)
        self.locker.chosen.connect(self._arm)
        self.view.pointed.connect(self.showing.pointed)
        self.view.scaled.connect(self._scaled)
        self.view.menu_wanted.connect(lambda at: edit_menu(self).exec(at))
        self.view.file_dropped.connect(lambda name: self.commands.open_file(Path(name)))
        self.foot.notices.shown_item.connect(self.show_item)
        self.foot.live.shown_item.connect(self.show_item)
        self.foot.walk.chosen.connect(self.showing.go_to_field)
        self.foot.currentChanged.connect(self.showing.show_foot)
        self.foot.positions.worked.connect(self.set_position)
        self.foot.positions.mode_chosen.connect(self.set_mode)
        self.particulars.shown_item.connect(self.show_item)
        self.worker.reported.connect(self.showing.reported)
        self.worker.failed.connect(self.say)
        self.bar.mode_chosen.connect(self._mode_chosen)
        self.bar.finder.found.connect(self.commands.go_to)
        self.log.zoom_in.connect(lambda: self.view.zoom(1.25))
        self.log.zoom_out.connect(lambda: self.view.zoom(0.8))
        self.log.fit.connect(lambda: self.view.fit())
        for action in ACTIONS:
            if action.is_for_the_sheet:
                self.view.addAction(self.actions_by_id[action.id])

    def _make_actions(self) -> Mapping[str, QAction]:
        made = {}
        for action in ACTIONS:
            item = QAction(_(action.title), self)
            if action.shortcut:
                item.setShortcut(QKeySequence(action.shortcut))
            item.setToolTip(f"{_(action.sentence)} {action.shortcut}".strip())
            item.setStatusTip(_(action.sentence))
            item.triggered.connect(lambda _=False, key=action.id: self.run(key))
            if action.is_for_the_sheet:
                item.setShortcutContext(Qt.ShortcutContext.WidgetShortcut)
            else:
                self.addAction(item)
            made[action.id] = item
        return made

    def run(self, action_id: str) -> None:
        """Run an action by its id, when its condition holds."""
        action = by_id(action_id)
        if not self.is_furnished or not CONDITIONS[action.condition](self.commands):
            return
        if action.menu == "File":
            take_typed(self)
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
        self.say(_("Click on the sheet or on a conductor to place it; Space turns it, "
                   "Escape lets go."))

    def _mode_chosen(self, mode: str) -> None:
        if mode == "print":
            self.commands.print_dialog()
        else:
            self.commands.set_operating("" if mode == "draw" else mode)

    def _scaled(self, scale: float) -> None:
        self.log.scale.setText(f"{scale / PIXELS_PER_MM:.0%}")

    def _selected(self, selection: frozenset[str]) -> None:
        self.commands.chosen(selection)
        self.particulars.show_selection(self.workspace.diagram, selection)
        if self.report is not None:
            self.particulars.show_report(self.report)
        self._enable()

    def _enable(self) -> None:
        for action in ACTIONS:
            allowed = CONDITIONS[action.condition](self.commands)
            self.actions_by_id[action.id].setEnabled(allowed)
        undo, redo = self.workspace.undo_label, self.workspace.redo_label
        self.actions_by_id["edit.undo"].setToolTip(
            _("Undo: {undo}").format(undo=undo) if undo else _("Nothing to undo"))
        self.actions_by_id["edit.redo"].setToolTip(
            _("Redo: {redo}").format(redo=redo) if redo else _("Nothing to redo"))

    def refresh(self) -> None:
        """Show the diagram as it is, with badges when drawing and bands when operating."""
        self.showing.refresh()

    def live_state(self) -> LiveState:
        """Return what is live with the switches as they stand."""
        return self.showing.live_state()

    def part_title(self, item: str) -> str:
        """Return how the finder names a part or conductor."""
        return self.showing.part_title(item)

    def set_mode(self, mode_id: str) -> None:
        """Take a mode's positions and what runs in it; the empty id is everything running."""
        mode = self.workspace.diagram.modes.get(mode_id)
        self.desk.mode_id = mode_id if mode is not None else ""
        self.desk.positions = dict(mode.positions) if mode is not None else {}
        self.say(_("Mode: {name}").format(name=mode.name or mode.id) if mode is not None
                 else _("Everything running"))
        self.refresh()

    def set_position(self, handle: str, position: str) -> None:
        """Put a switch in a position, as a hand does; the diagram is not changed."""
        self.desk.positions[handle] = position
        self.refresh()
        told = self.foot.live.against_words() if self.view.is_operating else ""
        self.say(f"{self.part_title(handle)}: {in_words(position)}.{told}")

    def show_item(self, item: str) -> None:
        """Choose an item and bring it to the middle."""
        drawing = self.scene.drawing
        if item not in drawing.parts and item not in drawing.paths and item not in drawing.rows:
            item = item.partition(".")[0]
        box = drawing.parts[item].body if item in drawing.parts else drawing.rows.get(item)
        if box is not None:
            self.view.show_point((box.x0 + box.x1) / 2, (box.y0 + box.y1) / 2)
        elif item in drawing.paths:
            path = drawing.paths[item]
            self.view.show_point(*path[len(path) // 2])
        self.desk.choose({item})

    def set_palette_name(self, palette: Palette) -> None:
        """Show everything in another palette."""
        self.palette_name = palette
        self._dress()
        self.bar.set_palette(palette)
        self.locker.set_palette(palette)
        if self.is_furnished:
            self.scene.set_palette(palette)
            self.view.resetCachedContent()
            self._dress_furniture()

    def _dress(self) -> None:
        wear(self.palette_name)
        set_lettering(self.colours.text_scale)
        self.setStyleSheet(style_sheet(self.palette_name, self.colours.text_scale))

    def _dress_furniture(self) -> None:
        """Show what is not the sheet, and came after the first paint, in the palette."""
        for part in (self.framed, self.particulars, self.foot, self.pages):
            part.set_palette(self.palette_name)

    def _restore_size(self) -> None:
        saved = self._settings.value("geometry")
        if isinstance(saved, QByteArray) and not saved.isEmpty():
            self.restoreGeometry(saved)
        else:
            screen = QGuiApplication.primaryScreen().availableGeometry()
            self.resize(min(1600, screen.width()), min(1000, screen.height()))

    def paintEvent(self, event: QPaintEvent) -> None:
        """Tell when the first paint is over, its children's with it."""
        super().paintEvent(event)
        if not self._was_painted:
            self._was_painted = True
            QTimer.singleShot(0, self.painted.emit)

    def resizeEvent(self, event: QResizeEvent) -> None:
        """Fold the Locker in a narrow window, so that the sheet has room."""
        super().resizeEvent(event)
        self.locker.set_folded(self.width() < FOLD_BELOW_PX)

    def keyPressEvent(self, event: QKeyEvent) -> None:
        """Let Enter press the button that has the focus, as it does in dialogs."""
        button = self.focusWidget()
        is_enter = event.key() in (Qt.Key.Key_Return, Qt.Key.Key_Enter)
        if is_enter and isinstance(button, QAbstractButton):
            button.click()
        else:
            super().keyPressEvent(event)

    def closeEvent(self, event: QCloseEvent) -> None:
        """Ask about unsaved changes, remember the layout, stop the worker."""
        if not self.is_furnished or self._has_left:
            return
        if not settle(self) or not self.files.may_leave():
            event.ignore()
            return
        self._has_left = True
        self._settings.setValue("geometry", self.saveGeometry())
        self._settings.setValue("split", self._upright.saveState())
        self.colours.leave()
        self.workspace.listeners.remove(self.showing.diagram_changed)
        self.worker.stop()
        self.workspace.close()
        event.accept()
