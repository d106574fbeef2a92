"""Exposure by contact over time: places shared, tools carried, sittings at the bench, plants that left."""

from __future__ import annotations

from datetime import datetime

from greenhouse_desk.domain.bench_values import FRESH_BLADE
from greenhouse_desk.domain.contacts import Cleaned, Handled, Touch, Worked, contacts, is_virus, share_of
from greenhouse_desk.domain.journal import (
    Facts,
    Leaving,
    Left,
    Looked,
    Placed,
    Purpose,
    Shared,
    Sharing,
    Sighted,
    Treated,
)
from greenhouse_desk.domain.plants import History
from greenhouse_desk.domain.quarantine import Standing, standings
from greenhouse_desk.domain.settings import HouseRules
from tests.builders import NOW, ago, history, plant

MITE, VIRUS, CLEAN = Sighted("flat-mite"), Sighted("virus-signs", "streaks or rings"), Looked(True, "10x")
WASH = Treated("soap", Purpose.PEST_WASH)
HERE, THERE, NOWHERE = Placed(1, 1.0), Placed(2, 1.0), Placed(3, 1.0)
Written = tuple[datetime, Facts]


def told(*every: History, handled: Handled | None = None, rules: HouseRules | None = None) -> dict[int, Standing]:
    return standings(every, frozenset({9}), NOW, rules or HouseRules(), handled=handled or Handled())


def one(number: int, *written: Written, place: int = 1) -> History:
    return history(*written, of=plant(number, place=place))


def test_what_was_shared_is_told_with_its_day_and_while_it_goes_on() -> None:
    sick = one(102, (ago(days=10), MITE), place=2)
    water = told(sick, one(101, (ago(days=4), Shared(Sharing.WATER, (102,)))))[101].statuses[0]
    assert water.why.startswith("shared wash water with 102, last on 14 Nov 2026: flat mite")
    assert (water.sources, water.how) == ((102,), "shared wash water")
    tray = told(sick, one(101, (ago(days=4), Shared(Sharing.TRAY, (102,), 30))))[101].statuses[0]
    assert tray.why == "shares a tray with 102: flat mite"
    assert tray.next.startswith("set 102 apart")
    old = told(sick, one(101, (ago(days=191), Shared(Sharing.WATER, (102,)))))
    assert old[101].word == "clear", "before it could be passed on"
    withdrawn = told(sick, one(101))
    assert withdrawn[101].word == "clear"


def test_contacts_hold_what_was_shared_for_a_trace() -> None:
    entry = history((ago(days=4), Shared(Sharing.TRAY, (102, 103), 3)), of=plant(101)).entries[0]
    found = contacts([], Handled(), lambda at: at.date(), NOW, {}, "virus-signs", [share_of(entry)])
    assert [(one.a, one.b, (one.end - one.start).days, one.how) for one in found] == [
        (101, 102, 2, "shared a tray"), (101, 103, 2, "shared a tray"), (102, 103, 2, "shared a tray")]


def test_what_carries_one_way_is_a_contact_one_way() -> None:
    handled = Handled((Touch("snips", 102, ago(days=4), 1), Touch("snips", 101, ago(days=4, hours=-1), 1)), (), (
        Worked(2, 103, ago(days=3), ago(days=3)), Worked(2, 104, ago(days=3, hours=-1), ago(days=3, hours=-3)),
        Worked(2, 105, ago(days=3, hours=-2), ago(days=3, hours=-2))))
    found = contacts([], handled, lambda at: at.date(), NOW, {}, "mealybug")
    assert {(one.a, one.b): one.one_way for one in found} == {
        (102, 101): True, (103, 104): True, (103, 105): True, (104, 105): False}, "104 was taken up again after 105"


def test_moving_away_from_an_infested_neighbour_clears_nobody() -> None:
    sick = one(102, (ago(days=90), HERE), (ago(days=10), MITE))
    moved = one(101, (ago(days=90), HERE), (ago(days=3), THERE), place=2)
    found = told(sick, moved)[101]
    assert found.word == "exposed"
    assert found.why.startswith("shared its place with 102 while that could pass it on, last on 15 Nov 2026: flat mite")
    assert str(found.earliest) == "2026-12-27", "42 days after the last contact"


