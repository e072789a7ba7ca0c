"""Which language the window speaks: the one that was chosen, else the system's, from the start on.

What was chosen takes effect at the next start: words stand in too many places to change at once.
"""

from __future__ import annotations

from collections.abc import Mapping
from pathlib import Path

from PySide6.QtCore import QLibraryInfo, QLocale, QSettings, QTranslator
from PySide6.QtGui import QAction
from PySide6.QtWidgets import QApplication

from app.actions import ACTIONS
from app.words import ENGLISH, LANGUAGES, SYSTEM, _, speak

KEY = "language"


def window_settings(state_folder: Path) -> QSettings:
    """Return the settings of the window."""
    return QSettings(str(state_folder / "window.ini"), QSettings.Format.IniFormat)


def chosen_language(settings: QSettings) -> str:
    """Return the language that was chosen, or that of the system."""
    kept = settings.value(KEY)
    return str(kept) if kept in LANGUAGES else SYSTEM


def begin_language(settings: QSettings) -> QTranslator | None:
    """Speak the chosen language from now on; return what translates the buttons Qt names."""
    chosen = chosen_language(settings)
    spoken = speak(QLocale.system().uiLanguages()[0] if chosen == SYSTEM else chosen)
    application = QApplication.instance()
    if spoken == ENGLISH or application is None:
        return None
    words = QTranslator(application)
    folder = QLibraryInfo.path(QLibraryInfo.LibraryPath.TranslationsPath)
    if words.load(f"qtbase_{spoken}", folder):
        application.installTranslator(words)
    return words


def mark_language(actions: Mapping[str, QAction], settings: QSettings) -> None:
    """Check the chosen language among the actions."""
    chosen = chosen_language(settings)
    for action in ACTIONS:
        if action.function == "set_language":
            actions[action.id].setCheckable(True)
            actions[action.id].setChecked(action.argument == chosen)


def choose_language(settings: QSettings, name: str) -> str:
    """Keep a language for the next start; return what there is to say."""
    settings.setValue(KEY, name)
    return _("The language changes when the program is started again.")
