"""A small furnished house for the window's tests, built by the verbs a grower uses, and hands that press and drag."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from contextlib import contextmanager
from pathlib import Path

from PySide6.QtCore import QEvent, QPoint, QPointF, Qt
from PySide6.QtGui import QColor, QImage, QMouseEvent
from PySide6.QtWidgets import QApplication, QPushButton, QWidget
from pytestqt.qtbot import QtBot

from greenhouse_desk import app
from greenhouse_desk.domain.journal import Part, Purpose, Treated, Wetted
from greenhouse_desk.domain.plants import Home, Place
from greenhouse_desk.services import collection, house, records
from greenhouse_desk.services.clock import SteppedClock
from greenhouse_desk.services.collection import NewPlant
from greenhouse_desk.services.desk import Desk
from greenhouse_desk.store.engine import Store
from greenhouse_desk.ui import style
from greenhouse_desk.ui.forms import Form
from greenhouse_desk.ui.window_settings import WindowSettings

NAMES = ("Phalaenopsis schilleriana", "Cattleya walkeriana 'Slate'", "Oncidium sphacelatum", "Miltoniopsis Bleuana",
         "Epidendrum porpax", "Paphiopedilum Maudiae 'Tin Roof'")
LEFT = Qt.MouseButton.LeftButton


def furnish(desk: Desk) -> dict[str, int]:
    """Two benches and an isolation shelf with air; 101 to 104 on the long bench, 105 on the sill, 106 apart."""
    desk.run(house.save_home, Home(51.5, 0.0, "Europe/London"))
    places = {place.name: desk.run(collection.save_place, place) for place in (
        Place(0, "Long bench", position=1), Place(0, "North sill", position=2),
        Place(0, "Isolation shelf", position=3, isolation=True))}
    for name, place in zip(NAMES, ["Long bench"] * 4 + ["North sill", "Isolation shelf"], strict=True):
        desk.run(collection.add_plant, NewPlant(name, place=places[place], medium="clay pellets"))
    desk.run(collection.record_air, places["Long bench"], 21.4, 0.58, 0.3)
    return places


def wet(desk: Desk, plant: int, pool: bool = False) -> None:
    """Water on the crown of a plant, now."""
    desk.run(records.add, plant, Wetted((Part.CROWN,), pool))


def disinfect(desk: Desk, plant: int) -> None:
    """Roots of a plant treated with peroxide, now: plain water is owed."""
    desk.run(records.add, plant, Treated("hydrogen-peroxide", Purpose.ROOT_DISINFECTION, (Part.ROOTS,), 3.0, 10.0))


def program(store: Store, clock: SteppedClock, settings: WindowSettings | None = None) -> app.Program:
    """The whole program on this store, its window 1366 by 768."""
    where = app.Folders(store.folder, store.folder / "settings", store.folder / "log", store.folder / "cache")
    made = app.assemble(store, clock, style.palette(False), settings or WindowSettings(), where, full_screen=False)
    made.window.resize(1366, 768)
    return made


@contextmanager
def shown(store: Store, clock: SteppedClock, qtbot: QtBot) -> Iterator[app.Program]:
    """The whole program on this store, its window on the screen, closed at the end."""
    made = program(store, clock)
    qtbot.addWidget(made.window)
    with qtbot.waitExposed(made.window):
        made.window.show()
    yield made
    made.close()


def order(desk: Desk) -> list[list[int]]:
    """The plants' numbers, bench by bench, as the store has them."""
    seen = desk.read(collection.overview, desk.clock())
    return [[card.plant.number for card in bench.cards] for bench in seen.benches]


def pressed(root: QWidget, word: str) -> None:
    """Press the button in `root` that reads `word`."""
    buttons = [made for made in root.findChildren(QPushButton) if made.text() == word and made.isVisibleTo(root)]
    assert len(buttons) == 1, [made.text() for made in root.findChildren(QPushButton)]
    buttons[0].click()


def form() -> Form:
    """The one form that is open."""
    forms = [widget for widget in QApplication.topLevelWidgets() if isinstance(widget, Form) and widget.isVisible()]
    assert len(forms) == 1, forms
    return forms[0]


def fill(**values: object) -> Form:
    """Fill the open form in and accept it."""
    shown = form()
    for name, value in values.items():
        shown.set(name, value)
    shown.accept_button.click()
    return shown


def words_of(root: QWidget) -> str:
    """Everything that can be read in `root`'s labels and buttons, one a line."""
    parts: Sequence[QWidget] = root.findChildren(QWidget)
    return "\n".join(part.text() for part in parts if hasattr(part, "text") and callable(part.text)
                     and part.isVisibleTo(root))


def mouse(target: QWidget, kind: QEvent.Type, at: QPoint, buttons: Qt.MouseButton = LEFT) -> None:
    """One mouse event at `at` of `target`."""
    place = QPointF(at)
    QApplication.sendEvent(target, QMouseEvent(kind, place, QPointF(target.mapToGlobal(at)), LEFT, buttons,
                                               Qt.KeyboardModifier.NoModifier))


def dragged(target: QWidget, start: QPoint, end: QPoint) -> None:
    """Press at `start`, go to `end` in steps, let go."""
    mouse(target, QEvent.Type.MouseButtonPress, start)
    for step in (0.3, 0.7, 1.0):
        mouse(target, QEvent.Type.MouseMove, start + (end - start) * step)
    mouse(target, QEvent.Type.MouseButtonRelease, end, Qt.MouseButton.NoButton)


def picture(path: Path, colour: str = "#5F8F45", width: int = 640, height: int = 480) -> Path:
    """A plain picture file."""
    image = QImage(width, height, QImage.Format.Format_RGB32)
    image.fill(QColor(colour))
    assert image.save(str(path))
    return path
