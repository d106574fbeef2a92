"""Forecasts from comparable courses, may one start, stepping in compared, and the weeks to come."""

from __future__ import annotations

from dataclasses import replace
from datetime import UTC, date, timedelta

import pytest

from greenhouse_desk.domain.care_values import Care, CareKind, Reason
from greenhouse_desk.domain.courses_coming import LOOK_MIN, MINUTES, NAMES, ROOTS_MIN, coming
from greenhouse_desk.domain.courses_forecast import (
    Group,
    NoOutlook,
    Outlook,
    by_week,
    comparable,
    outlook,
    settled_by,
    watched,
)
from greenhouse_desk.domain.courses_outcomes import outcomes
from greenhouse_desk.domain.courses_start import Answer, Start, Surely, may_start
from greenhouse_desk.domain.courses_values import Course, End, Look, Verdict
from greenhouse_desk.domain.journal import Potted, Signs
from greenhouse_desk.domain.journal_course import Growing, Leaves, RootState
from greenhouse_desk.domain.plants import Habit
from greenhouse_desk.domain.settings import HouseRules
from greenhouse_desk.domain.year_state import Standing, Word
from tests.builders import NOW
from tests.domain.course_builders import course, roots

START = date(2026, 1, 1)
PHAL, MASD, BULB = "Phalaenopsis", "Masdevallia", "Bulbophyllum"
HABITS = {1: Habit.MONOPODIAL, 2: Habit.SYMPODIAL, 3: Habit.SYMPODIAL}


def past(plant: int, genus: str, days: int, end: End = End.SETTLED, origin: int = 0) -> Course:
    return Course(plant, genus, origin or 1000 * plant + days, START, "bark", "clay pellets", (), end,
                  START + timedelta(days=days))


MINE = past(2, MASD, 40, End.RUNNING, origin=1)
SIX = [past(2, MASD, days) for days in (60, 70, 80, 90, 100, 110)]


def told(found: Outlook | NoOutlook) -> str:
    return " ".join(reason.text for reason in found.why)


def test_the_genus_is_asked_first_and_the_plants_own_course_is_left_out() -> None:
    groups = comparable(MINE, [MINE, *SIX, past(3, BULB, 50), past(1, PHAL, 30)], HABITS)
    assert [(group.words, len(group.courses)) for group in groups] == [
        ("your Masdevallia", 6), ("your sympodial plants", 7), ("all your plants", 8)]
    found = outlook(MINE, groups)
    assert isinstance(found, Outlook)
    assert (found.group, found.plants) == ("your Masdevallia", 6)
    assert (found.early, found.likely, found.late) == (60, 80, 110)
    assert "widened" not in told(found)


def test_a_forecast_is_conditional_on_the_days_already_passed() -> None:
    later = replace(MINE, last=START + timedelta(days=65))
    found = outlook(later, [Group("all your plants", tuple(SIX))])
    assert isinstance(found, Outlook)
    assert (found.plants, found.early, found.likely) == (5, 70, 90)
    assert by_week(found.curve).startswith("by week 10 20 (")
    assert by_week(found.curve).count("by week") == 5
    assert by_week(found.curve) in told(found)
    assert settled_by(found.curve, 69) == 0.0
    assert settled_by(found.curve, 70) == pytest.approx(1 / 5)
    assert settled_by(found.curve, 200) == pytest.approx(1)


def test_too_few_of_the_genus_are_said_and_the_comparison_is_widened() -> None:
    everyone = [*SIX[:2], *(past(3, BULB, days) for days in (55, 65, 75, 85))]
    found = outlook(MINE, comparable(MINE, everyone, HABITS))
    assert isinstance(found, Outlook)
    assert found.group == "your sympodial plants"
    assert "Your Masdevallia: Only 2 plants" in told(found)
    assert "widened" in told(found)


def test_too_few_of_all_is_said_group_by_group() -> None:
    found = outlook(MINE, comparable(MINE, SIX[:4], HABITS))
    assert isinstance(found, NoOutlook)
    for words in ("Your Masdevallia", "Your sympodial", "All your plants", "Too few to tell"):
        assert words in told(found)


def test_a_plant_of_unknown_habit_is_compared_with_its_genus_then_with_all() -> None:
    groups = comparable(past(9, "", 40, End.RUNNING), SIX, HABITS)
    assert [group.words for group in groups] == ["all your plants"]


