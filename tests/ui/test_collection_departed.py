"""The drawer of a plant that is no longer here: first what became of it, and nothing as if it still stood there."""

from __future__ import annotations

from datetime import date

import pytest
from PySide6.QtCore import QPoint
from PySide6.QtWidgets import QLabel

from greenhouse_desk import app
from greenhouse_desk.domain.journal import Leaving, Sighted
from greenhouse_desk.services import collection, records
from greenhouse_desk.ui.collection.drawer import PlantDrawer
from greenhouse_desk.ui.collection.drawer_head import MarkedLine
from tests.ui.house import words_of


def from_the_top(drawer: PlantDrawer) -> list[str]:
    """What is read under the drawer's head, from above."""
    page = drawer._area.widget()
    assert page is not None
    page.grab()  # lays it out
    told = [(part.mapTo(page, QPoint(0, 0)).y(), part.text() if isinstance(part, QLabel) else part.accessibleName())
            for part in page.findChildren(QLabel) + page.findChildren(MarkedLine)]
    return [words for _y, words in sorted(told, key=lambda one: one[0]) if words]


@pytest.mark.parametrize(("how", "said"), [(Leaving.DEAD, "Dead, 16 Nov"), (Leaving.TRADED, "Traded, 16 Nov"),
                                           (Leaving.GIVEN_AWAY, "Given away, 16 Nov")])
def test_it_begins_with_what_became_of_the_plant_the_day_and_why(running: app.Program, how: Leaving,
                                                                 said: str) -> None:
    screen = running.collection
    running.desk.run(records.add, 101, Sighted("thrips", "adult", "spike", 2))
    running.desk.run(collection.part_with, 101, how, "a cold night by the open window", date(2026, 11, 16))
    screen.open_drawer(101)
    told = from_the_top(screen.drawer)
    assert told[:2] == [said, "a cold night by the open window"]
    whole = words_of(screen.drawer).splitlines()
    assert "no longer here" in whole
    assert "stood" in whole
    assert "stands" not in whole
    assert "Take to the bench" not in whole
    assert "no longer here" in screen.drawer.head.accessibleName()
    assert told.index("infested when it was last here") > told.index("stood")


def test_one_that_is_here_stands_where_it_stands(running: app.Program) -> None:
    running.collection.open_drawer(101)
    whole = words_of(running.collection.drawer).splitlines()
    assert "stands" in whole
    assert "no longer here" not in whole
