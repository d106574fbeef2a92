"""The Quarantine screen, pressed as a grower would: status, trace, round, outbreak, buying, trading, record."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import replace
from datetime import timedelta
from pathlib import Path
from unicodedata import normalize

import pytest
from pypdf import PdfReader
from PySide6.QtCore import QAbstractItemModel, QPoint, Qt
from PySide6.QtGui import QImage
from PySide6.QtTest import QTest
from PySide6.QtWidgets import QApplication, QDialog
from pytestqt.modeltest import ModelTester
from pytestqt.qtbot import QtBot

from greenhouse_desk.domain.hiding import Spot
from greenhouse_desk.domain.journal import Looked, Sighted
from greenhouse_desk.domain.plants import Habit
from greenhouse_desk.services import collection, house, inspections, outbreaks, quarantine
from greenhouse_desk.services.clock import SteppedClock
from greenhouse_desk.services.desk import Desk
from greenhouse_desk.services.shelf import shelf
from greenhouse_desk.store import journal
from greenhouse_desk.ui import style
from greenhouse_desk.ui.quarantine import screen as quarantine_screen
from greenhouse_desk.ui.quarantine.screen import QuarantineScreen
from greenhouse_desk.ui.quarantine.where_drawing import WhereDrawing, places
from greenhouse_desk.ui.signals import Signals
from greenhouse_desk.ui.why import WhyBox
from tests.builders import NOW, ago
from tests.services.outbreak_house import BUG, CLEAN, WASH, add, furnished
from tests.ui.house import fill, form, pressed, words_of


@pytest.fixture
def signals(desk: Desk) -> Signals:
    """Connected to the desk."""
    made = Signals()
    desk.listeners.append(made.changed.emit)
    return made


@pytest.fixture
def screen(desk: Desk, signals: Signals, qtbot: QtBot) -> Iterator[QuarantineScreen]:
    """The screen with mealybug found on 102 and exposed neighbours, read anew at each change as the window does."""
    furnished(desk)
    add(desk, 102, BUG, ago(days=9))
    made = QuarantineScreen(desk, signals, style.palette(False), shelf(None).pests)
    signals.changed.connect(lambda _changed: made.show_now())
    qtbot.addWidget(made)
    made.resize(1214, 760)
    made.show_now()
    with qtbot.waitExposed(made):
        made.show()
    yield made
    for widget in QApplication.topLevelWidgets():
        if isinstance(widget, QDialog):  # not the popups of Qt's own making: one may be gone with its dialog
            widget.close()


def test_the_navigation_tells_how_many_need_a_look_today(screen: QuarantineScreen, desk: Desk,
                                                          monkeypatch: pytest.MonkeyPatch) -> None:
    assert screen.count() == "2", "101 and 103 stand beside 102"
    desk.listeners.clear()
    add(desk, 101, CLEAN)
    assert screen.count() == "1"
    monkeypatch.setattr(inspections, "SMALL", 3)
    add(desk, 104, CLEAN)
    assert screen.count() == "", "in a large collection an old figure is not shown"
    screen.show_now()
    assert screen.count() == "1"


def test_the_navigations_figure_follows_places_and_house_rules(screen: QuarantineScreen, desk: Desk,
                                                               monkeypatch: pytest.MonkeyPatch) -> None:
    desk.listeners.clear()
    ledge = next(place for place in desk.read(collection.places_of) if place.name == "Ledge")
    assert screen.count() == "2"
    desk.run(collection.save_place, replace(ledge, isolation=True))
    assert screen.count() == "3", "104 stands apart now, and was never looked at"
    desk.undo()
    assert screen.count() == "2"
    monkeypatch.setattr(inspections, "SMALL", 3)
    desk.run(house.save_rules, replace(desk.read(house.rules), trace_days=7))
    assert screen.count() == "", "the rules it rested on are others now"


def why() -> str:
    """What the open reasoning says."""
    (box,) = [one for one in QApplication.topLevelWidgets() if isinstance(one, WhyBox) and one.isVisible()]
    told = words_of(box)
    box.close()
    return told


def key(screen: QuarantineScreen, letter: Qt.Key) -> None:
    QTest.keyClick(screen.round, letter)


def test_the_list_says_who_is_held_back_and_what_must_happen(screen: QuarantineScreen) -> None:
    rows = screen.model.rows
    assert [(row.plant, row.title) for row in rows] == [(102, "infested: mealybug"), (101, "exposed: mealybug"),
                                                        (103, "exposed: mealybug")]
    assert rows[0].next.startswith("wash it and keep it apart")
    assert (rows[0].looks, rows[0].release) == ("0 of 2 looks", "not before 21 Dec")
    screen.filter.setCurrentIndex(1)
    assert screen.filter.currentText() == "mealybug"
    assert len(screen.model.rows) == 3


def test_the_model_keeps_qts_rules(screen: QuarantineScreen, qtmodeltester: ModelTester) -> None:
    model: QAbstractItemModel = screen.model
    qtmodeltester.check(model)  # type: ignore[no-untyped-call]


def test_no_line_runs_through_the_words_on_those_folded_away(screen: QuarantineScreen) -> None:
    view = screen.trace.view
    laid, before = view.geometry_now(), view.grab().toImage()
    assert laid is not None
    lane = next(lane for lane, band in zip(laid.lanes, laid.picture.bands, strict=True)
                if band.plants and lane.folded is not None)
    assert lane.folded is not None
    today = laid.picture.today
    day = next(day for n in range(60) if laid.x(day := today + timedelta(days=n)) > laid.x(today) + 40)
    view.show_picture(replace(laid.picture, release=day))
    after, x = view.grab().toImage(), round(laid.x(day))
    crossed = {y for y in range(round(lane.top), round(lane.top + lane.height))
               if before.pixelColor(x, y) != after.pixelColor(x, y)}
    words = range(round(lane.folded) + 3, round(lane.folded) + 19)
    assert crossed, "the dashed line of the release goes through the band"
    assert crossed.isdisjoint(words)


def test_why_answers_with_entry_rules_and_conclusion(screen: QuarantineScreen, desk: Desk) -> None:
    screen.choose(102)
    screen.actions_row["why?"].click()
    told = why()
    assert "Mealybug seen on 9 Nov 2026, not treated since." in told
    assert "A spray masks signs for 7 days." in told
    assert "So: infested." in told


def test_the_trace_reads_back_and_opens_the_likeliest_to_inspect(screen: QuarantineScreen) -> None:
    told = words_of(screen.trace)
    assert "found on 102 on 9 Nov" in told
    assert "Inspect these next" in told
    assert "101" in told
    names = [made for made in screen.trace.findChildren(type(screen.trace.open_button))
             if made.accessibleName() == "Why 25 % for 101"]
    names[0].click()
    assert "Shares its place with 102: mealybug: 25 % before any look." in why()


def test_the_picture_says_itself_and_a_press_on_a_row_chooses_its_plant(screen: QuarantineScreen) -> None:
    assert screen.trace.view.accessibleName().startswith("Trace of mealybug from 102: found on 102 on 9 Nov")
    laid = screen.trace.view.geometry_now()
    assert laid is not None
    row = next(row for row in laid.rows if row.plant == 102)
    QTest.mouseClick(screen.trace.view, Qt.MouseButton.LeftButton, pos=QPoint(300, round(row.y)))
    assert screen.chosen() == 102


def test_a_round_is_answered_by_keys_and_each_answer_is_an_entry(screen: QuarantineScreen, desk: Desk) -> None:
    screen.open_page(quarantine_screen.ROUND)
    assert screen.round.turn is not None
    assert screen.round.turn.plant == 104, "the cleanest first"
    assert screen.round.name.text() == "<i>Stelis gelida</i>", "set by the naming codes"
    key(screen, Qt.Key.Key_C)
    assert desk.read(journal.of_plant, 104)[-1].facts == Looked(True, "10x")
    assert screen.round.turn.plant == 101
    key(screen, Qt.Key.Key_L)
    key(screen, Qt.Key.Key_S)
    assert form().windowTitle() == "101: what was seen"
    fill(what="thrips", stage="adult", where=Spot.BUDS.value, count=3)
    told = [entry.facts for entry in desk.read(journal.of_plant, 101)[-2:]]
    assert told == [Looked(False, "20x"), Sighted("thrips", "adult", Spot.BUDS.value, 3)]
    key(screen, Qt.Key.Key_N)
    assert screen.round.turn is not None
    assert screen.round.turn.plant == 103
    key(screen, Qt.Key.Key_B)
    assert screen.round.turn is not None
    assert screen.round.turn.plant == 101
    for _ in range(6):
        key(screen, Qt.Key.Key_N)
    assert "The round is done" in words_of(screen.round)
    assert "2 looks written down" in words_of(screen.round)


def test_a_look_that_does_not_count_is_said_before_and_after(screen: QuarantineScreen, desk: Desk,
                                                             signals: Signals) -> None:
    notes: list[str] = []
    signals.noted.connect(notes.append)
    add(desk, 102, WASH, ago(days=1))
    screen.round.begin(screen.turns, (102,))
    screen.open_page(quarantine_screen.ROUND)
    assert "1 day after the spray of 17 Nov 2026" in words_of(screen.round)
    key(screen, Qt.Key.Key_C)
    assert notes[0].startswith("102: written down, but the clean look of 18 Nov 2026 does not count")


def test_an_outbreak_is_opened_from_the_find_and_followed(screen: QuarantineScreen, desk: Desk,
                                                          signals: Signals) -> None:
    benched: list[dict[int, str]] = []
    signals.to_wash.connect(benched.append)
    pressed(screen, "Open an outbreak")
    assert "Mealybug: found on 1 plant, 2 more exposed." in words_of(form())
    fill()
    shelf_place = next(place for place in desk.read(collection.places_of) if place.isolation)
    assert desk.read(collection.one, 102).place == shelf_place.id
    assert screen.pages.currentIndex() == quarantine_screen.OUTBREAKS, "what was opened is shown"
    told = words_of(screen.outbreaks)
    assert "Mealybug, opened from 102 on 18 Nov" in told
    assert "wash 20 Nov; wash 30 Nov to 4 Dec" in told
    assert "Try the wash on one leaf first" in told
    pressed(screen.outbreaks, "Wash 1 plant at the bench")
    pressed(screen.outbreaks, "Wash the exposed too")
    assert [list(one) for one in benched] == [[102], [102, 101, 103]]
    assert benched[0][102] == "by the plan of the mealybug outbreak from 102: wash 20 Nov, not yet due"
    pressed(screen.outbreaks, "why?")
    assert "It is over once no plant it concerns is held back by it" in why()
    pressed(screen.outbreaks, "Look at 2 plants in a round")
    assert screen.pages.currentIndex() == quarantine_screen.ROUND
    assert screen.round.queue == (101, 103)
    pressed(screen, "Trace")
    desk.undo()
    assert desk.read(outbreaks.followed, NOW) == ()


def test_a_release_needs_its_day_or_a_reason(screen: QuarantineScreen, desk: Desk) -> None:
    screen.choose(101)
    pressed(screen, "Release")
    shown = fill()
    assert shown.isVisible()
    assert "would be released early" in words_of(shown)
    fill(reason="looked at under a microscope")
    assert desk.read(quarantine.status, NOW)[101].word != "infested"


def test_buying_says_no_record_room_and_what_is_active(screen: QuarantineScreen) -> None:
    screen.open_page(quarantine_screen.BUYING)
    screen.buying.box.setCurrentText("a new fair")
    told = words_of(screen.buying)
    assert "No record: nothing came from here yet" in told
    assert "Shelf: 6 spots free" in told
    assert "mealybug" in told
    pressed(screen.buying, "why?")
    assert "nothing can be said of it" in why()


def test_trading_lists_every_point_and_saves_the_record(screen: QuarantineScreen, tmp_path: Path, qtbot: QtBot) -> None:
    screen.open_page(quarantine_screen.TRADING)
    screen.trading.take(101)
    told = words_of(screen.trading)
    assert "failed: Not exposed to anything that is not over" in told
    assert "unknown: Nothing found that is not over" in told
    assert "passed: No hold runs" in told
    assert "Chance that it still carries something: 25 %" in told
    file = tmp_path / "r.pdf"
    box = screen.deeds.save_record(101)
    qtbot.waitUntil(lambda: bool(box.pages))
    with qtbot.waitSignal(box.told):
        box.write(file)
    said = normalize("NFKC", " ".join(" ".join(page.extract_text().split()) for page in PdfReader(file).pages))
    assert "no phytosanitary certificate" in said


def test_with_nothing_found_it_says_so(desk: Desk, signals: Signals, qtbot: QtBot, clock: SteppedClock) -> None:
    made = QuarantineScreen(desk, signals, style.palette(True), shelf(None).pests)
    qtbot.addWidget(made)
    made.show_now()
    assert "there is nothing to trace" in words_of(made.trace) or not made.trace.view.isVisibleTo(made)
    for page in range(5):
        made.open_page(page)
    assert made.model.rows == ()


def test_the_drawings_put_every_spot_on_the_plant(qtbot: QtBot) -> None:
    drawn = []
    for habit in (Habit.MONOPODIAL, Habit.SYMPODIAL):
        assert set(places(habit)) == set(Spot)
        widget = WhereDrawing(style.palette(False))
        qtbot.addWidget(widget)
        widget.resize(300, 330)
        widget.show_spots(habit, [Spot.CROWN, Spot.ROOTS])
        assert widget.accessibleName() == "Where to look: 1 crown, 2 roots through the pot"
        drawn.append(widget.grab().toImage())
    first, other = drawn
    assert isinstance(first, QImage)
    assert first != other


def test_clean_looks_show_as_rings_that_fill(screen: QuarantineScreen, desk: Desk, clock: SteppedClock) -> None:
    add(desk, 102, WASH, ago(days=8))
    add(desk, 102, CLEAN, NOW - timedelta(hours=1))
    row = next(row for row in screen.model.rows if row.plant == 102)
    assert (row.counted, row.looks, row.word) == (1, "1 of 2 looks", "under treatment")
