"""The edges of the quarantine rules: what ends an exposure, what a find renews, what a release covers, what is said."""

from __future__ import annotations

from datetime import UTC, date, datetime, timedelta

from greenhouse_desk.domain.contacts import Cleaned, Handled, Stay, Touch, Worked, contacts
from greenhouse_desk.domain.journal import (
    Arrived,
    Facts,
    Leaving,
    Left,
    Looked,
    Placed,
    Purpose,
    Released,
    Sighted,
    Treated,
    VirusTested,
)
from greenhouse_desk.domain.plants import History
from greenhouse_desk.domain.quarantine import NEVER_LOOKED, NEWCOMER, TREATED, Standing, standings
from greenhouse_desk.domain.settings import HouseRules
from tests.builders import NOW, ago, history, plant

MITE, BUG, VIRUS = Sighted("flat-mite"), Sighted("mealybug"), Sighted("virus-signs", "streaks")
CLEAN, BAD, WASH = Looked(True, "10x"), Looked(False), Treated("soap", Purpose.PEST_WASH)
CURED = ((ago(days=120), MITE), (ago(days=119), WASH), (ago(days=100), CLEAN), (ago(days=70), CLEAN))
Written = tuple[datetime, Facts]


def one(number: int, *written: Written, place: int = 1) -> History:
    return history(*written, of=plant(number, place=place))


def told(*every: History, handled: Handled | None = None, rules: HouseRules | None = None) -> dict[int, Standing]:
    return standings(every, frozenset({9}), NOW, rules or HouseRules(), handled=handled or Handled())


def words(standing: Standing) -> list[tuple[str, str]]:
    return [(status.what, status.word) for status in standing.statuses]


def tool(*uses: tuple[int, float]) -> Handled:
    """One tool taken to plants so many days ago, in one session."""
    return Handled(tuple(Touch("cutter A", number, ago(days=days), 1) for number, days in uses))


def test_the_last_contact_names_its_plants_and_no_earlier_ones() -> None:
    first = one(102, (ago(days=60), Placed(1, 1.0)), (ago(days=30), BUG), (ago(days=20), Placed(2, 1.0)), place=2)
    later = [one(number, (ago(days=60), Placed(1, 1.0)), (ago(days=30), BUG)) for number in (103, 104)]
    assert told(one(101), first, *later)[101].statuses[0].sources == (103, 104)


def test_an_exposure_is_over_the_moment_the_other_is_watched() -> None:
    watched = one(102, (ago(days=30), MITE), (ago(days=29), WASH), (ago(days=15), CLEAN), (NOW, CLEAN))
    assert told(one(101), watched)[101].why.startswith("shared its place with 102 while that could pass it on")


def test_a_tool_that_comes_back_to_the_same_plant_exposes_nobody() -> None:
    sick = one(102, (ago(days=100), MITE), (ago(days=94), WASH), (ago(days=80), CLEAN), (ago(days=55), CLEAN))
    assert told(sick, handled=tool((102, 95), (102, 94.9)))[102].word == "clear"


def test_a_tool_or_a_sitting_after_the_cure_exposes_nobody() -> None:
    cured, other = one(102, *CURED, place=2), one(101, (ago(days=9), CLEAN))
    assert told(cured, other, handled=tool((102, 10), (101, 9.9)))[101].word == "clear"
    sat = Handled(worked=(Worked(1, 102, ago(days=10), ago(days=10)), Worked(1, 101, ago(days=9.9), ago(days=9.9))))
    assert told(cured, other, handled=sat)[101].word == "clear"


def test_contacts_beyond_the_window_are_let_go_by_one_look_since() -> None:
    sick, looked = one(102, (ago(days=2), MITE), place=2), one(101, (ago(days=170), CLEAN))
    assert told(sick, looked, handled=tool((102, 182), (101, 181)))[101].word == "clear"
    assert told(sick, looked, handled=tool((102, 182), (101, 180)))[101].word == "exposed"
    assert told(sick, one(101), handled=tool((102, 182), (101, 181)))[101].word == "exposed", "nobody looked at it"


