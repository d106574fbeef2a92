"""For which plants: those whose label is out of date, a bench, a session, or numbers and words typed."""

from __future__ import annotations

from collections.abc import Sequence
from datetime import datetime

from PySide6.QtCore import Qt, Signal
from PySide6.QtWidgets import QComboBox, QFrame, QHBoxLayout, QLineEdit, QListWidget, QListWidgetItem, QVBoxLayout

from greenhouse_desk.domain import labels_choice
from greenhouse_desk.domain.faults import Refused
from greenhouse_desk.domain.labels import Told
from greenhouse_desk.domain.sentences import capital
from greenhouse_desk.services import collection, labels
from greenhouse_desk.services.desk import Desk
from greenhouse_desk.ui.labels.rows import NAME, NUMBER, PlantRow
from greenhouse_desk.ui.messages import button, heading, label
from greenhouse_desk.ui.style import Palette
from greenhouse_desk.ui.wheel import calm
from greenhouse_desk.ui.words import counted, day

LATE, ALL, SESSION, TYPED = "label out of date", "all that grow", "newest bench session", "typed below"
OLDER = "Bench session of"
CHECKED, CLEAR = Qt.CheckState.Checked, Qt.CheckState.Unchecked


def _session(at: datetime) -> str:
    """An older bench session as it is offered."""
    return f"{OLDER} {day(at.date())} {at.year}, {at:%H:%M}"


class Choosing(QFrame):
    """`changed()` tells that other plants are chosen."""

    changed = Signal()

    def __init__(self, desk: Desk, palette: Palette) -> None:
        super().__init__()
        self.setProperty("ground", "sheet")
        self.setProperty("edge", "all")
        self._desk = desk
        self._filling = False
        self._sessions: dict[str, tuple[int, ...]] = {}
        self._benches: dict[int, tuple[int, ...]] = {}
        self._fault = label(ink="madder", bold=True)
        self.which = calm(QComboBox())
        self.which.setAccessibleName("Plants")
        self.typed = QLineEdit()
        self.typed.setPlaceholderText("101-140, 150, or a name")
        self.typed.setAccessibleName("Numbers or words")
        self.list = QListWidget()
        self.list.setAccessibleName("Plants to be labelled")
        self.list.setMinimumHeight(160)
        self.list.setHorizontalScrollBarPolicy(Qt.ScrollBarPolicy.ScrollBarAlwaysOff)
        self._rows = PlantRow(palette)
        self.list.setItemDelegate(self._rows)
        self.count = label(ink="second", px=13)
        self.lost = button("Lost one?", "small", "A label is lost: find its plant")
        self._every = button("All", "small", "Choose every plant of the list")
        self._none = button("None", "small", "Choose no plant of the list")
        self._build()
        self.which.currentIndexChanged.connect(self._on_which)
        self.typed.textEdited.connect(self._on_typed)
        self.list.itemChanged.connect(self._on_ticked)
        self._every.clicked.connect(lambda: self._tick(CHECKED))
        self._none.clicked.connect(lambda: self._tick(CLEAR))

    def _build(self) -> None:
        column = QVBoxLayout(self)
        column.setContentsMargins(14, 12, 14, 12)
        column.setSpacing(8)
        head = QHBoxLayout()
        head.addWidget(heading("For which plants"), 1)
        head.addWidget(self.lost)
        column.addLayout(head)
        for part in (self.which, self.typed, self._fault):
            column.addWidget(part)
        column.addWidget(self.list, 1)
        foot = QHBoxLayout()
        foot.addWidget(self.count, 1)
        foot.addWidget(self._every)
        foot.addWidget(self._none)
        column.addLayout(foot)
        self._fault.hide()

    def show_now(self) -> None:
        """Read the choices anew; what was chosen stays chosen."""
        had = self.which.currentData()
        self._filling = True
        self.which.clear()
        newest, *older = self._desk.read(labels.of_sessions) or ((None, ()),)
        self._sessions = {SESSION: newest[1], **{_session(at): plants for at, plants in older if at is not None}}
        for words, found in ((LATE, self._desk.read(labels.changed_since)), (ALL, self._desk.read(labels.growing)),
                             *self._sessions.items()):
            self.which.addItem(f"{capital(words)} ({len(found)})", words)
        self._benches = self._desk.read(labels.on_places)
        for place in self._desk.read(collection.places_of):
            if place.bench:
                self.which.addItem(f"{place.name} ({len(self._benches.get(place.id, ()))})", place.id)
        self.which.addItem("By numbers or words", TYPED)
        self.which.setCurrentIndex(max(0, self.which.findData(had)))
        self._filling = False
        self._fill()

    def take(self, numbers: Sequence[int]) -> None:
        """Choose these plants, as if they were typed."""
        self.typed.setText(", ".join(map(str, numbers)))
        self._on_typed()

    def take_all(self) -> None:
        """Choose every plant that grows here."""
        self.which.setCurrentIndex(self.which.findData(ALL))
        self._tick(CHECKED)

    def chosen(self) -> tuple[int, ...]:
        """The plants that are ticked, in the order of the list."""
        rows = (self.list.item(row) for row in range(self.list.count()))
        return tuple(row.data(NUMBER) for row in rows if row.checkState() is CHECKED)

    def _on_which(self) -> None:
        if not self._filling:
            self._fill()

    def _on_typed(self) -> None:
        self._filling = True
        self.which.setCurrentIndex(self.which.findData(TYPED))
        self._filling = False
        self._fill()

    def _fill(self) -> None:
        self._fault.hide()
        try:
            told = self._desk.read(labels.told, self._numbers(self.which.currentData()))
        except Refused as refusal:
            told = ()
            self._fault.setText(f"{refusal.title}. {refusal.next_step}")
            self._fault.show()
        self._show(told)

    def _numbers(self, which: object) -> tuple[int, ...]:
        if isinstance(which, int):
            return self._benches.get(which, ())
        if which == TYPED:
            return self._typed(self.typed.text().strip())
        if which in self._sessions:
            return self._sessions[str(which)]
        return self._desk.read({LATE: labels.changed_since, ALL: labels.growing}[str(which)])

    def _typed(self, text: str) -> tuple[int, ...]:
        if text[:1].isdigit():
            labels_choice.numbers(text)
            return self._desk.read(labels.named, text)
        return self._desk.read(collection.find, text)

    def _show(self, told: Sequence[Told]) -> None:
        """Plants that were listed before keep their ticks; others come ticked."""
        left = {self.list.item(row).data(NUMBER) for row in range(self.list.count())
                if self.list.item(row).checkState() is CLEAR}
        self._filling = True
        self.list.clear()
        for one in told:
            item = QListWidgetItem(f"{one.number}  {one.name.plain}")
            item.setFlags(Qt.ItemFlag.ItemIsEnabled | Qt.ItemFlag.ItemIsUserCheckable | Qt.ItemFlag.ItemIsSelectable)
            item.setCheckState(CLEAR if one.number in left else CHECKED)
            item.setData(NUMBER, one.number)
            item.setData(NAME, one.name.typed)
            self.list.addItem(item)
        self._filling = False
        self._tell()

    def _tick(self, state: Qt.CheckState) -> None:
        self._filling = True
        for row in range(self.list.count()):
            self.list.item(row).setCheckState(state)
        self._filling = False
        self._tell()

    def _on_ticked(self) -> None:
        if not self._filling:
            self._tell()

    def _tell(self) -> None:
        self.count.setText(f"{len(self.chosen())} of {counted(self.list.count(), 'plant')}")
        self.changed.emit()
