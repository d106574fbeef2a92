"""Transitions: the verdict at a look in many journals, and how a course ends."""

from __future__ import annotations

from datetime import timedelta

import pytest
from hypothesis import given
from hypothesis import strategies as st

from greenhouse_desk.domain.courses import courses, running, under_way
from greenhouse_desk.domain.courses_values import End, Verdict
from greenhouse_desk.domain.courses_verdict import CULTURE, DRY_CROWN, TRIM
from greenhouse_desk.domain.journal import (
    Facts,
    Flowering,
    Leaving,
    Left,
    Overruled,
    Potted,
    Purpose,
    Roots,
    Settled,
    Sighted,
    Signs,
    Stage,
)
from greenhouse_desk.domain.journal import Treated as Treated
from greenhouse_desk.domain.journal_course import Crown, Growing, Leaves, RootState, Smell, Stand
from tests.builders import NOW, ago, history
from tests.domain.course_builders import KNOWN, Told, course, roots

FIRM, LIMP = Signs(leaves=Leaves.FIRM, stand=Stand.FIRM), Signs(leaves=Leaves.LIMP)
LOOSE, SOUR, ROTTEN = Signs(stand=Stand.LOOSE), Signs(smell=Smell.SOUR), Signs(smell=Smell.ROTTEN)
SOFT, WET, BROWN = Signs(crown=Crown.SOFT), Signs(roots=RootState.WET), Signs(roots=RootState.BROWN)
STAY, AGAIN, STEP_IN, UNSEEN, DONE = (Verdict.STAY, Verdict.AGAIN, Verdict.STEP_IN, Verdict.UNSEEN, Verdict.SETTLED)
PAPH, PHAL = "Paphiopedilum", "Phalaenopsis"

