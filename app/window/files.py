"""Files: open, save, the question about unsaved changes, recovery, print and export."""

from __future__ import annotations

import contextlib
from collections.abc import Callable, Iterable, Sequence
from datetime import datetime
from pathlib import Path
from typing import TYPE_CHECKING

from PySide6 import QtWidgets  # dialogs by need: a start shows none

import assets
from app.drawing.layout import layout_edit
from app.new_boat import new_diagram
from app.recent import recent_files, remember
from app.window import messages
from app.words import N_, _
from app.workspace import Workspace
from model.diagram import Diagram
from model.errors import ModelError
from model.storage.recover import Leftover, leftovers, recover

if TYPE_CHECKING:
    from app.drawing.theme import Palette
    from app.window.main_window import MainWindow

FILTER = N_("Diagrams (*.loom)")
DEMOS = {"sloop": "weekend_sloop.loom", "cutter": "steel_cutter.loom"}


class Files:
    """What the window does with files. `tell` shows a sentence that must be read."""

    def __init__(
        self, window: MainWindow, workspace: Workspace, state_folder: Path,
        say: Callable[[str], None],
    ) -> None:
        self._window, self._workspace, self._folder = window, workspace, state_folder
        self._say = say

    def tell(self, title: str, sentence: str) -> None:
        """Show a sentence in a dialog."""
        messages.warn(self._window, title, sentence)

    def may_leave(self) -> bool:
        """Ask what to do with unsaved changes; return False to stay."""
        if not self._workspace.is_changed:
            return True
        box = messages.message(
            self._window, _("Unsaved changes"), _("The diagram has changes that are not saved."),
            messages.QUESTION)
        box.setInformativeText(_("Save them, or leave without them?"))
        buttons = QtWidgets.QMessageBox.StandardButton
        box.setStandardButtons(buttons.Save | buttons.Discard | buttons.Cancel)
        box.setDefaultButton(buttons.Save)
        answer = box.exec()
        if answer == buttons.Save:
            return self.save()
        return answer == buttons.Discard

    def new(self) -> None:
        """Start an empty diagram."""
        if self.may_leave():
            self._workspace.start_new(new_diagram())
            self._say(_("A new diagram. Take a part from the Locker."))

    def take_new(self, diagram: Diagram, sentence: str) -> bool:
        """Take a diagram that was made for the owner; return whether the open one could go."""
        if not self.may_leave():
            return False
        self._workspace.start_new(diagram, is_work=True)
        self._lay_out()
        self._say(sentence)
        return True

    def open_dialog(self) -> None:
        """Ask for a file and open it."""
        if not self.may_leave():
            return
        name, _kind = QtWidgets.QFileDialog.getOpenFileName(
            self._window, _("Open a diagram"), "", _(FILTER))
        if name:
            self.open(Path(name), asked=True)

    def open(self, path: Path, asked: bool = False) -> bool:
        """Open a file; on failure the open diagram stays untouched. Return whether it opened."""
        if not asked and not self.may_leave():
            return False
        try:
            self._workspace.open(path)
        except ModelError as error:
            self.tell(_("The file was not opened"), error.sentence)
            return False
        remember(self._folder, path)
        self._say(_("Opened {name}").format(name=path.name))
        self._lay_out()
        return True

    def _lay_out(self) -> None:
        """Give parts without a place one, as a step that can be taken back."""
        diagram = self._workspace.diagram
        edit = layout_edit(diagram)
        if edit is not None:
            self._workspace.do(edit)
            placed = sum(change.collection == "components" for change in edit.changes)
            paper = self._workspace.diagram.sheet.size
            larger = _(" on {paper}").format(paper=paper) if paper != diagram.sheet.size else ""
            self._say(_("{placed} parts had no place on the sheet; they were laid out{larger}.")
                      .format(placed=placed, larger=larger))

    def open_demo(self, name: str) -> None:
        """Open a demo boat as a new, unsaved diagram."""
        if not self.may_leave():
            return
        from model.storage import load

        self._workspace.start_new(load(demo_path(name)))
        self._say(_("A demo boat. It is yours to change; saving asks for a name."))

    def import_tables(self) -> None:
        """Make a new diagram of two tables, when their preview is accepted."""
        from app.window.importing import import_tables

        if not self.may_leave():
            return
        diagram = import_tables(self._window, self)
        if diagram is not None:
            self._workspace.start_new(diagram, is_work=True)
            self._lay_out()

    def save(self) -> bool:
        """Save to the diagram's own file, or ask for one; return whether it was saved."""
        path = self._workspace.path
        return self.save_to(path) if path is not None else self.save_as_dialog()

    def save_as_dialog(self) -> bool:
        """Ask for a file and save there."""
        name, _kind = QtWidgets.QFileDialog.getSaveFileName(
            self._window, _("Save the diagram"), suggested_name(self._workspace.diagram), _(FILTER))
        if not name:
            return False
        path = Path(name)
        return self.save_to(path if path.suffix else path.with_suffix(".loom"))

    def save_to(self, path: Path) -> bool:
        """Save to a file; a failure is told and the old file stays."""
        try:
            self._workspace.save_as(path)
        except ModelError as error:
            self.tell(_("The diagram was not saved"), error.sentence)
            return False
        remember(self._folder, path)
        self._say(_("Saved {name} at {time}").format(
            name=path.name, time=f"{datetime.now():%H:%M}"))
        return True

    def recent(self) -> tuple[Path, ...]:
        """Return the recent files."""
        return recent_files(self._folder)

    def offer_recovery(self) -> None:
        """Ask about journals a crash left behind, one at a time."""
        for left in leftovers(self._folder):
            name = left.diagram_path.name if left.diagram_path else _("a diagram never saved")
            when = datetime.fromtimestamp(left.time)
            question = _("The program ended unexpectedly with {steps} steps on {name} not saved "
                         "({when}). Bring them back?").format(
                steps=left.steps, name=name, when=f"{when:%d %B, %H:%M}")
            if messages.ask(self._window, _("Bring back unsaved work?"), question):
                self._adopt(left)
                return
            left.journal.unlink(missing_ok=True)

    def _adopt(self, left: Leftover) -> None:
        try:
            recovered = recover(left.journal)
            self._workspace.adopt(recovered)
        except ModelError as error:
            self.tell(_("The work could not be brought back"), error.sentence)
            return
        left.journal.unlink(missing_ok=True)
        warning = recovered.warning
        if recovered.base_changed:
            warning = " ".join((_("The file changed after this work was done. The work is shown "
                                  "as a new diagram; save it under another name."), warning))
        if warning:
            self.tell(_("Not everything could be brought back"), warning)
        self._say(_("Unsaved work was brought back."))

    def print_dialog(self, palette: Palette = "day") -> None:
        """Show the print page; write the pack, or send it to a printer."""
        from app.window.printing import PrintPage, send_to_printer

        page = PrintPage(self._workspace.diagram, self._window, palette)
        page.exec()
        page.deleteLater()
        if page.wants == "file":
            name, _kind = QtWidgets.QFileDialog.getSaveFileName(
                self._window, _("Print to PDF"), suggested_name(self._workspace.diagram, ".pdf"),
                _("PDF (*.pdf)"))
            if name:
                self.print_to(Path(name), page.paper.currentText(), page.grey.isChecked(),
                              page.sheets)
        elif page.wants == "printer" and send_to_printer(
                page.pages, page.palette_name, suggested_name(self._workspace.diagram, ""),
                self._window):
            self._note_printed(page.sheets)
            self._say(_("Sent {count} pages to the printer").format(count=len(page.pages)))

    def _note_printed(self, sheets: Iterable[str]) -> None:
        from app.pack.book import printing_edit

        self._workspace.do(printing_edit(self._workspace.diagram, sheets))

    def print_to(
        self, path: Path, paper: str | None = None, grey: bool = False,
        sheets: Sequence[str] = (),
    ) -> bool:
        """Write the pack, all sheets unless some are chosen; a failure is told."""
        from app.pack.book import SHEETS, write_pack

        try:
            pages = write_pack(self._workspace.diagram, path, paper, grey, sheets or SHEETS)
            self._note_printed(sheets or SHEETS)
        except (ModelError, OSError) as error:
            self.tell(_("The pack was not written"), str(error))
            return False
        self._say(_("Wrote {name}, {pages} pages").format(name=path.name, pages=pages))
        return True

    def export_dialog(self, palette: Palette) -> None:
        """Ask for a file and write the drawing there as SVG or PNG, or the boat as two tables."""
        from app.drawing.export import write_drawing
        from app.exchange.outgoing import write_tables

        name, _kind = QtWidgets.QFileDialog.getSaveFileName(
            self._window, _("Export the drawing"), suggested_name(self._workspace.diagram, ".svg"),
            _("SVG (*.svg);;PNG (*.png);;Two tables (*.csv)"))
        if not name:
            return
        path = Path(name)
        try:
            if path.suffix.lower() == ".csv":
                write_tables(self._workspace.diagram, path.with_suffix(""))
            else:
                write_drawing(self._workspace.diagram, path,
                              "png" if path.suffix.lower() == ".png" else "svg", palette)
        except (ModelError, OSError) as error:
            self.tell(_("The drawing was not written"), str(error))
            return
        self._say(_("Wrote {name}").format(name=path.name))


def suggested_name(diagram: Diagram, suffix: str = ".loom") -> str:
    """Return a file name made from the boat's name."""
    name = "".join(c if c.isalnum() else "-" for c in diagram.boat.name.lower()).strip("-")
    return f"{name or 'my-boat'}{suffix}"


def demo_path(name: str) -> Path:
    """Return the file of a demo boat."""
    with contextlib.suppress(KeyError):
        return Path(assets.__file__).parent / "demo" / DEMOS[name]
    raise ModelError(_("There is no demo boat '{name}'.").format(name=name))
