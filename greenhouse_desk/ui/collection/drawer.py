"""One plant's drawer: number and name, what to do with it, its facts, what it is owed and why, its journal."""

from __future__ import annotations

from collections.abc import Callable, Sequence
from datetime import date, datetime, tzinfo
from typing import Any

from PySide6.QtCore import QPoint, Qt, QTimer, Signal
from PySide6.QtWidgets import QFrame, QGridLayout, QHBoxLayout, QPushButton, QScrollArea, QVBoxLayout, QWidget

from greenhouse_desk.domain.care import Care, Reason
from greenhouse_desk.domain.care_day import hands_when
from greenhouse_desk.domain.sentences import capital
from greenhouse_desk.domain.settings import HouseRules
from greenhouse_desk.services import collection_why
from greenhouse_desk.services.collection import Drawer
from greenhouse_desk.ui import words
from greenhouse_desk.ui.collection.care_rows import CareRow, Stand, row_of
from greenhouse_desk.ui.collection.deeds import PlantDeeds
from greenhouse_desk.ui.collection.drawer_care import CarePanel
from greenhouse_desk.ui.collection.drawer_head import DrawerHead, MarkedLine, NameLine, where
from greenhouse_desk.ui.collection.drawer_journal import JournalPanel
from greenhouse_desk.ui.collection.drawer_photos import PhotoPanel
from greenhouse_desk.ui.collection.entry_deeds import EntryDeeds
from greenhouse_desk.ui.flow import Flow
from greenhouse_desk.ui.messages import button, heading, label
from greenhouse_desk.ui.style import Palette
from greenhouse_desk.ui.thumbnails import Thumbnails
from greenhouse_desk.ui.why import ask_why

STAGE = "stage"
AROUND = 12
PRESSING = ("over", "drying", "today")
Why = Callable[[Any, int, datetime], Sequence[Reason]]


