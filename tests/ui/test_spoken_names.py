"""Every control a hand or a key can reach has a name for those who hear the screen: the window's own are all walked."""

from __future__ import annotations

from collections.abc import Callable, Iterable
from datetime import timedelta
from pathlib import Path

import pytest
from PySide6.QtCore import QPoint, Qt
from PySide6.QtWidgets import QAbstractScrollArea, QAbstractSpinBox, QComboBox, QLineEdit, QScrollBar, QWidget
from pytestqt.qtbot import QtBot

from greenhouse_desk import app
from greenhouse_desk.domain.faults import Refused
from greenhouse_desk.domain.journal import Kind, Sighted, Unpotted
from greenhouse_desk.services import records
from greenhouse_desk.services.care import of_plant
from greenhouse_desk.ui.collection.entry_forms import FORMS
from tests.ui.house import picture, wet

REACHED = Qt.FocusPolicy.TabFocus.value


def inner(widget: QWidget) -> bool:
    """A part Qt puts inside a control; the control around it has the name."""
    around = widget.parentWidget()
    return isinstance(widget, QScrollBar) or isinstance(around, QAbstractSpinBox | QComboBox) or (
        isinstance(around, QAbstractScrollArea) and widget is around.viewport()) or widget.inherits("QComboBoxListView")


def unnamed(root: QWidget) -> Iterable[str]:
    """The controls in `root` that can be reached and have no name."""
    for widget in (root, *root.findChildren(QWidget)):
        if widget.focusPolicy().value & REACHED and not inner(widget) and not widget.accessibleName():
            yield f"{type(widget).__name__} in {type(widget.parentWidget()).__name__}"


def test_the_walk_sees_a_control_without_a_name(qtbot: QtBot) -> None:
    line = QLineEdit()
    qtbot.addWidget(line)
    assert list(unnamed(line)) == ["QLineEdit in NoneType"]


@pytest.fixture
def busy(running: app.Program, tmp_path: Path, qtbot: QtBot) -> app.Program:
    """The window with something in every part: care, a standing, a photo, a message, a drawer."""
    wet(running.desk, 101, pool=True)
    running.desk.run(records.add, 101, Sighted("thrips", "adult", "spike", 2))
    running.desk.run(records.add, 101, Unpotted())
    with qtbot.waitSignal(running.signals.changed, timeout=20_000):
        running.collection.entries.take_photos(101, [picture(tmp_path / "leaf.png")])
    running.signals.refused.emit(Refused("The disk is full", "No room.", "Make room."))
    running.collection.open_drawer(101)
    return running


def test_every_control_of_the_window_and_the_collection_has_a_name(busy: app.Program) -> None:
    window = busy.window
    for part in (window.navigation, window.messages, window.banner, window.session, busy.collection,
                 busy.collection.drawer, busy.collection.strip, busy.collection.first):
        assert list(unnamed(part)) == [], type(part).__name__


def opened(busy: app.Program) -> dict[str, Callable[[], QWidget]]:
    """Everything that opens over the collection, by name."""
    screen = busy.collection
    care = busy.desk.read(of_plant, 101, busy.desk.clock() + timedelta(days=3))[-1]
    place = screen.places.places()[0].id
    forms: dict[str, Callable[[], QWidget]] = {
        f"entry {kind}": lambda kind=kind: screen.entries.add(kind, 101) for kind in FORMS}  # type: ignore[misc]
    entry = screen.drawer.drawer.lines[0].entry  # type: ignore[union-attr]
    return {
        "add": screen.deeds.add, "edit": lambda: screen.deeds.edit(101), "move": lambda: screen.deeds.move_to((101,)),
        "part": lambda: screen.deeds.part(101), "put off": lambda: screen.deeds.put_off(care),
        "decline": lambda: screen.deeds.decline(care), "correct": lambda: screen.entries.correct(entry),
        "place": lambda: screen.places.edit(None), "air": lambda: screen.places.air(place),
        "places": screen.places.list, "why air": lambda: screen.places.why_air(place),
        "photo": lambda: screen.drawer.photos.enlarge(),  # type: ignore[union-attr]
        "bench menu": lambda: screen.places.menu(place, QPoint(5, 5)), **forms}


def test_every_form_and_list_that_opens_over_it_has_named_controls(busy: app.Program) -> None:
    for name, door in opened(busy).items():
        shown = door()
        assert list(unnamed(shown)) == [], name
        shown.close()
    assert Kind.TREATED in FORMS
