"""What the timeline is told of: lanes in house order, entries and care on them, bands, and entries found by words."""

from __future__ import annotations

from datetime import datetime, timedelta
from zoneinfo import ZoneInfo

import pytest

from greenhouse_desk.domain.bench import Run, Soak
from greenhouse_desk.domain.journal import Leaving, Left, Note, Part, Photo, Potted, Poured, Purpose, Settled, Treated
from greenhouse_desk.domain.timeline_sorts import Sort
from greenhouse_desk.domain.timeline_values import DAY, Band, Lane, Look
from greenhouse_desk.services import collection, records, timeline
from greenhouse_desk.services.clock import SteppedClock
from greenhouse_desk.services.desk import Desk, Done
from greenhouse_desk.store import bench, journal
from greenhouse_desk.store.engine import Session
from tests.builders import NOW
from tests.ui.house import disinfect, furnish, wet

AT = NOW.timestamp()


@pytest.fixture
def house(desk: Desk) -> Desk:
    furnish(desk)
    return desk


def lane(desk: Desk, plant: int) -> Lane:
    now = desk.clock()
    return desk.read(timeline.lanes, desk.read(timeline.roster, now), now, [plant])[plant]


def bands(desk: Desk, plant: int, look: Look) -> list[Band]:
    return [band for band in lane(desk, plant).bands if band.look is look]


def test_lanes_stand_in_house_order_those_that_left_last(house: Desk) -> None:
    house.run(records.add, 102, Left(Leaving.TRADED))
    roster = house.read(timeline.roster, NOW)
    assert [(head.number, head.place, head.left) for head in roster.heads] == [
        (101, "Long bench", False), (103, "Long bench", False), (104, "Long bench", False),
        (105, "North sill", False), (106, "Isolation shelf", False), (102, "Long bench", True)]
    assert roster.zone.key == "Europe/London"
    assert roster.oldest is not None


@pytest.mark.parametrize(("text", "numbers"), [
    ("101", {101}), ("101, 104-105", {101, 104, 105}), ("103 106", {103, 106}), ("cattleya", {102}),
    ("north sill", {105}), ("999", set()), ("10", {101, 102, 103, 104, 105, 106})])
def test_plants_are_asked_for_by_number_name_or_place(house: Desk, text: str, numbers: set[int]) -> None:
    assert house.read(timeline.found, text) == frozenset(numbers)


def test_without_a_word_all_are_meant(house: Desk) -> None:
    assert house.read(timeline.found, "  ") is None


def test_what_happened_lies_left_of_now_and_care_right_of_it_with_its_reasons(house: Desk) -> None:
    house.run(records.add, 101, Poured(250, feed=True), NOW - timedelta(days=3), "it drank it all")
    disinfect(house, 101)
    wet(house, 101)
    of = lane(house, 101)
    assert all(item.at <= AT for item in of.past.items)
    (pour,) = [item for item in of.past.items if item.sort is Sort.WATER and item.at < AT - DAY]
    assert (pour.title, pour.detail) == ("poured, with feed", "250 ml; it drank it all")
    assert of.ahead.items
    assert all(item.at >= AT and item.why and item.sort is Sort.CARE for item in of.ahead.items)
    hold = next(item for item in of.ahead.items if item.mark == "hold")
    assert hold.at - AT == pytest.approx(14 * DAY, abs=DAY)
    assert hold.latest >= hold.opens


def test_care_taken_back_with_its_entry_leaves_the_lane(house: Desk) -> None:
    disinfect(house, 101)
    entry = next(item.entry for item in lane(house, 101).past.items if item.sort is Sort.TREATMENT)
    house.run(records.withdraw, entry)
    assert lane(house, 101).ahead.items == ()
    assert bands(house, 101, Look.HOLD) == []


def test_an_entry_after_the_clock_was_set_back_stands_at_the_now_line(house: Desk, clock: SteppedClock) -> None:
    house.run(records.add, 101, Note("written by a wrong clock"))
    clock.advance(-7200)
    now = house.clock()
    notes = [item for item in lane(house, 101).past.items if item.sort is Sort.NOTE]
    assert [item.at for item in notes] == [now.timestamp()]


def test_the_stay_the_hold_and_the_soak_are_bands(house: Desk) -> None:
    house.run(collection.move, [101], 2, None)
    disinfect(house, 101)
    stays = bands(house, 101, Look.STAY)
    assert (stays[-1].title, stays[-1].end) == ("North sill", AT)
    (hold,) = bands(house, 101, Look.HOLD)
    assert hold.title == "plain water until 2 Dec"
    assert hold.start == AT
    (soak,) = bands(house, 101, Look.SOAK)
    assert (soak.title, soak.end - soak.start, soak.inner) == ("10 min", 600.0, (soak.end,))


