"""A window for printed sheets: seen as they will be printed, saved as a PDF or printed; set and written off its thread.

What is read from the collection is read at once; setting it on pages and writing the file are work for the pool.
"""

from __future__ import annotations

from collections.abc import Callable, Sequence
from dataclasses import dataclass
from functools import partial
from pathlib import Path
from typing import TypeVar

from PySide6.QtCore import QSize, Qt, Signal
from PySide6.QtGui import QPainter, QPaintEvent
from PySide6.QtPrintSupport import QPrinter
from PySide6.QtWidgets import QComboBox, QDialog, QFileDialog, QHBoxLayout, QVBoxLayout, QWidget

from greenhouse_desk.domain.faults import Refused
from greenhouse_desk.domain.paper import Page
from greenhouse_desk.services.page_flow import SHEETS
from greenhouse_desk.ui import paper
from greenhouse_desk.ui.messages import button, heading, label
from greenhouse_desk.ui.printer import Print, ask
from greenhouse_desk.ui.signals import Signals
from greenhouse_desk.ui.tasks import Tasks, as_refusal
from greenhouse_desk.ui.wheel import calm
from greenhouse_desk.ui.whole_screen import screen_of

Size = tuple[float, float]
Box = TypeVar("Box", bound="PageBox")
Setting = Callable[[Size], Sequence[Page]]
"""Sets what was read on pages of a size; touches neither store nor widget."""
SAVING, SETTING = "save", "set"


@dataclass(frozen=True)
class Sheet:
    """What a box prints: its title, what it is for, its file's name, and what reads it (may raise Refused).

    `sizes` is False where it has one size of its own.
    """

    title: str
    words: str
    file: str
    read: Callable[[], Setting]
    sizes: bool = True


class PageView(QWidget):
    """A page as it will be printed, fitted to the room there is; paper stays white in the dark."""

    def __init__(self) -> None:
        super().__init__()
        self._page: Page | None = None
        self.setMinimumSize(200, 90)  # so that a small screen at 200 % text has room for the rest
        self.setAccessibleName("The page as it will be printed")

    def show_page(self, page: Page) -> None:
        """Show this page."""
        self._page = page
        self.update()

    def sizeHint(self) -> QSize:
        return QSize(740, 524)

    def paintEvent(self, event: QPaintEvent) -> None:
        if self._page is None:
            return
        painter = QPainter(self)
        scale = min(self.width() / self._page.width, self.height() / self._page.height)
        painter.translate((self.width() - scale * self._page.width) / 2, 0)
        painter.scale(scale, scale)
        painter.fillRect(0, 0, round(self._page.width), round(self._page.height), Qt.GlobalColor.white)
        paper.paint(self._page, painter)
        painter.end()


