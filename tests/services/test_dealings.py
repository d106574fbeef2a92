"""Before buying and before trading: a source's record, room in isolation, and the check list with its evidence."""

from __future__ import annotations

from datetime import date, timedelta

import pytest

from greenhouse_desk.domain.chances import BY_PLACE, BY_TOOL, carrying, one_of
from greenhouse_desk.domain.dealings import Found, Verdict
from greenhouse_desk.domain.faults import Refused
from greenhouse_desk.domain.journal import Leaving, Left, Part, Phase, Placed, Purpose, Resting, Sighted, Treated
from greenhouse_desk.domain.origins import Origin
from greenhouse_desk.domain.quarantine import EXPOSED, NEWCOMER, Status
from greenhouse_desk.domain.settings import HouseRules
from greenhouse_desk.services import collection, dealings
from greenhouse_desk.services.collection import NewPlant
from greenhouse_desk.services.desk import Desk
from tests.builders import NOW, ago
from tests.services.outbreak_house import BUG, CLEAN, WASH, add, furnished


def _from_the_fair(desk: Desk) -> dict[str, int]:
    """Three of one source: 201 showed thrips apart on day 12, 202 mealybug a year on, 203 was never looked at."""
    places = furnished(desk)
    for number, place in ((201, "Shelf"), (202, "Ledge"), (203, "Ledge")):
        desk.run(collection.add_plant, NewPlant("Stelis gelida", number, place=places[place], source="autumn fair",
                                                acquired_on=(NOW - timedelta(days=90)).date()))
    add(desk, 201, Placed(places["Shelf"], 1.0), ago(days=89))
    add(desk, 201, Sighted("thrips"), ago(days=78))
    add(desk, 202, BUG, ago(days=20))
    add(desk, 201, Left(Leaving.DEAD), ago(days=10))
    return places


def test_a_source_is_told_by_its_plants_those_that_died_too(desk: Desk) -> None:
    _from_the_fair(desk)
    told = desk.read(dealings.before_buying, NOW, "Autumn Fair", NOW.date())
    record = told.record
    assert (record.came, record.had, record.unlooked, record.later) == (3, 2, 1, (202,))
    assert record.found == (Found(201, "thrips", 12),)
    assert record.days == (12, 12)
    assert record.share is not None
    assert (round(record.share.low, 3), round(record.share.high, 3)) == (0.095, 0.905), "Wilson 95 % of 1 in 2"
    assert told.words == "1 of 2 showed something while they stood apart; in the long run 9 to 91 of a hundred"
    assert told.why[-2].text.endswith("9 to 91 of a hundred.")
    assert told.why[-1].text == ("A plant from here would stand apart for 56 days, for 1 of 2 others from its source "
                                 "showed something while they stood apart.")
    assert told.apart.days == 56


def test_one_that_came_a_few_days_ago_is_told_as_too_new_and_counts_in_neither_word(desk: Desk) -> None:
    places = _from_the_fair(desk)
    for number, source in ((205, "autumn fair"), (206, "garden gate")):
        desk.run(collection.add_plant, NewPlant("Stelis gelida", number, source=source, place=places["Shelf"],
                                                acquired_on=(NOW - timedelta(days=5)).date()))
        add(desk, number, CLEAN, ago(days=1))
    told = desk.read(dealings.before_buying, NOW, "autumn fair", NOW.date())
    assert (told.record.came, told.record.had, told.record.new) == (4, 2, 1)
    assert told.words.startswith("1 of 2 showed something while they stood apart, 1 more is still too new to count;")
    assert told.apart.why == ("1 of 2 others from its source showed something while they stood apart, 1 more is still "
                              "too new to count")
    assert told.why[0].text == ("4 came from here, those that left since included; 1 never looked at, 1 still too new "
                                "to count.")
    new = desk.read(dealings.before_buying, NOW, "garden gate", NOW.date())
    assert new.record.share is None
    assert new.words == "no record yet: 1 came from here, 1 still too new to count"


def test_what_shows_once_a_plant_joined_the_rest_is_later(desk: Desk) -> None:
    places = furnished(desk)
    desk.run(collection.add_plant, NewPlant("Stelis gelida", 204, source="swap", place=places["Ledge"],
                                            acquired_on=(NOW - timedelta(days=40)).date()))
    add(desk, 204, Placed(places["Shelf"], 1.0), ago(days=40))
    add(desk, 204, Placed(places["Ledge"], 2.0), ago(days=20))
    add(desk, 204, BUG, ago(days=10))
    record = desk.read(dealings.before_buying, NOW, "swap", NOW.date()).record
    assert (record.found, record.later) == ((), (204,))


