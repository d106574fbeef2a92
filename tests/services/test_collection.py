"""The collection's verbs and questions, asked the way a grower would."""

from __future__ import annotations

from datetime import date, timedelta

import pytest

from greenhouse_desk.domain.faults import Refused
from greenhouse_desk.domain.journal import Cut, Kind, Leaving, Looked, Part, Potted, Sighted, Unpotted, Wetted
from greenhouse_desk.domain.plants import Habit, Place
from greenhouse_desk.services import collection, records
from greenhouse_desk.services.clock import SteppedClock
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


def test_the_first_plant_is_101_and_the_next_one_more(desk: Desk) -> None:
    first = desk.run(collection.add_plant, NewPlant("Stelis gelida"))
    second = desk.run(collection.add_plant, NewPlant("Stelis gelida"))
    assert (first, second) == (101, 102)


def test_a_plant_keeps_what_was_said_of_it(desk: Desk) -> None:
    shelf = _bench(desk)
    desk.run(collection.add_plant, NewPlant("Vanda  falcata", 7, Habit.MONOPODIAL, shelf, "bark", "9 cm", None,
                                            "a fair", date(2025, 2, 1), "leans"))
    drawer = desk.read(collection.drawer, 7, NOW)
    plant = drawer.card.plant
    assert (plant.name, plant.habit, plant.medium, plant.pot, plant.notes) == (
        "Vanda  falcata", Habit.MONOPODIAL, "bark", "9 cm", "leans")
    assert (plant.acquired_on, plant.potted_on) == (date(2025, 2, 1), None), "a day nobody told is not made up"
    assert (drawer.source_name, drawer.place_path) == ("a fair", "Long shelf")
    assert drawer.care == (), "what a plant came in owes nothing"


@pytest.mark.parametrize("number", [0, -3, 1_000_000])
def test_a_number_that_cannot_be_is_refused(desk: Desk, number: int) -> None:
    with pytest.raises(Refused, match="cannot be number"):
        _add(desk, number)


def test_a_number_once_given_is_never_given_again(desk: Desk) -> None:
    _add(desk, 101)
    desk.run(collection.part_with, 101, Leaving.DEAD, "rot")
    with pytest.raises(Refused, match=r"101 is taken.*dead.*next free number is 102"):
        _add(desk, 101)


@pytest.mark.parametrize("name", ["", "   ", "Vanda\nfalcata", "V" * 401])
def test_a_name_that_is_none_is_refused_and_nothing_is_written(desk: Desk, name: str) -> None:
    with pytest.raises(Refused):
        _add(desk, 101, name=name)
    assert desk.read(collection.next_number) == 101
    assert desk.next_undo() is None


def test_an_unknown_place_is_refused_with_the_whole_plant(desk: Desk) -> None:
    with pytest.raises(Refused, match="no such place"):
        _add(desk, 101, place=99)
    assert desk.read(collection.find, "101") == ()


def test_a_day_to_come_is_refused(desk: Desk) -> None:
    tomorrow = (NOW + timedelta(days=1)).date()
    with pytest.raises(Refused, match="still to come"):
        desk.run(collection.add_plant, NewPlant("Vanda", 101, acquired_on=tomorrow))


def test_a_plant_that_left_is_counted_and_cannot_be_moved(desk: Desk) -> None:
    shelf = _bench(desk)
    _add(desk, 101, shelf)
    desk.run(collection.part_with, 101, Leaving.TRADED, "for a Stelis", NOW.date())
    seen = _overview(desk)
    assert (seen.departed, seen.benches[0].cards) == (1, ())
    with pytest.raises(Refused, match="has left"):
        desk.run(collection.move, [101], shelf)
    with pytest.raises(Refused, match="has left"):
        desk.run(collection.part_with, 101, Leaving.DEAD, "rot")


def test_a_plant_cannot_leave_before_it_came(desk: Desk) -> None:
    desk.run(collection.add_plant, NewPlant("Vanda", 101, acquired_on=NOW.date()))
    with pytest.raises(Refused, match="came after that day") as told:
        desk.run(collection.part_with, 101, Leaving.DEAD, "rot", NOW.date() - timedelta(days=2))
    assert told.value.detail == "It arrived on 18 Nov 2026."


def test_a_plant_does_not_leave_without_a_reason(desk: Desk) -> None:
    _add(desk, 101, _bench(desk))
    with pytest.raises(Refused, match="A reason is missing"):
        desk.run(collection.part_with, 101, Leaving.GIVEN_AWAY, "  ")
    assert _overview(desk).departed == 0


def test_editing_changes_only_what_is_named(desk: Desk) -> None:
    desk.run(collection.add_plant, NewPlant("Vanda", 101, source="a fair", notes="tall"))
    desk.run(collection.edit_plant, 101, name="Vanda falcata", acquired_on=date(2024, 5, 6))
    drawer = desk.read(collection.drawer, 101, NOW)
    plant = drawer.card.plant
    assert (plant.name, plant.notes, drawer.source_name, plant.acquired_on) == (
        "Vanda falcata", "tall", "a fair", date(2024, 5, 6))


