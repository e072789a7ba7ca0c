"""The window's desk: what gestures may use."""

from __future__ import annotations

from collections.abc import Callable, Iterable

from app.canvas.scene import SheetScene
from app.words import _
from app.workspace import Workspace
from model.diagram import Diagram
from model.edits import Edit
from model.errors import ModelError
from model.kinds import kind_of


def positions_of(diagram: Diagram, handle_id: str) -> tuple[str, ...]:
    """Return the positions of a switch by its full id, none when it is not there."""
    component_id, _, item = handle_id.partition(".")
    part = diagram.components.get(component_id)
    handles = kind_of(part).handles(part.parameters) if part is not None else ()
    return next((handle.positions for handle in handles if handle.id == item), ())


class WindowDesk:
    """Joins gestures to the workspace. `say` and `chosen` are the window's."""

    def __init__(
        self, workspace: Workspace, scene: SheetScene, say: Callable[[str], None],
        chosen: Callable[[frozenset[str]], None], worked: Callable[[str, str], None],
    ) -> None:
        self.workspace = workspace
        self.scene = scene
        self.positions: dict[str, str] = {}
        self.mode_id = ""
        self._say, self._chosen, self._worked = say, chosen, worked

    @property
    def diagram(self) -> Diagram:
        """Return the diagram as it is now."""
        return self.workspace.diagram

    def do(self, edit: Edit) -> bool:
        """Do an edit as one step; say what was done, or why not."""
        problem = self.refusal(edit)
        self._say(problem or _("Done: {step}").format(step=edit.label))
        return problem is None

    def typed(self, edit: Edit) -> str | None:
        """Do an edit that a field made and say so; return why not, which the field says."""
        problem = self.refusal(edit)
        if problem is None:
            self._say(_("Done: {step}").format(step=edit.label))
        return problem

    def refusal(self, edit: Edit) -> str | None:
        """Do an edit; return the sentence that refuses it, or None when it was done."""
        try:
            self.workspace.do(edit)
        except ModelError as error:
            return error.sentence
        return None

    def choose(self, items: Iterable[str]) -> None:
        """Make these the selection."""
        self.scene.select(items)
        self._chosen(self.scene.selection)

    def say(self, sentence: str) -> None:
        """Tell the person something."""
        self._say(sentence)

    def work(self, component: str, way: str) -> None:
        """Give a switch its next position."""
        part = self.diagram.components[component]
        handles = kind_of(part).handles(part.parameters)
        handle = next(h for h in handles if h.id == way)
        key = f"{component}.{way}" if way else component
        now = self.positions.get(key, handle.normal)
        after = handle.positions[(handle.positions.index(now) + 1) % len(handle.positions)]
        self._worked(key, after)
