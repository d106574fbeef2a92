"""Journals told day by day, and the status each plant must have on each of them."""

from __future__ import annotations

from dataclasses import dataclass, replace
from datetime import datetime, time, timedelta
from itertools import pairwise
from zoneinfo import ZoneInfo

import pytest

from greenhouse_desk.domain.contacts import NOTHING_HANDLED, Cleaned, Handled, Touch, Worked
from greenhouse_desk.domain.journal import (
    Arrived,
    Cut,
    Entry,
    Facts,
    Leaving,
    Left,
    Looked,
    Part,
    Placed,
    Purpose,
    Released,
    Shared,
    Sharing,
    Sighted,
    Treated,
    VirusTested,
)
from greenhouse_desk.domain.own_words import OwnKind, by_kind
from greenhouse_desk.domain.plants import History
from greenhouse_desk.domain.quarantine import Standing, standings
from greenhouse_desk.domain.settings import HouseRules
from tests.builders import plant

MADRID = ZoneInfo("Europe/Madrid")
FIRST = datetime(2026, 2, 1, tzinfo=MADRID)
APART, SILL, SHELF = 9, 1, 2
RULES = HouseRules()
OWN = by_kind({"yellow streak": OwnKind.VIRUS, "Brown edge": OwnKind.DISEASE})
Told = tuple[int, float, Facts]
"""Plant, day counted from 1 February 2026 (its part after the point: tenths are hours from eight), what happened."""

MITE, BUG, ROT = Sighted("flat-mite"), Sighted("mealybug"), Sighted("soft-rot")
VIRUS, PROVEN = Sighted("virus-signs", "streaks or rings"), Sighted("virus-signs", "tested positive")
NEGATIVE, POSITIVE = (VirusTested("virus-signs", found, "a laboratory", "strip test") for found in (False, True))
CLEAN, BAD, WASH = Looked(True, "10x"), Looked(False), Treated("alcohol-soap-wash", Purpose.PEST_WASH)
CAME, DIED = Arrived(), Left(Leaving.DEAD)


def at(day: float) -> datetime:
    """Eight o'clock of that day and an hour more for each tenth, on the clock of the place."""
    whole = int(day)
    return datetime.combine((FIRST + timedelta(days=whole)).date(), time(8 + round(10 * (day - whole))), MADRID)


def placed(place: int) -> Placed:
    return Placed(place, 1.0)


def weekly(number: int, first: int, last: int) -> list[Told]:
    return [(number, day, CLEAN) for day in range(first, last + 1, 7)]


def told(story: list[Told], day: float, handled: Handled, rules: HouseRules = RULES) -> dict[int, Standing]:
    """The standings on the evening of `day`."""
    now = at(int(day)) + timedelta(hours=12) if day == int(day) else at(day)
    kept: dict[int, list[Entry]] = {}
    for nth, (number, when, facts) in enumerate(sorted(story, key=lambda one: one[1])):
        kept.setdefault(number, []).append(Entry(nth + 1, at(when), facts, number))
    histories = [_history(number, entries, now) for number, entries in kept.items()]
    return standings(histories, frozenset({APART}), now, rules, MADRID, handled, frozenset({"soft-rot", "virus-signs"}),
                     own=OWN)


def _history(number: int, entries: list[Entry], now: datetime) -> History:
    past = [entry for entry in entries if entry.at <= now]
    place = next((entry.facts.place for entry in reversed(past) if isinstance(entry.facts, Placed)), None)
    left = next((entry.facts.how for entry in past if isinstance(entry.facts, Left)), None)
    return History(plant(number, place=place, left=left), tuple(entries))


@dataclass(frozen=True)
class Scenario:
    """A story, and what plant 101 (or another) must be from a day on until the next one named."""

    name: str
    story: list[Told]
    expected: dict[float, str]
    of: int = 101
    handled: Handled = NOTHING_HANDLED

    def __str__(self) -> str:
        return self.name


NEWCOMER: list[Told] = [(101, 0, CAME), (101, 0.1, placed(APART))]
ON_SILL: list[Told] = [(101, 0, placed(SILL)), (102, 0, placed(SILL))]
APART_BENCHES: list[Told] = [(101, 0, placed(SILL)), (102, 0, placed(SHELF))]
CURED: list[Told] = [(101, 1, MITE), (101, 1.1, WASH), (101, 10, CLEAN), (101, 20, CLEAN)]


