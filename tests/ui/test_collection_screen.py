"""The Collection screen as a grower works it: choosing, opening, moving, searching, answering care, writing down."""

from __future__ import annotations

from collections.abc import Iterator
from pathlib import Path

import pytest
from PySide6.QtCore import QModelIndex, QPoint, Qt
from PySide6.QtGui import QAccessible
from PySide6.QtTest import QAbstractItemModelTester, QTest
from PySide6.QtWidgets import QDialog, QMenu
from pytestqt.qtbot import QtBot

from greenhouse_desk import app
from greenhouse_desk.domain.journal import Kind, Leaving
from greenhouse_desk.services import collection
from greenhouse_desk.services.clock import SteppedClock
from greenhouse_desk.services.desk import Desk
from greenhouse_desk.store.engine import Store
from greenhouse_desk.ui.collection.drawer_journal import JournalLine
from greenhouse_desk.ui.collection.place_deeds import PlaceList
from greenhouse_desk.ui.collection.screen import CollectionScreen
from tests.ui.house import (
    disinfect,
    dragged,
    fill,
    form,
    furnish,
    order,
    picture,
    pressed,
    program,
    wet,
    words_of,
)

Key = Qt.Key
CTRL = Qt.KeyboardModifier.ControlModifier
PLAIN = Qt.KeyboardModifier.NoModifier
SHIFT = Qt.KeyboardModifier.ShiftModifier


@pytest.fixture
def places(store: Store, clock: SteppedClock) -> dict[str, int]:
    """The furnished house's benches by name."""
    return furnish(Desk(store, clock.now))


@pytest.fixture
def running(places: dict[str, int], store: Store, clock: SteppedClock, qtbot: QtBot) -> Iterator[app.Program]:
    """The whole program on the furnished house."""
    made = program(store, clock)
    qtbot.addWidget(made.window)
    with qtbot.waitExposed(made.window):
        made.window.show()
    yield made
    made.close()


@pytest.fixture
def screen(running: app.Program) -> CollectionScreen:
    """Its Collection screen."""
    return running.collection


def centre(screen: CollectionScreen, number: int) -> QPoint:
    """The middle of a plant's card in the viewport."""
    view = screen.view
    return view.visualRect(view.cards.index(view.cards.row_of(number))).center()


def test_cards_stand_in_house_order_and_say_everything_aloud(screen: CollectionScreen) -> None:
    view = screen.view
    assert [seat.number for seat in view.cards.seats] == [101, 102, 103, 104, 105, 106]
    spoken = view.cards.index(1).data(Qt.ItemDataRole.AccessibleTextRole)
    assert spoken == "102 Cattleya walkeriana 'Slate', Long bench, in clay pellets, nothing owed"
    told = QAccessible.queryAccessibleInterface(view)
    assert told.text(QAccessible.Text.Name) == "Plants by bench"
    assert told.childCount() >= 6


def test_the_models_keep_the_rules_of_models(screen: CollectionScreen, places: dict[str, int]) -> None:
    testers = [QAbstractItemModelTester(model, QAbstractItemModelTester.FailureReportingMode.Fatal)
               for model in (screen.view.cards, screen.strip.model)]
    wet(screen.deeds.desk, 101)
    disinfect(screen.deeds.desk, 102)
    screen.deeds.desk.run(collection.move, (101,), places["North sill"], None)
    assert [tester.model().rowCount() for tester in testers][:1] == [6]
    assert screen.strip.model.rowCount() > 1


def test_a_click_opens_the_drawer_and_escape_closes_it(screen: CollectionScreen) -> None:
    QTest.mouseClick(screen.view.viewport(), Qt.MouseButton.LeftButton, PLAIN, centre(screen, 102))
    assert screen.drawer_open()
    assert screen.drawer.head.accessibleName() == "102 Cattleya walkeriana 'Slate', Long bench"
    QTest.keyClick(screen.view, Key.Key_Escape)
    assert not screen.drawer_open()
    assert screen.view.numbers() == (102,)


def test_arrows_choose_and_enter_opens(screen: CollectionScreen) -> None:
    screen.view.setFocus()
    QTest.keyClick(screen.view, Key.Key_Right)
    QTest.keyClick(screen.view, Key.Key_Right)
    assert screen.view.numbers() == (103,)
    assert not screen.drawer_open()
    QTest.keyClick(screen.view, Key.Key_Down)
    assert screen.view.current_number() in (105, 106)
    QTest.keyClick(screen.view, Key.Key_Return)
    assert screen.drawer_open()
    before = screen.drawer.head.accessibleName()
    QTest.keyClick(screen.view, Key.Key_Up)
    assert screen.drawer.head.accessibleName() != before


