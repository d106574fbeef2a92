"""The sheets say what the journal owes: the round, the shelf map and the sitter's sheet compared with the care list."""

from __future__ import annotations

from datetime import UTC, date, datetime, timedelta

import pytest

from greenhouse_desk.domain.care import TONIGHT, CareKind
from greenhouse_desk.domain.faults import Refused
from greenhouse_desk.domain.journal import (
    Cut,
    Dry,
    Looked,
    Part,
    Phase,
    Potted,
    Purpose,
    Resting,
    Settled,
    Sighted,
    Treated,
    Wetted,
)
from greenhouse_desk.domain.plants import Place
from greenhouse_desk.domain.sitter import LOOKS, Rest
from greenhouse_desk.domain.year import GenusYear, Stretch
from greenhouse_desk.services import (
    bench_pages,
    care,
    collection,
    records,
    round_sheet,
    shelf_map,
    sitter_pages,
    sitter_sheet,
    years,
)
from greenhouse_desk.services.clock import SteppedClock
from greenhouse_desk.services.collection import NewPlant
from greenhouse_desk.services.desk import Desk
from greenhouse_desk.services.page_flow import Margins
from tests.builders import NOW, ago
from tests.services.sheet_checks import faults, measure, words

TODAY, LAST = date(2026, 11, 18), date(2026, 12, 1)
PEROXIDE = Treated("hydrogen-peroxide", Purpose.ROOT_DISINFECTION, (Part.ROOTS,), 3.0)


@pytest.fixture
def house(desk: Desk) -> Desk:
    """An isolation tray that comes first in the house, and a long bench: 101 apart, 102 to 107 on the bench."""
    tray = desk.run(collection.save_place, Place(0, "Apart tray", position=1, isolation=True))
    bench = desk.run(collection.save_place, Place(0, "Long bench", position=2))
    for number in range(101, 108):
        place = tray if number == 101 else bench
        desk.run(collection.add_plant, NewPlant("Phalaenopsis amabilis", number, place=place))
    for number in (101, 102):
        desk.run(records.add, number, Wetted((Part.CROWN,)), ago(days=2))
        desk.run(records.add, number, Dry(), ago(days=1))
        desk.run(records.add, number, Looked(True), ago(days=3))
    desk.run(records.add, 103, PEROXIDE, ago(days=4))
    for number in (104, 105, 106, 107):
        desk.run(records.add, number, Potted("clay pellets", transition=True), ago(days=16))
    return desk


def test_the_round_lists_what_needs_hands_today_isolation_last(house: Desk) -> None:
    made = house.read(round_sheet.todays_round, NOW)
    assert [(part.place, part.isolation) for part in made.parts] == [("Long bench", False), ("Apart tray", True)]
    turns = dict(house.read(collection.overview, NOW).turns)
    owed = {one.plant for turn in TONIGHT for one in turns.get(turn, ())}
    assert {stop.number for part in made.parts for stop in part.stops} == owed
    assert made.parts[0].feet == ("Plain water only, no feed, besides: 103.",)
    assert all(stop.tasks for part in made.parts for stop in part.stops)
    said = words(round_sheet.pages(made, measure))
    assert said[0] == "Round of 18 Nov 2026"
    assert " ".join(said).count("Apart tray, isolation") == 1
    assert round_sheet.LAST in " ".join(said)


def test_a_plant_that_rests_dry_is_never_told_to_be_watered(house: Desk) -> None:
    house.run(records.add, 103, Resting(Phase.BEGINS, dry=True), ago(days=1))
    bench = house.read(collection.overview, NOW).benches[1].place.id
    house.run(collection.add_plant, NewPlant("Phalaenopsis amabilis", 108, place=bench))
    house.run(records.add, 108, PEROXIDE, ago(days=4))
    made = house.read(round_sheet.todays_round, NOW)
    assert made.parts[0].feet == ("Rest dry, do not water: 103.", "Plain water only, no feed, besides: 108.")
    said = " ".join(words(round_sheet.pages(made, measure)))
    assert "Rest dry, do not water: 103." in said


def test_a_round_with_nothing_to_do_says_so(desk: Desk) -> None:
    made = desk.read(round_sheet.todays_round, NOW)
    assert "Nothing needs hands today." in words(round_sheet.pages(made, measure))


