"""Every command once: its text, shortcut, condition and function.

Menus, tool bar, command finder, shortcut sheet and tests all read this table.
"""

from __future__ import annotations

from collections.abc import Callable, Mapping
from typing import Protocol

from msgspec import Struct


class Commands(Protocol):
    """What the window offers to actions."""

    def can_undo(self) -> bool: ...
    def can_redo(self) -> bool: ...
    def has_selection(self) -> bool: ...
    def has_parts_chosen(self) -> bool: ...
    def has_one_part_chosen(self) -> bool: ...
    def has_one_panel_chosen(self) -> bool: ...
    def has_several_parts_chosen(self) -> bool: ...
    def has_wires_chosen(self) -> bool: ...
    def is_drawing(self) -> bool: ...


SHEET_KEYS = frozenset({"Left", "Right", "Up", "Down", "Del", "R", "M", "C", "L", "P", "J", "B",
                        "Z"})
Condition = Callable[[Commands], bool]


class Action(Struct, frozen=True):
    """One command. `function` is the name of the window's method, `group` a menu in the menu."""

    id: str
    title: str
    menu: str
    function: str
    shortcut: str = ""
    sentence: str = ""
    condition: str = "always"
    argument: str = ""
    group: str = ""

    @property
    def is_for_the_sheet(self) -> bool:
        """Return whether the key is one that fields and tables use too, such as an arrow."""
        plain = self.shortcut.removeprefix("Shift+")
        return plain in SHEET_KEYS


CONDITIONS: Mapping[str, Condition] = {
    "always": lambda _w: True,
    "undo": lambda w: w.can_undo(),
    "redo": lambda w: w.can_redo(),
    "chosen": lambda w: w.has_selection() and w.is_drawing(),
    "parts": lambda w: w.has_parts_chosen() and w.is_drawing(),
    "one_part": lambda w: w.has_one_part_chosen() and w.is_drawing(),
    "one_panel": lambda w: w.has_one_panel_chosen() and w.is_drawing(),
    "several": lambda w: w.has_several_parts_chosen() and w.is_drawing(),
    "wires": lambda w: w.has_wires_chosen() and w.is_drawing(),
    "drawing": lambda w: w.is_drawing(),
}

MENUS = ("File", "Edit", "Arrange", "View", "Operate", "Help")