SCENARIOS: list[tuple[str, str, float, list[Told], Verdict, int, str]] = [
    ("moved yesterday", PHAL, 1, [], UNSEEN, 0, ""),
    ("a count on the day of the move is no look", PHAL, 3, [(0.1, roots(5, 4))], UNSEEN, 0, ""),
    ("firm roots, a new tip", PHAL, 15, [(14, roots(8, 1, 2))], STAY, 0, "2 new tips"),
    ("no tip in week 2 is no fault", PHAL, 15, [(14, roots(8, 1))], STAY, 0, "8 of 9 roots firm"),
    ("exactly a third dead", PHAL, 15, [(14, roots(6, 3, 1))], STAY, 0, "1 new tip"),
    ("more than a third dead", PHAL, 15, [(14, roots(6, 4, 1))], STEP_IN, 7, "4 of 10 roots dead"),
    ("all dead", PHAL, 30, [(28, roots(0, 6))], STEP_IN, 7, "6 of 6 roots dead"),
    ("no root left to count", PHAL, 30, [(28, roots(0, 0))], STEP_IN, 7, "no root left"),
    ("dead share rising", PHAL, 30, [(14, roots(9, 1, 1)), (28, roots(8, 2, 1))], AGAIN, 14, "10 to 20 %"),
    ("limp and a rising dead share: the sooner look", PHAL, 30,
     [(14, roots(9, 1, 1)), (28, roots(8, 2, 1)), (28, LIMP)], AGAIN, 7, "leaves limp"),
    ("dead share falling", PHAL, 30, [(14, roots(8, 2, 1)), (28, roots(9, 1, 1))], STAY, 0, "1 new tip"),
    ("limp leaves", PHAL, 15, [(14, roots(8, 1, 1)), (14, LIMP)], AGAIN, 7, "leaves limp"),
    ("limp, without a count", PHAL, 15, [(14, LIMP)], AGAIN, 7, "leaves limp"),
    ("loose in the pot", PHAL, 15, [(14, LOOSE)], AGAIN, 7, "loose"),
    ("sour smell", PHAL, 15, [(14, SOUR)], AGAIN, 7, "sour"),
    ("rotten smell", PHAL, 15, [(14, roots(8, 0, 3)), (14, ROTTEN)], STEP_IN, 7, "rotten"),
    ("crown soft, roots fine", PHAL, 15, [(14, roots(8, 0, 3)), (14, SOFT)], STEP_IN, 7, "crown soft"),
    ("wet rot", PHAL, 15, [(14, WET)], STEP_IN, 7, "roots rot"),
    ("soft rot seen", PHAL, 15, [(14, Sighted("soft-rot"))], STEP_IN, 7, "soft rot seen"),
    ("a pest is no verdict of the course", PHAL, 15, [(14, Sighted("thrips"))], UNSEEN, 0, ""),
    ("brown roots", PHAL, 15, [(14, roots(8, 0, 1)), (14, BROWN)], AGAIN, 14, "roots brown"),
    ("brown roots of a slipper orchid", PAPH, 15, [(14, roots(8, 0, 1)), (14, BROWN)], STAY, 0, "brown, firm"),
    ("brown roots of its kin", "Phragmipedium", 15, [(14, BROWN)], STAY, 0, "brown, firm"),
    ("wet roots of a slipper orchid", PAPH, 15, [(14, WET)], STEP_IN, 7, "roots rot"),
    ("dead roots of a slipper orchid", PAPH, 15, [(14, roots(2, 3))], STEP_IN, 7, "3 of 5"),
    ("no tip at all by week 8", PHAL, 57, [(28, roots(8, 1)), (56, roots(8, 1))], AGAIN, 14, "no new tip in 8 weeks"),
    ("no tip this time, but earlier", PHAL, 57, [(28, roots(8, 1, 2)), (56, roots(8, 1))], STAY, 0, "8 of 9"),
    ("two good looks, firm, week 8", PHAL, 57, [(28, roots(8, 1, 2)), (56, roots(9, 1, 3)), (56, FIRM)], DONE, 0, ""),
    ("two good looks, stand not told", PHAL, 57, [(28, roots(8, 1, 2)), (56, roots(9, 1, 3))], STAY, 0, "3 new tips"),
    ("two good looks, but too soon", PHAL, 30, [(14, roots(8, 1, 2)), (28, roots(9, 1, 3)), (28, FIRM)], STAY, 0, ""),
    ("one good look by week 8", PHAL, 57, [(28, roots(8, 1)), (56, roots(9, 1, 3)), (56, FIRM)], STAY, 0, ""),
    ("good again after a bad look", PHAL, 57, [(28, LIMP), (56, roots(9, 1, 3)), (56, FIRM)], STAY, 0, ""),
    ("usual weeks over, one good look", PHAL, 113, [(56, roots(8, 1)), (112, roots(8, 1, 2))], AGAIN, 28, "not"),
    ("signs of one day are one look", PHAL, 15, [(14, roots(8, 1, 1)), (14, FIRM), (14, LIMP)], AGAIN, 7, "limp"),
    ("the gravest sign is told first", PHAL, 15, [(14, roots(2, 8)), (14, LIMP)], STEP_IN, 7, "8 of 10"),
    ("one dead root of two", PHAL, 15, [(14, roots(1, 1, 1))], STEP_IN, 7, "1 of 2"),
    ("black rot seen", PHAL, 15, [(14, roots(8, 0, 2)), (14, Sighted("black-rot"))], STEP_IN, 7, "black rot seen"),
    ("soft crown of a slipper orchid", PAPH, 15, [(14, roots(8, 0, 2)), (14, SOFT)], STEP_IN, 7, "crown soft"),
    ("loose, but with new tips", PHAL, 30, [(28, roots(8, 1, 3)), (28, LOOSE)], AGAIN, 7, "loose"),
    ("at rest is no doubt", PHAL, 15, [(14, roots(8, 1, 1)), (14, Signs(growing=Growing.REST))], STAY, 0, "1 new tip"),
    ("a spike coming is no doubt", PHAL, 30, [(20, Flowering(Stage.SPIKE)), (28, roots(8, 1, 2))], STAY, 0, "2 new"),
    ("a later good look lifts the doubt", PHAL, 22, [(14, LIMP), (21, roots(8, 1, 1)), (21, FIRM)], STAY, 0, ""),
]


@pytest.mark.parametrize(("genus", "days_in", "told", "verdict", "again", "line"),
                         [row[1:] for row in SCENARIOS], ids=[row[0] for row in SCENARIOS])
def test_the_verdict_of_a_journal(genus: str, days_in: float, told: list[Told], verdict: Verdict, again: int,
                                  line: str) -> None:
    found = course(days_in, *told, genus=genus)
    assert found.end is End.RUNNING
    assert found.verdict is verdict
    if verdict is not UNSEEN:
        last = found.looks[-1]
        assert last.days == again
        assert line in last.line
        assert len(last.why) > 1
        assert all(reason.source for reason in last.why)


def test_stepping_in_says_what_to_do_and_never_to_cut_all() -> None:
    both = course(15, (14, roots(3, 5)), (14, SOFT)).looks[-1]
    assert {TRIM, CULTURE, DRY_CROWN} < set(both.steps)
    crown = course(15, (14, roots(8, 0, 2)), (14, SOFT)).looks[-1]
    assert CULTURE not in crown.steps
    assert course(15, (14, roots(8, 0, 2))).looks[-1].steps == ()


OVERRULED = Overruled("verdict", "step in", "look again", "a new root at the rim", 5)