class PlantDrawer(QFrame):
    """`closed()` asks to be put away; `to_bench(number)` to take the plant to the bench."""

    closed = Signal()
    to_bench = Signal(int)

    def __init__(self, deeds: PlantDeeds, entries: EntryDeeds, palette: Palette, thumbs: Thumbnails) -> None:
        super().__init__()
        self.setProperty("ground", "sheet")
        self.setProperty("edge", "left")
        self._deeds, self._entries, self._palette, self._thumbs = deeds, entries, palette, thumbs
        self._open_whys: set[tuple[object, ...]] = set()
        self.drawer: Drawer | None = None
        self.photos: PhotoPanel | None = None
        self.head = DrawerHead(palette)
        self.close_button = button("Close", "small", "Close the drawer")
        self.close_button.clicked.connect(self.closed)
        self._area = QScrollArea()
        self._area.setWidgetResizable(True)
        self._area.setAccessibleName("The plant's page")
        self._area.setFrameShape(QFrame.Shape.NoFrame)
        self._area.setHorizontalScrollBarPolicy(Qt.ScrollBarPolicy.ScrollBarAlwaysOff)
        self._where = label("", "second", wrap=False)
        self._who = NameLine(palette)
        self._who.hide()
        self._area.verticalScrollBar().valueChanged.connect(self._show_who)
        top = QHBoxLayout()
        top.setContentsMargins(14, 8, 14, 6)
        top.addWidget(self._where, 1)
        top.addWidget(self._who, 1)
        top.addWidget(self.close_button)
        column = QVBoxLayout(self)
        column.setContentsMargins(1, 0, 0, 0)
        column.setSpacing(0)
        column.addLayout(top)
        column.addWidget(self._area, 1)

    def show_drawer(self, drawer: Drawer, isolation: bool, now: datetime, zone: tzinfo, rules: HouseRules) -> None:
        """Show this plant as it stands at `now`; the same plant keeps its place on the page and its open reasons."""
        same = self.drawer is not None and self.drawer.card.plant.number == drawer.card.plant.number
        self._open_whys = {(panel.row.care.kind, panel.row.care.origin, panel.row.care.nth) for panel in self.panels()
                           if panel.why_button.isChecked()} if same else set()
        self.drawer = drawer
        kept = self._area.verticalScrollBar().value() if same else 0
        held = self.focusWidget() if self.isAncestorOf(self.window().focusWidget() or self.window()) else None
        name = held.accessibleName() if held is not None else ""
        self._area.setWidget(self._page(drawer, isolation, now, zone, rules))
        self._area.verticalScrollBar().setValue(kept)
        if held is not None:
            self._take_focus(name)
        self._where.setText(where(drawer))
        self._who.show_name(drawer.card.plant.number, drawer.card.name)
        self._show_who()
        self.setAccessibleName(f"Drawer of {drawer.card.plant.number} {drawer.card.name.plain}")

    def _take_focus(self, name: str) -> None:
        """Give the keyboard back to what it was on before the page was made anew, or to the page."""
        same = [widget for widget in self.findChildren(QWidget) if widget.accessibleName() == name and name
                and widget.focusPolicy() != Qt.FocusPolicy.NoFocus]
        (same[0] if same else self._area).setFocus()

    def panels(self) -> list[CarePanel]:
        """The cares shown."""
        page = self._area.widget()
        return page.findChildren(CarePanel) if page is not None else []

    def open_why(self, care: Care) -> None:
        """Open the reasons of this care and bring it into sight from its beginning."""
        for panel in self.panels():
            if (panel.row.care.kind, panel.row.care.origin, panel.row.care.nth) == (care.kind, care.origin, care.nth):
                panel.why_button.setChecked(True)
                QTimer.singleShot(0, panel, lambda panel=panel: self._bring(panel))

    def _bring(self, panel: CarePanel) -> None:
        """The whole of it where it fits, else its beginning; no further down than that takes."""
        area, page = self._area, self._area.widget()
        assert page is not None
        top = panel.mapTo(page, QPoint(0, 0)).y() - AROUND
        low = top + panel.height() + 2 * AROUND - area.viewport().height()
        area.verticalScrollBar().setValue(min(max(area.verticalScrollBar().value(), low), top))

    def _show_who(self) -> None:
        """Above the page stands its place, and once its head went out of sight who it is of."""
        gone = self._area.verticalScrollBar().value() >= self.head.height() // 2
        self._who.setVisible(gone)
        self._where.setVisible(not gone)

    def _page(self, drawer: Drawer, isolation: bool, now: datetime, zone: tzinfo, rules: HouseRules) -> QWidget:
        page = QWidget()
        column = QVBoxLayout(page)
        column.setContentsMargins(0, 0, 0, 16)
        column.setSpacing(10)
        self.head = DrawerHead(self._palette)
        left = drawer.card.plant.left is not None
        self.head.show_drawer(drawer, isolation and not left)
        column.addWidget(self.head)
        inner = QVBoxLayout()
        inner.setContentsMargins(14, 0, 14, 0)
        inner.setSpacing(12)
        column.addLayout(inner)
        if left:
            self._add_left(inner, drawer, now.astimezone(zone).date())
        else:
            self._add_standing(inner, drawer)
        rows = [row_of(care, Stand(drawer.card.name), now, zone, rules) for care in drawer.care]
        pressing = [row for row in rows if row.mark in PRESSING]
        if pressing:
            inner.addLayout(self._care(f"Care {hands_when(now, zone, rules)}", pressing))
        if not left:
            inner.addWidget(self._actions(drawer.card.plant.number))
        number = drawer.card.plant.number
        self.photos = PhotoPanel(number, drawer.lines, lambda: self._entries.choose_photos(number), self._thumbs,
                                 self._palette, self.photos.kept if self.photos is not None else "")
        inner.addWidget(self.photos)
        inner.addLayout(self._facts(drawer, now, zone))
        if left:
            self._add_standing(inner, drawer)
        waiting = [row for row in rows if row.mark not in PRESSING]
        if waiting:
            inner.addLayout(self._care("Care ahead" if pressing else "Care", waiting))
        inner.addWidget(JournalPanel(drawer.card.plant.number, drawer.lines, self._entries, self._palette))
        column.addStretch(1)
        return page

    def _add_left(self, inner: QVBoxLayout, drawer: Drawer, today: date) -> None:
        """What became of a plant that is no longer here: how, on which day, why."""
        plant = drawer.card.plant
        how = f"{plant.left}, {words.day(plant.left_on, today)}" if plant.left_on else str(plant.left)
        box = QVBoxLayout()
        box.setSpacing(0)
        box.addWidget(MarkedLine("left", capital(how), self._palette, 17))
        box.addWidget(label(plant.left_reason))
        inner.addLayout(box)

    def _add_standing(self, inner: QVBoxLayout, drawer: Drawer) -> None:
        standing = drawer.card.standing
        if standing.word == "clear":
            return
        box = QVBoxLayout()
        box.setSpacing(0)
        row = QHBoxLayout()
        said = f"{standing.word} when it was last here" if drawer.card.plant.left is not None else standing.word
        row.addWidget(MarkedLine(standing.word, said, self._palette, 15), 1)
        row.addWidget(self._why_button(f"Why {standing.word}", collection_why.standing))
        box.addLayout(row)
        box.addWidget(label(standing.why, "second"))
        inner.addLayout(box)

    def _why_button(self, title: str, question: Why) -> QPushButton:
        """A "why?" that opens the reasoning the services give for this plant."""
        made = button("why?", "small", title)
        desk = self._deeds.desk

        def asked() -> None:
            assert self.drawer is not None
            number = self.drawer.card.plant.number
            ask_why(f"{title}, {number}", desk.read(question, number, desk.clock()), self._palette, self)

        made.clicked.connect(asked)
        return made

    def _actions(self, number: int) -> Flow:
        flow = Flow()
        for word, role, deed in (
            ("Take to the bench", "main", lambda: self.to_bench.emit(number)),
            ("Move to…", "", lambda: self._deeds.move_to((number,))),
            ("Edit…", "", lambda: self._deeds.edit(number)),
            ("Part with…", "", lambda: self._deeds.part(number)),
        ):
            made = button(word, role, f"{word.rstrip('…')}, {number}")
            made.clicked.connect(deed)
            flow.add(made)
        return flow

    def _facts(self, drawer: Drawer, now: datetime, zone: tzinfo) -> QGridLayout:
        grid = QGridLayout()
        grid.setContentsMargins(0, 0, 0, 0)
        grid.setHorizontalSpacing(12)
        grid.setVerticalSpacing(3)
        grid.setColumnStretch(1, 1)
        for at, (word, value) in enumerate(facts_of(drawer, now, zone)):
            upright = Qt.AlignmentFlag.AlignVCenter if word == STAGE else Qt.AlignmentFlag.AlignTop
            grid.addWidget(label(word, "second", wrap=False), at, 0, upright)
            grid.addWidget(label(value), at, 1)
            if word == STAGE:
                grid.addWidget(self._why_button("Why this stage", collection_why.stage), at, 2)
        return grid

    def _care(self, title: str, rows: Sequence[CareRow]) -> QVBoxLayout:
        column = QVBoxLayout()
        column.setSpacing(8)
        head = QHBoxLayout()
        head.addWidget(heading(title, 18))
        head.addStretch(1)
        head.addWidget(label("soonest first", "second", px=13, wrap=False), 0, Qt.AlignmentFlag.AlignBottom)
        column.addLayout(head)
        for row in rows:
            key = (row.care.kind, row.care.origin, row.care.nth)
            column.addWidget(CarePanel(row, self._deeds, self._palette, key in self._open_whys))
        return column


def facts_of(drawer: Drawer, now: datetime, zone: tzinfo) -> tuple[tuple[str, str], ...]:
    """What is kept of the plant, as words and values; what is not known is left out."""
    plant, today = drawer.card.plant, now.astimezone(zone).date()
    pot = ", ".join(filter(None, (plant.medium, plant.pot)))
    here = plant.left is None
    rows = (
        ("stands" if here else "stood", drawer.place_path), ("potted in" if here else "was potted in", pot),
        ("since", words.day(plant.potted_on, today) if plant.potted_on else ""),
        (STAGE, drawer.card.stage if here else ""),
        ("came from", drawer.source_name),
        ("came on", words.day(plant.acquired_on, today) if plant.acquired_on else ""),
        ("growth", "" if plant.habit == "unknown" else plant.habit), ("notes", plant.notes),
    )
    return tuple((word, value) for word, value in rows if value)
