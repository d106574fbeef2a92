"""The bench screen opened on a real collection, for its tests, and what a grower does on it."""

from __future__ import annotations

from datetime import timedelta
from functools import cache
from pathlib import Path

from PySide6.QtCore import Qt
from PySide6.QtTest import QTest
from PySide6.QtWidgets import QLabel, QWidget
from shiboken6 import isValid

from greenhouse_desk.domain.bench import Ring
from greenhouse_desk.domain.faults import Refused
from greenhouse_desk.domain.journal import Sighted
from greenhouse_desk.domain.plants import Place
from greenhouse_desk.services import collection, records, shelf
from greenhouse_desk.services.clock import SteppedClock
from greenhouse_desk.services.collection import NewPlant
from greenhouse_desk.services.desk import Desk
from greenhouse_desk.services.shelf import Shelf
from greenhouse_desk.ui import style
from greenhouse_desk.ui.bench.screen import BenchScreen, Equipment
from greenhouse_desk.ui.signals import Signals
from greenhouse_desk.ui.ticker import Ticker

K = Qt.Key


@cache
def shipped() -> Shelf:
    """The shelf as it is shipped, read once."""
    return shelf.shelf(None)


class Opened:
    """The screen with what it told the window."""

    def __init__(self, desk: Desk, clock: SteppedClock, tmp_path: Path, shown: Shelf | None = None,
                 dpi: float | None = 96.0, full_screen: bool = False) -> None:
        self.desk, self.clock = desk, clock
        self.signals = Signals()
        desk.listeners.append(self.signals.changed.emit)
        self.refused: list[Refused] = []
        self.noted: list[str] = []
        self.signals.refused.connect(self.refused.append)
        self.signals.noted.connect(self.noted.append)
        self.rings: list[Ring] = []
        self.ticker = Ticker(clock)
        self.screen = BenchScreen(desk, self.signals, style.palette(False), lambda: shown or shipped(), Equipment(
            clock, self.ticker, self.rings.append, lambda on: "", tmp_path / "keys.toml", dpi, full_screen))
        self.screen.resize(1214, 768)
        self.screen.show()
        self.screen.show_now()

    def wait(self, seconds: float) -> None:
        self.clock.advance(seconds)
        self.ticker.tick()

    def close(self) -> None:
        if self.screen.mode is not None and isValid(self.screen.mode):
            self.screen.mode.close()
        self.screen.close()


def furnished(desk: Desk, clock: SteppedClock) -> None:
    """Four plants, the last one apart with mealybugs."""
    shelf_ = desk.run(collection.save_place, Place(0, "North sill"))
    apart = desk.run(collection.save_place, Place(0, "Apart", isolation=True))
    for number, name, place in ((101, "Phalaenopsis amabilis", shelf_), (102, "Laelia anceps", shelf_),
                                (103, "Masdevallia veitchiana", shelf_), (104, "Cymbidium lowianum", apart)):
        desk.run(collection.add_plant, NewPlant(name, number, medium="clay pellets", place=place))
    desk.run(records.add, 104, Sighted("mealybug", count=3), clock.now() - timedelta(days=4))


def words_of(widget: QWidget) -> str:
    """What stands in the labels of `widget`."""
    return " ".join(label.text() for label in widget.findChildren(QLabel) if label.isVisibleTo(widget))


def type_number(opened: Opened, number: int) -> None:
    """Type a plant's number and Enter; where nothing is proposed for it, pick the root trim."""
    opened.screen.chooser.search.setText(str(number))
    QTest.keyClick(opened.screen.chooser.search, K.Key_Return)
    row = opened.screen.chooser.chosen.rows.get(number)
    if row is not None and row.box.currentIndex() < 0:
        pick(opened, number, "Root trim and repot")


def pick(opened: Opened, number: int, title: str) -> None:
    """Pick a protocol for a plant that is chosen."""
    box = opened.screen.chooser.chosen.rows[number].box
    box.setCurrentIndex(box.findText(title))
    box.activated.emit(box.currentIndex())


def press(button: QWidget) -> None:
    """Press a button."""
    QTest.mouseClick(button, Qt.MouseButton.LeftButton)


def begin(opened: Opened, *numbers: int) -> None:
    """Choose these plants, look over the evening, begin."""
    for number in numbers:
        type_number(opened, number)
    press(opened.screen.chooser.go_button)
    press(opened.screen.before.begin_button)
