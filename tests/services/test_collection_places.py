"""Places and what stands on them: benches in house order, moving along and across, air, and what places may be."""

from __future__ import annotations

from datetime import time, timedelta

import pytest

from greenhouse_desk.domain.faults import Refused
from greenhouse_desk.domain.plants import Place
from greenhouse_desk.services import collection, exchange
from greenhouse_desk.services.collection import NewPlant, Overview
from greenhouse_desk.services.desk import Desk
from tests.builders import NOW


def _bench(desk: Desk, name: str = "Long shelf", **more: object) -> int:
    return desk.run(collection.save_place, Place(0, name, **more))  # type: ignore[arg-type]


def _add(desk: Desk, number: int, place: int | None = None, name: str = "Phalaenopsis amabilis") -> int:
    return desk.run(collection.add_plant, NewPlant(name, number, place=place))


def _overview(desk: Desk) -> Overview:
    return desk.read(collection.overview, desk.clock())


def _order(desk: Desk, place: int) -> list[int]:
    bench = next(bench for bench in _overview(desk).benches if bench.place.id == place)
    return [card.plant.number for card in bench.cards]


def test_plants_stand_in_the_order_they_were_put(desk: Desk) -> None:
    shelf = _bench(desk)
    for number in (101, 102, 103, 104):
        _add(desk, number, shelf)
    desk.run(collection.move, [104, 103], shelf, 101)
    assert _order(desk, shelf) == [104, 103, 101, 102]
    desk.run(collection.move, [104], shelf)
    assert _order(desk, shelf) == [103, 101, 102, 104]


def test_moving_to_the_same_spot_for_ever_keeps_the_order(desk: Desk) -> None:
    shelf = _bench(desk)
    for number in (101, 102, 103):
        _add(desk, number, shelf)
    for turn in range(60):
        desk.run(collection.move, [103 if turn % 2 else 102], shelf, 102 if turn % 2 else 103)
    assert _order(desk, shelf) == [101, 103, 102]


def test_a_move_is_undone_by_its_label_after_a_restart(desk: Desk, reopened: object) -> None:
    low, high = _bench(desk, "Low"), _bench(desk, "High")
    _add(desk, 101, low)
    desk.run(collection.move, [101], high)
    again = reopened()  # type: ignore[operator]
    deed = again.next_undo()
    assert deed is not None
    assert deed.label == "Move 101 to High"
    again.undo()
    assert _order(again, low) == [101]
    again.redo()
    assert _order(again, high) == [101]


def test_benches_come_in_house_order_with_their_air(desk: Desk) -> None:
    room = _bench(desk, "Attic", bench=False, position=2)
    shelf = _bench(desk, "Beam", parent=room)
    _bench(desk, "Sill", position=1)
    desk.run(collection.record_air, room, 20.5, 0.55, 0.1, NOW - timedelta(hours=30))
    desk.run(collection.record_air, room, 21.5, 0.5, 0.2)
    sill, beam = _overview(desk).benches
    assert (sill.path, sill.air, beam.path, beam.place.id) == ("Sill", None, "Attic, Beam", shelf)
    assert beam.air is not None
    assert beam.air.temp_c == pytest.approx(21.5)
    assert len(beam.trace) == 1, "older than a day is no trace"


@pytest.mark.parametrize(("temp", "rh", "speed"), [(99.0, 0.5, None), (20.0, 55.0, None), (20.0, 0.5, -1.0),
                                                   (float("nan"), 0.5, None)])
def test_air_that_cannot_be_is_refused(desk: Desk, temp: float, rh: float, speed: float | None) -> None:
    shelf = _bench(desk)
    with pytest.raises(Refused):
        desk.run(collection.record_air, shelf, temp, rh, speed)


def test_a_place_cannot_lie_in_itself(desk: Desk) -> None:
    outer = _bench(desk, "Outer")
    inner = _bench(desk, "Inner", parent=outer)
    with pytest.raises(Refused, match="cannot lie in itself"):
        desk.run(collection.save_place, Place(outer, "Outer", parent=inner))
    with pytest.raises(Refused, match="cannot lie in itself"):
        desk.run(collection.save_place, Place(outer, "Outer", parent=outer))