def test_a_virus_passes_by_no_sitting_and_is_ended_by_no_look() -> None:
    sick = one(102, (ago(days=90), VIRUS), (ago(days=80), CLEAN), (ago(days=60), CLEAN), (ago(days=40), CLEAN), place=2)
    sat = Handled(worked=(Worked(1, 102, ago(days=10), ago(days=10)), Worked(1, 101, ago(days=9.9), ago(days=9.9))))
    assert told(sick, one(101), handled=sat)[101].word == "clear"
    assert told(sick, one(101), handled=tool((102, 10), (101, 9.9)))[101].word == "exposed"


def test_a_virus_test_is_told_with_its_day_and_by_whom() -> None:
    negative, positive = (VirusTested("virus-signs", found, "a laboratory") for found in (False, True))
    clean = told(one(101, (ago(days=30), CLEAN), (ago(days=20), VIRUS), (ago(days=9), negative)))[101]
    assert (clean.word, clean.why) == ("clear", "virus signs seen on 29 Oct 2026, tested negative on 9 Nov 2026 by a "
                                                "laboratory")
    proven = told(one(101, (ago(days=20), positive), (ago(days=9), negative)))[101]
    assert proven.why == ("virus signs tested positive on 29 Oct 2026 by a laboratory: there is no cure, though tested "
                          "negative on 9 Nov 2026 by a laboratory: have it tested again")
    sick = one(102, (ago(days=90), VIRUS), place=2)
    exposed = told(sick, one(101, (ago(days=4), negative)), handled=tool((102, 10), (101, 9.9)))[101].statuses[0]
    assert exposed.ignored == ("tested negative on 14 Nov 2026 by a laboratory, which does not count: 6 days after the "
                               "contact, 30 are needed",)
    assert exposed.next.startswith("test it 30 days after that contact or later")
    mite = told(one(101, (ago(days=9), MITE), (ago(days=2), VirusTested("flat-mite", False))))[101]
    assert mite.word == "infested", "what lives on a plant is looked for, not tested away"


def test_what_a_look_found_is_named_by_what_is_seen_after_it() -> None:
    assert words(told(one(101, (ago(days=9), BAD), (ago(days=7), MITE)))[101]) == [("flat-mite", "infested")]
    assert words(told(one(101, (ago(days=9), VIRUS), (ago(days=7), BAD)))[101]) == [("virus-signs", "suspect")]
    looked = ((ago(days=90), VIRUS), (ago(days=70), CLEAN), (ago(days=40), CLEAN), (ago(days=7), BAD))
    assert words(told(one(101, *looked))[101]) == [("virus-signs", "suspect")], "clean looks had ended no virus"


def test_a_look_told_by_the_days_sighting_renews_nothing_else() -> None:
    watched = ((ago(days=40), MITE), (ago(days=39), WASH), (ago(days=30), CLEAN), (ago(days=20), CLEAN))
    both = told(one(101, *watched, (ago(days=5), BAD), (ago(days=5, minutes=-5), BUG)))[101]
    assert words(both) == [("mealybug", "infested"), ("flat-mite", "under watch")]
    assert both.why.endswith("; also under watch: flat mite")
    alone = told(one(101, *watched, (ago(days=5), BAD)))[101]
    assert words(alone) == [("flat-mite", "infested")], "unnamed, it is what was not over yet"


def test_what_stands_unnamed_exposes_nobody() -> None:
    assert told(one(101), one(102, (ago(days=3), BAD)))[101].word == "clear"


def test_a_second_release_does_not_move_the_first() -> None:
    freed = one(102, (ago(days=100), MITE), (ago(days=90), Released("looked well")), (ago(days=5), Released("again")))
    assert told(freed, one(101, (ago(days=50), Placed(1, 1.0))))[101].word == "clear"


