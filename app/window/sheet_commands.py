"""What the actions do to what is chosen on the sheet."""

from __future__ import annotations

from collections.abc import Callable
from functools import cached_property
from typing import TYPE_CHECKING

from PySide6.QtCore import Qt
from PySide6.QtGui import QGuiApplication

from app.drafting.arranging import (
    FEWEST_TO_ALIGN,
    FEWEST_TO_DISTRIBUTE,
    align_edit,
    distribute_edit,
)
from app.drafting.branching import OnWire, join_edit, new_wire
from app.drafting.healing import remove_and_heal_edit
from app.drafting.labels import label_freed_edit
from app.drafting.parts import mirror_edit, move_edit, turn_edit
from app.drafting.places import move_place_edit, new_place_edit
from app.drafting.wires import NotConnectable, connect_edit, cores_between, reroute_edit
from app.drawing.marks import Box
from app.words import _
from model.diagram import Diagram
from model.edits import Edit
from model.errors import ModelError
from model.kinds import kind_of

if TYPE_CHECKING:
    from app.window.main_window import MainWindow
    from app.window.quick_drawing import QuickDrawing

NUDGE_MM = 2.5
PASTE_STEP_MM = 10.0
PLACE_MARGIN_MM = 7.5
WAYS = {"left": (-1, 0), "right": (1, 0), "up": (0, -1), "down": (0, 1)}


