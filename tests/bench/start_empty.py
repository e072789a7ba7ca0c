"""The floor of a start: an empty main window. Prints the clock after its first paint."""

from __future__ import annotations

import time

from PySide6.QtCore import QEvent, QObject, QTimer
from PySide6.QtWidgets import QApplication, QMainWindow


class FirstPaint(QObject):
    """Ends the program when the first paint is over."""

    def eventFilter(self, _watched: QObject, event: QEvent) -> bool:
        if event.type() == QEvent.Type.Paint:
            QTimer.singleShot(0, self.over)
        return False

    def over(self) -> None:
        print(time.perf_counter(), flush=True)
        QApplication.quit()


def main() -> None:
    application = QApplication([])
    window = QMainWindow()
    window.resize(1280, 800)
    seen = FirstPaint()
    window.installEventFilter(seen)
    window.show()
    application.exec()


if __name__ == "__main__":
    main()