def soaked(session: Session, now: object, minutes: float | None) -> Done[None]:
    """A soak of plant 101 at the bench, begun twenty minutes ago: kept for so long, or under way (None)."""
    begun = NOW - timedelta(minutes=20)
    ended = None if minutes is None else begun + timedelta(minutes=minutes)
    run = bench.add_run(session, bench.add_session(session, begun), Run(0, 101, "", "p", "P", (), "", "", 1))
    bench.add_soak(session, bench.unended(session)[0].id, Soak(
        0, "roots", "hydrogen-peroxide", begun, 600, 720, run, None, "", None, False))
    if ended is not None:
        bench.end_soak(session, bench.soaks(session)[0].id, ended)
    return Done("Soak", frozenset({"bench"}), None)


@pytest.mark.parametrize(("minutes", "told", "end"), [
    (11.0, "11 min of 10 to 12 min", 720), (None, "under way, 10 to 12 min", 1200)])
def test_a_soak_at_the_bench_shows_its_least_and_most(house: Desk, minutes: float | None, told: str,
                                                      end: float) -> None:
    house.run(soaked, minutes)
    (soak,) = bands(house, 101, Look.SOAK)
    assert (soak.title, soak.end - soak.start) == (told, end)
    assert [moment - soak.start for moment in soak.inner] == [600, 720, 660 if minutes else 1200]


def test_a_course_is_a_band_with_its_forecast_from_enough_others(house: Desk) -> None:
    for plant in (101, 102, 103, 104, 105):
        house.run(records.add, plant, Potted("bark"), NOW - timedelta(days=300))
        house.run(records.add, plant, Potted("clay pellets", transition=True), NOW - timedelta(days=200))
        house.run(records.add, plant, Settled(), NOW - timedelta(days=200 - plant))
    house.run(records.add, 106, Potted("bark"), NOW - timedelta(days=300))
    house.run(records.add, 106, Potted("clay pellets", transition=True), NOW - timedelta(days=40))
    assert bands(house, 101, Look.COURSE)[0].title == "bark to clay pellets, settled 11 Aug"
    (course,) = bands(house, 106, Look.COURSE)
    assert course.title == "bark to clay pellets, under way"
    assert (course.start, course.end) == (AT - 40 * DAY, AT), "from the potting's own hour until now"
    assert len(lane(house, 106).pottings) == 3
    (ahead,) = bands(house, 106, Look.FORECAST)
    assert ahead.title == "settled, likely 20 Jan"
    noon = datetime(2026, 10, 9, 12, tzinfo=ZoneInfo("Europe/London"))
    moments = (ahead.start, *ahead.inner, ahead.end)
    assert [datetime.fromtimestamp(moment, noon.tzinfo) - noon for moment in moments] == [
        timedelta(days=days) for days in (101, 102, 103, 104, 105)], "noons, though summer time ended in between"


def test_entries_are_found_by_their_words_and_days_newest_first(house: Desk) -> None:
    for days in (400, 30, 2):
        house.run(records.add, 103, Note("a new spike"), NOW - timedelta(days=days))
    house.run(records.add, 101, Photo("0" * 64, "spike.jpg"), NOW - timedelta(days=9))
    everyone = [101, 103]
    hits = house.read(timeline.search, everyone, "SPIKE")
    assert [(hit.plant, hit.at) for hit in hits] == [
        (103, NOW - timedelta(days=2)), (101, NOW - timedelta(days=9)), (103, NOW - timedelta(days=30)),
        (103, NOW - timedelta(days=400))]
    assert [hit.plant for hit in house.read(timeline.search, [101], "spike")] == [101]
    assert [hit.at for hit in house.read(timeline.search, everyone, "spike oct 2026")] == [NOW - timedelta(days=30)]
    assert house.read(timeline.search, everyone, "") == ()
    assert house.read(journal.one, hits[0].entry) is not None


def test_an_entry_that_reasons_name_is_found_by_its_number_alone(house: Desk) -> None:
    """Every "why?" ends in "journal entry 3699", and there was no way to it."""
    told = [house.run(records.add, 101, Note(f"entry {nth}"), NOW - timedelta(days=nth)) for nth in (1, 2)]
    for text in ("journal entry {}", "Entry {}", "entry  {} "):
        hits = house.read(timeline.search, [101, 103], text.format(told[1]))
        assert [hit.entry for hit in hits] == [told[1]]
    assert house.read(timeline.search, [103], f"journal entry {told[1]}") == (), "of the lanes shown"
    assert house.read(timeline.search, [101], "journal entry 99999") == ()
    assert house.read(timeline.day_asked, f"journal entry {told[1]}", NOW) is None


def test_a_day_is_looked_for_as_a_day(house: Desk) -> None:
    house.run(records.add, 101, Note("number 13 of this year"), NOW - timedelta(days=1))
    house.run(records.add, 101, Note("leans"), NOW - timedelta(days=5))
    day = house.read(timeline.day_asked, "13 november", NOW)
    assert day is not None
    assert [hit.at for hit in house.read(timeline.search, [101], "13 november", day)] == [NOW - timedelta(days=5)]
    assert house.read(timeline.day_asked, "spike", NOW) is None


def test_a_treatment_by_hand_without_minutes_is_no_band(house: Desk) -> None:
    house.run(records.add, 101, Treated("soap", Purpose.PEST_WASH, (Part.LEAVES,)))
    assert bands(house, 101, Look.SOAK) == []