def test_places_side_by_side_need_different_names(desk: Desk) -> None:
    _bench(desk, "Sill")
    with pytest.raises(Refused, match="already"):
        _bench(desk, "sill ")
    with pytest.raises(Refused, match="no name"):
        _bench(desk, "a > b")


def test_a_place_goes_only_when_nothing_tells_of_it(desk: Desk) -> None:
    shelf, spare, room = _bench(desk), _bench(desk, "Spare"), _bench(desk, "Room")
    _bench(desk, "Inside", parent=room)
    _add(desk, 101, shelf)
    with pytest.raises(Refused, match="1 plants stand"):
        desk.run(collection.remove_place, shelf)
    with pytest.raises(Refused, match="holds other places"):
        desk.run(collection.remove_place, room)
    desk.run(collection.move, [101], spare)
    with pytest.raises(Refused, match="journal tells"):
        desk.run(collection.remove_place, shelf)
    lamp = _bench(desk, "Lamp", lights_out=time(21, 30))
    desk.run(collection.remove_place, lamp)
    assert "Lamp" not in {place.name for place in desk.read(collection.places_of)}


def test_a_room_without_a_bench_takes_no_plants(desk: Desk) -> None:
    room = _bench(desk, "Hall", bench=False)
    with pytest.raises(Refused, match="no bench"):
        _add(desk, 101, room)
    shelf = _bench(desk)
    _add(desk, 102, shelf)
    with pytest.raises(Refused, match="Plants stand on"):
        desk.run(collection.save_place, Place(shelf, "Long shelf", bench=False))


def test_a_homeless_plant_is_shown_apart(desk: Desk) -> None:
    _bench(desk)
    _add(desk, 101)
    seen = _overview(desk)
    assert [card.plant.number for card in seen.homeless] == [101]
    assert seen.benches[0].cards == ()


@pytest.mark.parametrize(("numbers", "before"), [
    ([102], 103), ([103], None), ([101, 102], 103), ([101, 102, 103], None)])
def test_a_move_to_where_it_stands_writes_nothing(desk: Desk, numbers: list[int], before: int | None) -> None:
    shelf = _bench(desk)
    for number in (101, 102, 103):
        _add(desk, number, shelf)
    last, heard = desk.next_undo(), len(desk.read(collection.drawer, 102, NOW).lines)
    desk.run(collection.move, numbers, shelf, before)
    assert desk.next_undo() == last
    assert len(desk.read(collection.drawer, 102, NOW).lines) == heard
    assert _order(desk, shelf) == [101, 102, 103]


def test_a_list_and_the_command_line_read_the_way_to_a_place_alike(desk: Desk) -> None:
    """The whole way before all, else where a way ends so: a way that leaves the house out makes no second room."""
    keys: dict[str, int] = {}
    for name, parent in (("House", ""), ("Hall", "House"), ("Sill", "Hall"), ("Loft", ""), ("Tray", "Loft"),
                         ("Sill", "")):
        keys[f"{parent} > {name}"] = desk.run(collection.save_place, Place(0, name, next(
            (key for way, key in keys.items() if parent and way.endswith(f"> {parent}")), None)))
    for cell, way in (("hall > SILL", "Hall > Sill"), ("House>Hall>Sill", "Hall > Sill"), ("Sill", " > Sill"),
                      ("Tray", "Loft > Tray"), ("loft > tray", "Loft > Tray")):
        assert collection.place_named(desk.read(collection.places_of), cell) == keys[way]
        desk.run(exchange.take_in, exchange.parse_list(f"number,name,place\n102,Stelis gelida,{cell}\n".encode()))
        assert desk.read(collection.one, 102).place == keys[way]
    assert len(desk.read(collection.places_of)) == len(keys), "nothing new was made"
