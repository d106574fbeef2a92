"""Choosing for the bench: what is typed is in sight on the smallest screen, what cannot be done says why."""

from __future__ import annotations

from collections.abc import Iterator
from datetime import UTC, datetime, timedelta
from pathlib import Path

import pytest
from PySide6.QtCore import QRectF, Qt
from PySide6.QtGui import QPainter
from PySide6.QtTest import QTest
from PySide6.QtWidgets import QApplication, QScrollArea, QWidget
from pytestqt.qtbot import QtBot

from greenhouse_desk.services.clock import SteppedClock
from greenhouse_desk.services.desk import Desk
from greenhouse_desk.ui import style
from greenhouse_desk.ui.bench.before import plan_title
from greenhouse_desk.ui.bench.evening import Evening, Lane, SoakBar
from greenhouse_desk.ui.bench.plan_chart import PlanChart
from tests.ui.bench_opened import Opened, furnished, press, type_number, words_of

K = Qt.Key
NOON = datetime(2026, 11, 18, 12, 0, tzinfo=UTC)


@pytest.fixture
def opened(qtbot: QtBot, desk: Desk, clock: SteppedClock, tmp_path: Path) -> Iterator[Opened]:
    furnished(desk, clock)
    made = Opened(desk, clock, tmp_path)
    yield made
    made.close()


def in_sight(part: QWidget) -> bool:
    """Whether all of a control's height can be seen."""
    return part.visibleRegion().boundingRect().height() >= part.height()


def test_what_is_typed_comes_into_sight_where_text_is_twice_as_large(opened: Opened) -> None:
    opened.screen.resize(531, 300)
    page = opened.screen.chooser
    QApplication.processEvents()
    page._sides.verticalScrollBar().setValue(page._sides.verticalScrollBar().maximum())
    assert not in_sight(page.search)
    QTest.keyClicks(page.search, "10")
    assert in_sight(page.search)


def test_a_plant_typed_is_in_sight_among_those_chosen(opened: Opened) -> None:
    opened.screen.resize(1214, 500)
    for number in (101, 102, 103, 104):
        type_number(opened, number)
        QApplication.processEvents()
    row = opened.screen.chooser.chosen.rows[104]
    assert in_sight(row)
    assert opened.screen.chooser.search.text() == ""


def test_the_start_that_cannot_be_says_why_beside_it(opened: Opened) -> None:
    page = opened.screen.chooser
    assert not page.go_button.isEnabled()
    assert "Not now: no plant is chosen." in words_of(page)
    assert page.not_now.y() > page.go_button.y(), "below the button"
    type_number(opened, 101)
    assert page.go_button.isEnabled()
    assert "Not now" not in words_of(page)
    page.chosen.rows[101].box.setCurrentIndex(-1)
    opened.screen._on_protocol_chosen(101, "")
    assert "Not now: choose a protocol for 101 first." in words_of(page)


@pytest.mark.parametrize(("hour", "title"), [(4, "Night plan"), (9, "Morning plan"), (12, "Afternoon plan"),
                                             (16, "Afternoon plan"), (17, "Evening plan"), (23, "Night plan")])
def test_the_plan_is_called_by_the_hour_it_begins(hour: int, title: str) -> None:
    assert plan_title(NOON.replace(hour=hour)) == title


def test_the_plan_at_three_in_the_afternoon_is_no_evening_plan(opened: Opened) -> None:
    type_number(opened, 101)
    press(opened.screen.chooser.go_button)
    assert opened.screen.before.title.text() == "Afternoon plan"


@pytest.fixture
def timed(monkeypatch: pytest.MonkeyPatch) -> list[tuple[float, str]]:
    """The times painted, and where each begins."""
    said: list[tuple[float, str]] = []
    whole = QPainter.drawText

    def draw(painter: QPainter, *args: object) -> object:
        at, word = args[0], args[-1]
        if isinstance(at, QRectF) and isinstance(word, str) and len(word) == 5 and word[2] == ":":
            said.append((at.left(), word))
        return whole(painter, *args)  # type: ignore[call-overload]

    monkeypatch.setattr(QPainter, "drawText", draw)
    return said


def chart_of(minutes: float) -> PlanChart:
    """The chart of an hour or more from noon on."""
    chart = PlanChart(style.palette(False), UTC)
    soak = SoakBar(0, 5, minutes / 1.04 - 0.1, 20, "roots in water")
    chart.show_evening(Evening(NOON, NOON + timedelta(minutes=30), None, "", (), (
        Lane(101, "Phalaenopsis amabilis", "clear", "", (soak,)),), ()))
    return chart


@pytest.mark.parametrize("minutes", [62, 77, 92, 118])
def test_no_time_on_the_axis_is_cut_at_its_end(qtbot: QtBot, timed: list[tuple[float, str]], minutes: int) -> None:
    said, chart = timed, chart_of(minutes)
    qtbot.addWidget(chart)
    chart.resize(760, 300)
    chart.show()
    chart.grab()
    assert len(said) >= 2
    assert all(x + 36 <= chart.width() for x, _word in said), said


def test_no_time_is_cut_where_the_plan_is_wider_than_the_page(qtbot: QtBot, timed: list[tuple[float, str]]) -> None:
    area = QScrollArea()
    qtbot.addWidget(area)
    area.setWidget(chart_of(200))
    area.resize(560, 300)
    area.show()
    for at in (0, 37, 61):
        area.horizontalScrollBar().setValue(at)
        timed.clear()
        area.grab()
        shown = [x for x, _word in timed if x > at + 206]
        assert shown
        assert all(x + 36 <= at + area.viewport().width() for x in shown), (at, timed)


def test_what_is_scrolled_off_goes_below_the_times(qtbot: QtBot) -> None:
    area = QScrollArea()
    qtbot.addWidget(area)
    area.setWidget(chart_of(60))
    area.resize(520, 200)
    area.show()
    area.verticalScrollBar().setValue(36)
    picture = area.viewport().grab().toImage()
    assert {picture.pixelColor(x, y).name() for x in range(4, 200) for y in range(3, 33)} == {
        style.palette(False).sheet.name()}