ACTIONS = (
    Action("file.new", "New diagram", "File", "new_diagram", "Ctrl+N", "Start an empty diagram."),
    Action("file.new_boat", "New boat, by questions…", "File", "new_boat", "Ctrl+Shift+N",
           "Draw a whole boat from some twenty answers."),
    Action("file.start", "Start page", "File", "start_page",
           sentence="Go to the page the program starts with."),
    Action("file.open", "Open…", "File", "open_dialog", "Ctrl+O", "Open a diagram from a file."),
    Action("file.demo_sloop", "Demo: weekend sloop", "File", "open_demo",
           sentence="Open the small demo boat.", argument="sloop"),
    Action("file.demo_cutter", "Demo: steel cutter", "File", "open_demo",
           sentence="Open the large demo boat.", argument="cutter"),
    Action("file.import", "Import tables…", "File", "import_tables",
           sentence="Make a diagram of two tables: parts and conductors."),
    Action("file.save", "Save", "File", "save", "Ctrl+S", "Save the diagram to its file."),
    Action("file.save_as", "Save as…", "File", "save_as_dialog", "Ctrl+Shift+S",
           "Save the diagram to another file."),
    Action("file.print", "Print…", "File", "print_dialog", "Ctrl+P",
           "See the pack's sheets as they will be on paper; write them as PDF or print them."),
    Action("file.export_svg", "Export…", "File", "export_dialog",
           sentence="Write the drawing alone as SVG or PNG, or the boat as two tables."),
    Action("file.close", "Close", "File", "close", "Ctrl+Q", "Close the window."),
    Action("edit.undo", "Undo", "Edit", "undo", "Ctrl+Z", "Take the last step back.", "undo"),
    Action("edit.redo", "Redo", "Edit", "redo", "Ctrl+Shift+Z", "Do it again.", "redo"),
    Action("edit.cut", "Cut", "Edit", "cut", "Ctrl+X", "Move the parts to the clipboard.", "parts"),
    Action("edit.copy", "Copy", "Edit", "copy", "Ctrl+C", "Copy the parts.", "parts"),
    Action("edit.paste", "Paste", "Edit", "paste", "Ctrl+V", "Paste parts.", "drawing"),
    Action("edit.remove", "Remove", "Edit", "remove", "Del", "Remove what is chosen.", "chosen"),
    Action("edit.turn", "Turn", "Edit", "turn", "R", "Turn the parts by a quarter.", "parts"),
    Action("edit.mirror", "Mirror", "Edit", "mirror", "M", "Mirror the parts.", "parts"),
    Action("edit.nudge_left", "Nudge left", "Edit", "nudge", "Left",
           "Move the parts or the place by one step of the grid.", "chosen", "left"),
    Action("edit.nudge_right", "Nudge right", "Edit", "nudge", "Right",
           "Move the parts or the place by one step of the grid.", "chosen", "right"),
    Action("edit.nudge_up", "Nudge up", "Edit", "nudge", "Up",
           "Move the parts or the place by one step of the grid.", "chosen", "up"),
    Action("edit.nudge_down", "Nudge down", "Edit", "nudge", "Down",
           "Move the parts or the place by one step of the grid.", "chosen", "down"),
    Action("edit.reroute", "Route anew", "Edit", "reroute", "Shift+R",
           "Forget the bends by hand.", "wires"),
    Action("edit.tidy", "Tidy the sheet", "Edit", "tidy", "Ctrl+Shift+T",
           "Lay out everything anew: parts, conductors, lettering, places.", "drawing"),
    Action("edit.labels", "Place labels anew", "Edit", "free_labels", "Shift+L",
           "Let the program place the lettering.", "chosen"),
    Action("edit.choose_all", "Choose all", "Edit", "choose_all", "Ctrl+A", "Choose everything."),
    Action("edit.connect", "Connect", "Edit", "connect_chosen", "C",
           "Connect two parts, or one to the part chosen before, or to a conductor.", "parts"),
    Action("edit.next_part", "Place the next part…", "Edit", "next_part", "P",
           "Place a part on the chosen one's free terminal, with size and length.", "drawing"),
    Action("edit.join", "Connect to…", "Edit", "join", "J",
           "Connect the chosen part to another by name, with size and length.", "one_part"),
    Action("edit.branch", "Branch from here", "Edit", "branch", "B",
           "Draw a conductor from the chosen one, with a stud where it leaves.", "wires"),
    Action("edit.replace", "Replace by…", "Edit", "replace", "Shift+P",
           "Put another kind of part in its place and keep the connections.", "one_part"),
    Action("edit.make_panel", "Make a panel of these", "Edit", "make_panel",
           sentence="Make loose breakers or fuses with one feed a panel with ways.",
           condition="several"),
    Action("edit.loosen_panel", "Take the panel apart", "Edit", "loosen_panel",
           sentence="Put a bar and loose breakers in the place of a panel.", condition="one_panel"),
    Action("edit.find", "Find…", "Edit", "find", "Ctrl+K", "Find a command, part or conductor."),
    Action("arrange.left", "Align left", "Arrange", "align", "Ctrl+Shift+Left",
           "Put the left edges of the parts in line.", "several", "left"),
    Action("arrange.centre", "Align on an upright line", "Arrange", "align", "Ctrl+Shift+U",
           "Put the middles of the parts on one upright line.", "several", "centre"),
    Action("arrange.right", "Align right", "Arrange", "align", "Ctrl+Shift+Right",
           "Put the right edges of the parts in line.", "several", "right"),
    Action("arrange.top", "Align top", "Arrange", "align", "Ctrl+Shift+Up",
           "Put the top edges of the parts in line.", "several", "top"),
    Action("arrange.middle", "Align on a level line", "Arrange", "align", "Ctrl+Shift+L",
           "Put the middles of the parts on one level line.", "several", "middle"),
    Action("arrange.bottom", "Align bottom", "Arrange", "align", "Ctrl+Shift+Down",
           "Put the bottom edges of the parts in line.", "several", "bottom"),
    Action("arrange.across", "Distribute across", "Arrange", "distribute", "Ctrl+Shift+H",
           "Make the gaps between the parts even, from left to right.", "several", "across"),
    Action("arrange.down", "Distribute down", "Arrange", "distribute", "Ctrl+Shift+V",
           "Make the gaps between the parts even, from top to bottom.", "several", "down"),
    Action("arrange.place", "Draw a place", "Arrange", "draw_place", "Z",
           "Draw a place round the chosen parts, or where you drag.", "drawing"),
    Action("view.fit", "Fit the sheet", "View", "fit", "Ctrl+0", "Show the whole sheet."),
    Action("view.zoom_in", "Zoom in", "View", "zoom_in", "Ctrl++", "Come nearer."),
    Action("view.zoom_out", "Zoom out", "View", "zoom_out", "Ctrl+-", "Go farther."),
    Action("view.system", "Colours as the system", "View", "set_palette",
           sentence="Day where the system is light, dusk where it is dark.", argument="system"),
    Action("view.day", "Day colours", "View", "set_palette", sentence="Paper colours.",
           argument="day"),
    Action("view.dusk", "Dusk colours", "View", "set_palette",
           sentence="Dark and quiet, for the evening.", argument="dusk"),
    Action("view.night", "Night colours", "View", "set_palette",
           sentence="Dim and red, for the watch.", argument="night"),
    Action("view.dimmer", "Night dimmer", "View", "dim", "Ctrl+,",
           "Dim the night colours by one step.", argument="dimmer"),
    Action("view.brighter", "Night brighter", "View", "dim", "Ctrl+.",
           "Brighten the night colours by one step.", argument="brighter"),
    Action("view.grey", "Grey colours", "View", "set_palette",
           sentence="As a black and white print.", argument="grey"),
    Action("view.larger", "Larger text", "View", "scale_text", "Ctrl+Shift++",
           "Make the lettering of the window larger.", argument="larger"),
    Action("view.smaller", "Smaller text", "View", "scale_text", "Ctrl+Shift+-",
           "Make the lettering of the window smaller.", argument="smaller"),
    Action("view.language_system", "Language as the system", "View", "set_language",
           sentence="Speak the system's language from the next start on.", argument="system",
           group="Language"),
    Action("view.english", "English", "View", "set_language",
           sentence="Speak English from the next start on.", argument="en", group="Language"),
    Action("view.german", "Deutsch", "View", "set_language",
           sentence="Ab dem nächsten Start Deutsch.", argument="de", group="Language"),
    Action("view.full_screen", "Full screen", "View", "toggle_full_screen", "F11",
           "Fill the whole screen, or go back to a window."),
    Action("view.locker", "Show the Locker", "View", "toggle_locker", "F2", "Show or hide parts."),
    Action("view.particulars", "Show the Particulars", "View", "toggle_particulars", "F4",
           "Show or hide the details."),
    Action("view.foot", "Show the Notices", "View", "toggle_foot", "F6",
           "Show or hide the notices."),
    Action("operate.draw", "Draw", "Operate", "set_operating", "F7", "Draw and change.",
           argument=""),
    Action("operate.operate", "Operate", "Operate", "set_operating", "F8",
           "Work switches and see what is live.", argument="operate"),
    Action("operate.reset", "All switches as usual", "Operate", "reset_positions", "F9",
           "Put every switch in its usual position."),
    Action("help.shortcuts", "Shortcuts", "Help", "show_shortcuts", "Ctrl+F1", "Every key."),
    Action("help.help", "Help", "Help", "show_help", "F1",
           "Articles, and what each check says, with a search."),
    Action("help.rules", "The checks", "Help", "show_rules", sentence="What each check says."),
    Action("help.about", "About and cautions", "Help", "show_about",
           sentence="What this program does and does not do."),
)


def by_id(action_id: str) -> Action:
    """Return the action of that id; raise KeyError."""
    for action in ACTIONS:
        if action.id == action_id:
            return action
    raise KeyError(action_id)


def of_menu(menu: str) -> tuple[Action, ...]:
    """Return the actions of a menu, in order."""
    return tuple(action for action in ACTIONS if action.menu == menu)
