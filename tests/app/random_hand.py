"""A desk without a window, and what a hand that does anything at random needs at it."""

from __future__ import annotations

import os
import shutil
import tempfile
from collections.abc import Callable, Iterable
from importlib.resources import files
from pathlib import Path

from hypothesis import HealthCheck, Phase, settings
from hypothesis import strategies as st
from hypothesis.stateful import RuleBasedStateMachine, initialize, invariant
from PySide6.QtCore import QtMsgType, qInstallMessageHandler

from app.canvas.gestures.base import Gesture, Pointer
from app.canvas.scene import SheetScene
from app.drawing.routing import legs
from app.drawing.sheet import sheet_drawing
from app.new_boat import new_diagram
from app.workspace import Workspace
from model.diagram import Diagram
from model.edits import Edit
from model.errors import ModelError
from model.kinds import catalogue
from model.storage import dumps, loads
from model.validity import check_diagram

EXAMPLES = int(os.environ.get("HAND_EXAMPLES", "12"))
STEPS = int(os.environ.get("HAND_STEPS", "30"))
MOST_PARTS = 60
KINDS = sorted(catalogue())
INLINE = [kind for kind in KINDS if catalogue()[kind].inline]

xs = st.integers(10, 158).map(lambda step: step * 2.5)
ys = st.integers(6, 92).map(lambda step: step * 2.5)
points = st.tuples(xs, ys)
steps = st.integers(-20, 20).map(lambda step: step * 2.5)
picks = st.integers(0, 10_000)
shares = st.floats(0, 1)
PROFILE = settings(
    max_examples=EXAMPLES, stateful_step_count=STEPS, deadline=None,
    derandomize="HAND_EXAMPLES" not in os.environ,
    phases=(Phase.explicit, Phase.reuse, Phase.generate, Phase.shrink),
    suppress_health_check=list(HealthCheck))


class WorkspaceDesk:
    """A desk on a real workspace, with a scene and no window."""

    def __init__(self, folder: Path, diagram: Diagram) -> None:
        self.workspace = Workspace(folder, diagram)
        self.scene = SheetScene()
        self.said = ""
        self.show()

    @property
    def diagram(self) -> Diagram:
        return self.workspace.diagram

    def show(self) -> None:
        self.scene.show(sheet_drawing(self.diagram))

    def do(self, edit: Edit) -> bool:
        self.workspace.do(edit)  # whatever the hand's own edits are, they fit
        self.said = edit.label
        self.show()
        return True

    def choose(self, items: Iterable[str]) -> None:
        self.scene.select(items)

    def say(self, sentence: str) -> None:
        self.said = sentence

    def work(self, component: str, way: str) -> None:
        """Nothing is operated here."""


class RandomHand(RuleBasedStateMachine):
    """Keeps a diagram at a desk, and looks after each step whether all is well."""

    def __init__(self) -> None:
        super().__init__()
        self.folder = Path(tempfile.mkdtemp())
        self.complaints: list[str] = []
        self.earlier = qInstallMessageHandler(self._complained)

    def _complained(self, sort: QtMsgType, _where: object, text: str) -> None:
        if sort != QtMsgType.QtDebugMsg and not text.startswith("This plugin does not support"):
            self.complaints.append(text)

    @initialize(with_demo=st.booleans())
    def begin(self, with_demo: bool) -> None:
        demo = files("assets").joinpath("demo", "weekend_sloop.loom").read_text(encoding="utf-8")
        diagram = loads(demo) if with_demo else new_diagram()
        self.start = dumps(diagram)
        self.desk = self.make_desk(diagram)

    def make_desk(self, diagram: Diagram) -> WorkspaceDesk:
        return WorkspaceDesk(self.folder, diagram)

    def show(self) -> None:
        self.desk.show()

    # What there is ------------------------------------------------------------------------------

    @property
    def diagram(self) -> Diagram:
        return self.desk.diagram

    def has_room(self) -> bool:
        return len(self.diagram.components) < MOST_PARTS

    def part(self, pick: int) -> str | None:
        parts = sorted(self.desk.scene.drawing.parts)
        return parts[pick % len(parts)] if parts else None

    def wire(self, pick: int) -> str | None:
        wires = sorted(self.desk.scene.drawing.paths)
        return wires[pick % len(wires)] if wires else None

    def some(self, picked: list[int]) -> set[str]:
        items = sorted(self.diagram.components)
        return {items[pick % len(items)] for pick in picked} if items else set()

    def port_point(self, pick: int) -> tuple[Pointer, tuple[str, str]] | None:
        part = self.part(pick)
        ports = sorted(self.desk.scene.drawing.parts[part].ports) if part else []
        if not ports or part is None:
            return None
        port = ports[pick // 7 % len(ports)]
        at = self.desk.scene.drawing.parts[part].ports[port].at
        return Pointer(*at), (part, port)

    def wire_point(self, pick: int, share: float) -> Pointer | None:
        wire = self.wire(pick)
        if wire is None:
            return None
        a, b = max(legs(self.desk.scene.drawing.paths[wire]),
                   key=lambda leg: abs(leg[0][0] - leg[1][0]) + abs(leg[0][1] - leg[1][1]))
        return Pointer(a[0] + (b[0] - a[0]) * share, a[1] + (b[1] - a[1]) * share)

    def do(self, make: Callable[[], Edit]) -> None:
        """Do what is offered; a refusal in words is an answer, a refusal of the edit is not."""
        try:
            edit = make()
        except ModelError as error:
            assert error.sentence.endswith(".")
            return
        assert self.desk.do(edit), "an edit that is offered fits"

    def drag(self, gesture: Gesture, to: Pointer, is_cancelled: bool = False) -> None:
        before = self.diagram
        gesture.move(Pointer((gesture.start.x + to.x) / 2, (gesture.start.y + to.y) / 2))
        gesture.move(to)
        assert self.diagram is before
        if is_cancelled:
            gesture.cancel()
            assert self.diagram is before
        else:
            gesture.end(to)
        assert not self.desk.scene._preview.marks

    # What always holds --------------------------------------------------------------------------

    @invariant()
    def the_diagram_is_whole_and_reads_back(self) -> None:
        if hasattr(self, "desk"):
            check_diagram(self.diagram)
            assert loads(dumps(self.diagram)) == self.diagram
            assert not self.complaints

    def teardown(self) -> None:
        try:
            if hasattr(self, "desk"):
                self._undo_and_redo_all()
        finally:
            self.leave()
            qInstallMessageHandler(self.earlier)
            shutil.rmtree(self.folder, ignore_errors=True)
        assert not self.complaints

    def _undo_and_redo_all(self) -> None:
        workspace = self.desk.workspace
        while workspace.redo():
            pass
        end = dumps(workspace.diagram)
        path = self.folder / "hand.loom"
        while workspace.undo():
            pass
        assert dumps(workspace.diagram) == self.start
        while workspace.redo():
            pass
        assert dumps(workspace.diagram) == end
        workspace.save_as(path)
        assert path.read_text(encoding="utf-8") == end
        workspace.open(path)
        assert dumps(workspace.diagram) == end

    def leave(self) -> None:
        if hasattr(self, "desk"):
            self.desk.workspace.close()