def test_moving_the_infested_plant_away_clears_nobody_either() -> None:
    sick = one(102, (ago(days=90), HERE), (ago(days=10), MITE), (ago(days=9), THERE), place=2)
    assert told(sick, one(101, (ago(days=90), HERE)))[101].word == "exposed"


def test_clean_looks_after_the_last_contact_clear_and_earlier_ones_do_not() -> None:
    sick = one(102, (ago(days=150), HERE), (ago(days=100), MITE))
    left = ((ago(days=150), HERE), (ago(days=60), THERE))
    assert told(sick, one(101, *left, (ago(days=40), CLEAN), (ago(days=10), CLEAN), place=2))[101].word == "clear"
    assert told(sick, one(101, *left, (ago(days=80), CLEAN), (ago(days=10), CLEAN), place=2))[101].word == "exposed"
    assert told(sick, one(101, *left, (ago(days=40), CLEAN), (ago(days=30), CLEAN), place=2))[101].word == "exposed"
    assert told(sick, one(101, *left, (ago(days=60), CLEAN), (ago(days=18), CLEAN), place=2))[101].word == "exposed", (
        "a look at the moment of the last contact is none after it")


def test_a_contact_before_the_find_counts_as_long_as_a_pest_can_hide() -> None:
    sick = one(102, (ago(days=300), HERE), (ago(days=2), MITE))
    met = one(101, (ago(days=300), HERE), (ago(days=100), THERE), place=2)
    assert told(sick, met)[101].word == "exposed"
    assert told(sick, met, rules=HouseRules(trace_days=90))[101].word == "clear"


def test_those_that_never_met_are_not_exposed() -> None:
    sick = one(102, (ago(days=90), HERE), (ago(days=40), THERE), (ago(days=10), MITE), place=2)
    later = one(101, (ago(days=90), NOWHERE), (ago(days=40), HERE))
    assert told(sick, later)[101].word == "clear", "one came as the other left"


def test_an_hour_beside_an_infested_plant_is_enough() -> None:
    sick = one(102, (ago(days=90), HERE), (ago(days=10), MITE))
    guest = one(101, (ago(days=90), THERE), (ago(days=5), HERE), (ago(days=5, hours=-1), THERE), place=2)
    assert told(sick, guest)[101].word == "exposed"


def test_a_plant_cleared_by_then_exposes_nobody_who_comes_later() -> None:
    cured = one(102, (ago(days=150), HERE), (ago(days=120), MITE), (ago(days=110), WASH), (ago(days=90), CLEAN),
                (ago(days=70), CLEAN))
    assert told(cured, one(101, (ago(days=150), THERE), (ago(days=60), HERE)))[101].word == "clear"
    assert told(cured, one(101, (ago(days=150), THERE), (ago(days=80), HERE)))[101].word == "exposed"


def test_a_plant_that_died_keeps_its_past() -> None:
    dead = history((ago(days=90), HERE), (ago(days=20), MITE), (ago(days=15), Left(Leaving.DEAD)),
                   of=plant(102, left=Leaving.DEAD))
    found = told(dead, one(101, (ago(days=90), HERE)), one(103, (ago(days=14), HERE)))
    assert found[101].word == "exposed"
    assert found[101].statuses[0].sources == (102,)
    assert found[103].word == "clear", "it came after the death"


def shared(*soaks: Cleaned, second: int = 2) -> Handled:
    """One tool on 102 at 18:00 ten days ago, then on 101 an hour later, in session 1 or `second`."""
    return Handled((Touch("cutter A", 102, ago(days=10), 1), Touch("cutter A", 101, ago(days=10, hours=-1), second)),
                   soaks)


