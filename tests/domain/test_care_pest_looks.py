"""Looks for a pest: after it was seen and nothing else is owed, after the last wash, and what ends them."""

from __future__ import annotations

from datetime import date, datetime, timedelta

import pytest

from greenhouse_desk.domain.care import Care, CareKind
from greenhouse_desk.domain.journal import Facts, Looked, Released, Reply, Sighted
from greenhouse_desk.domain.quarantine import standings
from greenhouse_desk.domain.settings import HouseRules
from greenhouse_desk.services.shelf import shelf
from tests.builders import NOW, ago
from tests.domain.care_asking import LONDON, WASH, answered, days, owed, text, told

SHIPPED = shelf(None).pests
MITE, FLAT, GNAT, APHID = (Sighted(key) for key in ("two-spotted-mite", "flat-mite", "fungus-gnat", "aphid"))
CLEAN = Looked(True, "10x")
Told = list[tuple[datetime, Facts]]
COURSE: Told = [(ago(days=12), MITE), (ago(days=11), WASH), (ago(days=7), WASH), (ago(days=3), WASH)]
"""Three washes against mites, the last three days ago: the course is over."""


def looked_for(*written: tuple[datetime, Facts], now: datetime = NOW, rules: HouseRules | None = None
               ) -> tuple[Care, ...]:
    return owed(told(*written), CareKind.PEST_LOOK, now=now, pests=SHIPPED, rules=rules)


def test_after_the_last_wash_a_look_is_owed_once_it_can_tell() -> None:
    (look,) = looked_for(*COURSE)
    assert days((look,)) == [4], "seven days after the last wash"
    assert look.opens == look.due, "before that the wash hides signs"
    assert look.why[-1].text == "Due on 22 Nov, at the latest on 24 Nov."
    assert look.what == "Look for two-spotted mite with a 10x lens, and write down what you find"
    why = text(look)
    assert "two-spotted mite seen 1 time, last on 6 Nov" in why
    assert "No further wash is owed against two-spotted mite, so a look is, 7 days after the last one" in why
    assert "A pest is looked for after: 7 days; house rule" in why
    assert "silvery stippling" in why, "how to look stands with it"
    assert owed(told(*COURSE), CareKind.WASH_REPEAT, pests=SHIPPED) == ()


@pytest.mark.parametrize("owing", [1, 2, 3])
def test_while_a_wash_is_owed_no_look_is(owing: int) -> None:
    assert looked_for(*COURSE[:owing]) == ()
    kinds = (CareKind.FIRST_WASH, CareKind.WASH_REPEAT)
    assert sum(len(owed(told(*COURSE[:owing]), kind, pests=SHIPPED)) for kind in kinds) == 1


@pytest.mark.parametrize(("seen", "due"), [(FLAT, [6, 59, 89]), (GNAT, [6, 16]), (APHID, [6]),
                                           (Sighted("bush-snail"), [6, 89]), (Sighted("little green ones"), [6])])
def test_what_no_wash_is_owed_against_is_looked_for_by_the_house_and_by_published_days(seen: Sighted,
                                                                                       due: list[int]) -> None:
    found = looked_for((ago(days=1), seen))
    assert days(found) == due
    assert "No wash is owed against" in text(found[0])


def test_a_range_of_days_is_told_with_its_source() -> None:
    _, first, last = looked_for((ago(days=1), FLAT))
    for look in (first, last):
        assert "Day range of flat mite, until it shows, in slow cases: 60 to 90 days." in text(look)
        assert "common practice: ranges gathered from extension and survey sheets" in text(look)
    (_, gnat) = looked_for((ago(days=1), GNAT))
    assert "3 + 10 + 4: 17 days" in text(gnat)


def test_a_published_day_too_soon_after_the_first_look_is_no_look_of_its_own() -> None:
    gnats = [(ago(days=1), GNAT)]
    assert days(looked_for(*gnats, rules=HouseRules(pest_look_days=12))) == [11, 16]
    assert days(looked_for(*gnats, rules=HouseRules(pest_look_days=13))) == [12]


def test_a_disease_is_not_looked_for_as_a_pest() -> None:
    assert looked_for((ago(days=1), Sighted("soft-rot"))) == ()


def test_a_look_on_or_after_its_day_ends_it_and_one_that_the_wash_masks_does_not() -> None:
    late = NOW + timedelta(days=4)
    assert looked_for(*COURSE, (NOW + timedelta(days=3), CLEAN), now=late)
    assert looked_for(*COURSE, (late, CLEAN), now=late) == ()
    assert looked_for(*COURSE, (late, Looked(False)), now=late) == (), "looked at, and what was seen is another entry"