def test_the_censored_count_as_watched_and_never_as_settled() -> None:
    days, settled = watched([past(1, PHAL, 30), past(1, PHAL, 20, End.DIED), past(1, PHAL, 25, End.UNWATCHED)])
    assert (days, settled) == ([30, 20, 25], [True, False, False])
    without = outlook(MINE, [Group("all", (*SIX, *(past(1, PHAL, 65, End.DIED) for _ in range(6))))])
    assert isinstance(without, Outlook)
    assert without.plants == 12
    assert without.likely == 90, "11/12 x 4/5 x 3/4 = .55 are left after day 80, x 2/3 = .37 after day 90"


LOOKED = Look(date(2026, 5, 10), NOW, 1, 8, 1, 2, Signs(growing=Growing.GROWTH))
FINE = Surely(date(2026, 5, 14), LOOKED, "clear", "", (18.0, 20.0), False, 3)


def answers(start: Start) -> list[str]:
    return [one.answer.value for one in start.asked]


def test_a_healthy_plant_in_may_with_new_roots_may_start() -> None:
    found = may_start(FINE)
    assert found.answer is Answer.YES
    assert answers(found) == ["yes"] * 7
    assert found.why[-1].text == "It may start."
    assert all(reason.source for reason in found.why)


@pytest.mark.parametrize(("changed", "question", "answer"), [
    ({"look": replace(LOOKED, new_tips=0)}, 0, Answer.NO),
    ({"look": replace(LOOKED, new_tips=None)}, 0, Answer.UNKNOWN),
    ({"look": replace(LOOKED, signs=Signs(growing=Growing.REST))}, 1, Answer.NO),
    ({"look": replace(LOOKED, signs=Signs())}, 1, Answer.UNKNOWN),
    ({"look": replace(LOOKED, signs=Signs(growing=Growing.SPIKE))}, 2, Answer.NO),
    ({"standing": "newcomer", "standing_why": "here 5 days"}, 3, Answer.NO),
    ({"today": date(2026, 11, 14)}, 4, Answer.NO),
    ({"south": True}, 4, Answer.NO),
    ({"temps_c": (12.0, 14.0)}, 5, Answer.NO),
    ({"temps_c": ()}, 5, Answer.UNKNOWN),
    ({"under_way": 10}, 6, Answer.NO),
    ({"year": Standing(rest=Word(True, "at rest", NOW, 7))}, 1, Answer.NO),
    ({"year": Standing(spike=Word(True, "in bud", NOW, 7))}, 2, Answer.NO),
    ({"look": replace(LOOKED, signs=Signs()), "usual_rest": ("a Laelia usually rests now", "from memory")}, 1,
     Answer.UNKNOWN),
])
def test_each_question_answers_by_itself(changed: dict[str, object], question: int, answer: Answer) -> None:
    found = may_start(replace(FINE, **changed))  # type: ignore[arg-type]
    assert found.asked[question].answer is answer
    assert found.answer is answer
    assert found.asked[question].words
    assert not found.forced


def test_what_is_not_known_is_named_for_each_question_alone() -> None:
    """A spike was written down: then somebody did write down what the plant is about, only not whether it rests."""
    blind = replace(FINE, look=replace(LOOKED, signs=Signs()), year=Standing(spike=Word(True, "in bud", NOW, 7)))
    assert may_start(blind).asked[1].words == "nobody wrote down lately whether it is at rest."
    unknown = may_start(replace(blind, year=Standing())).asked[2].words
    assert unknown == "nobody wrote down lately whether it is in spike or bud."


def test_the_newer_of_look_and_entry_answers_for_rest_and_spikes() -> None:
    """A look in growth does not outlive a spike seen after it, and flowers over free a plant that a look saw in spike.
    """
    older, newer = NOW - timedelta(days=3), NOW + timedelta(days=1)
    told = may_start(replace(FINE, year=Standing(Word(True, "in bud", older, 7), Word(True, "at rest", older, 8))))
    assert answers(told)[1:3] == ["yes", "yes"]
    seen = replace(LOOKED, signs=Signs(growing=Growing.SPIKE))
    over = may_start(replace(FINE, look=seen, year=Standing(Word(False, "flowers over", newer, 7))))
    assert (over.asked[2].answer, over.asked[2].source) == (Answer.YES, "journal entry 7")
    assert "flowers over" in over.asked[2].words


def test_a_genus_that_usually_rests_now_says_so_with_its_mark_only_while_nobody_looked() -> None:
    usual = ("a Laelia usually rests now, Jan to Mar", "from memory")
    blind = may_start(replace(FINE, look=None, usual_rest=usual)).asked[1]
    assert (blind.answer, blind.source) == (Answer.UNKNOWN, "from memory")
    assert "a Laelia usually rests now, Jan to Mar" in blind.words
    assert may_start(replace(FINE, usual_rest=usual)).asked[1].answer is Answer.YES