def test_a_round_of_looks_walks_the_plants_named_in_their_order(house: Desk) -> None:
    made = house.read(round_sheet.round_of_looks, NOW, (104, 102, 101))
    assert [stop.number for part in made.parts for stop in part.stops] == [104, 102, 101]
    assert [part.isolation for part in made.parts] == [False, True]
    said = words(round_sheet.pages(made, measure))
    assert said.count("clean") == 3
    assert "never looked at" in " ".join(said)
    assert "15 Nov 2026" in " ".join(said)


def test_the_shelf_map_follows_the_benches_in_order(house: Desk) -> None:
    house.run(collection.move, [107], house.read(collection.overview, NOW).benches[1].place.id, 102)
    made = house.read(shelf_map.shelf_map, NOW)
    seen = house.read(collection.overview, NOW)
    assert [[number for number, _ in bench.plants] for bench in made.benches] == [
        [card.plant.number for card in row.cards] for row in seen.benches]
    said = words(shelf_map.pages(made, measure))
    assert [text for text in said if text.isdecimal()] == ["101", "107", "102", "103", "104", "105", "106"]
    assert "Apart tray, isolation" in said


def test_the_sitter_takes_looks_only_and_every_other_care_is_left(house: Desk) -> None:
    house.run(records.add, 102, Sighted("mealybug", "adult", "axils", 2), ago(days=1))
    made = house.read(sitter_sheet.sitter_sheet, NOW, TODAY, LAST)
    owed = [one for one in house.read(care.ahead, NOW, 13) if not one.hold]
    assert {number for row in made.rows for number in row.plants} == {one.plant for one in owed if one.kind in LOOKS}
    assert {(one.plant, one.kind) for one, _ in made.left} | {(one.plant, one.kind) for one in made.before} == {
        (one.plant, one.kind) for one in owed if one.kind not in LOOKS}
    assert (102, CareKind.FIRST_WASH) in {(one.plant, one.kind) for one, _ in made.left}
    assert made.held == ((103, date(2026, 11, 28)),)
    text = " ".join(words(sitter_pages.pages(made, measure)))
    assert "103 until 28 Nov 2026" in text
    assert "first wash 102" in text
    assert "touch Apart tray (isolation) first" in text
    assert all(TODAY <= row.day <= LAST for row in made.rows)


def test_a_rest_that_begins_while_the_grower_is_away_is_told_with_its_days(desk: Desk) -> None:
    october = datetime(2026, 10, 28, 12, tzinfo=UTC)
    desk.run(years.save, GenusYear("Phalaenopsis", rest=Stretch(11, 1), dry=True))
    for number in (101, 102):
        desk.run(collection.add_plant, NewPlant("Phalaenopsis amabilis", number, acquired_on=date(2020, 5, 1)))
    desk.run(records.add, 102, Resting(Phase.BEGINS, dry=True), october - timedelta(days=3))
    made = desk.read(sitter_sheet.sitter_sheet, october, date(2026, 10, 28), date(2026, 11, 10))
    assert made.resting == (Rest(101, date(2026, 11, 1), date(2027, 1, 31)),
                            Rest(102, date(2026, 10, 28), date(2027, 1, 31)))
    said = " ".join(words(sitter_pages.pages(made, measure)))
    assert sitter_pages.ASK not in said, "what the grower wrote is firm"
    assert "102 until 31 Jan 2027; 101 from 1 Nov 2026 until 31 Jan 2027" in said


def test_a_rest_known_by_its_genus_only_is_never_firm_on_paper(desk: Desk) -> None:
    """Kinds of one genus differ: an evergreen one that is kept dry on a stranger's word may die of it."""
    for number in (101, 102):
        desk.run(collection.add_plant, NewPlant("Dendrobium kingianum", number, acquired_on=date(2020, 5, 1)))
    desk.run(records.add, 102, Resting(Phase.BEGINS, dry=True), ago(days=3))
    for number in (101, 102):
        desk.run(records.add, number, PEROXIDE, ago(days=4))
    never = list(sitter_pages.never(desk.read(sitter_sheet.sitter_sheet, NOW, TODAY, LAST)))
    assert f"{sitter_pages.RESTING}: 102 until 31 Jan 2027" in never
    assert f"{sitter_pages.ASK}: 101 until 31 Jan 2027" in never
    made = desk.read(round_sheet.todays_round, NOW)
    assert made.parts[0].feet == ("Rest dry, do not water: 102.",
                                  "Their genus usually rests dry now; look whether these do before you water: 101.",
                                  "Plain water only, no feed, besides: 101.")


