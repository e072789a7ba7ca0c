"""Which palette the window wears: one that was chosen, or day and dusk as the system is light or
dark; how dim night is, and how large the lettering. What was chosen is remembered.
"""

from __future__ import annotations

from collections.abc import Callable

from PySide6.QtCore import QSettings, Qt
from PySide6.QtGui import QColor, QGuiApplication, QPalette

from app.drawing.theme import NIGHTS, PALETTES, Palette, colour
from app.words import _

SYSTEM = "system"
TEXT_SCALES = (0.9, 1.0, 1.15, 1.3, 1.5)
_GROUP, _ROLE = QPalette.ColorGroup, QPalette.ColorRole
TOOLKIT_ROLES = {
    _ROLE.Window: "panel", _ROLE.WindowText: "ink", _ROLE.Base: "field", _ROLE.Text: "ink",
    _ROLE.AlternateBase: "button", _ROLE.Button: "button", _ROLE.ButtonText: "ink",
    _ROLE.BrightText: "magenta", _ROLE.PlaceholderText: "hint", _ROLE.ToolTipBase: "field",
    _ROLE.ToolTipText: "ink", _ROLE.Highlight: "selection_tint", _ROLE.HighlightedText: "ink",
    _ROLE.Accent: "selection", _ROLE.Link: "selection", _ROLE.LinkVisited: "selection",
    _ROLE.Light: "button", _ROLE.Midlight: "button", _ROLE.Mid: "rule", _ROLE.Dark: "rule",
    _ROLE.Shadow: "rule",
}
DISABLED_ROLES = (_ROLE.WindowText, _ROLE.Text, _ROLE.ButtonText)


class Colours:
    """The choice of colours of one window; `show` wears a palette."""

    def __init__(self, settings: QSettings, show: Callable[[Palette], None]) -> None:
        self._settings = settings
        self._show = show
        kept = settings.value("colours")
        self._chosen = kept if kept in (*PALETTES, *NIGHTS) else SYSTEM
        QGuiApplication.styleHints().colorSchemeChanged.connect(self._system_changed)

    @property
    def palette(self) -> Palette:
        """Return the palette to wear now."""
        for palette in (*PALETTES, *NIGHTS):
            if palette == self._chosen:
                return palette
        return "dusk" if is_system_dark() else "day"

    @property
    def follows_system(self) -> bool:
        """Say whether the system decides between day and dusk."""
        return self._chosen == SYSTEM

    def choose(self, name: str) -> None:
        """Wear a palette from now on, or follow the system; night comes as dim as it was left."""
        if name == "night":
            kept = self._settings.value("night")
            name = kept if kept in NIGHTS else name
        self._chosen = name
        self._settings.setValue("colours", name)
        self._show(self.palette)

    def dim(self, steps: int) -> str:
        """Make night dimmer, or brighter below nought; return what there is to say."""
        if self.palette not in NIGHTS:
            return _("Only the night colours can be dimmed.")
        place = min(max(NIGHTS.index(self.palette) + steps, 0), len(NIGHTS) - 1)
        self._settings.setValue("night", NIGHTS[place])
        self.choose("night")
        return _("Night colours at {percent} %.").format(percent=100 - 20 * place)

    @property
    def text_scale(self) -> float:
        """Return how large the window's lettering is. [unitless]."""
        kept = str(self._settings.value("text_scale", "1.0"))
        return next((scale for scale in TEXT_SCALES if str(scale) == kept), 1.0)

    def scale_text(self, steps: int) -> str:
        """Make lettering larger, or smaller below nought; return what there is to say."""
        place = min(max(TEXT_SCALES.index(self.text_scale) + steps, 0), len(TEXT_SCALES) - 1)
        self._settings.setValue("text_scale", str(TEXT_SCALES[place]))
        self._show(self.palette)
        return _("Lettering at {percent}.").format(percent=f"{TEXT_SCALES[place]:.0%}")

    def leave(self) -> None:
        """Follow nothing more: the window closes."""
        QGuiApplication.styleHints().colorSchemeChanged.disconnect(self._system_changed)

    def _system_changed(self) -> None:
        if self.follows_system:
            self._show(self.palette)


def is_system_dark() -> bool:
    """Say whether the system's own colours are dark."""
    return QGuiApplication.styleHints().colorScheme() is Qt.ColorScheme.Dark


def wear(palette: Palette) -> None:
    """Give the toolkit the palette for all that the style sheet does not reach: lists that drop
    down, what is disabled, the dialogs and arrows that are the toolkit's own.
    """
    worn = QPalette()
    for role, ours in TOOLKIT_ROLES.items():
        worn.setColor(role, QColor(colour(ours, palette)))
    for role in DISABLED_ROLES:
        worn.setColor(_GROUP.Disabled, role, QColor(colour("dead_text", palette)))
    QGuiApplication.setPalette(worn)
