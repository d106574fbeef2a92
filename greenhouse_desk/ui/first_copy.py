"""One window for one collection: a second start finds the first and brings it forward."""

from __future__ import annotations

import hashlib
import sys
from pathlib import Path

from PySide6.QtCore import QObject, Signal
from PySide6.QtNetwork import QLocalServer, QLocalSocket

from greenhouse_desk.ui.folders import folders

PATIENCE_MS = 400
CALL = b"come forward\n"


def name_of(folder: Path) -> str:
    """The name under which the window of this collection can be called."""
    return f"greenhouse-desk-{hashlib.sha256(str(folder.resolve()).encode()).hexdigest()[:16]}"


def call(folder: Path) -> bool:
    """Call the window that has this collection open; False when there is none."""
    socket = QLocalSocket()
    socket.connectToServer(name_of(folder))
    if not socket.waitForConnected(PATIENCE_MS):
        return False
    socket.write(CALL)
    socket.waitForBytesWritten(PATIENCE_MS)
    socket.disconnectFromServer()
    return True


def brought_forward(collection: Path | None) -> bool:
    """Whether a window has this collection (None: the own one) open: it was brought forward, and that is said.

    A later start asks this before it loads the program, so that it is answered at once.
    """
    if not call(folders(collection).collection):
        return False
    sys.stderr.write("This collection is already open: its window was brought forward.\n")
    return True


class FirstCopy(QObject):
    """Listens for later starts. `called()` asks to come forward."""

    called = Signal()

    def __init__(self, folder: Path, parent: QObject | None = None) -> None:
        super().__init__(parent)
        self._server = QLocalServer(self)
        self._server.setSocketOptions(QLocalServer.SocketOption.UserAccessOption)
        self._server.newConnection.connect(self._on_call)
        name = name_of(folder)
        if not self._server.listen(name):
            QLocalServer.removeServer(name)
            self._server.listen(name)

    def close(self) -> None:
        """Hear no more calls."""
        self._server.close()

    def _on_call(self) -> None:
        while (socket := self._server.nextPendingConnection()) is not None:
            socket.disconnected.connect(socket.deleteLater)
            self.called.emit()