class SheetCommands:
    """The commands of one window on its sheet."""

    def __init__(self, window: MainWindow) -> None:
        self._window = window
        self._pasted = 0
        self._chosen_now = self._chosen_before = ""
        window.view.figure_typed.connect(lambda text: self.quick.figures(text))

    @cached_property
    def quick(self) -> QuickDrawing:
        """Return what draws by keyboard, made when it is first used."""
        from app.window.quick_drawing import QuickDrawing  # a start has no use for it

        return QuickDrawing(self._window)

    @property
    def _diagram(self) -> Diagram:
        return self._window.workspace.diagram

    @property
    def _selection(self) -> frozenset[str]:
        return self._window.scene.selection

    def _parts(self) -> frozenset[str]:
        return self._selection & frozenset(self._diagram.components)

    def _wires(self) -> frozenset[str]:
        return self._selection & frozenset(self._diagram.conductors)

    def _standing(self) -> frozenset[str]:
        """Return the chosen parts that stand on the sheet by themselves."""
        return self._parts() & frozenset(self._window.scene.drawing.parts)

    def chosen(self, selection: frozenset[str]) -> None:
        """Remember which part was chosen before the one that is chosen now."""
        parts = sorted(selection & frozenset(self._diagram.components))
        if len(parts) == 1 and parts[0] != self._chosen_now:
            self._chosen_before, self._chosen_now = self._chosen_now, parts[0]

    def has_selection(self) -> bool:
        """Say whether anything is chosen."""
        return bool(self._selection)

    def has_parts_chosen(self) -> bool:
        """Say whether a part is chosen."""
        return bool(self._parts())

    def has_one_part_chosen(self) -> bool:
        """Say whether exactly one part is chosen."""
        return len(self._parts()) == 1

    def has_one_panel_chosen(self) -> bool:
        """Say whether exactly one part is chosen, and it has ways that can be taken apart."""
        kinds = [self._diagram.components[part].kind for part in self._parts()]
        return len(kinds) == 1 and kinds[0] in ("panel", "fuse_block")

    def has_several_parts_chosen(self) -> bool:
        """Say whether two or more parts are chosen."""
        return len(self._parts()) > 1

    def has_wires_chosen(self) -> bool:
        """Say whether a conductor is chosen."""
        return bool(self._wires())

    def is_drawing(self) -> bool:
        """Say whether the window draws rather than operates."""
        return not self._window.view.is_operating

    def _do(self, edit: Edit) -> bool:
        return self._window.desk.do(edit)

    def copy(self) -> None:
        """Copy the chosen parts, for this program as parts and for others as a picture."""
        from app.window.clipboard import PartsOnClipboard  # a start has no use for it

        QGuiApplication.clipboard().setMimeData(PartsOnClipboard(self._diagram, self._parts()))
        self._pasted = 0
        self._window.say(_("Copied {count} parts").format(count=len(self._parts())))

    def cut(self) -> None:
        """Copy the chosen parts and remove them."""
        self.copy()
        self.remove()

    def paste(self) -> None:
        """Paste parts under new ids, beside where they were copied."""
        from app.drafting.clipboard import paste_edit  # a start has no use for it
        from app.window.clipboard import text_on_clipboard

        text = text_on_clipboard(QGuiApplication.clipboard().mimeData())
        self._pasted += 1
        shift = (PASTE_STEP_MM * self._pasted, PASTE_STEP_MM * self._pasted)
        try:
            edit, ids = paste_edit(self._diagram, text, shift)
        except ModelError as error:
            self._window.say(error.sentence)
            return
        if self._do(edit):
            self._window.desk.choose(ids)

    def remove(self) -> None:
        """Remove what is chosen; a line from which a device is taken becomes whole."""
        self._do(remove_and_heal_edit(self._diagram, self._selection))

    def turn(self) -> None:
        """Turn the chosen parts."""
        self._do(turn_edit(self._diagram, self._parts()))

    def mirror(self) -> None:
        """Mirror the chosen parts."""
        self._do(mirror_edit(self._diagram, self._parts()))

    def nudge(self, way: str) -> None:
        """Move the chosen parts, or else the chosen place, by one step of the grid."""
        dx, dy = (NUDGE_MM * step for step in WAYS[way])
        places = sorted(self._selection & set(self._diagram.places))
        if self._parts():
            self._do(move_edit(self._diagram, self._parts(), dx, dy))
        elif places:
            self._do(move_place_edit(self._diagram, places[0], dx, dy))

    def align(self, line: str) -> None:
        """Put the chosen parts in line."""
        self._arrange(FEWEST_TO_ALIGN, lambda parts: align_edit(
            self._diagram, parts, line))  # type: ignore[arg-type]

    def distribute(self, direction: str) -> None:
        """Make the gaps between the chosen parts even."""
        self._arrange(FEWEST_TO_DISTRIBUTE, lambda parts: distribute_edit(
            self._diagram, parts, direction))  # type: ignore[arg-type]

    def _arrange(self, fewest: int, made: Callable[[frozenset[str]], Edit]) -> None:
        parts = self._standing()
        if len(parts) < fewest:
            self._window.say(_("Choose at least two parts.") if fewest == FEWEST_TO_ALIGN
                             else _("Choose at least three parts."))
            return
        if self._do(made(parts)):
            self._say_overlaps(parts)

    def _say_overlaps(self, parts: frozenset[str]) -> None:
        """Tell which parts lie on each other after they were put in line."""
        bodies = {item: self._window.scene.drawing.parts[item].body for item in sorted(parts)}
        over = [item for item, body in bodies.items()
                if any(body.meets(other) for name, other in bodies.items() if name != item)]
        if over:
            self._window.say(_(
                "{parts} now lie on each other; distribute them.").format(parts=", ".join(over)))

    def draw_place(self) -> None:
        """Draw a place round the chosen parts, or let the next drag draw one."""
        bodies = [self._window.scene.drawing.parts[item].body for item in self._standing()]
        if not bodies:
            self._window.view.draw_place(True)
            self._window.say(_("Drag a rectangle round what stands in the place; Escape lets go."))
            return
        whole = bodies[0]
        for body in bodies[1:]:
            whole = whole.joined(body)
        whole = whole.grown(PLACE_MARGIN_MM)
        edit = new_place_edit(self._diagram, Box(*whole.as_tuple()))
        if self._do(edit):
            self._window.desk.choose({edit.changes[0].id})

    def reroute(self) -> None:
        """Route the chosen conductors anew."""
        self._do(reroute_edit(self._diagram, sorted(self._wires())))

    def tidy(self) -> None:
        """Lay out the whole sheet anew and show it."""
        from app.drawing.layout import tidy_edit  # a start has no use for it

        paper = self._diagram.sheet.size
        QGuiApplication.setOverrideCursor(Qt.CursorShape.WaitCursor)
        try:
            edit = tidy_edit(self._diagram)
        finally:
            QGuiApplication.restoreOverrideCursor()
        if edit is None:
            self._window.say(_("There is nothing to tidy."))
        elif self._window.desk.do(edit):
            larger = self._diagram.sheet.size
            if larger != paper:
                self._window.say(_("{label}: it needed paper of {larger}.").format(
                    label=edit.label, larger=larger))
            self._window.view.fit()

    def free_labels(self) -> None:
        """Let the program place the lettering of what is chosen."""
        self._do(label_freed_edit(self._diagram, self._selection))

    def choose_all(self) -> None:
        """Choose everything on the sheet."""
        drawing = self._window.scene.drawing
        self._window.desk.choose({*drawing.parts, *drawing.paths})

    def next_part(self) -> None:
        """Ask for the next part, to be placed on the chosen one."""
        self.quick.next_part()

    def join(self) -> None:
        """Ask for the part to which the chosen one is connected."""
        self.quick.join()

    def branch(self) -> None:
        """Draw a branch from the chosen conductor: the next click says where to."""
        wires = sorted(self._wires() & set(self._window.scene.drawing.paths))
        if len(wires) != 1:
            self._window.say(_("Choose one conductor to branch from."))
            return
        self._window.view.begin_branch(self._window.view.branch_from(wires[0]))

    def connect_chosen(self) -> None:
        """Connect two parts, or a part to a chosen conductor, where they fit best.

        With one part chosen the other is the one that was chosen before it.
        """
        parts, wires = sorted(self._standing()), sorted(self._wires())
        before = self._chosen_before
        if len(parts) == 1 and not wires and before in self._window.scene.drawing.parts:
            parts = [before, *parts]
        try:
            if len(parts) == 1 and len(wires) == 1:
                edit = self._branch_to(parts[0], wires[0])
            elif len(parts) == 2:
                first, second = self._nearest_ports(*parts)
                edit = connect_edit(self._diagram, first, second)
            else:
                self._window.say(_("Choose two parts to connect, or a part and a conductor."))
                return
        except ModelError as error:
            self._window.say(error.sentence)
            return
        if self._do(edit):
            self._window.desk.choose({new_wire(edit)})

    def _branch_to(self, part: str, conductor: str) -> Edit:
        """Return the edit that leads a part's first fitting free terminal to a conductor."""
        wire = self._diagram.conductors[conductor]
        if part in {end.component for end in wire.ends()}:
            raise NotConnectable(part, conductor)
        anchor: OnWire = self._window.view.branch_from(conductor)
        component = self._diagram.components[part]
        taken = {end.terminal for other in self._diagram.conductors.values()
                 for end in other.ends() if end.component == part}
        for port in kind_of(component).ports(component.parameters):
            if port.id not in taken and set(wire.cores) <= set(port.poles):
                return join_edit(self._diagram, anchor, (part, port.id))
        raise NotConnectable(part, conductor)

    def _nearest_ports(self, one: str, two: str) -> tuple[tuple[str, str], tuple[str, str]]:
        diagram, drawing = self._diagram, self._window.scene.drawing
        taken = {(end.component, end.terminal)
                 for wire in diagram.conductors.values() for end in wire.ends()}
        best: tuple[float, tuple[str, str], tuple[str, str]] | None = None
        ports = {item: kind_of(diagram.components[item]).ports(
            diagram.components[item].parameters) for item in (one, two)}
        for a in ports[one]:
            for b in ports[two]:
                if {(one, a.id), (two, b.id)} & taken or not cores_between(a, b):
                    continue
                at, to = (drawing.parts[i].port(p.id).at for i, p in ((one, a), (two, b)))
                far = abs(at[0] - to[0]) + abs(at[1] - to[1])
                if best is None or far < best[0]:
                    best = (far, (one, a.id), (two, b.id))
        if best is None:
            raise NotConnectable(one, two)
        return best[1], best[2]

    def replace(self) -> None:
        """Ask for another kind and put it in the place of the chosen part."""
        from app.drafting.replacing import external_regulator_edit, plans, replace_edit
        from app.window.replacing import REGULATOR, chosen_plan  # a start has no use for them

        (part,) = self._parts()
        plan = chosen_plan(self._window, self._diagram, part, plans(self._diagram, part),
                           self._window.palette_name)
        if plan is None:
            return
        try:
            self._do(external_regulator_edit(self._diagram, part) if plan is REGULATOR
                     else replace_edit(self._diagram, part, plan))
        except ModelError as error:
            self._window.say(error.sentence)

    def make_panel(self) -> None:
        """Make the chosen loose breakers or fuses a panel."""
        from app.drafting.panel_making import make_panel_edit  # a start has no use for it

        self._change_panel(lambda: make_panel_edit(self._diagram, self._parts()))

    def loosen_panel(self) -> None:
        """Take the chosen panel apart into loose devices."""
        from app.drafting.panel_making import loosen_panel_edit  # a start has no use for it

        (panel,) = self._parts()
        self._change_panel(lambda: loosen_panel_edit(self._diagram, panel))

    def _change_panel(self, made: Callable[[], Edit]) -> None:
        try:
            edit = made()
        except ModelError as error:
            self._window.say(error.sentence)
            return
        before = set(self._diagram.components)
        if self._do(edit):
            self._window.desk.choose(set(self._diagram.components) - before)
