"""What the Collection screen prints: the day's round, the shelf map, and a sitter's two weeks."""

from __future__ import annotations

from collections.abc import Callable
from datetime import date
from functools import partial
from pathlib import Path
from typing import Any

from PySide6.QtCore import QDate, QPoint, Qt
from PySide6.QtWidgets import QCheckBox, QDateEdit, QHBoxLayout, QMenu, QWidget

from greenhouse_desk.domain.figures import counted
from greenhouse_desk.domain.paper import Page
from greenhouse_desk.services import photos, round_sheet, shelf_map, sitter_pages, sitter_sheet
from greenhouse_desk.services.desk import Desk
from greenhouse_desk.services.sitter_sheet import SitterSheet
from greenhouse_desk.ui import paper
from greenhouse_desk.ui.messages import label
from greenhouse_desk.ui.page_box import PageBox, Setting, Sheet, Size, opened
from greenhouse_desk.ui.signals import Signals
from greenhouse_desk.ui.wheel import calm

ROUND = ("Today's round", "What needs hands today, bench by bench, with a box to tick and room to write.")
MAP = ("Shelf map", "Every bench with its plants as they stand, their numbers large.")
SITTER = ("Sitter's sheet", "Up to two weeks for somebody who knows nothing: plain water and looks. Circle the days to "
          "water, and write your telephone number on it. Where one page has no room for pictures they are left off; "
          "tick “All pictures” for more pages.")


class Sheets:
    """Opens a box for each sheet, over `parent`."""

    def __init__(self, desk: Desk, signals: Signals, parent: QWidget) -> None:
        self._desk, self._signals, self._parent = desk, signals, parent

    def menu(self, below: QWidget) -> QMenu:
        """The sheets to choose from, below the button that asked."""
        menu = QMenu(self._parent)
        menu.setAttribute(Qt.WidgetAttribute.WA_DeleteOnClose)
        for (title, _words), chosen in ((ROUND, self.round), (MAP, self.map), (SITTER, self.sitter)):
            menu.addAction(f"{title}…", chosen)
        menu.popup(below.mapToGlobal(QPoint(0, below.height())))
        return menu

    def round(self) -> PageBox:
        """What needs hands today."""
        return self._opened(self._sheet(*ROUND, "round", round_sheet.todays_round, round_sheet.pages))

    def map(self) -> PageBox:
        """The benches as they stand."""
        return self._opened(self._sheet(*MAP, "shelf-map", shelf_map.shelf_map, shelf_map.pages))

    def sitter(self) -> SitterBox:
        """Two weeks for a sitter."""
        return opened(SitterBox(self._desk, self._parent.window()), self._signals)

    def _opened(self, sheet: Sheet) -> PageBox:
        return opened(PageBox(sheet, self._parent.window()), self._signals)

    def _sheet(self, title: str, words: str, file: str, question: Callable[..., Any],
               pages: Callable[..., tuple[Page, ...]]) -> Sheet:
        def read() -> Setting:
            told = self._desk.read(question, self._desk.clock())
            return lambda size: pages(told, paper.measure, size)

        return Sheet(title, words, f"{file}.pdf", read)


class SitterBox(PageBox):
    """A sitter's sheet: from which day to which; what must be seen to before is said."""

    def __init__(self, desk: Desk, parent: QWidget) -> None:
        self._desk = desk
        first, last = desk.read(sitter_sheet.first_days, desk.clock())
        self.first, self.last = _day_field("From", first), _day_field("To", last)
        self.over = QCheckBox("All pictures")
        self.over.setAccessibleName("Keep the pictures, on more pages where one has no room")
        self.over.setToolTip(self.over.accessibleName())
        super().__init__(Sheet(*SITTER, "sitter.pdf", self._read), parent,
                         (_named("From", self.first), _named("to", self.last), self.over))
        self.over.toggled.connect(lambda _on: self.refresh())
        for edit in (self.first, self.last):
            edit.dateChanged.connect(lambda _day: self.refresh())

    def _read(self) -> Setting:
        self.say("")
        told = self._desk.read(sitter_sheet.sitter_sheet, self._desk.clock(), _day(self.first), _day(self.last))
        self.say(before_words(told))
        return partial(_set, told, self._desk.store.photos, self.over.isChecked())


def _set(told: SitterSheet, folder: Path, over: bool, size: Size) -> tuple[Page, ...]:
    """The sheet on pages, its pictures read from the folder of photos; for the pool."""
    shown = photos.printable(folder, sitter_pages.wanted(told), sitter_pages.PIXELS)
    return sitter_pages.pages(told, paper.measure, shown, size, over)


def before_words(told: SitterSheet) -> str:
    """What the grower must see to before leaving, "" for nothing."""
    if not told.before:
        return ""
    named = "; ".join(f"{care.plant} {care.short}" for care in told.before[:6])
    more = f"; and {counted(len(told.before) - 6, 'more', 'more')}" if len(told.before) > 6 else ""
    return f"See to these before you go, they are not for a sitter: {named}{more}."


def _day_field(name: str, day: date) -> QDateEdit:
    edit = calm(QDateEdit(QDate(day.year, day.month, day.day)))
    edit.setCalendarPopup(True)
    edit.setDisplayFormat("d MMM yyyy")
    edit.setAccessibleName(name)
    return edit


def _named(words: str, edit: QDateEdit) -> QWidget:
    both = QWidget()
    row = QHBoxLayout(both)
    row.setContentsMargins(0, 0, 0, 0)
    said = label(words, wrap=False)
    said.setBuddy(edit)
    row.addWidget(said)
    row.addWidget(edit)
    return both


def _day(edit: QDateEdit) -> date:
    chosen = edit.date()
    return date(chosen.year(), chosen.month(), chosen.day())
