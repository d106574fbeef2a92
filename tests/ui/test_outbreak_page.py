"""Outbreaks and the trace they are opened from: what their buttons offer, whom they tell to inspect."""

from __future__ import annotations

from PySide6.QtWidgets import QPushButton
from pytestqt.qtbot import QtBot

from greenhouse_desk.domain.journal import Sighted
from greenhouse_desk.services import inspections, outbreaks
from greenhouse_desk.services.desk import Desk
from greenhouse_desk.services.shelf import shelf
from greenhouse_desk.ui import style
from greenhouse_desk.ui.quarantine.outbreak_page import OutbreakPage
from greenhouse_desk.ui.quarantine.screen import QuarantineScreen
from greenhouse_desk.ui.quarantine.trace_page import TracePage
from greenhouse_desk.ui.sides import Sides
from greenhouse_desk.ui.signals import Signals
from tests.builders import NOW, ago
from tests.services.outbreak_house import BUG, WASH, add, furnished
from tests.ui.house import pressed, words_of


def test_an_outbreak_that_goes_on_is_shown_and_its_plant_stands_where_it_was_moved(desk: Desk, qtbot: QtBot) -> None:
    places = furnished(desk)
    add(desk, 102, BUG, ago(days=9))
    page = TracePage(desk, style.palette(False))
    qtbot.addWidget(page)
    asked: list[str] = []
    page.outbreak_wanted.connect(lambda _plant, _what: asked.append("open"))
    page.outbreak_shown.connect(lambda: asked.append("show"))
    page.show_rows(())
    pressed(page, "Open an outbreak")
    desk.run(outbreaks.open_outbreak, 102, "mealybug", places["Shelf"])
    page.show_rows(())
    pressed(page, "See the outbreak")
    assert asked == ["open", "show"]
    laid = page.view.geometry_now()
    assert laid is not None
    assert laid.y_now(102) == next(row.y for row in laid.rows if row.place == places["Shelf"])


def test_inspected_next_are_those_the_find_can_have_met(desk: Desk, qtbot: QtBot) -> None:
    furnished(desk)
    add(desk, 102, BUG, ago(days=9))
    add(desk, 104, Sighted("thrips"), ago(days=5))
    page = TracePage(desk, style.palette(False))
    qtbot.addWidget(page)
    page.show_rows(desk.read(inspections.turns, NOW))
    told = {}
    for nth, find in enumerate(page.finds):
        page.box.setCurrentIndex(nth)
        told[find.plant] = [number for number in (101, 102, 103, 104)
                            if f"for {number}" in " ".join(made.accessibleName() for made in
                                                           page.findChildren(QPushButton) if made.isVisibleTo(page))]
    assert told == {102: [101, 103], 104: []}
    page.take(104)
    assert "No look at a plant it met would tell anything new today" in words_of(page)


def test_with_text_twice_as_large_nothing_is_cut_at_the_right(desk: Desk, qtbot: QtBot) -> None:
    furnished(desk)
    add(desk, 102, BUG, ago(days=9))
    made = QuarantineScreen(desk, Signals(), style.palette(False), shelf(None).pests)
    qtbot.addWidget(made)
    made.resize(600, 700)  # what the navigation leaves of 1366 pixels at 200 %
    made.show_now()
    with qtbot.waitExposed(made):
        made.show()
    sides = made.findChild(Sides)
    assert sides is not None
    both = sides.widget()
    assert both is not None
    for page in range(5):
        made.open_page(page)
        assert both.minimumSizeHint().width() <= sides.viewport().width(), page


def test_where_every_wash_was_given_none_is_urged(desk: Desk, qtbot: QtBot) -> None:
    furnished(desk)
    add(desk, 102, BUG, ago(days=60))
    for days in (55, 43, 31, 19):
        add(desk, 102, WASH, ago(days=days))
    desk.run(outbreaks.open_outbreak, 102, "mealybug")
    page = OutbreakPage(desk, style.palette(False))
    qtbot.addWidget(page)
    page.show_now()
    benched: list[dict[int, str]] = []
    page.to_wash.connect(benched.append)
    told = words_of(page)
    assert "No wash is owed: what is wanted now are looks." in told
    assert "a clean look before it no longer counts" in told
    pressed(page, "Wash 1 plant all the same")
    pressed(page, "Wash the exposed")
    assert [list(one) for one in benched] == [[102], [101, 103]]
    assert benched[0][102].endswith("every wash of its plan was given")
    add(desk, 102, BUG, NOW)
    page.show_now()
    assert "No wash is owed" not in words_of(page)
