"""Every figure of the Collection screen says why: where it comes from, how old it is, what follows from it."""

from __future__ import annotations

from datetime import timedelta

import pytest
from PySide6.QtCore import QPoint, Qt
from PySide6.QtWidgets import QPushButton
from pytestqt.qtbot import QtBot

from greenhouse_desk import app
from greenhouse_desk.domain.journal import Sighted, Unpotted
from greenhouse_desk.domain.plants import Home, Place
from greenhouse_desk.services import collection, collection_why, house, records
from greenhouse_desk.services.clock import SteppedClock
from greenhouse_desk.services.desk import Desk
from greenhouse_desk.ui.collection.care_rows import CareRow
from greenhouse_desk.ui.why import WhyBox
from tests.ui.house import disinfect, furnish, wet, words_of


def box(running: app.Program) -> WhyBox:
    """The reasoning that is open, closed again by the caller."""
    found = [one for one in running.window.findChildren(WhyBox) if one.isVisible()]
    assert len(found) == 1
    return found[0]


def asked(running: app.Program, name: str) -> str:
    """Press the drawer's "why?" of this name and read what it says."""
    made = [one for one in running.collection.drawer.findChildren(QPushButton) if one.accessibleName() == name]
    assert len(made) == 1, name
    made[0].click()
    told = words_of(box(running))
    box(running).accept()
    return told


def test_every_row_of_care_tells_what_it_rests_on_and_opens_its_whole_why(running: app.Program) -> None:
    desk, screen = running.desk, running.collection
    wet(desk, 101)
    disinfect(desk, 102)
    desk.run(records.add, 103, Unpotted())
    for row in screen.strip.model.rows:
        if isinstance(row, CareRow):
            assert row.because
            screen._on_care_asked(row.care)
            panel = next(one for one in screen.drawer.panels() if one.row.care == row.care)
            assert panel.why_button.isChecked()
            assert all(reason.text in words_of(panel) and reason.shown in words_of(panel) for reason in row.care.why)


def test_a_card_says_why_its_care_and_its_standing_are_what_they_are(running: app.Program) -> None:
    running.desk.run(records.add, 101, Sighted("thrips", "adult", "spike", 2))
    running.desk.run(records.add, 101, Unpotted())
    told = running.collection.view.cards.index(0).data(Qt.ItemDataRole.ToolTipRole)
    assert "pot up today, because 18 Nov 15:30: taken out of its pot" in told
    assert "infested: " in told


def test_standing_and_stage_in_the_drawer_say_why(running: app.Program, places: dict[str, int],
                                                  clock: SteppedClock) -> None:
    desk, screen = running.desk, running.collection
    desk.run(records.add, 101, Sighted("thrips", "adult", "spike", 2))
    desk.run(collection.repot, 101, "pumice", "12 cm", True)
    clock.advance(15 * 86400)
    screen.show_now()
    screen.open_drawer(101)
    assert "Thrips seen on 18 Nov" in asked(running, "Why infested")
    stage = asked(running, "Why this stage")
    assert "18 Nov: potted in pumice" in stage
    assert "So: settling, week 3." in stage
    assert "common practice" in stage


def test_the_stage_follows_the_entry_it_rests_on(desk: Desk, clock: SteppedClock) -> None:
    places = furnish(desk)
    desk.run(collection.move, (101,), places["Isolation shelf"], None)
    clock.advance(3 * 86400)
    desk.run(collection.move, (101,), places["Isolation shelf"], 106)
    here = desk.read(collection_why.stage, 101, clock.now())
    assert here[0].text.startswith("18 Nov: to Isolation shelf"), "a move along the bench does not count"
    assert here[-1].text == "So: day 3 here."
    desk.run(records.add, 101, Unpotted())
    assert desk.read(collection_why.stage, 101, clock.now())[0].text == "21 Nov: unpotted, roots bare."
    assert desk.read(collection_why.stage, 102, clock.now()) == ()


def test_the_air_of_a_bench_says_who_read_it_when_and_what_it_is_good_for(running: app.Program, places: dict[str, int],
                                                                          clock: SteppedClock) -> None:
    menu = running.collection.places.menu(places["Long bench"], QPoint(10, 10))
    next(action for action in menu.actions() if action.text() == "Why this air…").trigger()
    told = words_of(box(running))
    assert "21.4 C, 58 % RH, air 0.3 m/s: read at Long bench on 18 Nov at 15:30, 0 min ago." in told
    assert "VPD 1.07 kPa" in told
    assert "It holds for drying times." in told
    box(running).accept()
    clock.advance(13 * 3600)
    late = running.desk.read(collection_why.air, places["Long bench"], clock.now())
    assert "13 h 00 ago" in late[0].text
    assert late[-1].text == "It is too old for drying times: enter a new one."
    none = running.desk.read(collection_why.air, places["North sill"], clock.now())
    assert none[0].text == "No air reading is written down here or around it."


def test_a_room_s_reading_holds_for_the_bench_in_it_and_says_so(desk: Desk) -> None:
    places = furnish(desk)
    inner = desk.run(collection.save_place, Place(0, "Tray", parent=places["Long bench"]))
    told = desk.read(collection_why.air, inner, desk.clock())
    assert told[1].text == "Tray has no reading of its own; that of Long bench, around it, holds."


def test_light_and_dusk_say_why(running: app.Program, qtbot: QtBot) -> None:
    running.window.day.click()
    told = words_of(box(running))
    assert "51.50 N, 0.00 E, time zone Europe/London" in told
    assert "goes under the horizon at 16:06" in told
    box(running).accept()
    running.desk.run(house.save_home, Home(40.0, -3.7, "Europe/Madrid"))
    assert "40.00 N, 3.70 W" in running.window.day.why()[0].text


@pytest.mark.parametrize(("days", "said"), [(0, "week 1"), (6, "week 1"), (7, "week 2")])
def test_the_first_seven_days_are_week_one(desk: Desk, clock: SteppedClock, days: int, said: str) -> None:
    furnish(desk)
    desk.run(collection.repot, 101, "pumice", "", True)
    clock.advance(timedelta(days=days).total_seconds())
    assert desk.read(collection_why.stage, 101, clock.now())[-1].text == f"So: settling, {said}."
