"""The first page of an empty collection: the demo copy, an own collection from a first place on, a list brought in."""

from __future__ import annotations

from collections.abc import Iterator
from datetime import datetime
from pathlib import Path

import pytest
from PySide6.QtWidgets import QApplication, QFileDialog
from pytestqt.qtbot import QtBot

from greenhouse_desk import app
from greenhouse_desk.domain.faults import Refused
from greenhouse_desk.services import demo
from greenhouse_desk.services.clock import SteppedClock
from greenhouse_desk.services.desk import Desk
from greenhouse_desk.store.engine import Store, open_store
from greenhouse_desk.ui.window_settings import WindowSettings
from tests.ui.house import fill, form, furnish, order, pressed, program, words_of

LIST = "number,name,place\n7,Vanda falcata,Sill\n8,Stelis gelida,Sill\n"


@pytest.fixture
def empty(store: Store, clock: SteppedClock, qtbot: QtBot) -> Iterator[app.Program]:
    """The program on a collection in which nothing stands."""
    made = program(store, clock)
    qtbot.addWidget(made.window)
    with qtbot.waitExposed(made.window):
        made.window.show()
    yield made
    made.close()


def test_an_empty_collection_says_so_and_offers_three_ways_to_begin(empty: app.Program) -> None:
    told = words_of(empty.collection)
    assert "No benches and no plants here yet" in told
    for word in ("Open the demo copy", "Begin with a place…", "Choose a CSV file…"):
        assert word in told


def test_an_own_collection_begins_with_a_place_and_then_the_first_plant(empty: app.Program) -> None:
    pressed(empty.collection.first, "Begin with a place…")
    fill(name="Long bench")
    assert form().windowTitle() == "Add a plant"
    fill(name="Vanda falcata", medium="bark")
    assert order(empty.desk) == [[101]]
    assert empty.collection.view.isVisible()
    pressed(empty.collection.toolbar, "Add a plant…")
    fill(name="Stelis gelida")
    assert order(empty.desk) == [[101, 102]], "there is but one bench"


def test_a_list_is_chosen_and_brought_in(empty: app.Program, tmp_path: Path, qtbot: QtBot) -> None:
    (tmp_path / "plants.csv").write_text(LIST)
    pressed(empty.collection.first, "Choose a CSV file…")
    dialog = empty.window.findChild(QFileDialog)
    assert isinstance(dialog, QFileDialog)
    with qtbot.waitSignal(empty.signals.changed, timeout=10_000):
        dialog.fileSelected.emit(str(tmp_path / "plants.csv"))
    dialog.close()
    assert order(empty.desk) == [[7, 8]]
    assert "2 plants added" in words_of(empty.window.messages)


def test_a_list_with_faults_takes_nothing_in_until_the_good_lines_are_asked_for(
        empty: app.Program, tmp_path: Path, qtbot: QtBot) -> None:
    (tmp_path / "plants.csv").write_text(LIST + "-3,Vanda,Sill\n")
    with qtbot.waitSignal(empty.collection.lists._tasks.done, timeout=10_000):
        empty.collection.lists.read(tmp_path / "plants.csv")
    shown = form()
    assert "line 4, number" in words_of(shown)
    assert order(empty.desk) == []
    pressed(shown, "Take in the other 2")
    assert order(empty.desk) == [[7, 8]]
    assert "2 plants added, 0 changed, 1 line left out." in words_of(empty.window.messages)


def test_a_file_that_is_not_there_is_said(empty: app.Program, tmp_path: Path, qtbot: QtBot) -> None:
    with qtbot.waitSignal(empty.signals.refused, timeout=10_000):
        empty.collection.lists.read(tmp_path / "none.csv")
    assert empty.window.messages.isVisible()


@pytest.fixture
def opened(qapp: QApplication, where: app.Folders, clock: SteppedClock, as_before: None) -> Iterator[app._Opening]:
    """The window opened on a new collection."""
    made = app._Opening(qapp, where, clock, WindowSettings(), "light", True)
    made.begin()
    yield made
    assert made._program is not None
    made._program.window.close()


def test_the_demo_copy_opens_beside_the_own_collection(opened: app._Opening, tmp_path: Path, qtbot: QtBot,
                                                       monkeypatch: pytest.MonkeyPatch) -> None:
    def small(folder: Path, now: datetime) -> None:
        kept = open_store(folder, create=True)
        furnish(Desk(kept, lambda: now))
        kept.close()

    monkeypatch.setattr(demo, "build", small)
    first = opened._program
    assert first is not None
    with qtbot.waitSignal(opened._demo.ready, timeout=20_000):
        pressed(first.collection.first, "Open the demo copy")
        assert "Building the demo copy" in words_of(first.window.messages)
    second = opened._program
    assert second is not None
    assert second is not first
    assert not first.window.isVisible()
    assert second.desk.store.folder == tmp_path / "collection-demo"
    assert order(second.desk)[0] == [101, 102, 103, 104]
    assert "This is the demo copy" in words_of(second.window.messages)


def test_a_demo_that_cannot_be_built_says_why(opened: app._Opening, qtbot: QtBot,
                                              monkeypatch: pytest.MonkeyPatch) -> None:
    def refuse(folder: Path, now: datetime) -> None:
        raise Refused("The demo is not here", "It was left out.", "Install the program whole.")

    monkeypatch.setattr(demo, "build", refuse)
    assert opened._program is not None
    with qtbot.waitSignal(opened._demo.refused, timeout=20_000):
        pressed(opened._program.collection.first, "Open the demo copy")
    assert "The demo is not here" in words_of(opened._program.window.messages)
