"""The Particulars: what is known of the selection, as a form made from the record of its kind.

Three to five fields come first; the rest opens on request. Nothing chosen shows the boat.
"""

from __future__ import annotations

from collections.abc import Callable, Sequence
from typing import TYPE_CHECKING, Any

from msgspec.structs import replace
from PySide6.QtCore import Qt, QTimer, Signal
from PySide6.QtWidgets import (
    QApplication,
    QFrame,
    QHBoxLayout,
    QLabel,
    QLineEdit,
    QPushButton,
    QScrollArea,
    QSizePolicy,
    QToolButton,
    QVBoxLayout,
    QWidget,
)

from app.drafting.parts import field_edit
from app.drafting.wires import wire_field_edit
from app.drawing.theme import Palette
from app.drawing.wording import designation, rating
from app.panels.asking import answer_field, answer_setter, own_questions
from app.panels.boat_setters import boat_setter, system_setter
from app.panels.both_systems import in_boats_unit, other_system
from app.panels.connections import connections
from app.panels.fields import FieldRow, Setter, type_on
from app.panels.form_fields import (
    BOAT_FIELDS,
    GENERAL_FIELDS,
    MORE_GENERAL_FIELDS,
    SYSTEM_FIELDS,
    WIRE_FIELDS,
    read_size,
    size_shown,
)
from app.panels.form_texts import (
    FormColumn,
    beside_field,
    form_width,
    links,
    part_picture,
    plain,
    section,
    titled,
    wrapped,
)
from app.panels.form_words import cores_text, linked
from app.panels.heading import Heading
from app.panels.settling import Settling, rest_words, words
from app.panels.size_list import sizes_button
from app.words import _, capital, decimal, in_words
from model.diagram import Component, Conductor, Diagram, Known
from model.edits import Edit
from model.kinds import kind_of
from model.kinds.record import Field

if TYPE_CHECKING:
    from rules.engine import Report
    from rules.looking import Question
    from rules.rule import Finding

AFTER_THE_SHEET_MS = 100
LIST_OPEN_MS = 100  # until it is looked at again whether a list was closed
FIRST_WIRE_FIELDS = 6
DO = Callable[[Edit], str | None]