def test_home_end_and_pages_reach_the_ends(screen: CollectionScreen) -> None:
    screen.view.choose(103)
    for key, number in ((Key.Key_End, 106), (Key.Key_Home, 101), (Key.Key_PageDown, 105), (Key.Key_PageUp, 101)):
        QTest.keyClick(screen.view, key)
        assert screen.view.current_number() == number, key


def test_several_are_chosen_and_taken_to_the_bench(running: app.Program) -> None:
    screen = running.collection
    asked: list[tuple[int, ...]] = []
    running.signals.to_bench.connect(asked.append)
    view = screen.view
    for number, modifier in ((101, PLAIN), (103, CTRL), (104, CTRL)):
        QTest.mouseClick(view.viewport(), Qt.MouseButton.LeftButton, modifier, centre(screen, number))
    assert view.numbers() == (101, 103, 104)
    assert "101, 103, 104 chosen" in words_of(screen.chosen_bar)
    pressed(screen.chosen_bar, "Take to the bench")
    assert asked == [(101, 103, 104)]
    assert running.window.current_title() == "Bench"


def test_shift_chooses_everything_between(screen: CollectionScreen) -> None:
    screen.view.choose(101)
    QTest.keyClick(screen.view, Key.Key_Right, SHIFT)
    QTest.keyClick(screen.view, Key.Key_Right, SHIFT)
    assert screen.view.numbers() == (101, 102, 103)
    pressed(screen.chosen_bar, "Let go")
    assert screen.view.numbers() == ()


def test_a_card_is_dragged_along_its_bench_and_to_another(screen: CollectionScreen, places: dict[str, int]) -> None:
    view = screen.view
    dragged(view.viewport(), centre(screen, 104), centre(screen, 101) - QPoint(30, 0))
    assert order(screen.deeds.desk)[0] == [104, 101, 102, 103]
    dragged(view.viewport(), centre(screen, 102), centre(screen, 106) + QPoint(30, 0))
    assert order(screen.deeds.desk) == [[104, 101, 103], [105], [106, 102]]
    assert view.numbers() == (102,)


def test_a_drag_that_ends_nowhere_moves_nothing(screen: CollectionScreen) -> None:
    view = screen.view
    dragged(view.viewport(), centre(screen, 104), centre(screen, 104) + QPoint(3, 0))
    view.verticalScrollBar().setValue(0)
    assert order(screen.deeds.desk)[0] == [101, 102, 103, 104]


def test_control_arrows_move_a_plant_along_and_across(screen: CollectionScreen) -> None:
    screen.view.choose(102)
    QTest.keyClick(screen.view, Key.Key_Left, CTRL)
    assert order(screen.deeds.desk)[0] == [102, 101, 103, 104]
    QTest.keyClick(screen.view, Key.Key_Right, CTRL)
    assert order(screen.deeds.desk)[0] == [101, 102, 103, 104]
    QTest.keyClick(screen.view, Key.Key_Down, CTRL)
    assert order(screen.deeds.desk) == [[101, 103, 104], [105, 102], [106]]
    assert screen.view.current_number() == 102


def test_move_to_a_bench_by_the_list(screen: CollectionScreen, places: dict[str, int]) -> None:
    screen.view.choose(101)
    QTest.keyClick(screen.view, Key.Key_Right, SHIFT)
    pressed(screen.chosen_bar, "Move to…")
    fill(place=places["North sill"])
    assert order(screen.deeds.desk) == [[103, 104], [105, 101, 102], [106]]
    screen.open_drawer(103)
    pressed(screen.drawer, "Move to…")
    fill(place=places["North sill"])
    assert order(screen.deeds.desk) == [[104], [105, 101, 102, 103], [106]]


def test_search_finds_and_enter_goes_from_one_to_the_next(screen: CollectionScreen) -> None:
    screen.toolbar.take_focus()
    QTest.keyClicks(screen.toolbar.search, "catt")
    assert "1 found" in words_of(screen.toolbar)
    assert [screen.view._look(row).found for row in range(6)] == [False, True, False, False, False, False]
    QTest.keyClick(screen.toolbar.search, Key.Key_Return)
    assert screen.view.numbers() == (102,)
    screen.toolbar.search.setText("long bench")
    assert "4 found" in words_of(screen.toolbar)
    QTest.keyClick(screen.toolbar.search, Key.Key_Return)
    QTest.keyClick(screen.toolbar.search, Key.Key_Return)
    assert screen.view.numbers() == (102,)
    QTest.keyClick(screen.toolbar.search, Key.Key_Escape)
    assert screen.view._look(0).found is None