def test_the_earliest_day_leaves_room_for_every_look() -> None:
    rules = HouseRules(clean_looks=5, looks_apart_days=10, isolation_days=7, masked_days=0)
    found = told(one(101, (NOW, MITE)), rules=rules)[101]
    assert found.earliest == NOW.date() + timedelta(days=50), "the find was a look: the first counts 10 days after it"
    one_look = told(one(101, (ago(days=3), MITE), (NOW, CLEAN)), rules=rules)[101]
    assert one_look.earliest == NOW.date() + timedelta(days=47)
    later = told(one(101, (ago(days=10), MITE), (NOW, CLEAN)), rules=rules)[101]
    assert later.earliest == NOW.date() + timedelta(days=40)
    sprayed = told(one(101, (ago(days=60), MITE), (ago(days=2), WASH)))[101]
    assert sprayed.earliest == date(2026, 11, 28), "masked until the 23rd, the second look five days on"
    assert sprayed.next == ("2 more clean looks at least 5 days apart, the next counts from 23 Nov; "
                            "clear on 28 Nov at the earliest")


def test_a_clean_look_right_after_a_find_does_not_count_and_says_why() -> None:
    found = told(one(101, (ago(days=20), MITE), (ago(days=20, hours=-1), CLEAN), (ago(days=16), CLEAN)))[101]
    assert (found.word, found.statuses[0].counted) == ("infested", 0)
    assert found.statuses[0].ignored == (
        "the clean look of 29 Oct 2026 does not count: the same day as the find of 29 Oct 2026, 5 days apart are "
        "needed", "the clean look of 2 Nov 2026 does not count: 4 days after the find of 29 Oct 2026, 5 days apart are "
        "needed")
    spaced = told(one(101, (ago(days=20), MITE), (ago(days=15), CLEAN), (ago(days=10), CLEAN)))[101]
    assert (spaced.word, spaced.statuses[0].counted) == ("under watch", 2)


def test_why_a_clean_look_did_not_count_is_said() -> None:
    looks = ((ago(days=days), CLEAN) for days in (16, 8, 6))
    found = told(one(101, (ago(days=20), MITE), (ago(days=19), WASH), *looks))[101]
    assert found.statuses[0].ignored == (
        "the clean look of 2 Nov 2026 does not count: 3 days after the spray of 30 Oct 2026, "
        "which masks signs for 7 days",
        "the clean look of 12 Nov 2026 does not count: 2 days after the one before, 5 days apart are needed")


def test_a_newcomers_days_begin_again_with_a_find_and_it_says_since_when_and_why() -> None:
    came: tuple[Written, ...] = ((ago(days=50), Arrived()), (ago(days=50), Placed(9, 1.0)), (ago(days=43), CLEAN))
    looked = tuple((ago(days=days), CLEAN) for days in (30, 20, 8))
    clean = told(one(101, *came, *looked, place=9))[101].statuses[0]
    assert clean.why == "stands in an isolation place, clean throughout, not released yet: day 50"
    found = told(one(101, *came, (ago(days=37), MITE), *looked, place=9))[101].statuses
    assert [(status.word, status.rank) for status in found] == [("under watch", TREATED), ("newcomer", NEWCOMER)]
    assert found[1].why == ("stands in an isolation place, not released yet: day 37 since flat mite was found on "
                            "12 Oct 2026, which began its days again, 3 clean looks")
    assert found[1].earliest == date(2026, 11, 23), "42 days after the find"
    assert (found[1].since, found[1].next) == (ago(days=37), "look at it weekly; release on 23 Nov at the earliest")


def test_a_newcomer_released_from_one_find_alone_is_clean_since_then_not_throughout() -> None:
    came: tuple[Written, ...] = (
        (ago(days=60), Arrived()), (ago(days=60), Placed(9, 1.0)), (ago(days=49), MITE),
        (ago(days=48), Released("dust", "flat-mite")), *((ago(days=days), CLEAN) for days in (40, 30, 8)))
    waits = told(one(101, *came, place=9))[101]
    assert (waits.word, waits.statuses[0].counted, waits.earliest) == ("newcomer", 3, NOW.date())
    found = told(one(101, *came, (ago(days=2), CLEAN), place=9))[101]
    assert found.why == ("stands in an isolation place, clean since then, not released yet: day 49 since flat mite was "
                         "found on 30 Sep 2026, which began its days again")


def test_taken_out_of_isolation_too_early_is_forgotten_with_the_window() -> None:
    early = ((ago(days=200), Arrived()), (ago(days=200), Placed(9, 1.0)), (ago(days=190), Placed(1, 1.0)))
    assert (told(one(101, *early))[101].word, told(one(101, *early))[101].rank) == ("clear", NEVER_LOOKED)


