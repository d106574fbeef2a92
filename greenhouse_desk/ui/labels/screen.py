"""The Labels screen: plants at the left, the page as it prints in the middle, the layout at the right."""

from __future__ import annotations

from collections.abc import Callable, Sequence
from pathlib import Path

from PySide6.QtCore import QRectF, Qt, QTimer, Signal
from PySide6.QtGui import QResizeEvent
from PySide6.QtPrintSupport import QPrinter
from PySide6.QtWidgets import QBoxLayout, QHBoxLayout, QStackedWidget, QVBoxLayout, QWidget

from greenhouse_desk.domain.faults import Refused
from greenhouse_desk.domain.labels import Layout, Told, What
from greenhouse_desk.domain.labels_sheets import Printed, arranged, begun_by, place_of
from greenhouse_desk.services import labels, labels_shelf
from greenhouse_desk.services.desk import Desk
from greenhouse_desk.services.shelf import Shelf
from greenhouse_desk.ui import printer
from greenhouse_desk.ui.labels import printing
from greenhouse_desk.ui.labels.choosing import LATE, Choosing
from greenhouse_desk.ui.labels.editor import SizesEditor
from greenhouse_desk.ui.labels.layout_panel import LayoutPanel
from greenhouse_desk.ui.labels.lost import LostBox
from greenhouse_desk.ui.labels.own_layouts import OwnLayouts
from greenhouse_desk.ui.labels.page_bar import PageBar
from greenhouse_desk.ui.labels.preview import Preview
from greenhouse_desk.ui.labels.saving import Job, Saving
from greenhouse_desk.ui.labels.setting import SetLabels
from greenhouse_desk.ui.labels.trial import SAMPLE, trial
from greenhouse_desk.ui.messages import button, heading
from greenhouse_desk.ui.messages import label as said
from greenhouse_desk.ui.printer import Print
from greenhouse_desk.ui.sides import scrolled
from greenhouse_desk.ui.signals import Signals
from greenhouse_desk.ui.style import Palette
from greenhouse_desk.ui.thumbnails import Thumbnails
from greenhouse_desk.ui.words import counted

NARROW = 900
SIDE, WIDEST_SIDE = 300, 480
PAUSE_MS = 120
DATED = "The date is the day of the last potting, else the day the plant came."
NOBODY = "No plant is chosen."
ALL_FRESH = "No label is out of date."


