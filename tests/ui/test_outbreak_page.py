"""The page of outbreaks: what its buttons offer once every wash of the plan was given."""

from __future__ import annotations

from pytestqt.qtbot import QtBot

from greenhouse_desk.services import outbreaks
from greenhouse_desk.services.desk import Desk
from greenhouse_desk.ui import style
from greenhouse_desk.ui.quarantine.outbreak_page import OutbreakPage
from tests.builders import NOW, ago
from tests.services.outbreak_house import BUG, WASH, add, furnished
from tests.ui.house import pressed, words_of


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
