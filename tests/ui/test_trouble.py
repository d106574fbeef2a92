"""Trouble told: a collection that cannot be opened with its remedy, refusals and faults nobody caught."""

from __future__ import annotations

import sys
import threading

from PySide6.QtGui import QGuiApplication
from PySide6.QtWidgets import QApplication, QWidget
from pytestqt.qtbot import QtBot

from greenhouse_desk.domain.faults import Damaged, Refused
from greenhouse_desk.ui.messages import BugDialog, FaultTeller, MessageBar
from greenhouse_desk.ui.trouble import TroubleWindow
from tests.ui.house import pressed, words_of


def test_a_bug_is_logged_told_and_can_be_copied(qtbot: QtBot, expected_log: list[str]) -> None:
    window = QWidget()
    qtbot.addWidget(window)
    bar = MessageBar(window)
    teller = FaultTeller(bar)
    expected_log.append("unexpected fault")
    try:
        raise ZeroDivisionError("a fault of the program")
    except ZeroDivisionError:
        kind, error, trace = sys.exc_info()
    assert kind is not None
    assert error is not None
    teller.hook(kind, error, trace)
    dialogs = [one for one in QApplication.topLevelWidgets() if isinstance(one, BugDialog)]
    pressed(dialogs[0], "Copy the text")
    assert "a fault of the program" in QGuiApplication.clipboard().text()
    pressed(dialogs[0], "Go on")


def test_a_refusal_nobody_caught_is_told_as_one(qtbot: QtBot) -> None:
    window = QWidget()
    qtbot.addWidget(window)
    bar = MessageBar(window)
    refusal = Refused("The disk is full", "No room.", "Make room.")
    FaultTeller(bar).hook(Refused, refusal, None)
    assert bar.accessibleName() == "The disk is full No room. Make room."


def test_a_fault_on_another_thread_is_told_on_the_windows_own(qtbot: QtBot) -> None:
    window = QWidget()
    qtbot.addWidget(window)
    bar = MessageBar(window)
    teller = FaultTeller(bar)
    work = threading.Thread(target=teller.hook, args=(Refused, Refused("The disk is full"), None))
    work.start()
    work.join(timeout=10)
    assert bar.accessibleName() == "", "nothing is touched from over there"
    qtbot.waitUntil(lambda: bar.accessibleName() == "The disk is full", timeout=5_000)


def test_trouble_says_what_to_do_and_its_button_does_it(qtbot: QtBot) -> None:
    done: list[str] = []

    def restore() -> str:
        done.append("restored")
        assert "This window answers again" in words_of(window), "it is slow, and says so before it begins"
        return "put back"

    damaged = Damaged("The collection is damaged", "page 7 is odd", "Restore the latest good backup.", "b1")
    window = TroubleWindow(damaged, "Restore that backup", restore)
    qtbot.addWidget(window)
    window.show()
    assert "page 7 is odd" in words_of(window)
    with qtbot.waitSignal(window.solved):
        pressed(window, "Restore that backup")
    assert done == ["restored"]


def test_a_remedy_that_is_refused_says_why(qtbot: QtBot) -> None:
    def refuse() -> str:
        raise Refused("The backup is not whole", "a photo is missing", "Choose another backup.")

    window = TroubleWindow(Refused("Damaged"), "Restore", refuse)
    qtbot.addWidget(window)
    window.show()
    pressed(window, "Restore")
    assert window.remedy_button.isEnabled()
    assert "a photo is missing" in words_of(window)
    assert "Choose another backup." in words_of(window)


def test_what_was_done_is_said_without_the_colour_of_what_is_due(qtbot: QtBot) -> None:
    bar = MessageBar()
    qtbot.addWidget(bar)
    bar.refuse(Refused("The name is empty", "Nothing was changed.", "Write one."))
    assert bar.property("edge") == "due"
    bar.note("December 2026 written to month.pdf")
    assert bar.property("edge") == "note"
