"""Run as a child process: a bare main window with an empty list, the yardstick of the program's window."""

from __future__ import annotations

import time

from PySide6.QtCore import QStringListModel, Qt
from PySide6.QtWidgets import QApplication, QListView, QMainWindow

from tests.benchmarks import probing

if __name__ == "__main__":
    app = QApplication([])
    window, view = QMainWindow(), QListView()
    view.setModel(QStringListModel())
    window.setCentralWidget(view)
    window.resize(1366, 768)
    window.show()
    probing.painted(window)
    opened = time.monotonic() - probing.started()
    key = probing.middle(lambda: probing.press_s(view, Qt.Key.Key_Down))
    probing.tell(opened_s=opened, key_s=key)
