"""Years of genera in a collection: listed by what grows there, kept in the home's months, undone, carried, checked."""

from __future__ import annotations

from datetime import timedelta

import pytest

from greenhouse_desk.domain.care import CareKind
from greenhouse_desk.domain.courses_start import Answer
from greenhouse_desk.domain.faults import Refused
from greenhouse_desk.domain.journal import Flowering, Phase, Resting, Stage
from greenhouse_desk.domain.plants import Home
from greenhouse_desk.domain.year import GenusYear, Stretch
from greenhouse_desk.services import backup, care, collection, house, records, transitions_start, years
from greenhouse_desk.services.collection import NewPlant
from greenhouse_desk.services.desk import Desk
from tests.builders import NOW

SOUTH = Home(-36.8, 174.8, "Pacific/Auckland")
MINE = GenusYear("Cattleya", rest=Stretch(11, 12), dry=True)


@pytest.fixture
def cattleya(desk: Desk) -> int:
    return desk.run(collection.add_plant, NewPlant("C. walkeriana", 101, medium="bark"))


def row(desk: Desk, genus: str) -> years.Row:
    return next(one for one in desk.read(years.rows) if one.genus == genus)


def kinds(desk: Desk) -> set[CareKind]:
    return {one.kind for one in desk.read(care.due, NOW)}


def test_genera_that_grow_here_come_first_and_short_forms_are_known(desk: Desk, cattleya: int) -> None:
    first, second = desk.read(years.rows)[:2]
    assert (first.genus, first.plants, first.own, first.shipped, second.plants) == ("Cattleya", 1, False, True, 0)
    assert len(desk.read(years.rows)) > 40


def test_a_year_of_ones_own_is_kept_speaks_in_the_care_and_is_undone(desk: Desk, cattleya: int) -> None:
    assert CareKind.DRY_REST not in kinds(desk)
    desk.run(years.save, MINE)
    assert row(desk, "Cattleya").own
    assert CareKind.DRY_REST in kinds(desk)
    deed = desk.undo()
    assert deed is not None
    assert deed.label == "Year of Cattleya"
    assert CareKind.DRY_REST not in kinds(desk)


def test_in_the_south_a_year_is_shown_and_kept_in_the_months_of_the_home(desk: Desk) -> None:
    desk.run(house.save_home, SOUTH)
    desk.run(years.save, MINE)
    assert row(desk, "Cattleya").year == GenusYear("Cattleya", rest=Stretch(11, 12), dry=True)
    desk.run(house.save_home, Home(40.0, 0.0, "UTC"))
    assert row(desk, "Cattleya").year == GenusYear("Cattleya", rest=Stretch(5, 6), dry=True)


def test_going_back_brings_the_shipped_year_again(desk: Desk) -> None:
    shipped = row(desk, "Cattleya").year
    desk.run(years.save, MINE)
    desk.run(years.forget, "Cattleya")
    assert (row(desk, "Cattleya").year, row(desk, "Cattleya").own) == (shipped, False)
    with pytest.raises(Refused, match="no year of your own"):
        desk.run(years.forget, "Cattleya")


def test_what_does_not_go_together_is_refused_and_nothing_kept(desk: Desk) -> None:
    for wrong in (GenusYear("Cattleya", dry=True), GenusYear("my orchids")):
        with pytest.raises(Refused, match="does not go together"):
            desk.run(years.save, wrong)
    assert not any(one.own for one in desk.read(years.rows))


def test_a_spoilt_year_counts_as_none_and_the_check_tells(desk: Desk) -> None:
    desk.store.raw.execute("INSERT INTO house (name, value) VALUES ('year of Cattleya', '[1]')")
    assert not row(desk, "Cattleya").own
    (fault,) = backup.check(desk.store)
    assert "Cattleya" in fault


@pytest.mark.parametrize(("facts", "question"), [
    (Flowering(Stage.BUDS), "Free of spikes and buds?"), (Resting(Phase.BEGINS), "Out of its rest?")])
def test_spikes_and_rest_written_down_speak_in_the_transition_check(desk: Desk, cattleya: int,
                                                                    facts: Flowering | Resting, question: str) -> None:
    def asked() -> Answer:
        start = desk.read(transitions_start.asked, cattleya, NOW)
        return next(one.answer for one in start.asked if one.question == question)

    before = asked()
    desk.run(records.add, cattleya, facts, NOW - timedelta(days=20))
    assert (before, asked()) == (Answer.UNKNOWN, Answer.NO)
    desk.undo()
    assert asked() is Answer.UNKNOWN
