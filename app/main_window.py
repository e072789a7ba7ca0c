"""Opening the window: the application, the workspace, and what a crash left behind."""

from __future__ import annotations

import sys
from pathlib import Path

from PySide6.QtCore import QTimer
from PySide6.QtGui import QFont, QIcon
from PySide6.QtWidgets import QApplication

from app.drawing.painters.qt import register_faces
from app.new_boat import new_diagram
from app.window.bar import rose_picture
from app.window.files import demo_path
from app.window.main_window import MainWindow
from app.workspace import Workspace
from model.storage import load
from model.storage.state_folder import state_folder


def open_window(path: Path | None, folder: Path) -> MainWindow:
    """Return a window on a file; without one, on the demo boat at the very first start."""
    register_faces()
    first = not (folder / "window.ini").exists() and path is None
    workspace = Workspace(folder, load(demo_path("cutter")) if first else new_diagram())
    window = MainWindow(workspace, folder)
    window.setWindowIcon(QIcon(rose_picture(64, role="ink")))
    if path is not None:
        window.files.open(path)
    return window


def make_application() -> QApplication:
    """Return the application with the program's name and face."""
    application = QApplication(sys.argv[:1])
    application.setApplicationName("Loomwright")
    application.setFont(QFont("DejaVu Sans Condensed", 10))
    return application


def run(path: str | None = None) -> int:
    """Run the program until its window closes; return the exit code."""
    application = make_application()
    window = open_window(Path(path) if path else None, state_folder())
    window.show()
    QTimer.singleShot(0, window.files.offer_recovery)
    return application.exec()