def test_editing_a_plant_to_what_it_is_changes_nothing(desk: Desk) -> None:
    desk.run(collection.add_plant, NewPlant("Vanda", 101, source="a fair", acquired_on=NOW.date(), notes="tall"))
    before = desk.read(collection.drawer, 101, NOW).lines
    desk.run(collection.edit_plant, 101, "Vanda", None, "tall", "a fair", NOW.date())
    assert desk.read(collection.drawer, 101, NOW).lines == before


def test_a_transition_shows_its_week_until_about_four_months(desk: Desk, clock: SteppedClock) -> None:
    _add(desk, 101, _bench(desk))
    desk.run(collection.repot, 101, "clay pellets", "12 cm", True)
    stages = []
    for _ in range(3):
        stages.append(_overview(desk).benches[0].cards[0].stage)
        clock.advance(56 * 86400)
    assert stages == ["settling, week 1", "settling, week 9", ""]


def test_an_isolation_place_counts_the_days_here(desk: Desk, clock: SteppedClock) -> None:
    apart, shelf = _bench(desk, "Tray", isolation=True), _bench(desk)
    _add(desk, 101, shelf)
    desk.run(collection.move, [101], apart)
    clock.advance(10 * 86400)
    desk.run(collection.move, [101], apart, None)
    assert [card.stage for bench in _overview(desk).benches for card in bench.cards] == ["day 10 here"]


def test_the_card_shows_the_most_urgent_care_in_words(desk: Desk) -> None:
    _add(desk, 101, _bench(desk))
    desk.run(records.add, 101, Wetted((Part.LEAVES, Part.CROWN)))
    card = _overview(desk).benches[0].cards[0]
    assert card.care is not None
    assert card.words is not None
    assert card.care.kind.value == "air until dry"


def test_a_wet_crown_stands_on_the_card_before_a_look_that_fell_due_earlier(desk: Desk) -> None:
    _add(desk, 101, _bench(desk))
    desk.run(records.add, 101, Cut(Part.SPIKE), NOW - timedelta(days=3))
    desk.run(records.add, 101, Wetted((Part.CROWN,)))
    overview = _overview(desk)
    assert overview.care[0].kind.value == "dress the cut"
    card = overview.benches[0].cards[0]
    assert card.care is not None
    assert card.care.kind.value == "air until dry"


def test_what_is_owed_is_grouped_by_when_it_needs_hands(desk: Desk) -> None:
    shelf = _bench(desk)
    for number in (101, 102, 103):
        _add(desk, number, shelf)
    desk.run(records.add, 103, Unpotted(), NOW - timedelta(days=1))
    desk.run(records.add, 101, Cut(Part.SPIKE), NOW - timedelta(hours=2))
    desk.run(records.add, 102, Wetted((Part.CROWN,)))
    seen = _overview(desk)
    assert [care.plant for care in seen.turns[0][1]] == [102, 103, 101]
    assert [turn.value for turn, _ in seen.turns] == ["now", "this week", "later"]
    assert sorted(care.plant for _, cares in seen.turns for care in cares) == sorted(care.plant for care in seen.care)
    card = seen.benches[0].cards[2]
    assert card.words is not None
    assert (card.words.mark, card.words.text) == ("over", "pot up since 17 Nov")


def test_a_sighting_shows_on_the_card_and_on_its_neighbour(desk: Desk) -> None:
    shelf = _bench(desk)
    for number in (101, 102):
        _add(desk, number, shelf)
    desk.run(records.add, 101, Sighted("thrips", "adult", "spike", 2))
    assert [card.standing.word for card in _overview(desk).benches[0].cards] == ["infested", "exposed"]


def test_finding_by_number_name_slip_and_place(desk: Desk) -> None:
    sill = _bench(desk, "East sill")
    _add(desk, 101, sill, "Masdevallia coccinea")
    _add(desk, 110, None, "Phalaenopsis amabilis 'Wren'")
    _add(desk, 11, None, "Stelis gelida")
    found = {text: desk.read(collection.find, text) for text in
             ("11", "1", "masdevalia", "wren", "east", "  ", "quercus", "AMABILIS")}
    assert found == {"11": (11, 110), "1": (11, 101, 110), "masdevalia": (101,), "wren": (110,), "east": (101,),
                     "  ": (), "quercus": (), "AMABILIS": (110,)}


def test_the_drawer_tells_the_journal_newest_first(desk: Desk, clock: SteppedClock) -> None:
    _add(desk, 101, _bench(desk))
    clock.advance(86400)
    desk.run(records.add, 101, Looked(True, "10x"))
    lines = desk.read(collection.drawer, 101, clock.now()).lines
    assert [line.entry.kind for line in lines] == [Kind.LOOKED, Kind.PLACED]
    with pytest.raises(Refused, match="no plant 999"):
        desk.read(collection.drawer, 999, NOW)


def test_repotting_needs_a_medium(desk: Desk) -> None:
    _add(desk, 101)
    with pytest.raises(Refused, match="medium is empty"):
        desk.run(collection.repot, 101, "  ")
    desk.run(collection.repot, 101, "pumice", "9 cm", day=date(2026, 11, 1))
    drawer = desk.read(collection.drawer, 101, NOW)
    assert drawer.card.plant.potted_on == date(2026, 11, 1)
    assert isinstance(drawer.lines[0].entry.facts, Potted)
