"""Drawing by keyboard: the next part on a chosen one, a conductor to another, typed figures."""

from __future__ import annotations

from collections.abc import Callable
from typing import TYPE_CHECKING

from PySide6.QtCore import QPoint, QPointF, Qt
from PySide6.QtWidgets import QWidget

from app.canvas.gestures.base import Pointer
from app.canvas.gestures.drawing import RING_R_MM, PlacePart
from app.drafting.inserting import pieces_beside, split_edit
from app.drafting.many import figures_edit, parts_field_edit
from app.drafting.next_part import (
    Figures,
    Terminal,
    free_terminals,
    is_length,
    join_next_edit,
    next_part_edit,
    read_line,
)
from app.drawing.marks import Circle
from app.panels.locker import best_kind
from app.typed import read_quantity
from app.window.quick_line import QuickLine
from app.words import N_, _, decimal, ngettext, pgettext
from model.errors import ModelError
from model.kinds import kind_of
from model.kinds.record import Field
from model.units import QuantityError

if TYPE_CHECKING:
    from app.window.main_window import MainWindow

AWAY_PX = 26
PART_HINT = N_("part, then size and length of its conductor: fuse 16 1.2 m")
JOIN_HINT = N_("other part, then size and length: X1 35 0.6 m")


class QuickDrawing:
    """What the quick line does in one window."""

    def __init__(self, window: MainWindow) -> None:
        self._window = window
        self.line = QuickLine(_over(window))
        self._terminals: list[str] = []
        self._part = ""
        self._enter: Callable[[str, bool], None] = lambda _text, _stay: None
        self.line.entered.connect(lambda text, stay: self._enter(text, stay))
        self.line.other_wanted.connect(self._next_terminal)
        self.line.closed.connect(self._closed)

    def next_part(self) -> None:
        """Ask for the next part; it is placed on the chosen one's free terminal."""
        self._enter = self._place
        self._begin(pgettext("verb", "Place"), _(PART_HINT), self._part_told)

    def join(self) -> None:
        """Ask for the part to which the chosen one is connected."""
        self._enter = self._join
        self._begin(_("Connect"), _(JOIN_HINT), self._join_told)

    def figures(self, text: str) -> None:
        """Begin to type figures of what is chosen: of conductors, else of parts."""
        diagram, chosen = self._window.workspace.diagram, self._window.scene.selection
        wires = sorted(chosen & set(diagram.conductors))
        field = self._first_field()
        if wires:
            self._enter = lambda typed, _stay: self._set_figures(typed, wires)
            words = ngettext("{wire}: size, length", "{count} conductors: size, length",
                             len(wires)).format(wire=wires[0], count=len(wires))
        elif field is not None:
            self._enter = lambda typed, _stay: self._set_field(typed, field)
            words = f"{_(field.title)}, {_(field.unit)}"
        else:
            return
        self._terminals = []
        self.line.open_line(words, "", self._near(sorted(chosen)[0]), lambda _text: "", text)

    def _begin(self, words: str, hint: str, told: Callable[[str], str]) -> None:
        self._window.view.cancel()
        diagram = self._window.workspace.diagram
        parts = sorted(self._window.scene.selection & set(diagram.components))
        self._part = parts[0] if len(parts) == 1 else ""
        self._terminals = list(free_terminals(diagram, self._part)) if self._part else []
        self._words, self._hint, self._told = words, hint, told
        self._open("")

    def _open(self, text: str) -> None:
        on = _(" on {part}, {terminal}").format(
            part=self._part, terminal=self._terminals[0]) if self._terminals else ""
        self.line.open_line(f"{self._words}{on}", self._hint, self._near(self._part), self._told,
                            text)
        self._ring()

    def _next_terminal(self) -> None:
        """Take the part's next terminal in turn."""
        if self._terminals:
            self._terminals.append(self._terminals.pop(0))
            self._open(self.line.field.text())

    def _ring(self) -> None:
        drawing = self._window.scene.drawing
        if not self._terminals or self._part not in drawing.parts:
            return
        at = drawing.parts[self._part].port(self._terminals[0]).at
        self._window.scene.hover((Circle(*at, RING_R_MM, "selection", 0.6),))

    def _near(self, item: str) -> QPoint:
        """Return a point of the view below an item, or where the pointer was last."""
        drawing, view = self._window.scene.drawing, self._window.view
        at = view.last_point()
        if item in drawing.parts:
            body = drawing.parts[item].body
            at = (body.x0, body.y1)
        elif item in drawing.paths:
            path = drawing.paths[item]
            at = path[len(path) // 2]
        elif item in drawing.rows:
            at = (drawing.rows[item].x0, drawing.rows[item].y1)
        return view.mapFromScene(QPointF(*at)) + QPoint(0, AWAY_PX)

    def _closed(self) -> None:
        self._window.scene.hover(())
        self._window.view.setFocus(Qt.FocusReason.OtherFocusReason)

    def _terminal(self) -> Terminal | None:
        return (self._part, self._terminals[0]) if self._terminals else None

    def _part_told(self, text: str) -> str:
        try:
            words, figures = read_line(text)
        except QuantityError as error:
            return str(error)
        kind = best_kind(words)
        return "" if kind is None else f"{_(kind.title)}{_figure_words(figures)}"

    def _place(self, text: str, stay: bool) -> None:
        try:
            words, figures = read_line(text)
            kind = best_kind(words)
            if kind is None:
                self._window.say(_(
                    "No part is called '{words}'. A plain box stands for anything.").format(
                    words=words))
                return
            start = self._terminal()
            if start is None:
                self.line.close_line()
                at = Pointer(*self._window.view.last_point())
                PlacePart(self._window.desk, at, kind.slug).end(at)
                return
            found = next_part_edit(self._window.workspace.diagram, start, kind.slug, figures)
        except (ModelError, QuantityError) as error:
            self._window.say(str(error))
            return
        self.line.close_line()
        if self._window.desk.do(found.edit):
            part = self._part if stay else found.part
            self._window.desk.choose({part} if stay else {part, found.wire})

    def _join_told(self, text: str) -> str:
        try:
            words, figures = read_line(text)
        except QuantityError as error:
            return str(error)
        item = self._found(words)
        return "" if item is None else f"{self._window.part_title(item)}{_figure_words(figures)}"

    def _join(self, text: str, stay: bool) -> None:
        start = self._terminal()
        if start is None:
            self._window.say(_("Choose one part to connect from."))
            return
        try:
            words, figures = read_line(text)
            name, _dot, port = words.partition(".")
            item = self._found(name)
            if item is None:
                self._window.say(_("No part is called '{words}'.").format(words=words))
                return
            edit = join_next_edit(
                self._window.workspace.diagram, start, item, port, figures)
        except (ModelError, QuantityError) as error:
            self._window.say(str(error))
            return
        self.line.close_line()
        if self._window.desk.do(edit):
            self._window.desk.choose({self._part} if stay else {edit.changes[0].id})

    def _found(self, words: str) -> str | None:
        """Return the part that words mean: its id or designation, else its name or kind."""
        wanted = words.strip().lower().partition(".")[0]
        parts = [part for part in self._window.workspace.diagram.components.values()
                 if part.id != self._part]
        for part in parts:
            if wanted and wanted in (part.id.lower(), part.designation.lower()):
                return part.id
        hits = [part.id for part in parts
                if wanted and wanted in f"{part.name} {_(kind_of(part).title)}".lower()]
        return hits[0] if hits else None

    def _set_figures(self, text: str, wires: list[str]) -> None:
        try:
            words, figures = read_line(text)
        except QuantityError as error:
            self._window.say(str(error))
            return
        if words or not figures.fields():
            self._window.say(_("A size and a length were expected, such as 16 1.2 m."))
            return
        self.line.close_line()
        self._window.desk.do(figures_edit(self._window.workspace.diagram, wires, figures))

    def _first_field(self) -> Field | None:
        """Return the first figure of the chosen parts, when they are of one kind."""
        diagram = self._window.workspace.diagram
        kinds = {diagram.components[item].kind: item
                 for item in self._window.scene.selection & set(diagram.components)}
        if len(kinds) != 1:
            return None
        kind = kind_of(diagram.components[next(iter(kinds.values()))])
        return next((field for field in kind.fields if field.first
                     and field.type in ("number", "count")), None)

    def _set_field(self, text: str, field: Field) -> None:
        """Set the first figure of the chosen parts; a length shares out that of their cable."""
        diagram = self._window.workspace.diagram
        parts = sorted(self._window.scene.selection & set(diagram.components))
        try:
            if is_length(text) and len(parts) == 1 and pieces_beside(diagram, parts[0]):
                edit = split_edit(diagram, parts[0], read_quantity(text, "m"))
            else:
                value = read_quantity(text, field.unit)
                edit = parts_field_edit(
                    diagram, parts, field, int(value) if field.type == "count" else value)
        except (ModelError, QuantityError) as error:
            self._window.say(str(error))
            return
        self.line.close_line()
        self._window.desk.do(edit)


def _figure_words(figures: Figures) -> str:
    size = "" if figures.size is None else f", {decimal(figures.size.text)}"
    unit = {"mm2": " mm²", "awg": " AWG", "sae": " SAE"}
    size += "" if figures.size is None else unit[figures.size.standard]
    return size + ("" if figures.length_m is None else f", {decimal(f'{figures.length_m:g}')} m")


def _over(window: MainWindow) -> QWidget:
    return window.view.viewport()