def test_lamps_and_the_southern_summer_make_november_a_growing_season() -> None:
    assert may_start(replace(FINE, today=date(2026, 11, 14), lamps=True)).answer is Answer.YES
    assert may_start(replace(FINE, today=date(2026, 11, 14), south=True)).answer is Answer.YES


def test_no_look_at_all_leaves_three_questions_open() -> None:
    found = may_start(replace(FINE, look=None))
    assert answers(found)[:3] == ["not known"] * 3
    assert found.answer is Answer.UNKNOWN


@pytest.mark.parametrize("look", [replace(LOOKED, living=3, dead=5), replace(LOOKED, signs=Signs(roots=RootState.WET))])
def test_rot_forces_the_move_even_in_quarantine_and_winter(look: Look) -> None:
    found = may_start(replace(FINE, look=look, standing="newcomer", standing_why="new", today=date(2026, 12, 1)))
    assert (found.answer, found.forced) == (Answer.YES, True)
    assert "Rot forces the move" in found.why[-1].text


def test_stepping_in_and_leaving_alone_are_compared_with_small_numbers_said() -> None:
    limp, again = (14, Signs(leaves=Leaves.LIMP)), (17, Potted("clay pellets"))
    fine = course(40, (14, roots(8, 1, 1)))
    found = outcomes([course(40, limp, again), course(40, limp), course(40, limp), fine])
    assert (len(found.stepped.courses), len(found.alone.courses)) == (1, 2)
    assert found.alone.words == "2: 2 under way"
    said = " ".join(reason.text for reason in found.why)
    assert "Stepped in after a doubtful look, 1: 1 under way." in said
    assert "Only 0 plants settled" in said
    before = outcomes([course(40, (5, Potted("clay pellets")), limp)])
    assert before.alone.words == "1: 1 under way", "hands before the doubt are no answer to it"


def test_large_groups_are_compared_by_log_rank_and_the_choice_is_owned_up_to() -> None:
    doubt = course(40, (14, Signs(leaves=Leaves.LIMP)))
    many = [replace(doubt, end=End.SETTLED, last=doubt.start + timedelta(days=60 + 3 * n)) for n in range(12)]
    hands = [replace(one, stepped=(doubt.start + timedelta(days=20),)) for one in many]
    found = outcomes([*many, *hands])
    said = " ".join(reason.text for reason in found.why)
    assert "100 in 100" in said
    assert "not alike to begin with" in said
    assert found.stepped.words == "12: 12 settled"


def test_survival_is_told_for_both_with_how_little_so_few_can_tell() -> None:
    doubt = course(40, (14, Signs(leaves=Leaves.LIMP)))
    many = [replace(doubt, end=End.DIED), *[replace(doubt, end=End.SETTLED)] * 3, doubt]
    said = " ".join(reason.text for reason in outcomes(many).why)
    assert ("Died, of those that settled or died: stepped in on, none has come to an end; left alone, 1 of 4, so 5 to "
            "70 % of such plants.") in said


def owed(kind: CareKind, days: int, hold: bool = False) -> Care:
    due = NOW.date() + timedelta(days=days)
    return Care(101, kind, "what", "short", due, due, due, (Reason("because", "here"),), 1, hold=hold)


def test_six_weeks_are_counted_with_their_minutes_and_holds_left_out() -> None:
    cares = [owed(CareKind.ROOT_CHECK, -3), owed(CareKind.ROOT_CHECK, 6), owed(CareKind.CUT_CHECK, 7),
             owed(CareKind.ROOT_CHECK, 3, hold=True), owed(CareKind.ROOT_CHECK, 42)]
    weeks = coming(cares, NOW.date(), UTC, HouseRules())
    assert [week.words for week in weeks] == ["2 root checks", "1 cut check", *["nothing"] * 4]
    assert [week.minutes for week in weeks[:3]] == [2 * ROOTS_MIN.value, LOOK_MIN.value, 0]
    assert (weeks[0].time_words, weeks[2].time_words) == ("20 min", "")
    assert (weeks[1].start - weeks[0].start).days == 7
    assert replace(weeks[0], minutes=65.0).time_words == "1 h 05"


def test_every_care_that_asks_for_hands_has_its_minutes_and_name() -> None:
    assert set(MINUTES) == set(NAMES) == set(CareKind) - {CareKind.PLAIN_WATER, CareKind.DRY_REST,
                                                          CareKind.REPOT_WINDOW}, "holds, and what has no day"


def test_the_verdict_of_a_course_settled_is_settled() -> None:
    assert replace(course(40), end=End.SETTLED).verdict is Verdict.SETTLED