class LabelsScreen(QWidget):
    """`measured(printer, correction)` tells what puts a printer right."""

    measured = Signal(str, object)

    def __init__(self, desk: Desk, signals: Signals, palette: Palette, shelves: Callable[[], Shelf],
                 thumbs: Thumbnails) -> None:
        super().__init__()
        self.setProperty("ground", "bench")
        self._desk, self._signals, self._shelves = desk, signals, shelves
        self._look, self._thumbs = palette, thumbs
        self.choosing, self.layouts, self.editor = Choosing(desk, palette), LayoutPanel(palette), SizesEditor()
        self.preview, self.pager = Preview(palette), PageBar()
        self.words = said(ink="second")
        self.notes = said(ink="second", px=13)
        self.refusals = said(ink="madder", bold=True)
        self.print_button = button("Print", "main", "Print these labels")
        self.save_button = button("Save as file", name="Save these labels as PDF, PNG or SVG")
        self.ruler_button = button("Ruler page", name="Print the ruler page")
        self.measured_button = button("Set true size", name="Say what was measured on the ruler page")
        self.fill_button = button("Choose all that grow")
        self.printed = Printed((), (), ())
        self._tolds: tuple[Told, ...] = ()
        self._setting = SetLabels(self)
        self.saving, self._own = Saving(self), OwnLayouts(desk.store.folder, signals, self)
        self._soon = QTimer(self)
        self._soon.setSingleShot(True)
        self._soon.setInterval(PAUSE_MS)
        self._build()
        self._listen()

    def _build(self) -> None:
        page = QWidget()
        column = QVBoxLayout(page)
        column.setContentsMargins(24, 8, 24, 16)
        column.setSpacing(8)
        column.addLayout(self._head())
        self._side = QStackedWidget()
        self._side.addWidget(self.choosing)
        self._side.addWidget(self.editor)
        middle = QVBoxLayout()
        middle.setSpacing(6)
        for part in (self.refusals, self.notes, self.pager):
            middle.addWidget(part)
        middle.addWidget(self.preview, 1)
        middle.addWidget(self.fill_button, 0, Qt.AlignmentFlag.AlignHCenter)
        self._body = QBoxLayout(QBoxLayout.Direction.LeftToRight)
        self._body.setSpacing(14)
        self._body.addWidget(self._side)
        self._body.addLayout(middle, 1)
        self._body.addWidget(self.layouts)
        column.addLayout(self._body, 1)
        scrolled(self, page, "Labels")

    def _head(self) -> QBoxLayout:
        told = QVBoxLayout()
        told.setSpacing(2)
        told.addWidget(heading("Labels", 26))
        told.addWidget(self.words)
        buttons = QHBoxLayout()
        buttons.setSpacing(8)
        for part in (self.ruler_button, self.measured_button, self.save_button, self.print_button):
            buttons.addWidget(part)
        self._top = QBoxLayout(QBoxLayout.Direction.LeftToRight)
        self._top.addLayout(told, 1)
        self._top.addLayout(buttons)
        return self._top

    def _listen(self) -> None:
        self.choosing.changed.connect(self._soon.start)
        self.layouts.changed.connect(self._soon.start)
        self._soon.timeout.connect(lambda: self._setting.begin(self.layouts.layout_chosen, self._read()))
        self._setting.ready.connect(self.work_out)
        self._setting.told.connect(self.words.setText)
        self.pager.changed.connect(self._show_page)
        self.layouts.edit_wanted.connect(self._on_edit)
        self.editor.tried.connect(self._on_tried)
        self.editor.kept.connect(self._own.keep)
        self.editor.removed.connect(self._own.ask_removal)
        self._own.done.connect(self._close_editor)
        self.editor.closed.connect(lambda: self._close_editor(""))
        self.choosing.lost.clicked.connect(self.search_lost)
        self.fill_button.clicked.connect(self.choosing.take_all)
        self.print_button.clicked.connect(self._on_print)
        self.save_button.clicked.connect(lambda: printing.ask_file(self.window(), self.save))
        self.saving.saved.connect(self._on_saved)
        self.saving.refused.connect(self._signals.refused)
        self.saving.busy_changed.connect(self._on_busy)
        self.ruler_button.clicked.connect(self._on_ruler)
        self.measured_button.clicked.connect(lambda: printing.ask_measured(self.window(), self.measured.emit))

    def show_now(self) -> None:
        """Read everything anew and show it."""
        self._read_layouts()
        self.choosing.show_now()
        self.work_out()

    def count(self) -> str:
        """How many labels are out of date, for the navigation."""
        found = len(self._desk.read(labels.changed_since))
        return str(found) if found else ""

    def close_tasks(self) -> None:
        """What waits to be worked out is let be; a file that is being written comes to its end."""
        self._soon.stop()
        self._setting.stop()
        self.saving.close()

    def _read_layouts(self, take: str = "") -> None:
        found = labels_shelf.layouts(self._desk.store.folder)
        self.layouts.show_layouts(found.all, take)
        if found.faults:
            self._signals.refused.emit(Refused("A label layout of yours is set aside", str(found.faults[0]),
                                               "Mend the file; the others can be used."))

    def _read(self) -> tuple[Told, ...]:
        return self._desk.read(labels.told, self.choosing.chosen(), self._shelves().genera, self.layouts.own_lines)

    def _settle(self) -> None:
        """What is on the pages is what is asked for: work out at once what waits."""
        if self._soon.isActive() or self._setting.busy:
            self.work_out()

    def work_out(self) -> None:
        """Set the labels that are asked for at once, and show their pages."""
        self._soon.stop()
        self._setting.stop()
        self._tolds = self._read()
        panel = self.layouts
        layout = panel.layout_chosen
        self.printed = arranged(layout, [self._setting.one(layout, told) for told in self._tolds], panel.cells.start,
                                panel.copies.value())
        panel.show_count(len(self.printed.made) * panel.copies.value())
        self._tell(layout)
        if self._side.currentWidget() is not self.editor:
            self.pager.show_pages(len(self.printed.pages))
            self._show_page()

    def _tell(self, layout: Layout) -> None:
        made, pages = len(self.printed.made) * self.layouts.copies.value(), len(self.printed.pages)
        dated = f" {DATED}" if any(box.what is What.DATE for box in layout.boxes) else ""
        self.words.setText(f"{counted(made, 'label')} on {counted(pages, 'page')}, {layout.width:g} x "
                           f"{layout.height:g} mm each.{dated}" if made else
                           "Choose plants, a layout, and where to start.")
        for part, lines, more in ((self.refusals, self.printed.refusals, "Not printed: "),
                                  (self.notes, self.printed.notes, "")):
            rest = f"; {len(lines) - 3} more" if len(lines) > 3 else ""
            part.setText(f"{more}{'; '.join(lines[:3])}{rest}" if lines else "")
            part.setVisible(bool(lines))
        for control in (self.print_button, self.save_button):
            control.setEnabled(bool(pages))
            control.setToolTip("" if pages else "Not now: no label is on the page.")

    def _show_page(self) -> None:
        if not self.printed.pages:
            fresh = ALL_FRESH if self.choosing.which.currentData() == LATE else NOBODY
            self.preview.show_nothing(fresh if not self._tolds else "None of these labels can be made.")
            self.fill_button.setVisible(not self._tolds)
            return
        self.fill_button.hide()
        at, layout = self.pager.at, self.layouts.layout_chosen
        cells = [QRectF(*place_of(layout, nth), layout.width, layout.height) for nth in range(layout.per_page)]
        told = f"page {at + 1} of {len(self.printed.pages)}, {layout.title}"
        self.preview.show_page(self.printed.pages[at], told, cells if layout.grid else ())

    def _on_edit(self) -> None:
        self._side.setCurrentWidget(self.editor)
        self.layouts.setEnabled(False)
        self.pager.hide()
        self.editor.begin(self.layouts.layout_chosen, self.layouts.titles)
        self.editor.title.setFocus()

    def _on_tried(self, layout: Layout, row: int) -> None:
        """The label alone, with the parts as boxes and the one in hand outlined."""
        page, boxes, words = trial(layout, next(iter(self._tolds), SAMPLE), row)
        self.refusals.setText(words)
        self.refusals.setVisible(bool(words))
        self.preview.show_page(page, f"{layout.title or 'a layout'} while it is edited", (), boxes)

    def _close_editor(self, take: str) -> None:
        self._side.setCurrentWidget(self.choosing)
        self.layouts.setEnabled(True)
        self._read_layouts(take)
        self.work_out()
        self.layouts.edit.setFocus()

    def search_lost(self) -> LostBox:
        """Find the plant whose label is gone."""
        box = LostBox(self._desk, self._look, self._thumbs, self._shelves, self.window())
        box.found.connect(lambda number: self.choosing.take((number,)))
        box.open()
        return box

    def _on_print(self) -> None:
        self._settle()
        if self.printed.pages:
            printer.ask(self.window(), self.printed.pages[0], self.print_on)

    def print_on(self, chosen: QPrinter) -> None:
        """Have the labels printed as they are now, and what came to paper written down."""
        layout, told, asked = self.layouts.layout_chosen, self._on_pages(), self.printed
        start, copies = self.layouts.cells.start, self.layouts.copies.value()

        def ended(pages: int) -> str:
            done = told[:begun_by(layout, pages, start, copies)]
            return self._write_down(layout, done, "printed" if len(done) == len(told) else f"of {len(told)} printed")

        self._signals.to_printer.emit(Print("Labels", asked.pages, chosen, ended=ended))

    def save(self, path: Path, dots: float = printing.USUAL_DOTS) -> None:
        """Write the pages as they are now to a file, and that down once it is there; `dots` are a picture's."""
        self._settle()
        self.saving.begin(Job(self.printed.pages, self.layouts.layout_chosen, self._on_pages(), path, dots))

    def _on_busy(self) -> None:
        self.save_button.setText("Saving…" if self.saving.busy else "Save as file")

    def _on_pages(self) -> tuple[Told, ...]:
        made = {one.number for one in self.printed.made}
        return tuple(told for told in self._tolds if told.number in made)

    def _write_down(self, layout: Layout, tolds: Sequence[Told], how: str) -> str:
        self._desk.run(labels.printed, layout, tolds)
        return f"{counted(len(tolds), 'label')} {how}; it is in the journal."

    def _on_saved(self, job: Job) -> None:
        self._signals.noted.emit(self._write_down(job.layout, job.tolds, f"saved in {job.path.name}"))

    def _on_ruler(self) -> None:
        page = printing.ruler()
        printer.ask(self.window(), page, lambda chosen: self._signals.to_printer.emit(
            Print("Ruler page", (page,), chosen, as_it_is=True)))

    def resizeEvent(self, event: QResizeEvent) -> None:
        """In a narrow window the three parts stand under each other."""
        super().resizeEvent(event)
        narrow = self.width() < NARROW
        way = QBoxLayout.Direction.TopToBottom if narrow else QBoxLayout.Direction.LeftToRight
        self._body.setDirection(way)
        self._top.setDirection(way)
        wide = max(SIDE, min(WIDEST_SIDE, self.width() // 5))
        for side in (self._side, self.layouts):
            side.setMinimumWidth(0 if narrow else wide)
            side.setMaximumWidth(16777215 if narrow else wide)
        self.preview.setMinimumHeight(420 if narrow else 240)
