"""Small words that were wrong: cut at the navigation's foot, a refusal that stayed, a form without the keyboard."""

from __future__ import annotations

from datetime import timedelta

import pytest
from PySide6.QtCore import QEvent, Qt
from PySide6.QtTest import QTest
from PySide6.QtWidgets import QApplication, QWidget
from pytestqt.qtbot import QtBot

from greenhouse_desk import app
from greenhouse_desk.ui import drawing, fonts
from greenhouse_desk.ui.daypanel import LINES, Day
from greenhouse_desk.ui.forms import Field, Form, Input
from greenhouse_desk.ui.navigation import WIDTH
from greenhouse_desk.ui.style import sans
from tests.builders import NOW


@pytest.mark.parametrize("day", [
    Day(NOW, NOW - timedelta(hours=7), NOW + timedelta(hours=3, minutes=35)),
    Day(NOW, NOW - timedelta(hours=7), NOW + timedelta(hours=3, minutes=35), air_until=NOW),
    Day(NOW, NOW - timedelta(hours=7), NOW + timedelta(hours=3), rinse_by=NOW - timedelta(hours=1), air_until=NOW),
    Day(NOW, NOW - timedelta(hours=7), NOW - timedelta(minutes=1)),
    Day(NOW, NOW - timedelta(hours=7), NOW + timedelta(hours=1), known=False)], ids=lambda day: day.left)
def test_what_the_day_says_is_not_cut(qapp: object, day: Day) -> None:
    assert fonts.load() == ()
    said = drawing.wrapped(day.left, sans(13), WIDTH - 34 + 10, LINES)
    assert " ".join(said) == day.left
    for line in (day.light, day.rinse):
        assert drawing.width_of(line, sans(13, 600 if line == day.rinse else 400)) <= WIDTH - 34 + 14


def test_a_form_opens_with_the_keyboard_in_its_first_field(qtbot: QtBot) -> None:
    parent = QWidget()
    qtbot.addWidget(parent)
    fields = [Field("name", Input.TEXT, "Name"), Field("note", Input.TEXT, "Note")]
    form = Form("Edit", fields, lambda values: None, parent)
    form.show()
    QApplication.sendEvent(form, QEvent(QEvent.Type.WindowActivate))
    assert form.focusWidget() is form.rows.controls["name"].focus
    form.close()


def test_a_refusal_is_gone_once_a_valid_answer_was_given(running: app.Program) -> None:
    window, chooser = running.window, running.bench.chooser
    window.show_titled("Bench")
    for text, told in (("999", True), ("101", False)):
        chooser.search.setText(text)
        QTest.keyClick(chooser.search, Qt.Key.Key_Return)
        assert window.messages.isVisibleTo(window) is told
    assert 101 in chooser.chosen.rows
