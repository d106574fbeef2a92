"""A damaged day of a logger's record: told by check and by its finding, while all other days still answer."""

from __future__ import annotations

from collections.abc import Callable
from datetime import UTC, datetime
from pathlib import Path

import pytest

from greenhouse_desk.domain.plants import Home, Place
from greenhouse_desk.services import air_import, air_takeout, backup, collection, findings, house
from greenhouse_desk.services.desk import Desk
from greenhouse_desk.services.findings import Question, Topic
from greenhouse_desk.store import air
from tests.builders import NOW
from tests.services.test_air_import import START, rows, take, written

Spoil = Callable[[str, str], None]
LOST = ("1 day of a logger is damaged and cannot be read, and is left out: {}. The logger's file taken in again mends "
        "it.")


@pytest.fixture
def sill(desk: Desk, tmp_path: Path) -> int:
    """A bench with two days of a logger, 17 and 18 November."""
    desk.run(house.save_home, Home(43.3, -8.2, "Europe/Madrid"))
    place = desk.run(collection.save_place, Place(0, "East sill"))
    take(desk, written(tmp_path / "a.csv", rows(230)), place)
    return place


@pytest.fixture
def spoil(desk: Desk) -> Spoil:
    """Damages a day's column, as a disk may."""
    def done(day: str, column: str) -> None:
        desk.store.raw.execute(f"UPDATE air_reading SET {column} = substr({column}, 1, 40) WHERE day = ?", (day,))

    return done


@pytest.mark.parametrize(("day", "left", "named"), [("2026-11-17", 86, "17 Nov 2026"), ("2026-11-18", 144,
                                                                                       "18 Nov 2026")])
def test_one_damaged_day_is_told_and_the_rest_answers(desk: Desk, sill: int, spoil: Spoil, day: str, left: int,
                                                      named: str) -> None:
    for column in ("packed", "halves"):
        spoil(day, column)
    (fault,) = backup.check(desk.store)
    assert fault.startswith(f"air of place {sill} on {day}: ")
    assert len(desk.read(air.record, sill, START)) == left
    assert desk.read(air.newest)[sill].logged
    (bench,) = desk.read(collection.overview, NOW).benches
    assert bench.air is not None
    found = desk.read(findings.answer, NOW, Question(Topic.AIR, place=sill))
    assert found.rests_on.startswith(f"{left} readings of a logger on ")
    assert found.summary.endswith(LOST.format(named))


def test_damaged_half_hours_are_made_anew_from_their_readings(desk: Desk, sill: int, spoil: Spoil) -> None:
    whole = desk.read(findings.answer, NOW, Question(Topic.AIR, place=sill))
    spoil("2026-11-17", "halves")
    assert desk.read(findings.answer, NOW, Question(Topic.AIR, place=sill)) == whole
    assert len(backup.check(desk.store)) == 1, "the check names it all the same"


def test_a_place_with_nothing_but_damaged_days_says_so(desk: Desk, sill: int) -> None:
    desk.store.raw.execute("UPDATE air_reading SET packed = '1:', halves = '1:'")
    assert sill not in desk.read(air.newest)
    assert [one.id for one in desk.read(findings.choices).places] == [sill]
    found = desk.read(findings.answer, NOW, Question(Topic.AIR, place=sill))
    assert found.summary.startswith("No air was read here yet. 2 days of a logger are damaged and cannot be read")


def test_the_file_taken_in_again_mends_the_day(desk: Desk, sill: int, spoil: Spoil, tmp_path: Path) -> None:
    whole = desk.read(air.record, sill, START)
    for column in ("packed", "halves"):
        spoil("2026-11-17", column)
    assert take(desk, tmp_path / "a.csv", sill).added == 144
    assert desk.read(air.record, sill, START) == whole
    assert backup.check(desk.store) == ()


def test_a_damaged_day_goes_when_it_is_taken_out_whole(desk: Desk, sill: int, spoil: Spoil) -> None:
    """By the home's clock its first hour lies on the day before."""
    spoil("2026-11-17", "packed")
    first, last = datetime(2026, 11, 17, tzinfo=UTC).date(), datetime(2026, 11, 18, tzinfo=UTC).date()
    desk.run(air_takeout.take_out, sill, last, last)
    assert len(backup.check(desk.store)) == 1, "the home's 18th holds only an hour of it"
    desk.run(air_takeout.take_out, sill, first, last)
    assert backup.check(desk.store) == ()
    assert desk.read(air_import.known_days, sill) == {}
