"""A hand-held scanner types a label's code: recognised anywhere in the program, and no one's own typing is lost.

A scanner's keys come much faster than a hand's. What may be the beginning of a code is held back for a moment; as soon
as it cannot become one, or no key follows, the keys go on to where they were typed, in their order.
"""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import dataclass

from PySide6.QtCore import QCoreApplication, QEvent, QObject, Qt, QTimer, Signal
from PySide6.QtGui import QKeyEvent, QWindow
from shiboken6 import isValid

from greenhouse_desk.domain.labels_code import begins_code, number_in

GAP_MS = 80
"""The longest pause between two keys of a scanner; a hand is seldom that fast, and loses nothing where it is."""
ENDS = (Qt.Key.Key_Return, Qt.Key.Key_Enter)
SILENT = (Qt.Key.Key_Shift, Qt.Key.Key_CapsLock)
COMMANDS = (Qt.KeyboardModifier.ControlModifier | Qt.KeyboardModifier.AltModifier
            | Qt.KeyboardModifier.MetaModifier)


@dataclass(frozen=True)
class _Held:
    window: QWindow
    event: QKeyEvent
    text: str


class Scanner(QObject):
    """Installed on the application. `scanned(number)` tells the plant whose label was read."""

    scanned = Signal(int)

    def __init__(self) -> None:
        super().__init__()
        self._held: list[_Held] = []
        self._giving = False
        self._pause = QTimer(self)
        self._pause.setSingleShot(True)
        self._pause.setInterval(GAP_MS)
        self._pause.timeout.connect(self._give_back)
        self._look_at(QCoreApplication.installEventFilter)

    def _look_at(self, how: Callable[[QCoreApplication, QObject], None]) -> None:
        application = QCoreApplication.instance()
        assert application is not None
        how(application, self)

    def wait(self, gap_ms: int) -> None:
        """Take keys that come so far apart for a scanner's: some are slower than others."""
        self._pause.setInterval(gap_ms)

    def close(self) -> None:
        """Look at no more keys; what is held back goes where it was typed."""
        self._give_back()
        self._look_at(QCoreApplication.removeEventFilter)

    def eventFilter(self, watched: QObject, event: QEvent) -> bool:
        """Hold back what may be a code; let everything else go by."""
        if self._giving or not isinstance(event, QKeyEvent):
            return False
        if event.type() is QEvent.Type.ShortcutOverride:
            return self._no_shortcut(event)
        if event.type() is QEvent.Type.KeyPress and isinstance(watched, QWindow):
            return self._pressed(watched, event)
        return False

    def _no_shortcut(self, event: QKeyEvent) -> bool:
        """Inside a code no letter is a shortcut."""
        inside = bool(self._held) and (self._fits(event) or self._ended(event))
        if inside:
            event.accept()
        return inside

    def _pressed(self, window: QWindow, event: QKeyEvent) -> bool:
        if event.key() in SILENT:
            return False
        if self._ended(event):
            number = number_in(self._text)
            self._held.clear()
            self._pause.stop()
            assert number is not None
            self.scanned.emit(number)
            return True
        if not self._fits(event):
            self._give_back()
        if not self._fits(event):
            return False
        copy = QKeyEvent(event.type(), event.key(), event.modifiers(), event.text())
        self._held.append(_Held(window, copy, event.text()))
        self._pause.start()
        return True

    @property
    def _text(self) -> str:
        return "".join(held.text for held in self._held)

    def _fits(self, event: QKeyEvent) -> bool:
        """Whether a key goes on with what is held, or begins a code."""
        plain = not event.modifiers() & COMMANDS and len(event.text()) == 1 and not event.isAutoRepeat()
        return plain and begins_code(self._text + event.text())

    def _ended(self, event: QKeyEvent) -> bool:
        return event.key() in ENDS and number_in(self._text) is not None

    def _give_back(self) -> None:
        """The keys that are held go where they were typed."""
        self._pause.stop()
        held, self._held = self._held, []
        self._giving = True
        try:
            for one in held:
                if isValid(one.window):
                    QCoreApplication.sendEvent(one.window, one.event)
        finally:
            self._giving = False
