"""Transitions from the store: the grower's word against the rules, what is refused, what other screens say."""

from __future__ import annotations

from datetime import timedelta

import pytest

from greenhouse_desk.domain.care import CareKind
from greenhouse_desk.domain.courses_start import Answer
from greenhouse_desk.domain.courses_values import End, Verdict
from greenhouse_desk.domain.faults import Refused
from greenhouse_desk.domain.journal import Facts, Overruled, Potted, Roots, Sighted, Signs
from greenhouse_desk.domain.journal_course import Growing, RootState, Stand
from greenhouse_desk.domain.plants import Home, Place
from greenhouse_desk.services import care, collection, house, records, transitions, transitions_start
from greenhouse_desk.services.clock import SteppedClock
from greenhouse_desk.services.collection import NewPlant
from greenhouse_desk.services.desk import Desk


def tell(desk: Desk, plant: int, days_ago: float, facts: Facts) -> None:
    desk.run(records.add, plant, facts, desk.clock() - timedelta(days=days_ago))


def moved(desk: Desk, plant: int, days_ago: float, *told: tuple[float, Facts],
          name: str = "Cattleya walkeriana") -> None:
    """A plant moved to pellets so many days ago; `told` are (days ago, facts) after it."""
    desk.run(collection.add_plant, NewPlant(name, plant))
    for ago, facts in ((days_ago + 100, Potted("bark")), (days_ago, Potted("clay pellets", transition=True)), *told):
        tell(desk, plant, ago, facts)


def only(desk: Desk, plant: int) -> transitions.Row:
    shown = desk.read(transitions.overview, desk.clock())
    return next(row for row in shown.rows if row.course.plant == plant)


def kinds(desk: Desk, plant: int) -> list[CareKind]:
    return [one.kind for one in desk.read(care.of_plant, plant, desk.clock())]


def test_a_course_settled_by_rule_goes_on_when_the_grower_says_so(desk: Desk) -> None:
    moved(desk, 101, 113, (29, Roots(8, 0, 2)), (1, Roots(9, 0, 3)))
    assert only(desk, 101).course.end is End.SETTLED
    assert only(desk, 101).course.by_rule
    desk.run(transitions.overrule, 101, Verdict.AGAIN, "it still rocks", 14)
    row = only(desk, 101)
    assert (row.course.end, row.course.verdict) == (End.RUNNING, Verdict.AGAIN)
    assert CareKind.LOOK_AGAIN in kinds(desk, 101)


def test_what_an_overruled_verdict_asks_for_counts_from_the_day_it_was_overruled(desk: Desk) -> None:
    moved(desk, 101, 60, (20, Roots(4, 6, 0)))
    today = desk.read(transitions.overview, desk.clock()).today
    desk.run(transitions.overrule, 101, Verdict.AGAIN, "a new root shows", 5)
    (again,) = [one for one in only(desk, 101).looks if one.kind is CareKind.LOOK_AGAIN]
    assert again.due == today + timedelta(days=5)
    assert "You said on" in " ".join(reason.text for reason in again.why)
    moved(desk, 102, 60, (40, Roots(8, 1, 1)))
    desk.run(transitions.overrule, 102, Verdict.STEP_IN, "it smells", 7)
    (hands,) = [one for one in desk.read(care.of_plant, 102, desk.clock()) if one.kind is CareKind.STEP_IN]
    assert hands.due == today


def test_a_course_settled_by_rule_long_ago_is_under_way_again_and_shown_when_overruled(desk: Desk) -> None:
    moved(desk, 101, 170, (90, Roots(8, 0, 2)), (55, Roots(9, 0, 3)))
    assert only(desk, 101).course.by_rule
    desk.run(transitions.overrule, 101, Verdict.AGAIN, "it still rocks", 14)
    assert only(desk, 101).course.end is End.RUNNING


def test_what_cannot_be_said_is_refused(desk: Desk) -> None:
    moved(desk, 101, 20)
    desk.run(collection.add_plant, NewPlant("Stelis gelida", 102))
    with pytest.raises(Refused, match="101 was not looked at yet"):
        desk.run(transitions.overrule, 101, Verdict.STAY, "so")
    with pytest.raises(Refused, match="102 is not in transition"):
        desk.run(transitions.settle, 102)
    with pytest.raises(Refused, match="102 is not in transition"):
        desk.run(transitions.write_look, 102, Roots(5, 0), Signs())
    tell(desk, 101, 1, Roots(8, 0, 1))
    with pytest.raises(Refused, match="overrules nothing"):
        desk.run(transitions.overrule, 101, Verdict.STAY, "so")


def test_stepping_in_is_owed_until_hands_are_on_it(desk: Desk) -> None:
    moved(desk, 101, 30, (2, Roots(3, 7, 0)))
    assert {CareKind.STEP_IN, CareKind.LOOK_AGAIN} <= set(kinds(desk, 101))
    why = next(one for one in desk.read(care.of_plant, 101, desk.clock()) if one.kind is CareKind.STEP_IN).why
    assert "7 of 10 roots are dead" in why[0].text
    tell(desk, 101, 0.1, Potted("clay pellets"))
    after = kinds(desk, 101)
    assert CareKind.STEP_IN not in after
    assert CareKind.LOOK_AGAIN in after, "what hands did is looked at a week after the bad look"


