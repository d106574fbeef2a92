"""The Findings screen by hand: a topic pressed, a grouping chosen, the chart looked at and heard, and saved."""

from __future__ import annotations

import errno
from pathlib import Path

import pytest
from PySide6.QtCore import Qt
from PySide6.QtGui import QColor, QImage
from PySide6.QtWidgets import QScrollArea
from pytestqt.qtbot import QtBot

from greenhouse_desk.domain.faults import Refused
from greenhouse_desk.domain.findings import Finding
from greenhouse_desk.domain.journal import Potted, Roots, Settled
from greenhouse_desk.services import collection, records
from greenhouse_desk.services.clock import SteppedClock
from greenhouse_desk.services.collection import NewPlant
from greenhouse_desk.services.desk import Desk
from greenhouse_desk.services.findings import Topic
from greenhouse_desk.ui import style
from greenhouse_desk.ui.findings.chart_view import NO_CHART
from greenhouse_desk.ui.findings.screen import FindingsScreen
from greenhouse_desk.ui.signals import Signals
from greenhouse_desk.ui.style import Palette
from greenhouse_desk.ui.why import WhyBox
from tests.ui.house import pressed, words_of

DAY = 86_400.0


@pytest.fixture
def six(desk: Desk, clock: SteppedClock) -> Desk:
    """Six plants that settled in pellets; their roots were counted twice."""
    for number in range(101, 107):
        desk.run(collection.add_plant, NewPlant(f"Vanda tricolor '{number}'", medium="bark"))
    clock.advance(1 * DAY)
    for number in range(101, 107):
        desk.run(records.add, number, Potted("clay pellets", "12 cm", transition=True))
        desk.run(records.add, number, Roots(6, 2, 1))
    for number in range(101, 107):
        clock.advance(12 * DAY)
        desk.run(records.add, number, Settled("tips"))
        desk.run(records.add, number, Roots(9, 0, 4))
    return desk


def opened(qtbot: QtBot, desk: Desk, look: Palette | None = None) -> FindingsScreen:
    """The screen as first shown."""
    made = FindingsScreen(desk, Signals(), look or style.palette(False))
    qtbot.addWidget(made)
    made.resize(1214, 700)
    made.show()
    qtbot.waitExposed(made)
    made.show_now()
    return made


def shown(screen: FindingsScreen) -> Finding:
    """What is shown."""
    assert screen.shown is not None
    return screen.shown


def colours(image: QImage) -> set[str]:
    """The colours of a grid of points of the picture."""
    return {QColor(image.pixel(x, y)).name() for x in range(0, image.width(), 2) for y in range(0, image.height(), 2)}


def test_a_window_too_low_for_the_chart_scrolls_the_page_and_cuts_nothing(qtbot: QtBot, six: Desk) -> None:
    screen = opened(qtbot, six)
    screen.resize(683, 300)
    area, = screen.findChildren(QScrollArea, options=Qt.FindChildOption.FindDirectChildrenOnly)
    qtbot.waitUntil(lambda: area.verticalScrollBar().maximum() > 0, timeout=5_000)
    assert screen.chart.height() >= 280
    assert screen.pages.height() >= screen.chart.height()
    for told in (screen.rests, screen.words):
        assert told.height() >= told.heightForWidth(told.width())
    assert area.horizontalScrollBar().maximum() == 0
    area.verticalScrollBar().setValue(area.verticalScrollBar().maximum())
    foot = screen.words.mapTo(screen, screen.words.rect().bottomLeft()).y()
    assert foot <= screen.height()
    screen.resize(1214, 700)
    qtbot.waitUntil(lambda: area.verticalScrollBar().maximum() == 0, timeout=5_000)


def test_a_topic_is_pressed_and_its_chart_is_drawn_in_the_looks_colours(qtbot: QtBot, six: Desk) -> None:
    for dark in (False, True):
        look = style.palette(dark)
        screen = opened(qtbot, six, look)
        pressed(screen, "Roots of a plant")
        assert shown(screen).title == "Roots of 101"
        picture = screen.chart.picture
        assert picture is not None
        assert {look.sheet.name(), look.water.name()} <= colours(picture)


def test_each_topic_says_what_it_rests_on_to_eyes_and_ears(qtbot: QtBot, six: Desk) -> None:
    screen = opened(qtbot, six)
    for topic in Topic:
        pressed(screen, topic.value)
        found = shown(screen)
        assert screen.rests.text() == f"Rests on {found.rests_on}."
        assert screen.words.text() == found.summary != ""
        assert screen.chart.accessibleDescription() == f"{found.rests_on}. {found.summary}"
        assert screen.chart.accessibleName().startswith("Chart: " if found.chart else "No chart: ")


