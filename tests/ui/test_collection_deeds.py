"""Plants added, edited, moved and parted with, and places, from the Collection screen."""

from __future__ import annotations

from PySide6.QtCore import QPoint, Qt
from PySide6.QtTest import QTest
from PySide6.QtWidgets import QDialog, QMenu

from greenhouse_desk import app
from greenhouse_desk.domain.journal import Leaving, Sighted, Unpotted
from greenhouse_desk.services import collection, records
from greenhouse_desk.ui.collection.place_deeds import PlaceList
from greenhouse_desk.ui.collection.screen import CollectionScreen
from tests.ui.house import fill, form, order, pressed, words_of

Key = Qt.Key


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


def test_parting_warns_of_what_stands_against_it_asks_why_and_lets_the_grower_go_on(running: app.Program) -> None:
    screen = running.collection
    running.desk.run(records.add, 103, Sighted("thrips"))
    running.desk.run(records.add, 101, Unpotted())
    for number, said in ((103, "It is infested: thrips seen on 18 Nov 2026"), (101, "It is owed: pot up today"),
                         (102, "It is exposed: ")):
        shown = screen.deeds.part(number)
        assert said in words_of(shown)
        assert "before trading says: It does not pass" in words_of(shown)
        shown.reject()
    screen.deeds.part(103).resize(460, 324)
    assert form().height() == 324, "a low screen keeps the buttons; what is told scrolls"
    shown = fill(how=Leaving.TRADED)
    assert "A reason is missing" in words_of(shown)
    fill(reason="to a friend who was told")
    assert order(running.desk)[0] == [101, 102, 104]


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


def test_air_that_nobody_read_is_not_written(running: app.Program, screen: CollectionScreen,
                                             places: dict[str, int]) -> None:
    asked = screen.places.air(places["Long bench"])
    assert (asked.rows.values()["temp_c"], asked.rows.values()["rh"]) == (None, None), "no figure is put into a mouth"
    before = next(bench.air for bench in screen.view.benches() if bench.place.name == "Long bench")
    pressed(asked, "Write it down")
    assert "Temperature and humidity were not both told." in words_of(asked) + words_of(running.window.messages)
    assert next(bench.air for bench in screen.view.benches() if bench.place.name == "Long bench") == before
    asked.reject()


def test_an_empty_bench_says_so_and_offers_to_fill_itself(screen: CollectionScreen, places: dict[str, int]) -> None:
    screen.deeds.desk.run(collection.move, (105,), places["Isolation shelf"], None)
    pressed(screen.view.viewport(), "Place a plant")
    assert form().rows.values()["place"] == places["North sill"]
    form().reject()
