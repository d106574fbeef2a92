"""Choosing for the bench on a real collection: the list with its past, the search, what is proposed."""

from __future__ import annotations

from collections.abc import Iterator
from datetime import date
from pathlib import Path

import pytest
from PySide6.QtCore import Qt
from PySide6.QtTest import QAbstractItemModelTester, QTest
from pytestqt.qtbot import QtBot

from greenhouse_desk.domain.outbreak import Concerned, Followed, Wash
from greenhouse_desk.services.clock import SteppedClock
from greenhouse_desk.services.desk import Desk
from greenhouse_desk.ui.quarantine.outbreak_page import wash_reasons
from tests.ui.bench_opened import Opened, furnished, type_number, words_of

K = Qt.Key


@pytest.fixture
def opened(qtbot: QtBot, desk: Desk, clock: SteppedClock, tmp_path: Path) -> Iterator[Opened]:
    furnished(desk, clock)
    made = Opened(desk, clock, tmp_path)
    yield made
    made.close()


def test_each_plant_stands_with_its_past(opened: Opened) -> None:
    rows = {row.candidate.plant: row.words for row in opened.screen.chooser.list.rows.rows}
    assert set(rows) == {101, 102, 103, 104}
    assert "infested" in rows[104]
    assert "mealybug" in rows[104]
    assert "not chosen" in rows[101]


def test_the_list_is_a_sound_model(opened: Opened) -> None:
    tester = QAbstractItemModelTester(opened.screen.chooser.list.rows)
    opened.screen.chooser.search.setText("Laelia")
    assert [row.candidate.plant for row in opened.screen.chooser.list.rows.rows] == [102]
    opened.screen.chooser.search.setText("nothing like it")
    assert "No plant here answers to" in words_of(opened.screen.chooser)
    opened.screen.chooser.search.clear()
    assert tester.model() is opened.screen.chooser.list.rows


def test_the_search_finds_pests_and_numbers(opened: Opened) -> None:
    for text, found in (("mealybug", [104]), ("103", [103]), ("infested", [104]), ("MASDE", [103])):
        opened.screen.chooser.search.setText(text)
        assert [row.candidate.plant for row in opened.screen.chooser.list.rows.rows] == found


def test_the_wash_is_proposed_for_the_plant_with_pests(opened: Opened) -> None:
    type_number(opened, 104)
    row = opened.screen.chooser.chosen.rows[104]
    assert row.box.currentText() == "Pest wash"
    assert "Proposed: Pest wash, because: " in words_of(row)


def test_space_chooses_and_drops_in_the_list(opened: Opened) -> None:
    plants = opened.screen.chooser.list
    plants.setCurrentIndex(plants.rows.index(1))
    QTest.keyClick(plants, K.Key_Space)
    assert list(opened.screen.chooser.chosen.rows) == [102]
    QTest.keyClick(plants, K.Key_Space)
    assert not opened.screen.chooser.chosen.rows
    assert not opened.screen.chooser.go_button.isEnabled()


def test_the_keyboard_stays_where_it_is_when_a_protocol_is_picked(opened: Opened) -> None:
    for number in (101, 102):
        type_number(opened, number)
    box = opened.screen.chooser.chosen.rows[101].box
    box.setCurrentIndex(box.findText("Spike cut"))
    box.activated.emit(box.currentIndex())
    type_number(opened, 103)
    assert opened.screen.chooser.chosen.rows[101].box is box
    assert box.currentText() == "Spike cut"
    assert list(opened.screen.chooser.chosen.rows) == [101, 102, 103]


def test_a_number_nobody_has_is_refused(opened: Opened) -> None:
    type_number(opened, 999)
    assert opened.refused[-1].title == "There is no growing plant 999"


def test_plants_sent_from_another_screen_are_chosen(opened: Opened) -> None:
    opened.signals.to_bench.emit((103, 101))
    assert list(opened.screen.chooser.chosen.rows) == [103, 101]


def test_plants_sent_to_be_washed_arrive_with_the_wash_and_why(opened: Opened) -> None:
    type_number(opened, 101)
    why = "by the plan of the mealybug outbreak from 104: wash 20 Nov to 24 Nov"
    opened.signals.to_wash.emit({101: why, 103: why})
    rows = opened.screen.chooser.chosen.rows
    assert [row.box.currentText() for row in rows.values()] == ["Pest wash", "Pest wash"]
    assert f"Washed {why}." in words_of(rows[103])
    assert "Nothing is proposed" not in words_of(rows[101])
    assert "Choose a protocol" not in words_of(opened.screen.chooser)
    box = rows[101].box
    box.setCurrentIndex(box.findText("Spike cut"))
    box.activated.emit(box.currentIndex())
    assert why not in words_of(rows[101]), "another protocol is the grower's own word"
    assert "Nothing is proposed" in words_of(rows[101])


def test_a_wash_beyond_the_plan_is_by_the_growers_word() -> None:
    first, today = date(2026, 11, 4), date(2026, 11, 18)
    given, wanted = Wash(first, first, True), Wash(date(2026, 11, 14), today)
    plans = {101: (given, wanted), 102: (given, given), 103: ()}
    concerned = tuple(Concerned(plant, "infested", "", True, "", None, plan) for plant, plan in plans.items())
    told = wash_reasons(Followed(1, 102, "thrips", first, concerned, None, ""), tuple(plans), "thrips", today)
    assert told == {101: "by the plan of the thrips outbreak from 102: wash 14 Nov to 18 Nov",
                    102: "as you chose for the thrips outbreak from 102; every wash of its plan was given",
                    103: "as you chose for the thrips outbreak from 102; its plan names no wash"}
