"""What the actions do: every command of the table is one method here."""

from __future__ import annotations

from collections.abc import Mapping
from pathlib import Path
from typing import TYPE_CHECKING

from PySide6 import QtWidgets

from app.actions import ACTIONS
from app.window.bar import rose_picture
from app.window.language import choose_language, mark_language, window_settings
from app.window.sheet_commands import SheetCommands
from app.words import _, ngettext

if TYPE_CHECKING:
    from app.window.help import HelpWindow
    from app.window.main_window import MainWindow


class WindowCommands(SheetCommands):
    """The commands of one window: its files, what it shows, and those on the sheet."""

    def __init__(self, window: MainWindow) -> None:
        super().__init__(window)
        self._help: HelpWindow | None = None

    def can_undo(self) -> bool:
        """Say whether there is a step to take back."""
        return self._window.workspace.undo_label is not None

    def can_redo(self) -> bool:
        """Say whether there is a step to do again."""
        return self._window.workspace.redo_label is not None

    def new_diagram(self) -> None:
        """Start an empty diagram."""
        self._window.files.new()
        self._window.view.fit()

    def new_boat(self) -> None:
        """Ask about a new boat."""
        self._window.pages.show_questions()

    def start_page(self) -> None:
        """Show the page the program starts with."""
        self._window.pages.show_start()

    def open_file(self, path: Path) -> None:
        """Open a file that was dropped or open lately, and show its whole sheet."""
        if self._window.files.open(path):
            self._window.view.fit()

    def open_dialog(self) -> None:
        """Open a file."""
        self._window.files.open_dialog()
        self._window.view.fit()

    def open_demo(self, name: str) -> None:
        """Open a demo boat."""
        self._window.files.open_demo(name)
        self._window.view.fit()

    def import_tables(self) -> None:
        """Make a diagram of two tables."""
        self._window.files.import_tables()
        self._window.view.fit()

    def save(self) -> None:
        """Save the diagram."""
        self._window.files.save()

    def save_as_dialog(self) -> None:
        """Save under another name."""
        self._window.files.save_as_dialog()

    def print_dialog(self) -> None:
        """Write the pack."""
        self._window.files.print_dialog(self._window.palette_name)

    def export_dialog(self) -> None:
        """Write the drawing."""
        self._window.files.export_dialog(self._window.palette_name)

    def close(self) -> None:
        """Close the window."""
        self._window.close()

    def undo(self, steps: int = 1) -> None:
        """Take the newest step back, or several."""
        label = self._window.workspace.undo_label
        taken = sum(self._window.workspace.undo() for _time in range(steps))
        if taken:
            self._window.say(ngettext(
                "Took back: {label}", "Took back {taken} steps", taken).format(
                label=label, taken=taken))

    def redo(self) -> None:
        """Do the step taken back last again."""
        label = self._window.workspace.redo_label
        if self._window.workspace.redo():
            self._window.say(_("Did again: {label}").format(label=label))

    def find(self) -> None:
        """Go to the finder."""
        self._window.bar.finder.setFocus()

    def finder_entries(self) -> Mapping[str, str]:
        """Return what the finder offers: text -> key."""
        entries = {f"{_(action.title)}   {action.shortcut}".strip(): f"action:{action.id}"
                   for action in ACTIONS}
        diagram = self._window.workspace.diagram
        for item in (*diagram.components, *diagram.conductors):
            entries[self._window.part_title(item)] = f"item:{item}"
        return entries

    def go_to(self, key: str) -> None:
        """Run a command or show a part that was found."""
        sort, _colon, name = key.partition(":")
        if sort == "action":
            self._window.run(name)
        else:
            self._window.show_item(name)
        self._window.view.setFocus()

    def fit(self) -> None:
        """Show the whole sheet."""
        self._window.view.fit()

    def zoom_in(self) -> None:
        """Come nearer."""
        self._window.view.zoom(1.25)

    def zoom_out(self) -> None:
        """Go farther."""
        self._window.view.zoom(0.8)

    def set_palette(self, name: str) -> None:
        """Show another palette, or the one that the system asks for."""
        self._window.colours.choose(name)

    def dim(self, way: str) -> None:
        """Make the night colours dimmer or brighter."""
        self._window.say(self._window.colours.dim(1 if way == "dimmer" else -1))

    def set_language(self, name: str) -> None:
        """Speak another language from the next start on."""
        settings = window_settings(self._window.state_folder)
        self._window.say(choose_language(settings, name))
        mark_language(self._window.actions_by_id, settings)

    def toggle_full_screen(self) -> None:
        """Fill the whole screen, or go back to a window."""
        if self._window.isFullScreen():
            self._window.showNormal()
        else:
            self._window.showFullScreen()

    def scale_text(self, way: str) -> None:
        """Make the lettering of the window larger or smaller; the sheet has its zoom."""
        self._window.say(self._window.colours.scale_text(1 if way == "larger" else -1))

    def toggle_locker(self) -> None:
        """Show or hide the Locker."""
        self._window.toggle_panel("locker")

    def toggle_particulars(self) -> None:
        """Show or hide the Particulars."""
        self._window.toggle_panel("particulars")

    def toggle_foot(self) -> None:
        """Show or hide the foot."""
        self._window.toggle_panel("foot")

    def set_operating(self, mode: str) -> None:
        """Draw, or operate switches."""
        window = self._window
        window.view.is_operating = mode == "operate"
        window.view.cancel()
        window.bar.draw.setChecked(mode != "operate")
        window.bar.operate.setChecked(mode == "operate")
        window.foot.setCurrentIndex(2 if mode == "operate" else 0)
        if mode == "operate" and not window.desk.positions and not window.desk.mode_id:
            window.set_mode(next(iter(window.workspace.diagram.modes), ""))
        window.say(_("Click a switch, breaker or fuse to work it.") if mode == "operate"
                   else _("Take a part from the Locker, or go from terminal to terminal."))
        window.refresh()
        window.desk.choose(window.scene.selection)

    def reset_positions(self) -> None:
        """Put every switch in its usual position."""
        self._window.set_mode(self._window.desk.mode_id)
        self._window.say(_("All switches as usual."))

    def show_shortcuts(self) -> None:
        """Show every key."""
        from app.window.shortcut_sheet import ShortcutSheet  # a start has no use for it

        ShortcutSheet(self._window).exec()

    def show_help(self) -> None:
        """Open Help at its first article."""
        self.explain("notices")

    def show_rules(self) -> None:
        """Open Help at the first check."""
        from rules.book import book

        self.explain(book()[0].record.slug)

    def explain(self, page: str) -> None:
        """Open Help at a page: an article's name or a check's slug."""
        from app.window.help import HelpWindow  # reads the rule book, which a start can wait for

        if self._help is None:
            self._help = HelpWindow(self._window)
        self._help.set_palette(self._window.palette_name)
        self._help.show_page(page)
        self._help.show()
        self._help.raise_()

    def show_about(self) -> None:
        """Show what the program does and does not do."""
        from app.window.first_start import CAUTIONS  # a start with a file has no use for it

        box = QtWidgets.QMessageBox(self._window)
        box.setWindowTitle(_("About and cautions"))
        box.setIconPixmap(rose_picture(64, self._window.palette_name, role="ink"))
        what = _("Loomwright draws and checks a boat's electrical system as a single-line diagram.")
        box.setText("\n\n".join([what, *map(_, CAUTIONS)]))
        box.exec()
