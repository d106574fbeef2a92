"""Which looks a course counts, and which of them its day and its words are taken from."""

from __future__ import annotations

from datetime import UTC, timedelta

from greenhouse_desk.domain.contacts import is_virus
from greenhouse_desk.domain.journal import Entry, Looked, Purpose, Sighted, Treated
from greenhouse_desk.domain.quarantine import standings
from greenhouse_desk.domain.quarantine_finds import life
from greenhouse_desk.domain.quarantine_looks import Counting, course, earliest
from greenhouse_desk.domain.settings import HouseRules
from tests.builders import NOW, ago, history

CLEAN, MITE, WASH = Looked(True, "10x"), Sighted("flat-mite"), Treated("soap", Purpose.PEST_WASH)
BY = Counting(HouseRules(clean_looks=3), UTC)
LOOKS = tuple(Entry(number, ago(days=days), CLEAN, 101) for number, days in enumerate((80, 60, 40, 9), 1))


def test_the_day_of_a_course_that_is_over_is_that_of_its_last_look() -> None:
    found = course(LOOKS, ago(days=90), BY)
    assert found.over
    assert earliest(found, NOW, BY) == found.counted[-1].at.date() == ago(days=40).date()


def test_what_it_became_clear_by_is_told_from_the_last_look_counted() -> None:
    sick = history((ago(days=90), MITE), (ago(days=89), WASH), *((look.at, CLEAN) for look in LOOKS))
    (status,) = standings([sick], frozenset(), NOW, HouseRules(clean_looks=3))[101].statuses
    assert status.why.endswith("3 clean looks counted since, the last 50 days after it")


def test_only_the_looks_before_a_moment_are_counted_up_to_it() -> None:
    one = life(history((ago(days=90), MITE), *((look.at, CLEAN) for look in LOOKS)), NOW, BY)
    (find,) = one.finds["flat-mite"]
    assert [entry.at for entry in one.course(find, BY, ago(days=60)).counted] == [ago(days=80)]
    until = ago(days=60) + timedelta(seconds=1)
    assert [entry.at for entry in one.course(find, BY, until).counted] == [ago(days=80), ago(days=60)]
    assert [entry.at for entry in one.course(find, BY).counted] == [ago(days=days) for days in (80, 60, 40)]


def test_a_virus_in_the_growers_own_words_is_a_virus() -> None:
    """No look clears it, and blades carry it."""
    sick = history((ago(days=90), Sighted("Mosaic Virus")), *((look.at, CLEAN) for look in LOOKS))
    (status,) = standings([sick], frozenset(), NOW, HouseRules())[101].statuses
    assert status.word == "suspect"
    assert is_virus("Mosaic Virus")


def test_a_look_that_a_later_wash_took_away_is_told() -> None:
    """And a wash before any look, or once it was over, takes none."""
    sick = ((ago(days=90), MITE), (ago(days=89), WASH), (ago(days=70), CLEAN), (ago(days=60), WASH))
    (status,) = standings([history(*sick)], frozenset(), NOW, HouseRules())[101].statuses
    assert (status.counted, status.ignored) == (
        0, ("the clean look of 9 Sep 2026 counts no more: the spray of 19 Sep 2026 began the looks again",))
    over = (*sick[:3], (ago(days=40), CLEAN), (ago(days=20), WASH))
    (status,) = standings([history(*over)], frozenset(), NOW, HouseRules())[101].statuses
    assert (status.counted, status.ignored) == (2, ())
