"""The box that answers "why?": all its steps in sight where the screen has room, and its first one in any case."""

from __future__ import annotations

import pytest
from PySide6.QtWidgets import QWidget
from pytestqt.qtbot import QtBot

from greenhouse_desk.domain.care import Reason
from greenhouse_desk.ui import style
from greenhouse_desk.ui.why import WhyBox

LONG = Reason("A reason that goes on over more than one line of the box, so that it must be broken twice.", "a source")


@pytest.mark.parametrize(("steps", "whole"), [(1, True), (2, True), (5, True), (40, False)])
def test_it_opens_at_its_first_step_and_as_high_as_its_steps(qtbot: QtBot, steps: int, whole: bool) -> None:
    parent = QWidget()
    qtbot.addWidget(parent)
    box = WhyBox("Why now?", [LONG] * steps, style.palette(False), parent)
    bar = box.area.verticalScrollBar()
    box.open()
    assert bar.value() == 0
    assert (bar.maximum() == 0) is whole
    box.hide()
    bar.setValue(bar.maximum())
    box.open()
    assert bar.value() == 0, "opened again it begins at the top"
    box.close()