class Particulars(QWidget):
    """Details of the selection. `do` applies an edit and returns a sentence when refused."""

    shown_item = Signal(str)
    notice_wanted = Signal(object)  # a Finding, to be read in full

    def __init__(self, do: DO) -> None:
        super().__init__()
        self.setObjectName("side")
        self.setFixedWidth(form_width())
        self._do = do
        self._palette: Palette = "day"
        self._diagram = Diagram()
        self._selection: tuple[str, ...] = ()
        self._findings: tuple[Finding, ...] = ()
        self._questions: tuple[Question, ...] = ()
        self._settling: Settling = {}
        self._is_open = False
        self._built_for: tuple[str, ...] | None = None
        # A field that was just left may not be deleted while its own event is handled, so the
        # form is made anew in the next turn of the event loop, once for many changes.
        self._soon = QTimer(self)
        self._soon.setSingleShot(True)
        self._soon.setInterval(0)
        self._soon.timeout.connect(self._rebuild_when_no_list_is_open)
        self.rows: dict[str, FieldRow] = {}
        column = QVBoxLayout(self)
        column.setContentsMargins(0, 0, 0, 0)
        column.setSpacing(0)
        column.addWidget(Heading(_("Particulars"), _("details")))
        self._area = QScrollArea()
        self._area.setWidgetResizable(True)
        self._area.setFrameShape(QFrame.Shape.NoFrame)
        self._area.setFocusPolicy(Qt.FocusPolicy.NoFocus)
        self._area.setHorizontalScrollBarPolicy(Qt.ScrollBarPolicy.ScrollBarAlwaysOff)
        column.addWidget(self._area, 1)

    def set_palette(self, palette: Palette) -> None:
        """Show symbols and links in a palette's colours."""
        self._palette = palette
        self.setFixedWidth(form_width())
        self._soon.start(0)

    def show_selection(self, diagram: Diagram, selection: frozenset[str]) -> None:
        """Show the particulars of what is chosen."""
        chosen = tuple(sorted(selection))
        same = chosen == self._selection and self._is_same(diagram, chosen)
        self._diagram, self._selection = diagram, chosen
        if self._built_for is None:  # at the start the sheet comes before the form
            self._soon.start(AFTER_THE_SHEET_MS)
        elif not same:
            self._soon.start(0)

    def show_report(self, report: Report) -> None:
        """Show the notices on what is chosen, and what is to be looked at there."""
        from rules.gaps import waiting_for  # a start has no use for it

        own = tuple(f for f in report.findings if set(f.where) & set(self._selection))
        questions = own_questions(report.questions, self._selection)
        waiting = waiting_for(report.cannot_tell)
        if (own, questions, waiting) != (self._findings, self._questions, self._settling):
            self._findings, self._questions, self._settling = own, questions, waiting
            self._soon.start(0)

    def focus_field(self, name: str) -> None:
        """Let a field of what is chosen be typed; it is shown if it stands among the rest."""
        self._rebuild()
        if name not in self.rows and not self._is_open:
            self._is_open = True
            self._rebuild()
        if name in self.rows:
            editor = self.rows[name].editor
            type_on(editor, None)
            QTimer.singleShot(0, editor, lambda: self._area.ensureWidgetVisible(editor))

    def _is_same(self, diagram: Diagram, chosen: tuple[str, ...]) -> bool:
        if not chosen:
            was = self._diagram
            return (diagram.boat is was.boat and diagram.systems is was.systems
                    and _counts(diagram) == _counts(was))
        return diagram.boat.length_unit == self._diagram.boat.length_unit and all(
            getattr(diagram, name).get(item) is getattr(self._diagram, name).get(item)
            for item in chosen for name in ("components", "conductors", "places")
        )

    def _rebuild_when_no_list_is_open(self) -> None:
        """Make the form anew, but never take an open list from under the hand."""
        opened = QApplication.activePopupWidget()
        owner = opened.parentWidget() if opened is not None else None
        if owner is not None and self.isAncestorOf(owner):
            self._soon.start(LIST_OPEN_MS)
        else:
            self._rebuild()

    def _rebuild(self) -> None:
        is_same = self._built_for == self._selection
        position = self._area.verticalScrollBar().value() if is_same else 0
        typing = self._typing() if is_same else None
        for row in self.rows.values():
            row.editor.blockSignals(True)
        self._built_for = self._selection
        self.rows = {}
        inside = FormColumn()
        column = QVBoxLayout(inside)
        column.setContentsMargins(14, 12, 12, 12)
        column.setSpacing(7)
        if not self._selection:
            self._boat(column)
        elif len(self._selection) > 1:
            self._many(column)
        elif self._selection[0] in self._diagram.components:
            self._component(column, self._diagram.components[self._selection[0]])
        elif self._selection[0] in self._diagram.conductors:
            self._conductor(column, self._diagram.conductors[self._selection[0]])
        elif self._selection[0] in self._diagram.places:
            self._place(column, self._selection[0])
        column.addStretch(1)
        self._area.setWidget(inside)
        self._area.verticalScrollBar().setValue(position)
        if typing is not None and typing[0] in self.rows:
            type_on(self.rows[typing[0]].editor, typing[1])

    def _typing(self) -> tuple[str, str | None] | None:
        """Return the field that has the focus, and what was typed there and not yet taken."""
        for name, row in self.rows.items():
            if row.editor.hasFocus():
                line = row.editor
                is_typed = isinstance(line, QLineEdit) and line.isModified()
                return name, line.text() if is_typed else None  # type: ignore[attr-defined]
        return None

    def _boat(self, column: QVBoxLayout) -> None:
        boat = self._diagram.boat
        titled(column, boat.name or _("Unnamed boat"), boat.type_text, _("Nothing is chosen"))
        parts, wires = _counts(self._diagram)
        column.addWidget(plain(_("{parts} parts, {wires} conductors").format(
            parts=parts, wires=wires)))
        for field in BOAT_FIELDS:
            self._row(column, field, getattr(boat, field.name), None,
                      boat_setter(lambda: self._diagram, field.name, self._do))
        for system in self._diagram.systems.values():
            section(column, system.name or _("System {id}").format(id=system.id))
            for field in SYSTEM_FIELDS:
                row = replace(field, name=f"{system.id}.{field.name}")
                self._row(column, row, getattr(system, field.name), None,
                          system_setter(lambda: self._diagram, system.id, field, self._do))

    def _many(self, column: QVBoxLayout) -> None:
        from app.panels.many_parts import ManyParts  # a start has no use for it

        form = ManyParts(self._diagram, self._selection, self._do, self._is_open,
                         self._toggle_more)
        self.rows.update(form.rows)
        column.addWidget(form)

    def _place(self, column: QVBoxLayout, item: str) -> None:
        from app.panels.place_form import PlaceForm  # a start has no use for it

        form = PlaceForm(self._diagram, item, self._do, self._link)
        self.rows.update(form.rows)
        column.addWidget(form)

    def _component(self, column: QVBoxLayout, component: Component) -> None:
        kind = kind_of(component)
        head = QHBoxLayout()
        head.addWidget(part_picture(component, self._palette))
        words = QVBoxLayout()
        titled(words, designation(component),
               f"{_(kind.title)} {decimal(rating(component))}".strip(),
               self._place_of(component))
        head.addLayout(words, 1)
        column.addLayout(head)
        for field in GENERAL_FIELDS:
            self._general_row(column, component, field)
        shown = [f for f in kind.fields if not f.drawing]
        first = [f for f in shown if f.first and f.type != "records"]
        rest = [f for f in shown if not f.first and f.type != "records"]
        for field in first:
            self._kind_row(column, component, field)
        if kind.field("ways") is not None:
            from app.panels.ways import WayTable  # most parts have none

            column.addWidget(WayTable(self._diagram, component, self._do))
        general = [f for f in MORE_GENERAL_FIELDS if kind.field(f.name) is None]
        known = sum(1 for field in rest if field.name in component.parameters) + sum(
            1 for field in general if getattr(component, field.name) not in (None, ""))
        column.addWidget(self._more_button([*rest, *general], known))
        if self._is_open:
            for field in rest:
                self._kind_row(column, component, field)
            for field in general:
                self._general_row(column, component, field)
        self._looking(column)
        self._connections(column, component)
        self._notices(column)

    def _place_of(self, component: Component) -> str:
        place = self._diagram.places.get(component.place or "")
        return place.name if place is not None else ""

    def _general_row(self, column: QVBoxLayout, component: Component, field: Field) -> None:
        """Show a field that parts of every kind have; its text is empty where nothing is known."""
        held = getattr(component, field.name)
        empty = "" if field.type == "text" else None
        self._row(column, field, None if held == "" else held, None,
                  lambda value, _known: self._do(field_edit(
                      self._diagram, component.id, field.name, empty if value is None else value)))

    def _kind_row(self, column: QVBoxLayout, component: Component, field: Field) -> None:
        self._row(
            column, field, component.parameters.get(field.name), component.known.get(field.name),
            lambda value, known: self._do(
                field_edit(self._diagram, component.id, field.name, value, known)),
        )

    def _more_button(self, rest: Sequence[Field], known: int) -> QToolButton:
        button = QToolButton()
        button.setObjectName("family")
        button.setSizePolicy(QSizePolicy.Policy.Ignored, QSizePolicy.Policy.Fixed)
        button.setText(rest_words(len(rest), known, map(self._settles, rest)))
        button.setToolTip(button.text())
        button.setArrowType(
            Qt.ArrowType.DownArrow if self._is_open else Qt.ArrowType.RightArrow)
        button.setToolButtonStyle(Qt.ToolButtonStyle.ToolButtonTextBesideIcon)
        button.clicked.connect(self._toggle_more)
        return button

    def _toggle_more(self) -> None:
        self._is_open = not self._is_open
        self._soon.start(0)

    def _conductor(self, column: QVBoxLayout, wire: Conductor) -> None:
        start, finish = wire.ends()
        titled(column, designation(wire),
               _("Conductor, {wire}").format(wire=cores_text(wire)), "")
        for word, end in ((_("From"), start), (_("to"), finish)):
            column.addWidget(self._link(
                _("{word} {part}, terminal {terminal}").format(
                word=word, part=linked(self._diagram, end.component), terminal=end.terminal)))
        first, rest = WIRE_FIELDS[:FIRST_WIRE_FIELDS], WIRE_FIELDS[FIRST_WIRE_FIELDS:]
        for field in first:
            self._wire_row(column, wire, field)
        known = sum(1 for field in rest if getattr(wire, field.name) is not None)
        column.addWidget(self._more_button(rest, known))
        for field in rest if self._is_open else ():
            self._wire_row(column, wire, field)
        self._looking(column)
        self._notices(column)

    def _wire_row(self, column: QVBoxLayout, wire: Conductor, field: Field) -> None:
        value = size_shown(wire.size) if field.name == "size" else getattr(wire, field.name)
        setter = self._wire_setter(wire.id, field)
        self._row(column, field, value if value != "" else None, wire.known.get(field.name), setter)
        if field.name == "size":
            self.rows["size"].add(sizes_button(self._diagram, wire, setter))
            if wire.size is not None:
                column.addWidget(beside_field(other_system(wire.size)))

    def _wire_setter(
        self, wire_id: str, field: Field
    ) -> Setter:
        def put(value: Any, known: Known | None) -> str | None:
            if field.name == "size" and value is not None:
                value, problem = read_size(value)
                if problem is not None:
                    return problem
            if value is None and field.name in ("designation", "label"):
                value = ""
            return self._do(wire_field_edit(
                self._diagram, wire_id, field.name, value, known, field.title))
        return put

    def _row(
        self, column: QVBoxLayout, field: Field, value: Any, known: Known | None,
        setter: Setter,
    ) -> None:
        told, shown, put = in_boats_unit(self._diagram, field, value, setter)
        row = FieldRow(told, shown, known, put)
        if field.name == "designation" and isinstance(row.editor, QLineEdit):
            row.editor.setPlaceholderText(" ".join(self._selection))
        count = self._settles(field) if value is None else 0
        if count:
            row.would_settle(words(count))
        self.rows[field.name] = row
        column.addWidget(row)

    def _settles(self, field: Field) -> int:
        """Return how many questions a field of what is chosen would settle."""
        return sum(self._settling.get(f"{item}.{field.name}", 0) for item in self._selection)

    def _connections(self, column: QVBoxLayout, component: Component) -> None:
        for number, line in enumerate(connections(self._diagram, component)):
            if number == 0:
                section(column, _("Connections"))
            column.addWidget(self._link(line))

    def _link(self, text: str) -> QLabel:
        label = links(text, self._palette)
        label.linkActivated.connect(self.shown_item)
        return label

    def _looking(self, column: QVBoxLayout) -> None:
        """Ask what only eyes can tell; an answered question goes."""
        if self._questions:
            section(column, _("Look at it aboard"))
        for question in self._questions:
            field = answer_field(self._diagram, question)
            column.addWidget(plain(question.text))
            if field is not None:
                self._row(column, replace(field, name=f"look.{field.name}"), None, None,
                          answer_setter(self._diagram, question, self._do))

    def _notices(self, column: QVBoxLayout) -> None:
        for finding in self._findings:
            section(column, f"{capital(in_words(finding.severity))}: {_(finding.title)}")
            column.addWidget(wrapped(finding.message))
            button = QPushButton(_("What can be done"))
            button.setToolTip(_("Read this notice in full, with its fixes"))
            button.clicked.connect(lambda _=False, told=finding: self.notice_wanted.emit(told))
            column.addWidget(button)


def _counts(diagram: Diagram) -> tuple[int, int]:
    return len(diagram.components), len(diagram.conductors)
