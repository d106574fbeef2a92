"""The Collection screen as a grower works it: choosing, opening, dragging, searching, wide and narrow."""

from __future__ import annotations

from PySide6.QtCore import QEvent, QModelIndex, QPoint, Qt
from PySide6.QtGui import QAccessible
from PySide6.QtTest import QAbstractItemModelTester, QTest
from PySide6.QtWidgets import QMenu
from pytestqt.qtbot import QtBot

from greenhouse_desk import app
from greenhouse_desk.services import collection
from greenhouse_desk.services.collection import NewPlant
from greenhouse_desk.ui.collection.screen import CollectionScreen
from tests.ui.house import disinfect, dragged, fill, mouse, order, pressed, wet, words_of

Key = Qt.Key
CTRL = Qt.KeyboardModifier.ControlModifier
PLAIN = Qt.KeyboardModifier.NoModifier
SHIFT = Qt.KeyboardModifier.ShiftModifier


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


def test_a_drag_back_to_where_it_stood_writes_nothing(screen: CollectionScreen) -> None:
    view, desk = screen.view, screen.deeds.desk
    last = desk.next_undo()
    for end in (centre(screen, 102) + QPoint(20, 0), centre(screen, 103) - QPoint(30, 0), centre(screen, 101) + QPoint(
            30, 0)):
        dragged(view.viewport(), centre(screen, 102), end)
        assert desk.next_undo() == last
    assert order(desk)[0] == [101, 102, 103, 104]


def test_a_card_in_hand_says_and_shows_where_it_would_go(screen: CollectionScreen) -> None:
    view = screen.view
    mouse(view.viewport(), QEvent.Type.MouseButtonPress, centre(screen, 104))
    for end, words, shown in ((centre(screen, 102) - QPoint(20, 0), "to Long bench, before 102", True),
                              (centre(screen, 105) + QPoint(30, 0), "to the end of North sill", True),
                              (centre(screen, 104) + QPoint(20, 0), "stays where it is", False)):
        mouse(view.viewport(), QEvent.Type.MouseMove, end)
        scene = view._scene()
        assert scene.ghost is not None
        assert scene.ghost.words == words
        assert (scene.bar is not None) is shown
    QTest.keyClick(view, Key.Key_Escape)
    assert view._scene().ghost is None


def test_moving_by_keys_is_told_beside_the_search_on_the_card_and_in_its_menu(screen: CollectionScreen) -> None:
    screen.view.choose(102)
    assert "Ctrl with an arrow moves 102" in words_of(screen.toolbar)
    assert "Ctrl with an arrow" in screen.view.cards.index(1).data(Qt.ItemDataRole.ToolTipRole)
    screen._on_menu(QPoint(10, 10))
    menu = screen.findChildren(QMenu)[-1]
    moves = {action.text(): action for action in menu.actions()}
    moves["Move to the left\tCtrl+Left"].trigger()
    assert order(screen.deeds.desk)[0] == [102, 101, 103, 104]
    menu.close()


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


def test_typing_a_number_brings_its_card_into_sight_and_enter_opens_it(screen: CollectionScreen,
                                                                       places: dict[str, int]) -> None:
    for _ in range(30):
        screen.deeds.desk.run(collection.add_plant, NewPlant("Stelis gelida", place=places["Isolation shelf"]))
    assert 136 not in screen.view.numbers_in_sight()
    screen.toolbar.take_focus()
    QTest.keyClicks(screen.toolbar.search, "136")
    assert 136 in screen.view.numbers_in_sight()
    QTest.keyClick(screen.toolbar.search, Key.Key_Return)
    assert screen.view.numbers() == (136,)
    assert screen.drawer.head.accessibleName().startswith("136 ")
    screen.view.verticalScrollBar().setValue(0)
    screen.deeds.desk.run(collection.edit_plant, 101, name="Stelis")
    assert 136 not in screen.view.numbers_in_sight(), "what changes elsewhere does not pull the page away"


def test_the_register_shows_every_plant_and_goes_to_the_one_pressed(screen: CollectionScreen) -> None:
    disinfect(screen.deeds.desk, 103)
    assert screen.register.accessibleDescription() == "6 plants, 1 hold"
    QTest.mouseClick(screen.register, Qt.MouseButton.LeftButton, PLAIN, QPoint(4 + 2 * 4 + 1, 12))
    assert screen.drawer.head.accessibleName().startswith("103 ")


def test_the_dense_view_stands_and_keeps_the_chosen(screen: CollectionScreen, qtbot: QtBot) -> None:
    screen.view.choose(106)
    tall = screen.view.visualRect(screen.view.currentIndex()).height()
    with qtbot.waitSignal(screen.dense_changed):
        pressed(screen.toolbar, "Dense")
    assert screen.view.visualRect(screen.view.currentIndex()).height() < tall / 3
    assert screen.view.numbers() == (106,)


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
