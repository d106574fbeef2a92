"""What went wrong, said where it can be read: a refusal calmly in line, a bug in a dialog that can be copied."""

from __future__ import annotations

import logging
import traceback
from types import TracebackType

from PySide6.QtCore import QObject, Qt, Signal
from PySide6.QtGui import QGuiApplication, QKeyEvent
from PySide6.QtWidgets import (
    QDialog,
    QFrame,
    QHBoxLayout,
    QLabel,
    QPlainTextEdit,
    QPushButton,
    QVBoxLayout,
    QWidget,
)

from greenhouse_desk import __version__
from greenhouse_desk.domain.faults import Refused
from greenhouse_desk.ui.style import sans, serif

LOG = logging.getLogger(__name__)


def label(words: str = "", ink: str = "", bold: bool = False, px: float = 14, wrap: bool = True) -> QLabel:
    """A label in one of the look's inks (second, due, madder, ...)."""
    made = QLabel(words)
    made.setTextFormat(Qt.TextFormat.PlainText)
    made.setFont(sans(px, 600 if bold else 400))
    made.setWordWrap(wrap)
    if ink:
        made.setProperty("ink", ink)
    return made


def heading(words: str, px: float = 18) -> QLabel:
    """A heading in the serif face."""
    made = label(words, wrap=True)
    made.setFont(serif(px, 600))
    return made


class PushButton(QPushButton):
    """Pressed by Enter as well as by Space while it has the keyboard, in a dialog or out of one."""

    def keyPressEvent(self, event: QKeyEvent) -> None:
        """Qt leaves Enter to a dialog's default button; a held key presses once."""
        if event.key() not in (Qt.Key.Key_Return, Qt.Key.Key_Enter):
            super().keyPressEvent(event)
        elif not event.isAutoRepeat():
            self.click()


def button(words: str, role: str = "", name: str = "") -> QPushButton:
    """A push button; `role` main, quiet or small; `name` for those who hear the screen, when it says more."""
    made = PushButton(words)
    made.setFont(sans(14, 600))
    made.setAutoDefault(False)
    made.setAccessibleName(name or words.replace("&", ""))
    if role:
        made.setProperty("role", role)
    return made


class MessageBar(QFrame):
    """The calm line at the top of the window: a refusal with what to do next, or a short word of what was done."""

    def __init__(self, parent: QWidget | None = None) -> None:
        super().__init__(parent)
        self._title = label(bold=True, px=15)
        self._detail = label()
        self._next = label(ink="second")
        self._close = button("Close", "small", "Close this message")
        self._close.clicked.connect(self.hide)
        words = QVBoxLayout()
        words.setSpacing(2)
        for part in (self._title, self._detail, self._next):
            words.addWidget(part)
        row = QHBoxLayout(self)
        row.setContentsMargins(14, 10, 10, 10)
        row.addLayout(words, 1)
        row.addWidget(self._close, 0, Qt.AlignmentFlag.AlignTop)
        self.hide()

    def refuse(self, refusal: Refused) -> None:
        """Say a refusal: what, why, and what to do next."""
        self._say("due", refusal.title, refusal.detail, refusal.next_step)

    def note(self, words: str) -> None:
        """Say one calm sentence."""
        self._say("note", words, "", "")

    def _say(self, edge: str, title: str, detail: str, next_step: str) -> None:
        self.setProperty("edge", edge)
        self.style().polish(self)  # the look hangs on the property
        for part, words in ((self._title, title), (self._detail, detail), (self._next, next_step)):
            part.setText(words)
            part.setVisible(bool(words))
        self.setAccessibleName(" ".join(filter(None, (title, detail, next_step))))
        self.show()


class BugDialog(QDialog):
    """An unexpected fault: what happened, that nothing is lost, and the whole text to copy."""

    def __init__(self, report: str, parent: QWidget | None = None) -> None:
        super().__init__(parent)
        self.setWindowTitle("Something went wrong in the program")
        self.report = report
        text = QPlainTextEdit(report)
        text.setReadOnly(True)
        text.setFont(sans(13))
        text.setAccessibleName("The fault in full")
        copy = button("Copy the text")
        copy.clicked.connect(self._on_copy)
        close = button("Go on", "main")
        close.clicked.connect(self.accept)
        row = QHBoxLayout()
        row.addWidget(copy)
        row.addStretch(1)
        row.addWidget(close)
        column = QVBoxLayout(self)
        column.setContentsMargins(24, 20, 24, 20)
        column.setSpacing(10)
        column.addWidget(heading("Something went wrong in the program", 21))
        column.addWidget(label("What you did last may or may not be done: look before you do it again. "
                               "Everything before it is kept. "
                               "This is a fault of the program, not yours; the text below says where."))
        column.addWidget(text, 1)
        column.addLayout(row)
        self.resize(640, 420)

    def _on_copy(self) -> None:
        QGuiApplication.clipboard().setText(self.report)


class FaultTeller(QObject):
    """Stands where Python reports what nobody caught: refusals go to the bar, the rest to the log and a dialog.

    It may be called on any thread; the bar and the dialog are touched on their own.
    """

    _met = Signal(object, object, object)

    def __init__(self, bar: MessageBar) -> None:
        super().__init__()
        self._bar = bar
        self._open: BugDialog | None = None
        self._met.connect(self._on_met)

    def hook(self, kind: type[BaseException], error: BaseException, trace: TracebackType | None) -> None:
        """For sys.excepthook."""
        self._met.emit(kind, error, trace)

    def _on_met(self, kind: type[BaseException], error: BaseException, trace: TracebackType | None) -> None:
        if isinstance(error, Refused):
            self._bar.refuse(error)
            return
        report = "".join([f"Greenhouse Desk {__version__}\n", *traceback.format_exception(kind, error, trace)])
        LOG.error("unexpected fault\n%s", report)
        if issubclass(kind, Exception) and (self._open is None or not self._open.isVisible()):
            self._open = BugDialog(report, self._bar.window())
            self._open.open()