def test_a_source_without_plants_has_no_record(desk: Desk) -> None:
    _from_the_fair(desk)
    told = desk.read(dealings.before_buying, NOW, "a new fair", NOW.date())
    assert told.record.share is None
    assert told.words == "no record: nothing came from here yet"
    assert (told.apart.days, told.apart.why) == (42, "")


def test_room_counts_those_who_may_go_by_then(desk: Desk) -> None:
    places = furnished(desk)
    add(desk, 104, Placed(places["Shelf"], 1.0), ago(days=30))
    for days in (20, 10):
        add(desk, 104, CLEAN, ago(days=days))
    by_day = {days: desk.read(dealings.before_buying, NOW, "x", NOW.date() + timedelta(days=days)).rooms[0]
              for days in (1, 12)}
    assert (by_day[1].standing, by_day[1].released, by_day[1].free) == (1, 0, 5)
    assert (by_day[12].released, by_day[12].free) == (1, 6)


def test_what_is_active_at_home_is_what_was_seen_not_who_was_exposed(desk: Desk) -> None:
    furnished(desk)
    add(desk, 102, BUG)
    assert desk.read(dealings.before_buying, NOW, "x", NOW.date()).active == (("mealybug", 1),)


def _verdicts(desk: Desk, plant: int) -> dict[str, Verdict]:
    return {check.title.split()[0]: check.verdict for check in desk.read(dealings.before_trading, NOW, plant).checks}


def test_a_plant_never_looked_at_is_unknown_not_passed(desk: Desk) -> None:
    furnished(desk)
    found = _verdicts(desk, 104)
    assert found["Nothing"] is Verdict.UNKNOWN
    assert found["2"] is Verdict.UNKNOWN
    told = desk.read(dealings.before_trading, NOW, 104)
    assert not told.passed
    assert told.passes is None, "what is unknown names no day"
    with pytest.raises(Refused, match="999 is not growing here"):
        desk.read(dealings.before_trading, NOW, 999)


def test_a_plant_looked_at_twice_passes_with_evidence(desk: Desk) -> None:
    furnished(desk)
    add(desk, 104, CLEAN, ago(days=20))
    last = add(desk, 104, CLEAN, ago(days=10))
    told = desk.read(dealings.before_trading, NOW, 104)
    assert told.passed
    assert told.passes == NOW.date()
    looks = next(check for check in told.checks if check.title.startswith("2 clean"))
    assert (looks.evidence, looks.entry) == ("2 clean looks, the last on 8 Nov 2026", last)
    assert dealings.verdict_words(told, NOW.date()).startswith("Every point passed")


def test_one_look_of_two_is_not_enough_and_the_day_is_told(desk: Desk) -> None:
    furnished(desk)
    add(desk, 104, CLEAN, ago(days=2))
    check = next(one for one in desk.read(dealings.before_trading, NOW, 104).checks if one.title.startswith("2 clean"))
    assert (check.verdict, check.evidence, check.passes) == (Verdict.FAILED, "1 of 2 count", date(2026, 11, 21))


def test_a_find_an_exposure_and_a_wash_each_fail_with_the_day_they_would_pass(desk: Desk) -> None:
    furnished(desk)
    add(desk, 102, BUG, ago(days=3))
    add(desk, 102, WASH, ago(days=2))
    sick, near = desk.read(dealings.before_trading, NOW, 102), desk.read(dealings.before_trading, NOW, 101)
    failed = {check.title: check.passes for check in sick.checks if check.verdict is Verdict.FAILED}
    assert failed["Nothing found that is not over"] == date(2026, 12, 27)
    assert failed["No treatment unfinished"] == date(2026, 12, 7), "the last day of the wash, and the days it masks"
    assert sick.passes is not None
    assert sick.passes == max(day for day in failed.values() if day is not None)
    assert [check.verdict for check in near.checks][:2] == [Verdict.UNKNOWN, Verdict.FAILED]
    assert "shares its place with 102" in near.checks[1].evidence


def test_while_an_exposure_goes_on_no_day_is_named_but_what_to_do_first(desk: Desk) -> None:
    places = furnished(desk)
    add(desk, 102, BUG, ago(days=3))
    for days in (12, 2):
        add(desk, 101, CLEAN, ago(days=days))
    beside = desk.read(dealings.before_trading, NOW, 101)
    assert (beside.passes, beside.checks[1].passes) == (None, None)
    assert dealings.verdict_words(beside, NOW.date()).endswith("would: first set 102 apart, or this plant.")
    add(desk, 102, Placed(places["Shelf"], 1.0))
    parted = desk.read(dealings.before_trading, NOW + timedelta(hours=1), 101)
    assert parted.checks[1].passes == NOW.date() + timedelta(days=42)
    assert parted.checks[1].first == ""