def test_the_register_shows_every_plant_and_goes_to_the_one_pressed(screen: CollectionScreen) -> None:
    disinfect(screen.deeds.desk, 103)
    assert screen.register.accessibleDescription() == "6 plants, 1 hold"
    QTest.mouseClick(screen.register, Qt.MouseButton.LeftButton, PLAIN, QPoint(4 + 2 * 4 + 1, 12))
    assert screen.drawer.head.accessibleName().startswith("103 ")


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


@pytest.mark.parametrize(("kind", "values", "title"), [
    (Kind.NOTE, {"text": "leans to the left"}, "note"),
    (Kind.LOOKED, {"clean": True, "lens": "10x"}, "clean look"),
    (Kind.SIGHTED, {"what": "mealybug", "stage": "adult", "where": "leaf axil", "count": 3}, "mealybug seen"),
    (Kind.ROOTS, {"living": 7, "dead": 2, "new_tips": 3, "removed_percent": 10}, "roots: 7 living, 2 dead"),
    (Kind.POURED, {"feed": True, "half_strength": True, "ml": 300}, "poured, half-strength feed"),
    (Kind.POTTED, {"medium": "pumice", "pot": "clear pot 12 cm", "transition": True}, "potted in pumice"),
])
def test_entries_are_written_by_hand(screen: CollectionScreen, kind: Kind, values: dict[str, object],
                                     title: str) -> None:
    screen.open_drawer(101)
    screen.entries.add(kind, 101)
    fill(**values)
    lines = screen.drawer.findChildren(JournalLine)
    assert title in [line.line.title for line in lines]


def test_an_entry_is_corrected_withdrawn_and_brought_back(running: app.Program) -> None:
    screen = running.collection
    screen.open_drawer(101)
    screen.entries.add(Kind.POURED, 101)
    fill(ml=250)
    entry = screen.drawer.drawer.lines[0].entry  # type: ignore[union-attr]
    screen.entries.correct(entry)
    assert form().rows.values()["ml"] == 250
    fill(ml=300)
    assert "300 ml" in words_of(screen.drawer)
    screen.entries.withdraw(screen.drawer.drawer.lines[0].entry)  # type: ignore[union-attr]
    assert "300 ml" not in words_of(screen.drawer)
    running.window.undo()
    assert "300 ml" in words_of(screen.drawer)


def test_a_photo_comes_in_off_the_window(running: app.Program, tmp_path: Path, qtbot: QtBot) -> None:
    screen = running.collection
    screen.open_drawer(101)
    with qtbot.waitSignal(running.signals.changed, timeout=20_000):
        screen.entries.take_photos(101, [picture(tmp_path / "leaf.png")])
    photo = screen.view.cards.seats[0].card.plant.photo
    assert photo is not None
    qtbot.waitUntil(lambda: screen.view._photo(screen.view.cards.seats[0]) is not None, timeout=20_000)


def test_what_is_no_photo_is_refused_and_nothing_is_written(running: app.Program, tmp_path: Path,
                                                            qtbot: QtBot) -> None:
    screen, bad = running.collection, tmp_path / "leaf.png"
    bad.write_text("no picture")
    with qtbot.waitSignal(running.signals.refused, timeout=20_000):
        screen.entries.take_photos(101, [bad])
    assert running.window.messages.isVisible()
    assert screen.view.cards.seats[0].card.plant.photo is None


def test_a_plant_is_added_edited_and_parted_with(running: app.Program, places: dict[str, int]) -> None:
    screen = running.collection
    pressed(screen.toolbar, "Add a plant…")
    assert form().rows.values()["number"] == 107
    fill(name="Vanda coerulea", place=places["North sill"], medium="clay pellets", source="a friend")
    assert order(running.desk)[1] == [105, 107]
    screen.open_drawer(107)
    assert "a friend" in words_of(screen.drawer)
    pressed(screen.drawer, "Edit…")
    fill(name="Vanda coerulea 'Wren'")
    assert screen.drawer.head.accessibleName().startswith("107 Vanda coerulea 'Wren'")
    pressed(screen.drawer, "Part with…")
    fill(how=Leaving.GIVEN_AWAY, reason="to a neighbour")
    assert order(running.desk)[1] == [105]
    assert "given away" in words_of(screen.drawer)


