"""The month page: the month is chosen, seen as it will be printed, and saved as a PDF or printed."""

from __future__ import annotations

from collections.abc import Callable
from datetime import date, timedelta
from pathlib import Path

from PySide6.QtCore import QSize, Qt, Signal
from PySide6.QtGui import QPainter, QPaintEvent
from PySide6.QtPrintSupport import QPrintDialog, QPrinter
from PySide6.QtWidgets import QComboBox, QDialog, QFileDialog, QHBoxLayout, QVBoxLayout, QWidget

from greenhouse_desk.domain.faults import Refused
from greenhouse_desk.domain.paper import Page
from greenhouse_desk.services.month_page import MONTHS
from greenhouse_desk.ui import paper
from greenhouse_desk.ui.messages import button, heading, label
from greenhouse_desk.ui.wheel import calm

MONTHS_SHOWN = 6
TITLE = "Month of care"


class PageView(QWidget):
    """A page as it will be printed, fitted to the room there is; paper stays white in the dark."""

    def __init__(self) -> None:
        super().__init__()
        self._page: Page | None = None
        self.setMinimumSize(300, 212)
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


class MonthBox(QDialog):
    """`made(month)` gives the page of a month. `told` carries what was done, `refused` a Refused."""

    told = Signal(str)
    refused = Signal(object)

    def __init__(self, today: date, made: Callable[[date], Page], parent: QWidget) -> None:
        super().__init__(parent)
        self.setWindowTitle(TITLE)
        self.setAttribute(Qt.WidgetAttribute.WA_DeleteOnClose)
        self._made = made
        self.months = calm(QComboBox())
        self.months.setAccessibleName("Month")
        month = today.replace(day=1)
        for _ in range(MONTHS_SHOWN):
            self.months.addItem(f"{MONTHS[month.month - 1]} {month.year}", month)
            month = (month + timedelta(days=32)).replace(day=1)
        self.view = PageView()
        self.save, self.print_it = button("Save as PDF", "main"), button("Print")
        close = button("Close")
        self._build(close)
        self.months.currentIndexChanged.connect(self._on_chosen)
        self.save.clicked.connect(self._on_save)
        self.print_it.clicked.connect(self._on_print)
        close.clicked.connect(self.reject)
        self._on_chosen()

    def _build(self, close: QWidget) -> None:
        column = QVBoxLayout(self)
        column.setContentsMargins(24, 20, 24, 20)
        column.setSpacing(10)
        column.addWidget(heading("The month on the wall", 23))
        column.addWidget(label("All care owed, a box a day, on A4 across.", "second"))
        row = QHBoxLayout()
        row.addWidget(self.months)
        row.addStretch(1)
        for made in (close, self.print_it, self.save):
            row.addWidget(made)
        column.addWidget(self.view, 1)
        column.addLayout(row)
        room = self.screen().availableGeometry()
        self.resize(min(840, room.width() - 40), min(720, room.height() - 60))

    @property
    def month(self) -> date:
        """The first day of the month chosen."""
        chosen = self.months.currentData()
        assert isinstance(chosen, date)
        return chosen

    @property
    def page(self) -> Page:
        """The page of the month chosen, made anew."""
        return self._made(self.month)

    def write(self, path: Path) -> None:
        """Write the page to `path` as a PDF."""
        try:
            paper.to_pdf([self.page], path, f"{TITLE}: {self.months.currentText()}")
        except Refused as refusal:
            self.refused.emit(refusal)
            return
        self.told.emit(f"{self.months.currentText()} written to {path.name}.")
        self.accept()

    def send(self, printer: QPrinter) -> None:
        """Print the page."""
        page = self.page
        printer.setPageLayout(paper.page_layout(page))
        printer.setFullPage(True)
        painter = QPainter(printer)
        painter.scale(printer.resolution() / paper.INCH, printer.resolution() / paper.INCH)
        paper.paint(page, painter)
        painter.end()

    def _on_chosen(self) -> None:
        self.view.show_page(self.page)

    def _on_save(self) -> None:
        dialog = QFileDialog(self, "Save the month", f"care-{self.month:%Y-%m}.pdf", "PDF (*.pdf)")
        dialog.setAcceptMode(QFileDialog.AcceptMode.AcceptSave)
        dialog.setDefaultSuffix("pdf")
        dialog.fileSelected.connect(lambda name: self.write(Path(name)))
        dialog.open()

    def _on_print(self) -> None:
        printer = QPrinter(QPrinter.PrinterMode.HighResolution)
        dialog = QPrintDialog(printer, self)
        dialog.accepted.connect(lambda: self.send(printer))
        dialog.setWindowModality(Qt.WindowModality.WindowModal)
        dialog.show()
