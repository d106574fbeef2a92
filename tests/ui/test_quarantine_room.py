"""Room on the Quarantine screen: what must happen is read whole, and a short page is no longer than it needs."""

from __future__ import annotations

from datetime import date

import pytest
from PySide6.QtWidgets import QListView, QSizePolicy, QStyleOptionViewItem
from pytestqt.qtbot import QtBot

from greenhouse_desk.domain.journal import Sighted
from greenhouse_desk.domain.names import parse
from greenhouse_desk.services.desk import Desk
from greenhouse_desk.ui.drawing import width_of
from greenhouse_desk.ui.quarantine import status_list
from greenhouse_desk.ui.quarantine.screen import BUYING, OUTBREAKS, TRACE, QuarantineScreen
from greenhouse_desk.ui.style import sans
from tests.services.outbreak_house import WASH, add
from tests.ui.test_quarantine_screen import screen, signals

__all__ = ["screen", "signals"]


def test_every_word_of_what_must_happen_has_room(screen: QuarantineScreen, desk: Desk) -> None:
    add(desk, 102, WASH)
    view, model = screen.list, screen.model
    assert isinstance(view, QListView)
    assert len(model.rows) > 2
    width = view.viewport().width() - 6 - status_list.NUMBER_WIDTH - 4
    for nth, row in enumerate(model.rows):
        lines = status_list._lines(row.next, width)
        assert " ".join(lines) == row.next, "nothing is cut"
        hint = view.itemDelegate().sizeHint(QStyleOptionViewItem(), model.index(nth))
        assert hint.height() >= 22 + len(lines) * status_list.LINE + 27
        assert view.visualRect(model.index(nth)).height() == hint.height()
    assert max(len(status_list._lines(row.next, width)) for row in model.rows) > 2, "some need more than two lines"


@pytest.mark.parametrize("width", [208, 222, 300, 600])
@pytest.mark.parametrize("needed", [1, 2, 3, 5, 6])
def test_the_looks_and_the_day_at_the_foot_of_a_row_do_not_touch(needed: int, width: int, qtbot: QtBot) -> None:
    row = status_list.StatusRow(130, parse("Phalaenopsis"), "exposed", "thrips", "", 0, needed, date(2027, 12, 28),
                                date(2026, 11, 27))
    ringed, words = status_list.beside_day(row, width)
    used = status_list.rings_wide(needed) if ringed else 0.0
    assert words.startswith(f"0 of {needed}")
    assert ringed or words == row.looks, "what is not drawn is told in full"
    assert used + width_of(words, sans(13)) + width_of(row.release, sans(13, 600)) + 8 <= width


def test_only_the_page_in_front_counts_for_the_height(screen: QuarantineScreen) -> None:
    for number in (OUTBREAKS, BUYING, TRACE):
        screen.open_page(number)
        pages = (screen.trace, screen.round, screen.outbreaks, screen.buying, screen.trading)
        assert [page.sizePolicy().verticalPolicy() is not QSizePolicy.Policy.Ignored for page in pages] == [
            nth == number for nth in range(5)]


def test_a_virus_suspect_is_told_to_wait_for_a_test_not_for_looks(screen: QuarantineScreen, desk: Desk) -> None:
    add(desk, 104, Sighted("virus-signs", "streaks or rings"))
    words = {row.plant: row.words for row in screen.model.rows}
    assert words[104].endswith("a test tells, no day known")
    assert "0 of 2 looks" in words[102]


def test_a_day_that_another_pest_sets_is_told_as_the_day_of_all(screen: QuarantineScreen, desk: Desk) -> None:
    """A row that said "clear on 4 Dec" beside "not before 30 Dec" contradicted itself."""
    add(desk, 102, Sighted("thrips", "adult", "flowers", 3))
    told = {row.plant: (row.next, row.release) for row in screen.model.rows}
    assert told[102] == ("wash it and keep it apart; clear on 21 Dec at the earliest", "all not before 30 Dec")
    assert told[101][1] == "not before 30 Dec", "the same day for all that holds it back"
