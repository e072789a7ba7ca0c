"""The small demo drawn from an empty sheet, with every press, drag, chord and typed field counted.

What is compared is the wiring: which terminals are joined by conductors of which cores, size and
length. Ids and places on the sheet are free; which stud of a bar or lug of the engine a conductor
takes is a matter of drawing, so the terminals of a part that are joined inside it count as one.
"""

from __future__ import annotations

from collections import Counter
from collections.abc import Iterator
from importlib.resources import files

import networkx
from PySide6.QtCore import Qt
from PySide6.QtWidgets import QApplication

from model.diagram import Conductor, Diagram
from model.kinds import kind_of, port_of
from model.storage import load
from tests.app.hand import LEFT, Hand

MOST_PRESSES = 400
DEMO = files("assets").joinpath("demo", "weekend_sloop.loom")
NO_KEY, SHIFT = Qt.KeyboardModifier.NoModifier, Qt.KeyboardModifier.ShiftModifier


class CountingHand(Hand):
    """A hand that counts: a key or chord, a click, a drag and the typing of a field are one each.
    """

    def __init__(self, qtbot, window) -> None:
        super().__init__(qtbot, window)
        self.count = 0

    def chord(self, key: Qt.Key, held: Qt.KeyboardModifier = NO_KEY) -> None:
        self.count += 1
        self.key(key, held)
        QApplication.processEvents()

    def type(self, text: str) -> None:
        self.count += 1
        self.qtbot.keyClicks(QApplication.focusWidget(), text)

    def choose(self, part: str) -> None:
        self.count += 1
        self.click(*self.middle(part))

    def choose_nothing(self, x_mm: float, y_mm: float) -> None:
        self.count += 1
        self.qtbot.mouseClick(self.view.viewport(), LEFT, pos=self.pixel(x_mm, y_mm))
        self.point(x_mm, y_mm)

    def place(self, line: str, stay: bool = False) -> None:
        """The next part: its key, the line, Enter (with Shift it stays with the part)."""
        self.chord(Qt.Key.Key_P)
        self.type(line)
        self.chord(Qt.Key.Key_Return, SHIFT if stay else NO_KEY)

    def join(self, line: str, tabs: int = 0, stay: bool = False) -> None:
        self.chord(Qt.Key.Key_J)
        for _ in range(tabs):
            self.chord(Qt.Key.Key_Tab)
        self.type(line)
        self.chord(Qt.Key.Key_Return, SHIFT if stay else NO_KEY)


def netlist(diagram: Diagram) -> networkx.Graph:
    """Nodes are parts and their terminals, edges conductors with what is known of them."""
    graph = networkx.Graph()
    for part in diagram.components.values():
        graph.add_node(part.id, is_=part.kind)
    for wire in diagram.conductors.values():
        size = None if wire.size is None else (wire.size.standard, wire.size.text)
        graph.add_node(wire.id, is_=(wire.cores, size, wire.length_m))
        for part, terminal in _nodes(diagram, wire):
            node = f"{part}.{terminal}"
            graph.add_node(node, is_=terminal)
            graph.add_edge(part, node)
            graph.add_edge(node, wire.id)
    return graph


def _nodes(diagram: Diagram, wire: Conductor) -> Iterator[tuple[str, str]]:
    for end in wire.ends():
        part = diagram.components[end.component]
        links = kind_of(part).links(part.parameters)
        port = port_of(part, end.terminal)
        assert port is not None
        if links and all(link.role == "join" for link in links):
            yield part.id, "bar"
        elif part.kind == "engine_block":
            yield part.id, port.poles["-"]
        else:
            yield part.id, port.id


def same(first: Diagram, second: Diagram) -> bool:
    one, two = netlist(first), netlist(second)
    return networkx.is_isomorphic(one, two, node_match=lambda a, b: a["is_"] == b["is_"])


def parts_as_wired(diagram: Diagram) -> Counter[str]:
    return Counter(part.kind for part in diagram.components.values())


def draw_the_sloop(hand: CountingHand) -> None:
    hand.point(190, 150)
    hand.place("battery bank")
    hand.place("busbar 35 0.3")
    hand.place("selector 35 1.1")
    hand.place("battery bank 35 0.9")
    hand.place("busbar 35 0.6")
    hand.join("G1.- 35 0.5", stay=True)
    hand.place("engine 35 1.6")

    hand.choose("Q1")
    hand.place("stud 35 0.2")
    hand.place("stud 35 2.4")
    hand.place("starter 35 0.2")
    hand.choose("X4")
    hand.place("alternator 16 0.7")

    hand.choose("X3")
    hand.place("breaker 16 0.15")
    hand.place("dc panel 16 1.8")
    for line in ("lamp 2.5 5.5", "navigation light 2.5 9", "navigation light 2.5 14",
                 "radio 2.5 2", "instrument 1.5 3", "instrument 1.5 3.5", "autopilot 2.5 4.5",
                 "pump 2.5 4", "gas alarm 1.5 3", "dc socket 2.5 m"):
        hand.place(line, stay=True)
    hand.join("X2 16 1.8", tabs=1)

    hand.choose("X1")
    hand.place("fuse 2.5 0.1")
    hand.place("float switch 2.5 2.2")
    hand.place("bilge pump 2.5 0.4")

    hand.choose_nothing(330, 40)
    hand.place("solar array")
    hand.place("solar controller 4 4.5")
    hand.place("fuse 6 1.6")
    hand.join("X1 6 0.1")


def test_the_small_demo_is_drawn_with_few_presses(qtbot, window, record_property):
    hand = CountingHand(qtbot, window)
    hand.view.setFocus()
    draw_the_sloop(hand)
    drawn, demo = window.workspace.diagram, load(str(DEMO))
    assert parts_as_wired(drawn) == parts_as_wired(demo)
    assert same(drawn, demo)
    record_property("presses", hand.count)
    assert hand.count < MOST_PRESSES
    assert hand.count == 99, "fewer is better; more wants a reason"