def test_a_release_holds_until_the_plant_is_set_apart_or_comes_again() -> None:
    freed = ((ago(days=90), Placed(9, 1.0)), (ago(days=50), Released("clean")))
    assert told(one(101, *freed, place=9))[101].word == "clear"
    again = (*freed, (ago(days=40), Placed(1, 1.0)), (ago(days=5), Placed(9, 1.0)))
    assert told(one(101, *again, place=9))[101].word == "newcomer"
    back = ((ago(days=90), Arrived()), (ago(days=50), Released("clean")), (ago(days=5), Arrived()))
    assert told(one(101, *back))[101].word == "newcomer"


def test_a_move_to_come_meets_nobody_yet() -> None:
    sick, other = one(102, (ago(days=3), MITE)), one(101, (ago(days=9), Placed(2, 1.0)), (ago(days=-1), Placed(1, 1.0)))
    assert told(sick, other)[101].word == "clear"


def test_an_infested_plant_is_not_exposed_to_the_same_besides() -> None:
    assert words(told(one(101, (ago(days=3), MITE)), one(102, (ago(days=3), MITE)))[101]) == [("flat-mite", "infested")]


def test_a_plant_that_left_is_exposed_to_nothing_more() -> None:
    gone = history((ago(days=9), Left(Leaving.TRADED)), of=plant(101, left=Leaving.TRADED))
    assert told(gone, one(102, (ago(days=3), MITE)))[101].word == "clear"


def test_one_that_left_on_no_known_day_was_there_until_its_last_entry() -> None:
    gone = history((ago(days=60), MITE), (ago(days=30), CLEAN), of=plant(102, left=Leaving.DEAD))
    assert told(gone, one(101, (ago(days=20), Placed(1, 1.0))))[101].word == "clear"
    assert told(gone, one(101, (ago(days=40), Placed(1, 1.0))))[101].word == "exposed"


def test_contacts_for_a_trace_are_those_along_which_it_can_pass() -> None:
    def day(at: datetime) -> date:
        return at.date()

    start = datetime(2026, 1, 1, 12, tzinfo=UTC)
    stays = [Stay(101, 1, start, start + timedelta(days=5)), Stay(102, 1, start + timedelta(days=5), NOW),
             Stay(103, 1, start + timedelta(days=2), start + timedelta(days=9))]
    pairs = {(one.a, one.b): (one.start.day, one.end.day) for one in contacts(stays, Handled(), day, NOW, {1: "Sill"})}
    assert pairs == {(101, 103): (3, 6), (103, 102): (6, 10)}, "101 left as 102 came"
    uses = (Touch("cutter A", 101, start, 1), Touch("cutter A", 102, start + timedelta(hours=2), 1))
    alcohol = Handled(uses, (Cleaned("cutter A", start + timedelta(hours=1)),))
    assert [(one.a, one.b) for one in contacts([], alcohol, day, NOW, {}, "virus-signs")] == [(101, 102)]
    assert contacts([], alcohol, day, NOW, {}, "mealybug") == []
    at_once = Handled(uses, (Cleaned("cutter A", start),))
    assert contacts([], at_once, day, NOW, {}) == [], "it went into the soak from the plant, not before it"


def test_an_hour_out_of_isolation_takes_no_days_and_a_night_out_begins_them_again_and_says_so() -> None:
    inside, outside = Placed(9, 1.0), Placed(1, 1.0)
    looks: list[Written] = [(ago(days=days), CLEAN) for days in (23, 16, 9, 2)]
    for back, day, counted in ((ago(days=1, hours=3), "day 30", 4), (ago(hours=3), "day 0", 0)):
        moves: list[Written] = [(ago(days=30), inside), (ago(days=1, hours=4), outside), (back, inside)]
        found = told(one(101, *sorted((*moves, *looks), key=lambda told: told[0]), place=9))[101]
        assert day in found.why
        assert found.statuses[0].counted == counted
        assert ("since it was set back there on 18 Nov 2026, which began its days again" in found.why) == (not counted)
