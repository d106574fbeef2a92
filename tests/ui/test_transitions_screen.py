"""The Transitions screen as a grower presses it: looks written, verdicts overruled, looks dragged, starts asked for."""

from __future__ import annotations

from collections.abc import Iterator
from datetime import date, timedelta
from pathlib import Path

import pytest
from pypdf import PdfReader
from PySide6.QtCore import QPoint, Qt
from PySide6.QtPrintSupport import QPrinter
from PySide6.QtTest import QTest
from PySide6.QtWidgets import QApplication, QFileDialog
from pytestqt.qtbot import QtBot

from greenhouse_desk import app
from greenhouse_desk.domain.care import CareKind
from greenhouse_desk.domain.courses_values import Verdict
from greenhouse_desk.domain.journal import Facts, Overruled, Potted, Roots, Settled, Signs
from greenhouse_desk.domain.journal_course import Leaves, Stand
from greenhouse_desk.services import care, records, transitions
from greenhouse_desk.services.clock import SteppedClock
from greenhouse_desk.services.desk import Desk
from greenhouse_desk.store import journal
from greenhouse_desk.store.engine import Store
from greenhouse_desk.ui.transitions.screen import TransitionsScreen
from greenhouse_desk.ui.transitions.start_box import StartBox
from greenhouse_desk.ui.why import WhyBox
from tests.ui.house import dragged, fill, furnish, pressed, program, shown, words_of
from tests.ui.test_spoken_names import unnamed

MOVES = {101: 100, 102: 90, 103: 30, 104: 20}


def tell(desk: Desk, plant: int, days_ago: float, facts: Facts) -> None:
    desk.run(records.add, plant, facts, desk.clock() - timedelta(days=days_ago))


@pytest.fixture
def running(store: Store, clock: SteppedClock, qtbot: QtBot) -> Iterator[app.Program]:
    """Four plants under way: one fails, one may be called settled, one does well, one was not looked at yet."""
    desk = Desk(store, clock.now)
    furnish(desk)
    for plant, ago in MOVES.items():
        tell(desk, plant, ago + 200, Potted("bark"))
        tell(desk, plant, ago, Potted("clay pellets", transition=True))
    tell(desk, 101, 16, Roots(4, 6, 0))
    for ago in (34, 6):
        tell(desk, 102, ago, Roots(9, 1, 3))
        tell(desk, 102, ago, Signs(Leaves.FIRM, Stand.FIRM))
    tell(desk, 103, 2, Roots(8, 1, 2))
    tell(desk, 105, 0, Potted("bark"))
    with shown(store, clock, qtbot) as made:
        made.window.show_titled("Transitions")
        yield made


@pytest.fixture
def screen(running: app.Program) -> TransitionsScreen:
    return running.transitions


def plate(made: app.Program) -> str:
    """What the screen's plate in the navigation is called."""
    return next(one.accessibleName() for one in made.window.navigation.plates if one.text() == "Transitions")


def choose(screen: TransitionsScreen, plant: int) -> None:
    assert screen.shown is not None
    screen.chart.pick(next(row.course.origin for row in screen.shown.rows if row.course.plant == plant))


def newest(screen: TransitionsScreen, plant: int) -> Facts:
    return screen._desk.read(journal.of_plant, plant)[-1].facts


def verdict(screen: TransitionsScreen, plant: int) -> Verdict:
    assert screen.shown is not None
    return next(row.course.verdict for row in screen.shown.rows if row.course.plant == plant)


def test_it_lists_what_needs_hands_first_and_counts_what_is_under_way(running: app.Program) -> None:
    screen = running.transitions
    assert screen.shown is not None
    assert [row.course.plant for row in screen.shown.rows] == [101, 102, 103, 104]
    assert "4 courses under way" in words_of(screen)
    assert plate(running) == "Transitions, 4"
    said = words_of(screen.course)
    assert "Step in: 101 Phalaenopsis" in said
    assert "6 of 10 roots dead" in said
    assert "keep every living root" in said
    assert screen.chart.words()[0].startswith("101 Phalaenopsis schilleriana, bark to clay pellets, week 15: step in")
    assert "too few to tell" in screen.chart.accessibleDescription()
    assert list(unnamed(screen)) == []


def test_stepping_in_goes_to_the_bench_with_the_protocol_for_it(running: app.Program) -> None:
    pressed(running.transitions.course, "Take it to the bench")
    assert running.window.current_title() == "Bench"
    assert {one.plant: one.protocol_id for one in running.bench._choices.all} == {101: "root-trim-and-repot"}


