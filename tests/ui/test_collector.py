"""What refers to itself is taken down on the window's thread, whatever a pool does meanwhile."""

from __future__ import annotations

import gc
import threading
from collections.abc import Iterator

import pytest
from PySide6.QtCore import Qt
from PySide6.QtWidgets import QWidget
from pytestqt.qtbot import QtBot

from greenhouse_desk.ui.collector import ALL, OLDER, Collector
from greenhouse_desk.ui.tasks import Tasks


class Ring(QWidget):
    """A widget that only itself refers to, once it is let go."""

    def __init__(self, gone: list[int]) -> None:
        super().__init__()
        self.me = self
        self.destroyed.connect(lambda *_: gone.append(threading.get_ident()), Qt.ConnectionType.DirectConnection)


@pytest.fixture
def by_itself() -> Iterator[None]:
    """Python collects by itself, as it does when the program starts."""
    gc.enable()
    yield
    gc.disable()


def litter() -> int:
    """Make objects enough for Python to collect many times."""
    made: list[list[object]] = []
    for _ in range(20_000):
        one: list[object] = []
        one.append(one)
        made.append(one)
    return len(made)


def let_go(gone: list[int]) -> None:
    Ring(gone)


def test_a_widget_is_never_taken_down_on_a_pools_thread(qtbot: QtBot, by_itself: None) -> None:
    gone: list[int] = []
    collector, tasks = Collector(), Tasks()
    let_go(gone)
    with qtbot.waitSignal(tasks.done, timeout=20_000):
        tasks.ask("litter", litter)
    assert gone == []
    collector.turn()
    assert gone == [threading.get_ident()]
    tasks.close()
    collector.stop()
    assert gc.isenabled()


class Sheet(QWidget):
    """A widget that tells the thread it goes on."""

    def __init__(self, gone: list[int]) -> None:
        super().__init__()
        self.destroyed.connect(lambda *_: gone.append(threading.get_ident()), Qt.ConnectionType.DirectConnection)


def ask_for(tasks: Tasks, gone: list[int], release: threading.Event, fails: bool) -> None:
    """Ask for work that alone still holds a sheet."""
    sheet = Sheet(gone)

    def work() -> bool:
        held = sheet
        release.wait(10)
        if fails:
            raise OSError("gone")
        return held is None

    tasks.ask("sheet", work)


@pytest.mark.parametrize("fails", [False, True])
def test_a_pools_thread_is_never_the_last_to_hold_a_widget(qtbot: QtBot, fails: bool) -> None:
    gone: list[int] = []
    release = threading.Event()
    tasks = Tasks()
    ask_for(tasks, gone, release, fails)
    assert gone == []
    with qtbot.waitSignal(tasks.failed if fails else tasks.done, timeout=20_000):
        release.set()
    tasks.close()
    gc.collect()
    assert gone == [threading.get_ident()]


def test_what_is_older_is_collected_more_rarely(qtbot: QtBot, monkeypatch: pytest.MonkeyPatch) -> None:
    asked: list[int] = []
    collector = Collector()
    monkeypatch.setattr(gc, "collect", asked.append)
    for _ in range(ALL):
        collector.turn()
    assert asked.count(2) == 1
    assert asked.count(1) == ALL // OLDER - 1
    collector.stop()
    assert not gc.isenabled(), "the tests collect between tests only"