def test_a_plant_that_left_is_still_found_and_opened(running: app.Program) -> None:
    screen = running.collection
    running.desk.run(collection.part_with, 102, Leaving.DEAD, "crown rot")
    screen.toolbar.search.setText("slate")
    assert "0 found, 1 left the collection" in words_of(screen.toolbar)
    QTest.keyClick(screen.toolbar.search, Key.Key_Return)
    assert screen.drawer.head.accessibleName().startswith("102 ")
    assert "crown rot" in words_of(screen.drawer)


def test_a_number_that_is_taken_is_refused_in_the_form_and_what_was_typed_stays(screen: CollectionScreen) -> None:
    screen.deeds.add()
    shown = fill(number=101, name="Vanda coerulea")
    assert shown.isVisible()
    assert "Number 101 is taken" in words_of(shown)
    assert shown.rows.values()["name"] == "Vanda coerulea"
    shown.reject()


def test_places_are_added_nested_and_removed(screen: CollectionScreen) -> None:
    pressed(screen.toolbar, "Places…")
    shown = screen.window().findChild(PlaceList)
    assert isinstance(shown, QDialog)
    pressed(shown, "Add a place…")
    fill(name="Glasshouse", bench=False)
    house = next(place for place in screen.places.places() if place.name == "Glasshouse")
    screen.places.edit(None)
    fill(name="Staging", parent=house.id, isolation=True)
    assert "Glasshouse" in words_of(shown)
    assert screen.view.benches()[-1].path == "Glasshouse, Staging"
    screen.places.remove(next(place.id for place in screen.places.places() if place.name == "Staging"))
    assert screen.view.benches()[-1].place.name == "Isolation shelf"
    shown.accept()


def test_removing_a_bench_with_plants_is_refused_in_the_bar(running: app.Program, places: dict[str, int]) -> None:
    running.collection.places.remove(places["Long bench"])
    assert "4 plants stand on Long bench" in words_of(running.window.messages)


def test_air_is_read_by_hand_from_the_bench_s_head(screen: CollectionScreen, places: dict[str, int]) -> None:
    menu = screen.places.menu(places["North sill"], QPoint(10, 10))
    assert isinstance(menu, QMenu)
    menu.actions()[0].trigger()
    fill(temp_c=18.9, rh=64, speed=0.1)
    air = next(bench.air for bench in screen.view.benches() if bench.place.name == "North sill")
    assert air is not None
    assert (air.temp_c, air.rh, air.air_speed_m_s) == (18.9, 0.64, 0.1)


def test_an_empty_bench_says_so_and_offers_to_fill_itself(screen: CollectionScreen, places: dict[str, int]) -> None:
    screen.deeds.desk.run(collection.move, (105,), places["Isolation shelf"], None)
    pressed(screen.view.viewport(), "Place a plant")
    assert form().rows.values()["place"] == places["North sill"]
    form().reject()


def test_the_dense_view_stands_and_keeps_the_chosen(screen: CollectionScreen, qtbot: QtBot) -> None:
    screen.view.choose(106)
    tall = screen.view.visualRect(screen.view.currentIndex()).height()
    with qtbot.waitSignal(screen.dense_changed):
        pressed(screen.toolbar, "Dense")
    assert screen.view.visualRect(screen.view.currentIndex()).height() < tall / 3
    assert screen.view.numbers() == (106,)


def test_an_empty_collection_says_what_is_missing(store: Store, clock: SteppedClock, qtbot: QtBot) -> None:
    made = program(store, clock)
    qtbot.addWidget(made.window)
    made.window.show()
    assert "No benches yet" in words_of(made.collection)
    pressed(made.collection._empty, "Add a place…")
    fill(name="Long bench")
    assert made.collection.view.isVisible()
    made.close()


def test_in_a_narrow_window_care_and_drawer_take_the_benches_place(running: app.Program) -> None:
    screen = running.collection
    wet(running.desk, 101)
    running.window.resize(683, 384)
    assert not screen.strip.isVisible()
    screen.toolbar.care_button.click()
    assert screen.strip.isVisible()
    assert not screen.view.isVisible()
    screen.toolbar.care_button.click()
    assert screen.view.isVisible()
    screen.open_drawer(101)
    assert screen.drawer.isVisible()
    assert screen.drawer.width() == screen.width()
    pressed(screen.drawer, "Close")
    assert screen.view.isVisible()


def test_unknown_rows_are_no_plants(screen: CollectionScreen) -> None:
    assert screen.view.cards.data(QModelIndex()) is None
    screen.view.choose(999)
    assert screen.view.numbers() == ()
