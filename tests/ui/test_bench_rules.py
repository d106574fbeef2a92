"""What the bench pages say against a rule, and where the keyboard begins: too late to dry, a move that should wait."""

from __future__ import annotations

from collections.abc import Iterator
from datetime import timedelta
from pathlib import Path

import pytest
from PySide6.QtTest import QTest
from pytestqt.qtbot import QtBot

from greenhouse_desk.domain.journal import Overruled, Part, Purpose, Treated
from greenhouse_desk.services import collection, records
from greenhouse_desk.services.clock import SteppedClock
from greenhouse_desk.services.collection import NewPlant
from greenhouse_desk.services.desk import Desk
from greenhouse_desk.store import journal
from tests.ui.bench_opened import K, Opened, furnished, pick, press, type_number, words_of


@pytest.fixture
def opened(qtbot: QtBot, desk: Desk, clock: SteppedClock, tmp_path: Path) -> Iterator[Opened]:
    furnished(desk, clock)
    desk.run(collection.add_plant, NewPlant("Laelia purpurata", 105, medium="fir bark"))
    made = Opened(desk, clock, tmp_path)
    yield made
    made.close()


def test_where_nothing_asks_nothing_is_chosen_and_the_grower_picks(opened: Opened) -> None:
    chooser = opened.screen.chooser
    chooser.search.setText("101")
    QTest.keyClick(chooser.search, K.Key_Return)
    row = chooser.chosen.rows[101]
    assert row.box.currentIndex() == -1
    assert "Nothing is proposed: nothing is owed that needs the bench: choose what you want." in words_of(row)
    assert not chooser.go_button.isEnabled()
    assert chooser.go_button.text() == "Choose a protocol for 101 first"
    pick(opened, 101, "Spike cut")
    assert chooser.go_button.isEnabled()


def test_a_wash_that_is_not_due_is_said_and_stays_out_unless_it_is_ticked(opened: Opened) -> None:
    opened.desk.run(records.add, 104, Treated("alcohol-soap-wash", Purpose.PEST_WASH, (Part.LEAVES,)),
                    opened.clock.now() - timedelta(days=1))
    opened.screen.show_now()
    type_number(opened, 104)
    row, before = opened.screen.chooser.chosen.rows[104], opened.screen.before
    assert row.wash.isVisibleTo(row)
    press(opened.screen.chooser.go_button)
    assert "104: wash not due yet: from " in before.notes.text()
    assert "alcohol-and-soap" not in before.chart.accessibleDescription()
    press(before.back_button)
    row.wash.toggle()
    press(opened.screen.chooser.go_button)
    assert "alcohol-and-soap" in before.chart.accessibleDescription()
    assert "washed all the same" in before.notes.text()


def test_too_late_to_dry_the_keyboard_begins_at_the_way_back_and_it_is_said_when_it_would_go(opened: Opened) -> None:
    type_number(opened, 104)
    pick(opened, 104, "Pest wash")
    before = opened.screen.before
    press(opened.screen.chooser.go_button)
    assert before.lead is before.back_button
    assert before.possible.text().startswith(("Possible another day: with the fan on, rinse by ", "In this air"))
    press(before.back_button)
    pick(opened, 104, "Tools and pots")
    press(opened.screen.chooser.go_button)
    assert before.lead is before.begin_button
    assert not before.possible.isVisibleTo(before)


def test_ticks_are_kept_while_the_choice_stands_and_with_the_session_once_it_has_begun(opened: Opened) -> None:
    type_number(opened, 101)
    press(opened.screen.chooser.go_button)
    before, chooser = opened.screen.before, opened.screen.chooser
    press(before.kit.rows[0].box)
    ticked = before.kit.rows[0].box.accessibleName()
    press(before.back_button)
    pick(opened, 101, "Spike cut")
    press(chooser.go_button)
    press(before.back_button)
    pick(opened, 101, "Root trim and repot")
    press(chooser.go_button)
    assert [row.box.accessibleName() for row in before.kit.rows if row.box.isChecked()] == [ticked]
    press(before.begin_button)
    noted = [entry.note or getattr(entry.facts, "text", "") for entry in opened.desk.read(journal.everything)]
    assert any(text.startswith(f"Laid out before the start: {ticked}. Not ticked: ") for text in noted)
    assert not any(row.box.isChecked() for row in before.kit.rows), "the next session is laid out anew"


def test_a_move_says_whether_it_may_start_and_wants_a_reason_where_it_should_wait(opened: Opened) -> None:
    type_number(opened, 105)
    pick(opened, 105, "Transition repot")
    row, before = opened.screen.chooser.chosen.rows[105], opened.screen.before
    assert row.may.text().startswith("May it start? Better not yet: ")
    assert "short days" in row.may.text()
    press(opened.screen.chooser.go_button)
    assert not before.begin_button.isEnabled()
    assert before.begin_button.text() == "Not now: a move should wait"
    assert "short days" in before.notes.text()
    press(before.back_button)
    row.reason.setText("the bark has gone sour")
    row.reason.editingFinished.emit()
    press(opened.screen.chooser.go_button)
    press(before.begin_button)
    assert opened.screen.mode is not None
    (said,) = [entry.facts for entry in opened.desk.read(journal.of_plant, 105) if isinstance(entry.facts, Overruled)]
    assert said.reason == "the bark has gone sour"