class PageBox(QDialog):
    """`told` carries what was done, `refused` a Refused, `to_printer` a Print. `controls` choose what is read;
    `refresh` reads it again."""

    told = Signal(str)
    refused = Signal(object)
    to_printer = Signal(object)

    def __init__(self, sheet: Sheet, parent: QWidget, controls: Sequence[QWidget] = ()) -> None:
        super().__init__(parent)
        self.setWindowTitle(sheet.title)
        self.setAttribute(Qt.WidgetAttribute.WA_DeleteOnClose)
        self.sheet = sheet
        self.pages: tuple[Page, ...] = ()
        self._at = self._asked = 0
        self._saving = self._leaving = False
        self._tasks = Tasks(self, threads=1)
        self.sizes = calm(QComboBox())
        self.sizes.addItems(list(SHEETS))
        self.sizes.setAccessibleName("Size of the paper")
        self.sizes.setVisible(sheet.sizes)
        self.view, self.fault, self.count = PageView(), label(ink="madder", bold=True), label("", "second", wrap=False)
        self.note = label(bold=True)
        self.back, self.on = button("Page before", "small"), button("Next page", "small")
        self.save, self.print_it, self.close_it = button("Save as PDF…", "main"), button("Print…"), button("Close")
        self._build(controls)
        self._listen()
        self.refresh()

    def _build(self, controls: Sequence[QWidget]) -> None:
        column = QVBoxLayout(self)
        column.setContentsMargins(24, 20, 24, 20)
        column.setSpacing(10)
        column.addWidget(heading(self.sheet.title, 23))
        for said in (label(self.sheet.words, "second"), self.fault, self.note):
            column.addWidget(said)
        turning = QHBoxLayout()
        for made in (*controls, self.sizes):
            turning.addWidget(made)
        turning.addStretch(1)
        for made in (self.back, self.count, self.on):
            turning.addWidget(made)
        column.addLayout(turning)
        column.addWidget(self.view, 1)
        row = QHBoxLayout()
        row.addStretch(1)
        for made in (self.close_it, self.print_it, self.save):
            row.addWidget(made)
        column.addLayout(row)
        self.fault.hide()
        self.note.hide()
        room = screen_of(self).availableGeometry()
        self.resize(min(840, room.width() - 40), min(900 if self.sheet.sizes else 720, room.height() - 60))

    def _listen(self) -> None:
        self._tasks.done.connect(self._on_done)
        self._tasks.failed.connect(self._on_failed)
        self.sizes.currentIndexChanged.connect(lambda _at: self.refresh())
        self.back.clicked.connect(lambda: self._turn(-1))
        self.on.clicked.connect(lambda: self._turn(1))
        self.save.clicked.connect(self._on_save)
        self.print_it.clicked.connect(self._on_print)
        self.close_it.clicked.connect(self.reject)

    def refresh(self) -> None:
        """Read what is to be printed anew; it is shown as soon as it is set."""
        self._asked += 1
        self.pages = ()
        self._show()
        try:
            setting = self.sheet.read()
        except Refused as refusal:
            self._tell_fault(refusal)
            return
        self.fault.hide()
        self._tasks.ask((SETTING, self._asked), partial(setting, SHEETS[self.sizes.currentText()]))

    def say(self, words: str) -> None:
        """Say what the grower should know before printing; "" for nothing."""
        self.note.setText(words)
        self.note.setVisible(bool(words))

    def write(self, path: Path) -> None:
        """Write the pages to `path` as a PDF, off this thread; the box closes when it is written."""
        self._usable(False)
        self._saving = True
        self._tasks.ask((SAVING, path), partial(paper.to_pdf, self.pages, path, self.sheet.title))

    def send(self, printer: QPrinter) -> None:
        """Hand the pages over to be printed; the box closes."""
        self.to_printer.emit(Print(self.sheet.title, self.pages, printer))
        self.accept()

    def done(self, result: int) -> None:
        """Closed; while a file is written only once it is, so that what came of it is told."""
        if self._saving:
            self._leaving = True
            self.close_it.setEnabled(False)
            self.say("Closes as soon as the file is written.")
            return
        self._tasks.close()
        super().done(result)

    def _on_done(self, key: tuple[str, object], answer: object) -> None:
        if key == (SETTING, self._asked):
            assert isinstance(answer, tuple)
            self.pages, self._at = answer, 0
            self._show()
        elif key[0] == SAVING:
            assert isinstance(key[1], Path)
            self._saving = False
            self.told.emit(f"{self.sheet.title} written to {key[1].name}.")
            self.accept()

    def _on_failed(self, key: tuple[str, object], error: Exception) -> None:
        if key[0] == SAVING:
            self._saving = False
            self._usable(True)
            self.refused.emit(as_refusal("The file cannot be written", error))
            if self._leaving:
                self.reject()
        elif key == (SETTING, self._asked):
            self._tell_fault(as_refusal("This cannot be set on paper", error))

    def _tell_fault(self, refusal: Refused) -> None:
        self.fault.setText(" ".join(filter(None, (f"{refusal.title}.", refusal.detail, refusal.next_step))))
        self.fault.show()

    def _turn(self, by: int) -> None:
        self._at = min(max(self._at + by, 0), len(self.pages) - 1)
        self._show()

    def _show(self) -> None:
        self._usable(bool(self.pages))
        for made in (self.back, self.on, self.count):
            made.setVisible(len(self.pages) > 1)
        if self.pages:
            self.view.show_page(self.pages[self._at])
            self.count.setText(f"{self._at + 1} of {len(self.pages)}")
            self.back.setEnabled(self._at > 0)
            self.on.setEnabled(self._at + 1 < len(self.pages))

    def _usable(self, usable: bool) -> None:
        self.save.setEnabled(usable)
        self.print_it.setEnabled(usable)

    def _on_save(self) -> None:
        dialog = QFileDialog(self, f"Save: {self.sheet.title}", self.sheet.file, "PDF (*.pdf)")
        dialog.setAcceptMode(QFileDialog.AcceptMode.AcceptSave)
        dialog.setDefaultSuffix("pdf")
        dialog.fileSelected.connect(lambda name: self.write(Path(name)))
        dialog.open()

    def _on_print(self) -> None:
        ask(self, self.pages[0], self.send)


def opened(box: Box, signals: Signals) -> Box:
    """Open a box; what it did and what was refused is told in the window's bar."""
    box.told.connect(signals.noted)
    box.refused.connect(signals.refused)
    box.to_printer.connect(signals.to_printer)
    box.open()
    return box