def test_every_finding_answers_why_step_by_step_with_a_source(qtbot: QtBot, six: Desk) -> None:
    screen = opened(qtbot, six)
    for topic in Topic:
        pressed(screen, topic.value)
        if not screen.why.isEnabled():
            assert topic is Topic.AIR, "no air was read: there is nothing to explain"
            continue
        screen.why.click()
        (box,) = [one for one in screen.findChildren(WhyBox) if one.isVisible()]
        told = words_of(box)
        why = shown(screen).why
        assert all(reason.text in told and reason.shown in told for reason in why)
        assert all(reason.source for reason in why)
        assert why[-1].text == screen.words.text(), "the last step is the conclusion"
        box.reject()


def test_a_grouping_is_chosen_and_stays_chosen(qtbot: QtBot, six: Desk) -> None:
    screen = opened(qtbot, six)
    at = screen.which.findText("genus")
    screen.which.setCurrentIndex(at)
    screen.which.activated.emit(at)
    assert shown(screen).title == "How plants settle, by genus"
    assert "Vanda: n = 6" in screen.words.text()
    screen.show_now()
    assert shown(screen).title == "How plants settle, by genus"


def test_the_figures_come_forward_when_asked_for_and_where_there_is_no_chart(qtbot: QtBot, six: Desk) -> None:
    screen = opened(qtbot, six)
    assert screen.pages.currentWidget() is screen.chart
    pressed(screen, "Show figures")
    assert screen.pages.currentWidget() is screen.table
    item = screen.table.item(0, 1)
    assert item is not None
    assert item.text() == "6"
    pressed(screen, "Show chart")
    assert screen.pages.currentWidget() is screen.chart


def test_an_empty_collection_says_that_there_is_nothing_yet(qtbot: QtBot, desk: Desk) -> None:
    screen = opened(qtbot, desk)
    for topic in Topic:
        pressed(screen, topic.value)
        assert screen.chart.picture is None
        assert shown(screen).chart is None
        assert screen.words.text()
        assert not screen.save.isEnabled() or shown(screen).table.rows
    assert screen.pages.currentWidget() is screen.chart
    assert NO_CHART


@pytest.mark.parametrize("ending", [".png", ".svg", ".csv"])
def test_what_is_shown_is_saved(qtbot: QtBot, six: Desk, tmp_path: Path, ending: str) -> None:
    screen = opened(qtbot, six)
    path = tmp_path / f"settling{ending}"
    screen.write(path)
    data = path.read_bytes()
    if ending == ".png":
        image = QImage(str(path))
        assert (image.width(), image.height()) == (2000, 1200)
        assert len(colours(image)) > 3
    elif ending == ".svg":
        assert b"<svg" in data
        assert style.palette(False).water.name().encode() in data.lower()
    else:
        assert data.startswith(b"group,plants,settled,days in")


def test_a_file_of_no_known_kind_and_a_chart_there_is_none_of_are_refused(qtbot: QtBot, six: Desk,
                                                                          tmp_path: Path) -> None:
    signals = Signals()
    refused: list[Refused] = []
    signals.refused.connect(refused.append)
    screen = FindingsScreen(six, signals, style.palette(False))
    qtbot.addWidget(screen)
    screen.show_now()
    screen.write(tmp_path / "settling.doc")
    screen.open_topic(Topic.LOSSES)
    screen.write(tmp_path / "losses.png")
    assert [refusal.title for refusal in refused] == ["settling.doc cannot be written", "There is no chart"]
    assert list(tmp_path.glob("*.doc")) == list(tmp_path.glob("*.png")) == []


@pytest.mark.parametrize("ending", [".svg", ".csv"])
def test_a_full_disk_is_called_so_and_says_to_make_room(qtbot: QtBot, six: Desk, tmp_path: Path, ending: str,
                                                        monkeypatch: pytest.MonkeyPatch) -> None:
    def full(_path: Path, _data: bytes) -> int:
        raise OSError(errno.ENOSPC, "the system's words")

    signals = Signals()
    refused: list[Refused] = []
    signals.refused.connect(refused.append)
    screen = FindingsScreen(six, signals, style.palette(False))
    qtbot.addWidget(screen)
    screen.show_now()
    monkeypatch.setattr(Path, "write_bytes", full)
    target = tmp_path / f"settling{ending}"
    screen.write(target)
    assert [(one.title, one.next_step) for one in refused] == [
        ("The disk is full", "Make room on the disk and do it again.")]
    assert f"There is no room left for {target}." in refused[0].detail


def test_the_chart_is_drawn_anew_when_the_look_changes_and_the_window_grows(qtbot: QtBot, six: Desk) -> None:
    look = style.palette(False)
    screen = opened(qtbot, six, look)
    before = screen.chart.picture
    assert before is not None
    look.become(True)
    assert look.sheet.name() in colours(screen.grab().toImage()), "another look is another picture, at once"
    assert screen.chart.picture is not None
    assert look.sheet.name() in colours(screen.chart.picture)
    screen.resize(1600, 900)
    qtbot.waitUntil(lambda: screen.chart.picture is not None
                    and screen.chart.picture.width() > before.width(), timeout=3000)