def test_the_grower_overrules_with_a_reason_until_the_next_look() -> None:
    told: list[Told] = [(14, roots(6, 4)), (14.2, OVERRULED)]
    last = course(16, *told).looks[-1]
    assert (last.rule, last.verdict, last.days, last.overruled) == (STEP_IN, AGAIN, 5, "a new root at the rim")
    assert "a new root at the rim" in last.why[-1].text
    assert last.steps == ()
    after = course(25, *told, (21, roots(5, 5)))
    assert (after.verdict, after.looks[-1].overruled) == (STEP_IN, "")
    assert course(16, (14, roots(6, 4)), (14.2, Overruled("start", "look first", "start", "so"))).verdict is STEP_IN


GOOD: list[Told] = [(84, roots(8, 0, 2)), (112, roots(9, 0, 3))]


@pytest.mark.parametrize(("days_in", "told", "end", "days"), [
    (40, [(30, Settled())], End.SETTLED, 30),
    (40, [(20, Left(Leaving.DEAD, "rot"))], End.DIED, 20),
    (40, [(20, Left(Leaving.TRADED))], End.LEFT, 20),
    (120, GOOD, End.SETTLED, 112),
    (120, [(84, roots(8, 0, 2)), (110, roots(9, 0, 3))], End.SETTLED, 110),
    (120, [(84, roots(8, 0, 2)), (100, roots(9, 0, 3))], End.RUNNING, 120),
    (120, [(84, roots(8, 0, 0)), (112, roots(9, 0, 3))], End.RUNNING, 120),
    (141, [(56, roots(8, 0, 2))], End.RUNNING, 141),
    (144, [(56, roots(8, 0, 2))], End.UNWATCHED, 56),
    (144, [], End.UNWATCHED, 0),
    (144, [(112, roots(9, 0, 3))], End.RUNNING, 144),
    (172, [(112, roots(9, 0, 3))], End.UNWATCHED, 112),
    (120, [*GOOD, (112.1, Overruled("verdict", "settled", "stay the course", "it still rocks"))], End.RUNNING, 120),
])
def test_how_a_course_ends(days_in: float, told: list[Told], end: End, days: int) -> None:
    found = course(days_in, *told)
    assert (found.end, found.days) == (end, days)
    assert bool(found.why_ended) is (end not in (End.RUNNING,))


def test_a_second_move_ends_the_first_course_at_its_last_look_and_begins_another() -> None:
    first, second = courses(history(
        (ago(200), Potted("bark")), (ago(100), Potted("pumice", transition=True)), (ago(80), roots(8, 1, 1)),
        (ago(20), Potted("clay pellets", transition=True)), (ago(6), roots(8, 1, 2))), KNOWN)
    assert (first.end, first.days, first.came_from, first.medium) == (End.MOVED, 20, "bark", "pumice")
    assert (second.end, second.days, second.came_from, second.verdict) == (End.RUNNING, 20, "pumice", STAY)


def test_no_course_without_a_move_on_a_known_day() -> None:
    assert courses(history((ago(30), Potted("clay pellets"))), KNOWN) == ()
    assert courses(history((ago(30), Potted("clay pellets", transition=True, day_known=False))), KNOWN) == ()
    assert courses(history((NOW + timedelta(days=1), Potted("clay pellets", transition=True))), KNOWN) == ()


def test_hands_in_the_roots_are_counted_as_stepping_in() -> None:
    peroxide = Treated("hydrogen-peroxide", Purpose.ROOT_DISINFECTION)
    found = course(30, (0.1, peroxide), (14, roots(6, 4)), (16, Potted("clay pellets")), (16, peroxide))
    assert [(day - found.start).days for day in found.stepped] == [16]
    assert found.end is End.RUNNING


def test_signs_of_several_entries_of_a_day_are_put_together() -> None:
    found = course(15, (14, Signs(leaves=Leaves.FIRM)), (14, Signs(growing=Growing.SPIKE)), (14, Roots(5, 0, 1)))
    assert found.looks[-1].look.signs == Signs(leaves=Leaves.FIRM, growing=Growing.SPIKE)
    assert len(found.looks) == 1


@given(st.lists(st.tuples(st.floats(-2, 400), st.sampled_from((
    Potted("clay pellets", transition=True), Potted("clay pellets", transition=True, day_known=False), Potted("bark"),
    Roots(6, 1, 2), Roots(2, 5), Signs(crown=Crown.SOFT), Settled("by eye"), Left(Leaving.DEAD),
    Overruled("verdict", "look again", "stay the course", "no", 40)))), max_size=9))
def test_the_course_under_way_is_the_one_of_all_that_has_not_ended(told: list[tuple[float, Facts]]) -> None:
    one = history(*((ago(days), facts) for days, facts in told))
    assert under_way(one, KNOWN) == running(courses(one, KNOWN))