def test_one_that_can_pass_today_is_not_told_to_wait(desk: Desk) -> None:
    furnished(desk)
    add(desk, 104, CLEAN, ago(days=9))
    told = desk.read(dealings.before_trading, NOW, 104)
    assert (told.passed, told.passes) == (False, NOW.date())
    today = "It does not pass yet; it would today, once what failed is made good and nothing is found."
    assert dealings.verdict_words(told, NOW.date()) == today
    assert dealings.verdict_words(told, ago(days=1).date()).startswith("It does not pass yet; it would from 18 Nov on")


def test_a_virus_suspect_does_not_pass_and_names_no_day(desk: Desk) -> None:
    furnished(desk)
    add(desk, 104, Sighted("virus-signs", "streaks or rings"), ago(days=90))
    told = desk.read(dealings.before_trading, NOW, 104)
    assert told.checks[0].verdict is Verdict.FAILED
    assert "virus signs seen" in told.checks[0].evidence
    assert told.passes is None


def test_a_hold_keeps_a_plant_until_its_day(desk: Desk) -> None:
    furnished(desk)
    add(desk, 104, Treated("hydrogen-peroxide", Purpose.ROOT_DISINFECTION, (Part.ROOTS,), 3.0, 10.0), ago(days=4))
    check = desk.read(dealings.before_trading, NOW, 104).checks[-1]
    assert (check.verdict, check.passes) == (Verdict.FAILED, date(2026, 11, 28))


def test_a_dry_rest_is_told_to_whoever_takes_the_plant_and_keeps_it_from_nobody(desk: Desk) -> None:
    furnished(desk)
    add(desk, 104, Resting(Phase.BEGINS, dry=True), ago(days=4))
    check = desk.read(dealings.before_trading, NOW, 104).checks[-1]
    assert (check.verdict, check.passes) == (Verdict.PASSED, None)
    assert check.evidence == "no plain water is owed; dry rest until 13 May: tell it to whoever takes the plant"
    add(desk, 104, Treated("hydrogen-peroxide", Purpose.ROOT_DISINFECTION, (Part.ROOTS,), 3.0, 10.0), ago(days=4))
    both = desk.read(dealings.before_trading, NOW, 104).checks[-1]
    assert (both.verdict, both.passes) == (Verdict.FAILED, date(2026, 11, 28))
    assert "ask for water" not in both.evidence


def test_a_rest_known_by_its_genus_only_is_told_as_that(desk: Desk) -> None:
    desk.run(collection.add_plant, NewPlant("Dendrobium nobile", 105, acquired_on=date(2020, 5, 1)))
    check = desk.read(dealings.before_trading, NOW, 105).checks[-1]
    assert check.verdict is Verdict.PASSED
    assert "dry rest, as its genus usually does, until 31 Jan" in check.evidence


def _status(rank: int, how: str = "", counted: int = 0) -> Status:
    return Status("mealybug", "exposed", "met it", rank, how=how, counted=counted)


def test_a_chance_rests_on_how_they_met_and_on_the_sources_own_record() -> None:
    rules = HouseRules()
    assert one_of(_status(EXPOSED, "tool snips"), rules).value == BY_TOOL.value
    assert one_of(_status(EXPOSED, "place"), rules).value == BY_PLACE.value
    known = one_of(_status(NEWCOMER), rules, Origin(1, 4))
    assert known.value == pytest.approx(2 / 9), "(1 + 5 x 0.2) of (4 + 5)"
    assert "your own record: 1 of 4" in known.why[0].source
    both = carrying([_status(EXPOSED, "tool snips", 1), _status(EXPOSED, "place")], 0, rules)
    one, other = 0.5 * 0.4 / (0.5 * 0.4 + 0.5), 0.25
    assert both.value == pytest.approx(1 - (1 - one) * (1 - other))


def test_nothing_is_told_of_none(desk: Desk) -> None:
    places = furnished(desk)
    for number in (205, 206):
        desk.run(collection.add_plant, NewPlant("Stelis gelida", number, source="garden gate", place=places["Shelf"],
                                                acquired_on=(NOW - timedelta(days=5)).date()))
    told = desk.read(dealings.before_buying, NOW, "garden gate", NOW.date())
    assert told.words == "no record yet: 2 came from here, 2 still too new to count"
