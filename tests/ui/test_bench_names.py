"""Every control of the bench's and the protocols' screens has a name for those who hear the screen."""

from __future__ import annotations

from collections.abc import Iterator
from pathlib import Path

import pytest
from PySide6.QtWidgets import (
    QAbstractButton,
    QAbstractItemView,
    QAbstractSlider,
    QAbstractSpinBox,
    QComboBox,
    QDialog,
    QLineEdit,
    QScrollBar,
    QTextEdit,
    QWidget,
)
from pytestqt.qtbot import QtBot

from greenhouse_desk.services.clock import SteppedClock
from greenhouse_desk.services.desk import Desk
from greenhouse_desk.ui import style
from greenhouse_desk.ui.bench.binding import BindingDialog
from greenhouse_desk.ui.bench.plan_chart import PlanChart
from greenhouse_desk.ui.bench.ruler import RulerDialog
from greenhouse_desk.ui.protocols.screen import ProtocolsScreen
from tests.ui.bench_opened import Opened, furnished, press, shipped, type_number

CONTROLS = (QAbstractButton, QLineEdit, QComboBox, QAbstractSpinBox, QAbstractItemView, QTextEdit, QAbstractSlider,
            PlanChart)


def unnamed(root: QWidget) -> list[str]:
    """Controls in `root` that a person can come to and that have neither a name nor words of their own."""
    found = []
    for part in root.findChildren(QWidget):
        inner = isinstance(part, QScrollBar) or isinstance(part.parentWidget(), (QAbstractSpinBox, QComboBox))
        if isinstance(part, CONTROLS) and not inner and not part.objectName().startswith("qt_"):
            own = part.text() if isinstance(part, QAbstractButton) else ""
            if not (part.accessibleName() or own):
                found.append(f"{type(part).__name__} in {type(part.parentWidget()).__name__}")
    return found


@pytest.fixture
def opened(qtbot: QtBot, desk: Desk, clock: SteppedClock, tmp_path: Path) -> Iterator[Opened]:
    furnished(desk, clock)
    made = Opened(desk, clock, tmp_path)
    yield made
    made.close()


def test_the_bench_from_choosing_to_the_record(opened: Opened) -> None:
    screen = opened.screen
    for number in (101, 104):
        type_number(opened, number)
    assert unnamed(screen.chooser) == []
    press(screen.chooser.go_button)
    assert unnamed(screen.before) == []
    assert unnamed(screen.record) == []
    press(screen.before.begin_button)
    assert screen.mode is not None
    assert unnamed(screen.mode) == []
    assert len(screen.mode.findChildren(QAbstractButton)) == 6


@pytest.mark.parametrize("kind", ["keys", "size"])
def test_its_dialogs(opened: Opened, kind: str) -> None:
    dialog: QDialog = (BindingDialog(opened.screen.keys, opened.screen) if kind == "keys" else
                       RulerDialog(style.palette(False), 0, opened.screen))
    assert unnamed(dialog) == []
    dialog.deleteLater()


def test_the_protocols(qtbot: QtBot) -> None:
    screen = ProtocolsScreen(shipped, style.palette(False))
    qtbot.addWidget(screen)
    screen.show_now()
    assert len(screen.findChildren(QAbstractItemView)) + len(screen.findChildren(QAbstractButton)) > 0
    assert unnamed(screen) == []


def test_a_control_without_a_name_is_found(qtbot: QtBot) -> None:
    root = QWidget()
    qtbot.addWidget(root)
    QLineEdit(root)
    assert unnamed(root) == ["QLineEdit in QWidget"]
