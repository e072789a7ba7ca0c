"""Opening the window: the application, the window's two steps, and what a crash left behind."""

from __future__ import annotations

import sys
from pathlib import Path

from PySide6.QtCore import QTimer
from PySide6.QtGui import QFont, QIcon
from PySide6.QtWidgets import QApplication

from app.drawing.painters.qt import register_faces
from app.quick_start import quick_start
from app.state_folder import state_folder
from app.window.bar import rose_picture
from app.window.language import begin_language, window_settings
from app.window.main_window import MainWindow

ICON_AFTER_MS = 200


def make_application() -> QApplication:
    """Return the application with the program's name and face."""
    application = QApplication(sys.argv[:1])
    application.setApplicationName("Loomwright")
    application.setFont(QFont("DejaVu Sans Condensed", 10))
    return application


def open_shell(folder: Path) -> MainWindow:
    """Return a window with its bar and parts list, ready to be painted."""
    register_faces()
    begin_language(window_settings(folder))
    return MainWindow(folder)


def furnish(window: MainWindow, path: Path | None, folder: Path) -> None:
    """Furnish with a file; without one, with the start page before an empty diagram."""
    with quick_start():
        from app.new_boat import new_diagram
        from app.workspace import Workspace

        window.furnish(Workspace(folder, new_diagram()), path)
        if path is None:
            window.pages.show_start()
    # The sheet comes before the picture that other windows' lists show of this one.
    QTimer.singleShot(ICON_AFTER_MS, window, lambda: window.setWindowIcon(
        QIcon(rose_picture(64, role="ink"))))


def open_window(path: Path | None, folder: Path) -> MainWindow:
    """Return a furnished window."""
    window = open_shell(folder)
    furnish(window, path, folder)
    return window


def start_window(path: Path | None, folder: Path) -> MainWindow:
    """Return a window that is shown at once and furnished after its first paint."""
    window = open_shell(folder)

    def furnish_painted() -> None:
        if not window.isVisible():  # closed again already
            return
        window.furnished.connect(lambda: window.files.offer_recovery())
        try:
            furnish(window, path, folder)
        except BaseException:
            QApplication.exit(1)  # rather than stay with an empty shell
            raise

    window.painted.connect(furnish_painted)
    window.show()
    return window


def run(path: str | None = None) -> int:
    """Run the program until its window closes; return the exit code."""
    application = make_application()
    window = start_window(Path(path) if path else None, state_folder())
    code = application.exec()
    del window
    return code