def test_a_look_is_written_and_the_verdict_follows(screen: TransitionsScreen) -> None:
    choose(screen, 104)
    assert "Not looked at yet" in words_of(screen.course)
    pressed(screen.course, "Write a look down")
    fill(living=7, dead=1, new_tips=2, leaves=Leaves.LIMP)
    assert verdict(screen, 104) is Verdict.AGAIN
    assert "Leaves limp" in words_of(screen.course)
    owed = screen._desk.read(care.of_plant, 104, screen._desk.clock())
    assert [one.due for one in owed if one.kind is CareKind.LOOK_AGAIN] == [screen.shown.today + timedelta(days=7)]  # type: ignore[union-attr]
    screen._desk.undo()
    assert verdict(screen, 104) is Verdict.UNSEEN


def test_a_look_at_nothing_is_refused_in_the_form(screen: TransitionsScreen) -> None:
    shown = screen.deeds.look(104)
    shown.accept_button.click()
    assert "Nothing was looked at" in words_of(shown)
    assert shown.isVisible()
    shown.reject()


def test_a_verdict_is_overruled_with_a_reason(screen: TransitionsScreen) -> None:
    choose(screen, 101)
    pressed(screen.course, "Overrule")
    shown = fill(instead=Verdict.AGAIN, days=5, reason="")
    assert "reason is empty" in words_of(shown), "no reason, no overruling"
    shown.set("reason", "a new root shows at the rim")
    shown.accept_button.click()
    facts = newest(screen, 101)
    assert facts == Overruled("verdict", "step in", "look again", "a new root shows at the rim", 5)
    assert verdict(screen, 101) is Verdict.AGAIN
    row = screen.chart.row
    assert row is not None
    assert row.course.plant == 101, "it stays chosen, though it has another place"
    said = screen.chart.words()[0]
    assert said.startswith("101 ")
    for told in (said, words_of(screen.course).replace("By", "by")):
        assert "by you; rule: step in, 6 of 10 roots dead" in told
        assert "our reason: a new root shows at the rim" in told
    screen.course.why.emit()
    assert any("You went another way" in words_of(box) for box in QApplication.topLevelWidgets()
               if isinstance(box, WhyBox))


def test_a_plant_is_called_settled_and_owes_no_more_looks(screen: TransitionsScreen) -> None:
    choose(screen, 102)
    assert "Settled? you say: 102 Cattleya" in words_of(screen.course)
    pressed(screen.course, "Call it settled")
    fill(reason="it will not rock")
    assert newest(screen, 102) == Settled("it will not rock")
    owed = screen._desk.read(care.of_plant, 102, screen._desk.clock())
    assert not [one for one in owed if one.kind in transitions.LOOKS]
    assert "3 courses under way" in words_of(screen)
    assert any("settled, closed" in words for words in screen.chart.words())


def next_look(screen: TransitionsScreen, plant: int) -> date:
    assert screen.shown is not None
    row = next(row for row in screen.shown.rows if row.course.plant == plant)
    due = row.looks[0].due
    assert type(due) is date
    return due


def test_a_look_is_dragged_to_another_day(screen: TransitionsScreen) -> None:
    choose(screen, 103)
    ring = screen.chart.look_place(screen.chart.row.course.origin)  # type: ignore[union-attr]
    assert ring is not None
    before, to = next_look(screen, 103), next_look(screen, 103) + timedelta(days=6)
    dragged(screen.chart, ring.toPoint(), QPoint(round(screen.chart.day_place(to)), round(ring.y())))
    assert next_look(screen, 103) == to != before
    screen._desk.undo()
    assert next_look(screen, 103) == before


def test_a_drag_into_the_past_goes_no_further_than_the_day_the_look_opens(screen: TransitionsScreen) -> None:
    choose(screen, 104)
    ring = screen.chart.look_place(screen.chart.row.course.origin)  # type: ignore[union-attr]
    assert ring is not None
    opens = next_look(screen, 104) - timedelta(days=3)
    dragged(screen.chart, ring.toPoint(), QPoint(240, round(ring.y())))
    assert next_look(screen, 104) == opens


def test_a_look_is_moved_by_keys_and_only_when_it_is_kept(screen: TransitionsScreen) -> None:
    chart, alt = screen.chart, Qt.KeyboardModifier.AltModifier
    choose(screen, 102)
    QTest.keyClick(chart, Qt.Key.Key_Down)
    assert chart.row is not None
    assert chart.row.course.plant == 103
    before = next_look(screen, 103)
    for _ in range(3):
        QTest.keyClick(chart, Qt.Key.Key_Right, alt)
    QTest.keyClick(chart, Qt.Key.Key_Escape)
    QTest.keyClick(chart, Qt.Key.Key_Escape)
    assert next_look(screen, 103) == before
    for _ in range(3):
        QTest.keyClick(chart, Qt.Key.Key_Right, alt)
    QTest.keyClick(chart, Qt.Key.Key_Left, alt)
    QTest.keyClick(chart, Qt.Key.Key_Return)
    assert next_look(screen, 103) == before + timedelta(days=2)