def cutter(first: int, second: int, day: float, *soaks: Cleaned) -> Handled:
    return Handled((Touch("cutter A", first, at(day), 1), Touch("cutter A", second, at(day + 0.2), 1)), soaks)


SCENARIOS = [
    Scenario("clean throughout, then released", [*NEWCOMER, *weekly(101, 7, 42), (101, 43, Released("clean"))],
             {0: "newcomer", 41: "newcomer", 42: "newcomer", 43: "clear", 90: "clear"}),
    Scenario("clean throughout, moved out on day 42", [*NEWCOMER, *weekly(101, 7, 42), (101, 42.5, placed(SILL))],
             {42: "clear", 60: "clear"}),
    Scenario("moved out on day 10 without a release", [*NEWCOMER, (101, 7, CLEAN), (101, 10, placed(SILL)),
                                                       (101, 20, CLEAN), (101, 42, CLEAN)],
             {9: "newcomer", 10: "newcomer", 41: "newcomer", 42: "clear"}),
    Scenario("released early with a reason",
             [*NEWCOMER, (101, 5, Released("the tray is full")), (101, 6, placed(SILL))],
             {4: "newcomer", 5: "clear", 6: "clear"}),
    Scenario("a find on day 13 starts the clock again",
             [*NEWCOMER, (101, 7, CLEAN), (101, 13, MITE), (101, 13.1, WASH), *weekly(101, 21, 56)],
             {12: "newcomer", 13: "under treatment", 21: "under treatment", 28: "under watch", 54: "under watch",
              56: "clear"}),
    Scenario("a find on day 13, released from it alone: the days apart began again",
             [*NEWCOMER, (101, 7, CLEAN), (101, 13, MITE), (101, 14, Released("a speck of dirt", "flat-mite")),
              *weekly(101, 21, 56), (101, 57, Released("clean"))],
             {12: "newcomer", 13: "infested", 14: "newcomer", 42: "newcomer", 56: "newcomer", 57: "clear"}),
    Scenario("taken out on day 45, 32 days after a find",
             [*NEWCOMER, (101, 13, MITE), (101, 14, Released("a speck of dirt", "flat-mite")), (101, 45, placed(SILL)),
              (101, 50, CLEAN), (101, 55, CLEAN)], {44: "newcomer", 45: "newcomer", 54: "newcomer", 55: "clear"}),
    Scenario("never apart, a find on day 30 begins its days again",
             [(101, 0, CAME), (101, 0.1, placed(SILL)), (101, 30, BUG), (101, 31, Released("dust", "mealybug"))],
             {29: "newcomer", 30: "infested", 31: "newcomer", 71: "newcomer", 72: "clear"}),
    Scenario("never apart, a find long after its days were over makes no newcomer",
             [(101, 0, CAME), (101, 0.1, placed(SILL)), (101, 60, BUG), (101, 61, Released("dust", "mealybug"))],
             {41: "newcomer", 42: "clear", 60: "infested", 61: "clear"}),
    Scenario("set apart long after an old find was over",
             [*CURED, (101, 43, CLEAN), (101, 100, placed(APART)), (101, 107, CLEAN)],
             {43: "clear", 99: "clear", 100: "newcomer", 142: "newcomer"}),
    Scenario("a find on day 13, not treated", [*NEWCOMER, (101, 13, MITE)], {12: "newcomer", 13: "infested"}),
    Scenario("a newcomer never set apart", [(101, 0, CAME), (101, 0.1, placed(SILL))],
             {0: "newcomer", 41: "newcomer", 42: "clear"}),
    Scenario("two newcomers, one infested", [*NEWCOMER, (102, 0, CAME), (102, 0.1, placed(APART)), (102, 5, MITE)],
             {4: "newcomer", 5: "newcomer"}),
    Scenario("death during quarantine", [*NEWCOMER, (101, 5, MITE), (101, 9, DIED), (102, 0, placed(APART)),
                                         (102, 1, Released("old"))], {4: "clear", 5: "exposed", 9: "exposed"}, of=102),
    Scenario("spray, then a clean look too soon", [(101, 1, MITE), (101, 1.1, WASH), (101, 4, CLEAN), (101, 12, CLEAN)],
             {1: "under treatment", 4: "under treatment", 12: "under treatment"}),
    Scenario("two looks three days apart are one", [(101, 1, MITE), (101, 1.1, WASH), (101, 9, CLEAN), (101, 12, CLEAN),
                                                    (101, 14, CLEAN)],
             {12: "under treatment", 14: "under watch"}),
    Scenario("a clean look an hour after the find is no second look",
             [(101, 1, MITE), (101, 1.1, CLEAN), (101, 6, CLEAN), (101, 42, CLEAN), (101, 43, CLEAN)],
             {1: "infested", 6: "infested", 42: "under watch", 43: "under watch"}),
    Scenario("clean looks from the fifth day after the find count",
             [(101, 1, MITE), (101, 5, CLEAN), (101, 6, CLEAN), (101, 11, CLEAN), (101, 43, CLEAN)],
             {5: "infested", 6: "infested", 11: "under watch", 43: "clear"}),
    Scenario("a second wash begins the looks again", [*CURED, (101, 25, WASH)],
             {20: "under watch", 25: "under treatment"}),
    Scenario("watched, and clear with a look on day 42", [*CURED, (101, 43, CLEAN)], {42: "under watch", 43: "clear"}),
    Scenario("the last look a day too soon", [*CURED, (101, 42, CLEAN)], {42: "under watch", 60: "under watch"}),
    Scenario("found again after it was clear", [*CURED, (101, 43, CLEAN), (101, 60, MITE)],
             {59: "clear", 60: "infested"}),
    Scenario("a preventive wash on a clear plant", [*CURED, (101, 43, CLEAN), (101, 60, WASH)], {60: "clear"}),
    Scenario("two pests at once, one cured", [*CURED, (101, 43, CLEAN), (101, 15, BUG)],
             {15: "infested", 20: "infested", 43: "under watch", 60: "under watch"}),
    Scenario("washed for one, the other named later", [(101, 1, MITE), (101, 2, WASH), (101, 3, BUG)],
             {2: "under treatment", 3: "infested"}),
    Scenario("not clean, nothing named", [(101, 1, CLEAN), (101, 5, BAD)], {4: "clear", 5: "suspect"}),
    Scenario("not clean, named two days later", [(101, 5, BAD), (101, 7, MITE)], {5: "suspect", 7: "infested"}),
    Scenario("not clean, then clean long enough", [(101, 1, BAD), (101, 8, CLEAN), (101, 43, CLEAN)],
             {1: "suspect", 8: "suspect", 43: "clear"}),
    Scenario("not clean and named the same day renews no other pest", [*CURED, (101, 30, BAD), (101, 30.1, BUG),
                                                                       (101, 43, CLEAN)], {30: "infested"}),
    Scenario("rot cut out", [(101, 1, ROT), (101, 1.1, Cut(Part.PLANT)), (101, 10, CLEAN), (101, 20, CLEAN),
                             (101, 43, CLEAN)], {1: "under treatment", 20: "under watch", 43: "clear"}),
    Scenario("a pest is not cut out", [(101, 1, MITE), (101, 1.1, Cut(Part.SPIKE))], {1: "infested"}),
    Scenario("virus signs stay until the release", [(101, 1, VIRUS), *weekly(101, 8, 120),
                                                    (101, 130, Released("tested, none found", "virus-signs"))],
             {1: "suspect", 50: "suspect", 129: "suspect", 130: "clear"}),
    Scenario("virus proven", [(101, 1, VIRUS), (101, 20, PROVEN)], {1: "suspect", 20: "infested"}),
    Scenario("a virus suspect tested negative, signs again later",
             [(101, 1, VIRUS), *weekly(101, 8, 43), (101, 50, NEGATIVE), (101, 90, VIRUS)],
             {1: "suspect", 49: "suspect", 50: "clear", 89: "clear", 90: "suspect"}),
    Scenario("a test finds a virus nobody saw", [(101, 1, CLEAN), (101, 9, POSITIVE), *weekly(101, 16, 80)],
             {8: "clear", 9: "infested", 80: "infested"}),
    Scenario("proven, then seen again and tested negative: there is no cure",
             [(101, 1, VIRUS), (101, 20, POSITIVE), (101, 30, VIRUS), (101, 60, NEGATIVE)],
             {1: "suspect", 20: "infested", 30: "infested", 60: "infested", 90: "infested"}),
    Scenario("exposed to a virus by a tool, tested too soon, then late enough",
             [*APART_BENCHES, (102, 8, VIRUS), (101, 20, NEGATIVE), (101, 36, NEGATIVE)],
             {7: "clear", 8: "exposed", 35: "exposed", 36: "clear"}, handled=cutter(102, 101, 5)),
    Scenario("whom a suspect exposed is free once it is tested negative",
             [*APART_BENCHES, (102, 8, VIRUS), (102, 30, NEGATIVE)],
             {7: "clear", 8: "exposed", 29: "exposed", 30: "clear"}, handled=cutter(102, 101, 5)),
    Scenario("a newcomer's suspicion that a test ends starts no days again",
             [*NEWCOMER, (101, 13, VIRUS), (101, 20, NEGATIVE), *weekly(101, 14, 42), (101, 42.5, placed(SILL))],
             {12: "newcomer", 13: "suspect", 20: "newcomer", 42: "clear", 50: "clear"}),
    Scenario("released from one thing only",
             [(101, 1, VIRUS), (101, 2, MITE), (101, 3, Released("test", "virus-signs"))],
             {1: "suspect", 2: "infested", 3: "infested"}),
    Scenario("moved for one hour", [*ON_SILL, (103, 0, placed(SHELF)), (102, 20, MITE), (103, 10, placed(SILL)),
                                    (103, 10.1, placed(SHELF))], {9: "clear", 19: "clear", 20: "exposed"}, of=103),
    Scenario("infested neighbour, moved away, looked at", [*ON_SILL, (102, 5, MITE), (101, 6, placed(SHELF)),
                                                           (101, 13, CLEAN), (101, 48, CLEAN)],
             {5: "exposed", 6: "exposed", 13: "exposed", 47: "exposed", 48: "clear"}),
    Scenario("moved away in vain: a find on it", [*ON_SILL, (102, 5, MITE), (101, 6, placed(SHELF)), (101, 20, MITE)],
             {6: "exposed", 20: "infested"}),
    Scenario("the neighbour is cured", [*ON_SILL, (102, 1, MITE), (102, 1.1, WASH), (102, 10, CLEAN), (102, 16, CLEAN),
                                        (101, 30, CLEAN), (101, 58, CLEAN)],
             {1: "exposed", 17: "exposed", 57: "exposed", 58: "clear"}),
    Scenario("the neighbour dies", [*ON_SILL, (102, 1, MITE), (102, 3, DIED), (101, 10, CLEAN), (101, 45, CLEAN)],
             {1: "exposed", 44: "exposed", 45: "clear"}),
    Scenario("an exposure lapses with the window once it was looked at",
             [*ON_SILL, (102, 1, MITE), (102, 3, DIED), (101, 10, CLEAN)],
             {100: "exposed", 182: "exposed", 184: "clear"}),
    Scenario("an exposure nobody looked at lapses with nothing", [*ON_SILL, (102, 1, MITE), (102, 3, DIED)],
             {100: "exposed", 182: "exposed", 184: "exposed", 900: "exposed"}),
    Scenario("exposed to one, cured of the other", [*CURED, (101, 43, CLEAN), (101, 0, placed(SILL)),
                                                    (102, 0, placed(SILL)), (102, 60, BUG)],
             {59: "clear", 60: "exposed"}),
    Scenario("wash water shared with a plant found later, looked at long enough after",
             [*APART_BENCHES, (101, 5, Shared(Sharing.WATER, (102,))), (102, 8, MITE), (101, 20, CLEAN),
              (101, 47, CLEAN)], {7: "clear", 8: "exposed", 46: "exposed", 47: "clear"}),
    Scenario("a tray shared for ten days, written down on the other plant",
             [*APART_BENCHES, (102, 5, Shared(Sharing.TRAY, (101,), 10)), (102, 8, MITE), (101, 15, CLEAN),
              (101, 56, CLEAN)], {7: "clear", 8: "exposed", 55: "exposed", 56: "clear"}),
    Scenario("a tray shared after the cure", [*APART_BENCHES, (102, 1, MITE), (102, 1.1, WASH), (102, 10, CLEAN),
                                              (102, 20, CLEAN), (102, 21, Shared(Sharing.TRAY, (101,)))],
             {1: "clear", 30: "clear"}),
    Scenario("wash water shared with a virus suspect", [*APART_BENCHES, (101, 5, Shared(Sharing.WATER, (102,))),
                                                        (102, 8, VIRUS), *weekly(101, 10, 80)],
             {7: "clear", 8: "exposed", 80: "exposed"}),
    Scenario("tool shared after a pest", [(101, 0, placed(SILL)), (102, 0, placed(SHELF)), (102, 8, MITE)],
             {7: "clear", 8: "exposed"}, handled=cutter(102, 101, 5)),
    Scenario("tool shared, soaked in between", [(101, 0, placed(SILL)), (102, 0, placed(SHELF)), (102, 8, MITE)],
             {8: "clear"}, handled=cutter(102, 101, 5, Cleaned("cutter A", at(5.1)))),
    Scenario("tool shared after alcohol with a virus suspect",
             [(101, 0, placed(SILL)), (102, 0, placed(SHELF)), (102, 8, VIRUS), *weekly(101, 10, 80)],
             {7: "clear", 8: "exposed", 80: "exposed"}, handled=cutter(102, 101, 5, Cleaned("cutter A", at(5.1)))),
    Scenario("worked on after an infested one", [(101, 0, placed(SILL)), (102, 0, placed(SHELF)), (102, 4, MITE)],
             {4: "clear", 5: "exposed"},
             handled=Handled(worked=(Worked(1, 102, at(5), at(5.1)), Worked(1, 101, at(5.1), at(5.2))))),
    Scenario("worked on before an infested one", [(101, 0, placed(SILL)), (102, 0, placed(SHELF)), (102, 4, MITE)],
             {5: "clear"},
             handled=Handled(worked=(Worked(1, 101, at(5), at(5.1)), Worked(1, 102, at(5.2), at(5.3))))),
    # the clocks go forward on 29 March 2026, day 56: day 59 is 42 days after day 17, though 1 h short of 42 x 24 h
    Scenario("summer time takes an hour, no day",
             [(101, 17, MITE), (101, 17.1, WASH), (101, 30, CLEAN), (101, 59, CLEAN)],
             {58: "under treatment", 59: "clear"}),
    Scenario("a morning look on the seventh day after an evening spray",
             [(101, 1, MITE), (101, 1.9, WASH), (101, 8, CLEAN), (101, 13, CLEAN)],
             {8: "under treatment", 13: "under watch"}),
]