def test_signs_alone_are_a_look_and_end_the_root_check_that_was_due(desk: Desk) -> None:
    moved(desk, 101, 15)
    due = [one for one in desk.read(care.of_plant, 101, desk.clock()) if one.kind is CareKind.ROOT_CHECK]
    desk.run(transitions.write_look, 101, None, Signs(stand=Stand.FIRM))
    after = [one for one in desk.read(care.of_plant, 101, desk.clock()) if one.kind is CareKind.ROOT_CHECK]
    assert len(after) == len(due) - 1


def test_a_slipper_orchid_under_its_short_name_is_judged_by_firmness(desk: Desk) -> None:
    brown = (1, Signs(roots=RootState.BROWN))
    moved(desk, 101, 15, brown, name="Paph. delenatii")
    moved(desk, 102, 15, brown)
    assert only(desk, 101).course.verdict is Verdict.STAY
    assert only(desk, 102).course.verdict is Verdict.AGAIN


@pytest.mark.parametrize("name", ["Paph. delenatii", "Paph delenatii", "Phrag. besseae", "Paphiopedilum delenatii",
                                  "paphiopedilum delenatii", "x Paph. Maudiae", "Cyp. reginae"])
def test_care_and_the_course_judge_a_slipper_orchid_alike_under_any_of_its_names(desk: Desk, name: str) -> None:
    moved(desk, 101, 15, (1, Signs(roots=RootState.BROWN)), name=name)
    assert only(desk, 101).course.verdict is Verdict.STAY
    assert CareKind.LOOK_AGAIN not in kinds(desk, 101)


def test_another_orchid_under_a_short_name_is_looked_at_again_for_brown_roots(desk: Desk) -> None:
    moved(desk, 101, 15, (1, Signs(roots=RootState.BROWN)), name="Phal. amabilis")
    assert only(desk, 101).course.verdict is Verdict.AGAIN
    assert CareKind.LOOK_AGAIN in kinds(desk, 101)


def test_the_growers_own_short_forms_count_and_are_read_again_once_changed(desk: Desk) -> None:
    moved(desk, 101, 15, (1, Signs(roots=RootState.BROWN)), name="Slp. delenatii")
    assert CareKind.LOOK_AGAIN in kinds(desk, 101)
    own = desk.store.folder / "genera.toml"
    own.write_text('[Paphiopedilum]\nshort = ["Slp."]\nsource = "house rule"\n', "utf-8")
    assert CareKind.LOOK_AGAIN not in kinds(desk, 101)
    assert only(desk, 101).course.genus == "Paphiopedilum"


def test_rot_seen_on_the_plant_counts_by_its_name(desk: Desk) -> None:
    moved(desk, 101, 15, (1, Sighted("soft-rot")))
    assert only(desk, 101).course.looks[-1].line == "soft rot seen"


def test_a_settled_plant_is_no_longer_shown_as_settling(desk: Desk, clock: SteppedClock) -> None:
    moved(desk, 101, 60)
    tell(desk, 101, 60, Potted("clay pellets", transition=True))
    tell(desk, 101, 0, Potted("pumice", transition=True))
    assert desk.read(collection.drawer, 101, clock.now()).card.stage == "settling, week 1"
    desk.run(transitions.settle, 101, "never looked back")
    assert desk.read(collection.drawer, 101, clock.now()).card.stage == ""


def test_what_ended_long_ago_is_counted_but_not_shown(desk: Desk, clock: SteppedClock) -> None:
    moved(desk, 101, 60, (2, Roots(8, 0, 2)))
    desk.run(transitions.settle, 101)
    clock.advance(86400 * 61)
    shown = desk.read(transitions.overview, clock.now())
    assert shown.rows == ()
    assert (shown.curve.plants, shown.curve.settled, shown.under_way) == (1, 1, 0)
    assert desk.read(transitions.under_way, clock.now()) == 0


def test_may_it_start_is_answered_from_the_record(desk: Desk, clock: SteppedClock) -> None:
    desk.run(house.save_home, Home(-33.9, 18.4, "Africa/Johannesburg"))
    bench = desk.run(collection.save_place, Place(0, "Long bench", position=1))
    desk.run(collection.add_plant, NewPlant("Cattleya walkeriana", 101, place=bench, medium="bark"))
    assert desk.read(transitions_start.asked, 101, clock.now()).answer is Answer.UNKNOWN
    desk.run(collection.record_air, bench, 21.0, 0.6, 0.3)
    desk.run(records.add, 101, Roots(8, 1, 2))
    desk.run(records.add, 101, Signs(growing=Growing.GROWTH))
    found = desk.read(transitions_start.asked, 101, clock.now())
    assert found.answer is Answer.YES, [(one.question, one.answer) for one in found.asked]
    with pytest.raises(Refused, match="Nothing speaks against"):
        desk.run(transitions_start.start_anyway, 101, "so")
    desk.run(records.add, 101, Signs(growing=Growing.SPIKE))
    assert desk.read(transitions_start.asked, 101, clock.now()).answer is Answer.NO
    with pytest.raises(Refused, match="reason is empty"):
        desk.run(transitions_start.start_anyway, 101, " ")
    desk.run(transitions_start.start_anyway, 101, "the bark is gone")
    clock.advance(86400 * 31)
    assert desk.read(transitions_start.asked, 101, clock.now()).asked[0].answer is Answer.UNKNOWN, "a look too old"
    with pytest.raises(Refused, match="not growing here"):
        desk.read(transitions_start.asked, 999, clock.now())


def test_a_start_overruled_is_no_word_on_a_verdict(desk: Desk) -> None:
    moved(desk, 101, 20, (5, Roots(3, 7)), (4, Overruled("start", "look first", "start", "so")))
    assert only(desk, 101).course.verdict is Verdict.STEP_IN