def test_may_one_start_answers_and_starts_all_the_same(running: app.Program) -> None:
    screen = running.transitions
    box = screen._on_start()
    assert isinstance(box, StartBox)
    assert box.plant == 105
    assert "Better not yet" in words_of(box)
    assert "short days" in words_of(box), "November"
    assert list(unnamed(box)) == []
    pressed(box, "Start all the same")
    fill(reason="its bark has gone to mud")
    facts = newest(screen, 105)
    assert isinstance(facts, Overruled)
    assert (facts.of, facts.instead, facts.reason) == ("start", "start", "its bark has gone to mud")
    assert running.window.current_title() == "Bench"


def test_why_forecast_and_comparison_open(screen: TransitionsScreen) -> None:
    choose(screen, 103)
    told = [box for box in (screen._on_why(), screen._on_forecast(), screen._on_outcomes()) if box is not None]
    assert len(told) == 3
    assert "Stay the course" in words_of(told[0])
    assert "Too few to tell" in words_of(told[1])
    assert "Left alone after one, 1: 1 under way." in words_of(told[2])


def test_the_calendar_is_written_from_the_window(running: app.Program, tmp_path: Path) -> None:
    running.transitions.write_calendar(tmp_path / "care.ics")
    assert (tmp_path / "care.ics").read_bytes().startswith(b"BEGIN:VCALENDAR")
    assert "care.ics can be taken into any calendar" in words_of(running.window.messages)
    (tmp_path / "theirs.ics").write_text("mine", "utf-8")
    running.transitions.write_calendar(tmp_path / "theirs.ics")
    assert "That file is no calendar" in words_of(running.window.messages)


def test_the_kinds_of_care_are_chosen_before_the_file(running: app.Program, tmp_path: Path) -> None:
    pressed(running.transitions, "Export calendar")
    nothing = fill(**{kind.name: False for kind in CareKind})
    assert "No kind of care is chosen." in words_of(nothing)
    fill(ROOT_CHECK=True)
    dialog = running.window.findChild(QFileDialog)
    assert isinstance(dialog, QFileDialog)
    dialog.fileSelected.emit(str(tmp_path / "roots.ics"))
    dialog.close()
    told = (tmp_path / "roots.ics").read_text("utf-8").splitlines()
    assert {line for line in told if line.startswith("CATEGORIES")} == {"CATEGORIES:root check"}


def test_the_month_page_is_chosen_seen_and_saved(running: app.Program, tmp_path: Path, qtbot: QtBot) -> None:
    box = running.transitions._on_month()
    assert [box.months.itemText(0), box.months.itemText(2)] == ["November 2026", "January 2027"]
    box.months.setCurrentIndex(1)
    assert box.month == date(2026, 12, 1)
    qtbot.waitUntil(lambda: bool(box.pages))
    assert list(unnamed(box)) == []
    box.grab()
    printer = QPrinter(QPrinter.PrinterMode.HighResolution)
    printer.setOutputFileName(str(tmp_path / "printed.pdf"))
    with qtbot.waitSignal(running.printing.noted):
        box.send(printer)
    printed = PdfReader(tmp_path / "printed.pdf").pages[0].extract_text().split()
    assert printed[:2] == ["December", "2026"]
    box = running.transitions._on_month()
    box.months.setCurrentIndex(1)
    qtbot.waitUntil(lambda: bool(box.pages))
    with qtbot.waitSignal(box.told):
        box.write(tmp_path / "december.pdf")
    page, courses = PdfReader(tmp_path / "december.pdf").pages
    sides = float(page.mediabox.width) / 72 * 25.4, float(page.mediabox.height) / 72 * 25.4
    assert sides == pytest.approx((297, 210), abs=0.3)
    text = " ".join(page.extract_text().split())
    assert "December 2026" in text
    assert "root check: 104" in text
    assert "Courses in December 2026" in " ".join(courses.extract_text().split())
    assert "Month of care: December 2026 written to december.pdf" in words_of(running.window.messages)


def test_an_empty_house_says_so(store: Store, clock: SteppedClock, qtbot: QtBot) -> None:
    made = program(store, clock)
    qtbot.addWidget(made.window)
    made.window.show_titled("Transitions")
    screen = made.transitions
    assert "No plant is in transition." in words_of(screen)
    assert screen.chart.words() == []
    assert "a curve is drawn from 5 on" in screen.curve.view.words()
    assert plate(made) == "Transitions"
    screen.grab()
    made.close()