def test_a_tool_carries_what_no_soak_cleared() -> None:
    sick, other = one(102, (ago(days=5), MITE), place=2), one(101)
    found = told(sick, other, handled=shared(second=1))[101]
    assert (found.word, found.why) == (
        "exposed", "cutter A came from 102 on 8 Nov 2026, not cleared of it in between: flat mite; "
                   "0 clean looks counted since")
    between = ago(days=10, minutes=-20)
    assert told(sick, other, handled=shared(Cleaned("cutter A", between), second=1))[101].word == "clear"
    assert told(sick, other, handled=shared(Cleaned("tools", between), second=1))[101].word == "clear"
    assert told(sick, other, handled=shared(Cleaned("cutter B", between), second=1))[101].word == "exposed"
    assert told(sick, other, handled=shared(second=2))[101].word == "clear", "laid out clean for the next session"
    assert told(one(102, place=2), one(101, (ago(days=5), MITE)), handled=shared(second=1))[102].word == "clear", (
        "the tool went the other way")


def test_alcohol_clears_no_virus_from_a_blade() -> None:
    sick, other, between = one(102, (ago(days=5), VIRUS), place=2), one(101), ago(days=10, minutes=-20)
    assert told(sick, other, handled=shared(Cleaned("cutter A", between), second=1))[101].word == "exposed"
    assert told(sick, other, handled=shared(second=2))[101].word == "exposed", "nor does laying out for a session"
    assert told(sick, other, handled=shared(Cleaned("cutter A", between, virus=True), second=1))[101].word == "clear"
    looked = one(101, (ago(days=9), CLEAN), *((ago(days=day), CLEAN) for day in (3, 2)))
    assert told(sick, looked, handled=shared(second=1))[101].earliest is None, "no look proves a virus away"


def test_a_virus_does_not_pass_by_standing_together() -> None:
    assert told(one(102, (ago(days=5), VIRUS)), one(101))[101].word == "clear"


def test_a_sitting_exposes_those_worked_on_after() -> None:
    worked = Handled(worked=(Worked(1, 103, ago(days=10, hours=3), ago(days=10, hours=2)),
                             Worked(1, 102, ago(days=10, hours=1), ago(days=10)),
                             Worked(1, 101, ago(days=10, minutes=30), ago(days=10, minutes=10)),
                             Worked(2, 104, ago(days=9), ago(days=9))))
    found = told(one(102, (ago(days=5), MITE), place=2), *(one(number) for number in (101, 103, 104)), handled=worked)
    assert {number: found[number].word for number in (101, 103, 104)} == {101: "exposed", 103: "clear", 104: "clear"}
    assert found[101].why.startswith("worked on after 102 in the bench session of 8 Nov 2026: flat mite")


def test_exposure_to_one_pest_says_nothing_of_another() -> None:
    sick = one(102, (ago(days=5), MITE))
    met = one(101, (ago(days=120), Sighted("mealybug")), (ago(days=110), WASH), (ago(days=90), CLEAN),
              (ago(days=70), CLEAN))
    assert {status.what: status.word for status in told(sick, met)[101].statuses} == {
        "flat-mite": "exposed", "mealybug": "clear"}


def test_who_met_an_exposed_plant_is_not_exposed_by_it() -> None:
    sick = one(102, (ago(days=90), HERE), (ago(days=10), MITE), (ago(days=9), NOWHERE), place=3)
    between = one(101, (ago(days=90), HERE), (ago(days=9), THERE), place=2)
    assert told(sick, between, one(103, (ago(days=90), THERE), place=2))[103].word == "clear"


def test_a_virus_is_known_by_its_long_and_its_short_name_and_nothing_else_is() -> None:
    for what in ("virus-signs", "Cymbidium mosaic", "CymMV", "CymMV+ORSV", "TMV-O", "orchid fleck virus", "Viral?"):
        assert is_virus(what), what
    for what in ("", "two-spotted-mite", "flat-mite", "leaf-spot", "soft-rot", "ring spots", "something on the leaves"):
        assert not is_virus(what), what


def test_a_fresh_blade_is_another_one_each_time() -> None:
    uses = (Touch(FRESH_BLADE, 102, ago(days=4), 1), Touch(FRESH_BLADE, 101, ago(days=4, hours=-1), 1))
    assert contacts([], Handled(uses), lambda at: at.date(), NOW, {}, "virus-signs") == []
    assert told(one(102, (ago(days=10), VIRUS), place=2), one(101), handled=Handled(uses))[101].word == "clear"
