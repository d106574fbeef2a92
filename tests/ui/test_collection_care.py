"""Care on the Collection screen: its turns in the strip, the countdown, answers in the drawer, and why."""

from __future__ import annotations

from datetime import date, timedelta

from PySide6.QtCore import Qt
from PySide6.QtTest import QTest

from greenhouse_desk import app
from greenhouse_desk.domain.journal import Cut, Dressed, Part, Unpotted
from greenhouse_desk.services import records
from greenhouse_desk.services.clock import SteppedClock
from greenhouse_desk.ui.collection.care_rows import Heading, spoken
from greenhouse_desk.ui.collection.screen import CollectionScreen
from tests.ui.house import disinfect, fill, form, pressed, wet, words_of


def test_a_wet_crown_counts_down_and_the_strip_answers_it(running: app.Program, clock: SteppedClock) -> None:
    screen = running.collection
    wet(running.desk, 101, pool=True)
    box = screen.strip._box
    assert "blot first" in box.accessibleName()
    pressed(screen.strip, "Blotted")
    assert "put the fan on" in box.accessibleName()
    pressed(screen.strip, "Fan on")
    assert "air is on" in box.accessibleName()
    pressed(screen.strip, "Crown dry")
    assert not screen.strip._urgent.isVisible()
    assert running.desk.next_undo().label.startswith("101: crown dry")  # type: ignore[union-attr]


def test_care_in_the_drawer_is_answered_and_says_why(running: app.Program) -> None:
    screen = running.collection
    disinfect(running.desk, 102)
    screen.open_drawer(102)
    hold = screen.drawer.panels()[0]
    assert "plain" in hold.row.what.lower()
    pressed(hold, "why?")
    assert "14 days" in words_of(hold)
    pressed(hold, "Decline…")
    fill(reason="")
    assert "reason" in words_of(form()).lower()
    fill(reason="the roots never touched peroxide")
    assert all(not panel.row.care.hold for panel in screen.drawer.panels())


def test_care_that_was_put_off_says_so_in_strip_drawer_and_undo(running: app.Program) -> None:
    screen = running.collection
    running.desk.run(records.add, 103, Unpotted())
    screen.open_drawer(103)
    pressed(screen.drawer.panels()[0], "Put off…")
    fill(until=date(2026, 11, 21), reason="no pellets")
    said = "Put off from 18 Nov to 21 Nov"
    assert said in words_of(screen.drawer.panels()[0])
    (row,) = screen.strip.model.cares()
    assert row.last == said
    assert said in spoken(row)
    assert running.desk.next_undo().label == "103: pot up, put off until 21 Nov"  # type: ignore[union-attr]


def test_the_keyboard_stays_where_it_was_when_the_drawer_is_read_anew(running: app.Program) -> None:
    screen = running.collection
    disinfect(running.desk, 102)
    screen.open_drawer(102)
    screen.drawer.panels()[0].why_button.setFocus()
    wet(running.desk, 104)
    assert running.window.focusWidget() is screen.drawer.panels()[0].why_button


def test_words_that_time_changes_are_read_again(running: app.Program, clock: SteppedClock) -> None:
    screen = running.collection
    wet(running.desk, 101)
    card = screen.view.cards.seats[0].card
    assert card.words is not None
    assert card.words.mark == "drying"
    clock.advance(41 * 60)
    running.collection.tick(clock.now())
    card = screen.view.cards.seats[0].card
    assert card.words is not None
    assert card.words.text.startswith("wet past dusk")


def test_open_reasons_stay_open_when_something_else_changes(running: app.Program) -> None:
    screen = running.collection
    disinfect(running.desk, 102)
    screen.open_drawer(102)
    pressed(screen.drawer.panels()[0], "why?")
    wet(running.desk, 104)
    assert screen.drawer.panels()[0].why_button.isChecked()


def told(screen: CollectionScreen) -> list[str]:
    """The strip's rows as they are spoken, headings by their word alone."""
    model = screen.strip.model
    return [row.word if isinstance(row, Heading) else f"{row.care.plant} {row.brief}, {row.when}" for row in model.rows]


def press(screen: CollectionScreen, spoken: str) -> None:
    """Press the strip's row that is spoken so."""
    model, shown = screen.strip.model, screen.strip.list
    row = next(row for row in range(model.rowCount()) if spoken in model.index(row).data())
    shown.scrollTo(model.index(row))
    at = shown.visualRect(model.index(row)).center()
    QTest.mouseClick(shown.viewport(), Qt.MouseButton.LeftButton, Qt.KeyboardModifier.NoModifier, at)