def test_after_a_sighting_alone_a_look_as_far_apart_as_looks_must_be_is_early_enough() -> None:
    assert looked_for((ago(days=5), APHID), (ago(), CLEAN)) == ()
    assert looked_for((ago(days=4), APHID), (ago(), CLEAN))
    assert looked_for((ago(days=6), FLAT), (ago(), CLEAN))[0].due > NOW.date() + timedelta(days=30), "the next waits"


def test_seen_again_it_counts_from_then() -> None:
    assert days(looked_for((ago(days=5), APHID), (ago(), Looked(False)), (ago(), APHID))) == [7]


def test_a_wash_after_a_look_clean_in_time_does_not_start_it_again() -> None:
    clean: Told = [(ago(days=40), APHID), (ago(days=30), CLEAN)]
    assert looked_for(*clean, (ago(days=2), WASH)) == ()
    assert days(looked_for(*clean[:1], (ago(days=2), WASH))) == [5]
    masked: Told = [(ago(days=12), APHID), (ago(days=11), WASH), (ago(days=10), CLEAN), (ago(days=2), WASH)]
    assert days(looked_for(*masked)) == [5], "that look told nothing: the later wash counts"


def test_a_wash_of_the_day_of_the_sighting_is_a_wash_against_it() -> None:
    (look,) = looked_for((ago(hours=2), APHID), (ago(hours=3), WASH), (ago(hours=1), WASH))
    assert look.opens == look.due
    assert "No further wash is owed against aphid" in text(look)


def test_a_wash_long_after_the_sighting_was_not_against_it() -> None:
    assert looked_for((ago(days=93), APHID), (ago(days=2), WASH)) == ()
    assert days(looked_for((ago(days=92), APHID), (ago(days=2), WASH))) == [5]
    assert days(looked_for((ago(days=93), APHID), (ago(days=2), WASH), rules=HouseRules(sighting_days=91))) == [5]


def test_a_wash_masks_for_longer_where_the_house_says_so() -> None:
    (look,) = looked_for(*COURSE, rules=HouseRules(masked_days=10))
    assert days((look,)) == [7]
    assert "once a wash hides no signs any more, after 10 days" in text(look)
    (seen,) = looked_for((ago(), APHID), rules=HouseRules(masked_days=10))
    assert days((seen,)) == [7], "nothing was sprayed"


def test_pests_washed_together_are_looked_for_together_and_others_by_themselves() -> None:
    both = looked_for((ago(days=2), APHID), (ago(days=2), GNAT), (ago(days=1), WASH))
    assert [one.what.split(" with ")[0] for one in both] == ["Look for aphid and fungus gnat"] * 2
    apart = looked_for((ago(days=2), APHID), (ago(days=1), GNAT))
    assert days(apart) == [5, 6, 16]
    assert len({(one.origin, one.nth) for one in apart}) == 3, "each can be answered by its name"


@pytest.mark.parametrize(("released", "ends"), [
    (Released(), True), (Released(what="aphid"), True), (Released(what="thrips"), False)])
def test_a_release_ends_it(released: Released, ends: bool) -> None:
    assert (looked_for((ago(days=3), APHID), (ago(days=1), released)) == ()) is ends
    assert looked_for((ago(days=3), released), (ago(days=1), APHID))


def test_a_wash_declined_leaves_the_look_and_a_look_declined_is_not_asked_again() -> None:
    seen: Told = [(ago(days=3), MITE)]
    (wash,) = owed(told(*seen), CareKind.FIRST_WASH, pests=SHIPPED)
    declined = [*seen, answered(wash, Reply.DECLINED, ago(days=2), reason="wiped off")]
    (look,) = looked_for(*declined)
    assert days((look,)) == [4]
    assert looked_for(*declined, answered(look, Reply.DECLINED, ago(), reason="it left the house")) == ()
    assert days(looked_for(*declined, answered(look, Reply.PUT_OFF, ago(), days=9))) == [9]


def test_a_repeat_declined_leaves_the_look() -> None:
    running: Told = [(ago(days=9), MITE), (ago(days=8), WASH), (ago(days=4), WASH)]
    (again,) = owed(told(*running), CareKind.WASH_REPEAT, pests=SHIPPED)
    assert days(looked_for(*running, answered(again, Reply.DECLINED, ago(), reason="enough"))) == [3]


def test_the_look_falls_on_the_day_from_which_quarantine_counts_one() -> None:
    (look,) = looked_for(*COURSE)
    assert look.due == date(2026, 11, 22)
    standing = standings([told(*COURSE)], frozenset(), NOW, HouseRules(), LONDON)[101]
    assert "the next counts from 22 Nov" in standing.next