def words(scenario: Scenario) -> dict[float, str]:
    """The plant's status on each day of which the scenario says what it must be."""
    return {day: told(scenario.story, day, scenario.handled)[scenario.of].word for day in sorted(scenario.expected)}


@pytest.mark.parametrize("scenario", SCENARIOS, ids=str)
def test_the_status_each_day(scenario: Scenario) -> None:
    assert words(scenario) == scenario.expected
    for day, following in pairwise(sorted(scenario.expected)):
        if scenario.expected[day] == scenario.expected[following]:
            between = told(scenario.story, (int(day) + int(following)) // 2, scenario.handled)[scenario.of].word
            assert between == scenario.expected[day]


def test_there_are_as_many_as_were_asked_for() -> None:
    assert len({scenario.name for scenario in SCENARIOS}) >= 30


def test_a_corrected_or_withdrawn_entry_changes_what_rested_on_it_and_nothing_else() -> None:
    story = [*ON_SILL, (103, 0, placed(SHELF)), (103, 3, BUG), (104, 0, placed(SHELF)), (102, 5, MITE)]
    before = told(story, 10, NOTHING_HANDLED)
    assert {number: one.word for number, one in before.items()} == {
        101: "exposed", 102: "infested", 103: "infested", 104: "exposed"}
    withdrawn = told(story[:-1], 10, NOTHING_HANDLED)
    assert {number: one.word for number, one in withdrawn.items()} == {
        101: "clear", 102: "clear", 103: "infested", 104: "exposed"}
    corrected = told([*story[:-1], (102, 5, replace(MITE, what="thrips"))], 10, NOTHING_HANDLED)
    assert [status.what for status in corrected[101].statuses] == ["thrips"]
    for number in (103, 104):
        assert before[number] == replace(withdrawn[number], entry=before[number].entry)