def test_who_needs_hands_tonight_stands_first_with_where_and_why(running: app.Program, clock: SteppedClock) -> None:
    desk, screen = running.desk, running.collection
    desk.run(records.add, 104, Cut(Part.SPIKE), clock.now() - timedelta(days=10))
    desk.run(records.add, 104, Dressed(), clock.now() - timedelta(days=10))
    disinfect(desk, 102)
    desk.run(records.add, 103, Unpotted())
    wet(desk, 101)
    wet(desk, 105, pool=True)
    assert screen.strip._first is not None
    assert screen.strip._first.plant == 105, "a pool before all: it does not dry by itself"
    assert told(screen)[:5] == ["Now", "101 Air until dry, crown dry by 16:06", "103 Pot up, today", "Today",
                                "104 Cut check, today"]
    spoken = [screen.strip.model.index(row).data() for row in range(screen.strip.model.rowCount())]
    assert spoken[2] == ("103 Oncidium sphacelatum, Long bench, today: Pot it up, because 18 Nov 15:30: taken out "
                         "of its pot")
    assert "4 plants need hands today" in words_of(screen.strip)


def test_holds_stand_apart_folded_and_open_when_pressed(running: app.Program) -> None:
    screen = running.collection
    water = "102 Plain water, until 2 Dec"
    disinfect(running.desk, 102)
    assert told(screen) == ["Later", "Holds"]
    press(screen, "Holds, 1 thing, what must not be given, folded")
    assert told(screen) == ["Later", "Holds", water]
    wet(running.desk, 101)
    assert told(screen)[-1] == water, "what was opened stays open"
    press(screen, "Holds")
    assert told(screen)[-1] == "Holds"


def test_a_row_opens_its_plant_at_its_why(running: app.Program) -> None:
    screen = running.collection
    running.desk.run(records.add, 103, Unpotted())
    press(screen, "103 ")
    assert screen.drawer_open()
    (panel,) = [panel for panel in screen.drawer.panels() if panel.why_button.isChecked()]
    assert panel.row.care.plant == 103
    assert "taken out of its pot" in words_of(panel)


def test_a_row_opens_it_from_its_beginning_and_says_whose_it_is(running: app.Program) -> None:
    """In a low window the head goes out of sight; number and name then stand above the page."""
    screen = running.collection
    running.desk.run(records.add, 103, Unpotted())
    running.window.resize(1366, 480)
    press(screen, "103 ")
    QTest.qWait(0)
    drawer = screen.drawer
    (panel,) = [panel for panel in drawer.panels() if panel.why_button.isChecked()]
    assert panel.visibleRegion().boundingRect().top() == 0, "what was asked is seen from its beginning"
    page = drawer._area.verticalScrollBar()
    page.setValue(page.maximum())
    assert not drawer.head.visibleRegion().boundingRect().isValid()
    assert drawer._who.isVisible()
    assert drawer._who.accessibleName() == "103 Oncidium sphacelatum"
    page.setValue(0)
    assert not drawer._who.isVisible()
    assert "Long bench" in words_of(drawer)


def test_the_countdown_says_why(running: app.Program) -> None:
    wet(running.desk, 101)
    pressed(running.collection.strip, "why?")
    assert "crown" in words_of(running.collection.drawer.panels()[0]).lower()
    assert running.collection.drawer.panels()[0].why_button.isChecked()


def test_in_a_narrow_window_what_is_most_in_need_stays_in_sight(running: app.Program) -> None:
    screen = running.collection
    running.window.resize(683, 384)
    assert not screen.urgent.isVisible(), "nothing is owed today"
    running.desk.run(records.add, 103, Unpotted())
    wet(running.desk, 105, pool=True)
    assert screen.urgent.isVisible()
    assert screen.urgent.accessibleName().startswith("105 Epidendrum porpax, blot first, by 16:06")
    assert "and 1 more today" in words_of(screen.urgent)
    assert screen.toolbar.care_button.text() == "Today 2"
    pressed(screen.urgent, "Show")
    assert screen.strip.isVisible()
    assert not screen.urgent.isVisible(), "the whole list is there"
    assert "blot first, by 16:06" in words_of(screen.strip), "what is to be done first stays, even where the bar goes"
    assert screen.toolbar.care_button.isChecked()
    running.window.resize(1366, 768)
    assert not screen.urgent.isVisible()


def test_what_is_owed_tonight_stands_on_top_of_the_drawer(running: app.Program, clock: SteppedClock) -> None:
    screen = running.collection
    disinfect(running.desk, 101)
    running.desk.run(records.add, 101, Unpotted())
    screen.open_drawer(101)
    assert "Care today" in words_of(screen.drawer)
    clock.advance(2 * 3600)
    screen.show_now()
    told = words_of(screen.drawer)
    assert "hands tonight" in words_of(screen.strip), "from the evening on"
    assert screen.toolbar.care_button.text() == "Tonight 1"
    assert told.index("Care tonight") < told.index("Pot it up") < told.index("Take to the bench") < told.index(
        "Care ahead") < told.index("Plain low-salt water")