def test_the_sheet_groups_a_bench_and_puts_isolation_last(house: Desk) -> None:
    for number in (102, 103):
        house.run(records.add, number, Potted("clay pellets", transition=True), ago(days=16))
    made = house.read(sitter_sheet.sitter_sheet, NOW, TODAY, LAST)
    roots = [row for row in made.rows if row.look is LOOKS[CareKind.ROOT_CHECK]]
    assert [row.whom for row in roots] == ["all", "all"]
    house.run(records.add, 104, Settled(), ago(days=1))
    again = house.read(sitter_sheet.sitter_sheet, NOW, TODAY, LAST)
    assert "all but 104" in {row.whom for row in again.rows}
    assert [bench.name for bench in again.benches] == ["Long bench", "Apart tray"]


def test_what_stands_open_is_for_the_grower_before_leaving(house: Desk, clock: SteppedClock) -> None:
    house.run(records.add, 105, Wetted((Part.CROWN,), True))
    house.run(records.add, 106, Cut(Part.SPIKE))
    made = house.read(sitter_sheet.sitter_sheet, clock.now(), TODAY, LAST)
    assert {(one.plant, one.kind) for one in made.before} == {(105, CareKind.AIR), (106, CareKind.DRESS_CUT)}
    later = house.read(sitter_sheet.sitter_sheet, clock.now(), TODAY + timedelta(days=5), LAST)
    due = {one.plant for one in later.before if one.kind is CareKind.CROWN_CHECK}
    assert due == {101, 102, 105}, "looks due before the first day are the grower's own"


def test_a_repotting_window_keeps_nobody_from_leaving(desk: Desk, clock: SteppedClock) -> None:
    for number in (101, 102):
        desk.run(collection.add_plant, NewPlant("Phalaenopsis amabilis", number, acquired_on=date(2020, 5, 1)))
    clock.advance(86400 * 140)
    today = clock.now().date()
    made = desk.read(sitter_sheet.sitter_sheet, clock.now(), today + timedelta(days=1), today + timedelta(days=9))
    assert {one.kind for one in desk.read(care.ahead, clock.now(), 13)} == {CareKind.REPOT_WINDOW}
    assert (made.before, made.left) == ((), ()), "it is open for months yet"
    july = date(2027, 7, 25)
    clock.advance(86400 * (july - today).days)
    ends = desk.read(sitter_sheet.sitter_sheet, clock.now(), july, july + timedelta(days=9))
    assert [(one.plant, day) for one, day in ends.left] == [(101, date(2027, 7, 31)), (102, date(2027, 7, 31))]
    away = desk.read(sitter_sheet.sitter_sheet, clock.now(), date(2027, 8, 1), date(2027, 8, 9))
    assert away.before == ()


def test_the_first_days_are_today_and_two_weeks_and_more_is_refused(house: Desk) -> None:
    assert house.read(sitter_sheet.first_days, NOW) == (TODAY, LAST)
    with pytest.raises(Refused, match="too long"):
        house.read(sitter_sheet.sitter_sheet, NOW, TODAY, LAST + timedelta(days=1))


def test_a_session_record_keeps_every_line_and_sets_times_apart() -> None:
    lines = ("Bench session of 18 Nov 2026 16:30, ended 17:10", "104 Phalaenopsis amabilis: Pest wash (clear)",
             "  16:31 unpotted", "  16:40 note: roots firm", "105 Vanda tricolor: Pest wash (clear)", "The session",
             "  16:30 note: Laid out", "long snips in 70 % ethanol: 10.0 min", "16:31 long snips taken to 104",
             "Left open: 105 not potted")
    pages = bench_pages.pages(lines, measure)
    said = words(pages)
    assert faults(pages, Margins()) == []
    text = " ".join(said)
    for line in lines:
        clock = bench_pages.CLOCK.fullmatch(line.strip())
        assert all(part in text for part in (clock.groups() if clock else (line,)))
    assert said.index(bench_pages.BESIDES) < said.index("long snips in 70 % ethanol: 10.0 min")
    assert said.count(bench_pages.BESIDES) == 1
