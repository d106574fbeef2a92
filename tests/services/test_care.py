"""What is owed, read from the store: there is no table of care, and every answer is an entry."""

from __future__ import annotations

from datetime import UTC, date, datetime, time, timedelta

import pytest

from greenhouse_desk.domain.airflow import drying_span
from greenhouse_desk.domain.care import Care, CareKind
from greenhouse_desk.domain.faults import Refused
from greenhouse_desk.domain.journal import (
    Answer,
    Blotted,
    Cut,
    Dry,
    Facts,
    Kind,
    Leaving,
    Looked,
    Part,
    Placed,
    Potted,
    Poured,
    Purpose,
    Reading,
    Reply,
    Sighted,
    Treated,
    Unpotted,
    Wetted,
)
from greenhouse_desk.domain.plants import Air, Habit, Home, Place
from greenhouse_desk.domain.settings import HouseRules
from greenhouse_desk.services import backup, care, collection, house, records
from greenhouse_desk.services.clock import SteppedClock
from greenhouse_desk.services.desk import Desk, Done
from greenhouse_desk.store import journal, plants, tables
from greenhouse_desk.store.engine import Session
from tests.builders import NOW, ago

PEROXIDE = Treated("hydrogen-peroxide", Purpose.ROOT_DISINFECTION, (Part.ROOTS,), 3.0)
WASH = Treated("alcohol-soap-wash", Purpose.PEST_WASH, (Part.LEAVES,), 20.0)
POOL = Wetted((Part.CROWN,), pool=True)


def put(session: Session, now: datetime, number: int, *written: tuple[datetime, Facts]) -> Done[list[int]]:
    """A verb: a plant and its journal."""
    plants.add_plant(session, number, "Phalaenopsis equestris", Habit.MONOPODIAL)
    ids = [journal.add(session, at, facts, plant=number) for at, facts in written]
    return Done(f"Stock {number}", frozenset({"plants"}), ids)


def kinds(cares: tuple[Care, ...]) -> set[CareKind]:
    return {one.kind for one in cares}


def of(desk: Desk, kind: CareKind, number: int = 101) -> list[Care]:
    return [one for one in desk.read(care.of_plant, number, desk.clock()) if one.kind is kind]


def one(desk: Desk, kind: CareKind, number: int = 101) -> Care:
    (found,) = of(desk, kind, number)
    return found


def test_there_is_no_table_of_care(desk: Desk) -> None:
    assert not [name for name in tables.Table.metadata.tables if "care" in name or "owed" in name or "remind" in name]


def test_correcting_an_old_entry_changes_every_care_that_rested_on_it_and_undo_brings_it_back(desk: Desk) -> None:
    treated, _, _ = desk.run(put, 101, (ago(days=2), PEROXIDE), (ago(days=2), Cut(Part.SPIKE)),
                             (ago(days=2), Looked(True)))
    before = desk.read(care.of_plant, 101, NOW)
    assert one(desk, CareKind.PLAIN_WATER).due == date(2026, 11, 30)
    assert one(desk, CareKind.HALF_FEED).due == date(2026, 11, 30)
    desk.run(records.correct, treated, ago(days=5), PEROXIDE, "")
    assert one(desk, CareKind.PLAIN_WATER).due == date(2026, 11, 27)
    assert one(desk, CareKind.HALF_FEED).due == date(2026, 11, 27)
    assert "13 Nov" in one(desk, CareKind.PLAIN_WATER).why[0].text
    unchanged = {CareKind.CUT_CHECK, CareKind.DRESS_CUT}
    assert [c for c in desk.read(care.of_plant, 101, NOW) if c.kind in unchanged] == [
        c for c in before if c.kind in unchanged]
    desk.undo()
    assert desk.read(care.of_plant, 101, NOW) == before
    desk.redo()
    assert one(desk, CareKind.PLAIN_WATER).due == date(2026, 11, 27)


def test_withdrawing_an_entry_takes_all_it_owed_with_it(desk: Desk) -> None:
    ids = desk.run(put, 101, (ago(days=1), PEROXIDE), (ago(days=1), Cut(Part.SPIKE)), (ago(hours=1), POOL),
                   (ago(hours=1), Unpotted()))
    owed = kinds(desk.read(care.of_plant, 101, NOW))
    assert owed == {CareKind.PLAIN_WATER, CareKind.HALF_FEED, CareKind.CUT_CHECK, CareKind.DRESS_CUT, CareKind.AIR,
                    CareKind.CROWN_CHECK, CareKind.POT_UP}
    for entry in ids:
        desk.run(records.withdraw, entry)
    assert desk.read(care.of_plant, 101, NOW) == ()


def test_turning_a_treatment_into_a_note_of_another_kind_changes_what_is_owed(desk: Desk) -> None:
    (entry,) = desk.run(put, 101, (ago(days=1), PEROXIDE))
    desk.run(records.correct, entry, ago(days=1), Poured(200), "it was water only")
    assert desk.read(care.of_plant, 101, NOW) == ()


def test_due_covers_all_plants_soonest_first_up_to_14_days_with_holds_and_without_the_departed(desk: Desk) -> None:
    desk.run(put, 101, (ago(days=1), PEROXIDE))
    desk.run(put, 102, (ago(hours=1), Wetted((Part.LEAVES,))))
    desk.run(put, 103, (ago(days=40), Unpotted()), (ago(days=2), Potted("expanded clay")))
    desk.run(put, 104, (ago(days=1), PEROXIDE))
    desk.run(collection.part_with, 104, Leaving.DEAD, "crown rot")
    owed = desk.read(care.due, NOW)
    assert [(one.plant, one.kind) for one in owed] == [
        (102, CareKind.AIR), (103, CareKind.ROOT_CHECK), (101, CareKind.PLAIN_WATER), (101, CareKind.HALF_FEED)]
    desk.run(house.save_rules, HouseRules(ahead_days=30, plain_water_days=60))
    longer = desk.read(care.due, NOW)
    assert [one.kind for one in longer if one.plant == 103] == [CareKind.ROOT_CHECK] * 2
    assert [one.kind for one in longer if one.plant == 101] == [CareKind.PLAIN_WATER]


def test_house_rules_and_the_home_come_from_the_store(desk: Desk) -> None:
    desk.run(put, 101, (ago(days=1), PEROXIDE), (ago(hours=1), Wetted((Part.CROWN,))))
    assert one(desk, CareKind.PLAIN_WATER).due == date(2026, 12, 1)
    west = one(desk, CareKind.AIR).due
    desk.run(house.save_rules, HouseRules(plain_water_days=7))
    desk.run(house.save_home, Home(52.5, 13.4, "Europe/Berlin"))
    assert one(desk, CareKind.PLAIN_WATER).due == date(2026, 11, 24)
    east = one(desk, CareKind.AIR).due
    assert isinstance(east, datetime)
    assert isinstance(west, datetime)
    assert east.astimezone(UTC) < west


def shelves(session: Session, now: datetime, reading: bool) -> Done[int]:
    """A verb: a lamp-lit room with an unmeasured shelf in it, and plant 101 on the shelf."""
    room = plants.save_place(session, Place(0, "Cellar", bench=False, lights_out=time(21, 0)))
    shelf = plants.save_place(session, Place(0, "Top shelf", parent=room))
    journal.add(session, ago(days=9), Placed(shelf, 1.0), plant=101)
    if reading:
        journal.add(session, ago(hours=2), Reading(22.0, 0.55, 0.6), place=room)
    return Done("Furnish", frozenset({"plants"}), shelf)


@pytest.mark.parametrize("reading", [True, False])
def test_air_and_lights_out_are_those_of_the_nearest_place_around(desk: Desk, reading: bool) -> None:
    desk.run(put, 101, (ago(hours=1), Wetted((Part.CROWN,))))
    place = desk.run(shelves, reading)
    wet = one(desk, CareKind.AIR)
    assert wet.place == place
    assert wet.due == datetime(2026, 11, 18, 21, 0, tzinfo=UTC)
    assert wet.drying is not None
    air = Air(ago(hours=2), 22.0, 0.55, 0.6) if reading else None
    assert wet.drying.latest == ago(hours=1) + timedelta(hours=drying_span(air).high)


def test_a_shipped_pests_interval_is_used(desk: Desk) -> None:
    desk.run(put, 101, (ago(days=1), Sighted("two-spotted-mite")), (ago(), WASH))
    published = care.pests()["two-spotted-mite"].repeat
    assert published is not None
    again = one(desk, CareKind.WASH_REPEAT)
    assert "with alcohol-and-soap wash 20 %" in again.why[0].text  # by its name, not by its key
    assert again.due == NOW.date() + timedelta(days=published.low)
    assert again.latest == NOW.date() + timedelta(days=published.high)
    assert published.source in [reason.source for reason in again.why]


@pytest.mark.parametrize(("written", "kind", "fact"), [
    (POOL, CareKind.AIR, Kind.DRY), (Cut(Part.SPIKE), CareKind.DRESS_CUT, Kind.DRESSED)])
def test_done_writes_the_fact_where_there_is_one(desk: Desk, written: Facts, kind: CareKind, fact: Kind) -> None:
    desk.run(put, 101, (ago(hours=1), written))
    desk.run(care.answer, one(desk, kind), Reply.DONE)
    assert of(desk, kind) == []
    assert desk.read(journal.of_plant, 101)[-1].kind is fact
    desk.undo()
    assert one(desk, kind)


def test_feed_given_and_a_wash_repeated_are_facts_that_owe_in_turn(desk: Desk) -> None:
    desk.run(put, 101, (ago(days=15), PEROXIDE), (ago(days=6), Sighted("two-spotted-mite")), (ago(days=5), WASH))
    desk.run(care.answer, one(desk, CareKind.HALF_FEED), Reply.DONE)
    desk.run(care.answer, one(desk, CareKind.WASH_REPEAT), Reply.DONE)
    assert of(desk, CareKind.HALF_FEED) == []
    again = one(desk, CareKind.WASH_REPEAT)
    assert again.due > NOW.date()
    assert one(desk, CareKind.AIR)
    written = [entry.facts for entry in desk.read(journal.of_plant, 101)]
    assert Poured(feed=True, half_strength=True) in written
    assert written.count(WASH) == 1


@pytest.mark.parametrize("washed_before", [True, False])
def test_a_wash_answered_as_done_tells_of_no_agent_and_what_follows_says_so(desk: Desk, washed_before: bool) -> None:
    """Not even the last wash's agent: this time it may have been another one."""
    before = [(ago(days=5), WASH)] if washed_before else []
    desk.run(put, 101, (ago(days=6), Sighted("two-spotted-mite")), *before)
    desk.run(care.answer, one(desk, CareKind.WASH_REPEAT if washed_before else CareKind.FIRST_WASH), Reply.DONE)
    wet, wash = desk.read(journal.of_plant, 101)[-2:]
    assert wash.facts == Treated("", Purpose.PEST_WASH)
    assert wash.note == "answered as done; where and how strong was not told"
    assert (wet.facts, wet.note) == (Wetted((Part.LEAVES,)), "taken as wetted by the wash; where was not told")
    assert one(desk, CareKind.WASH_REPEAT).why[0].text == (
        "18 Nov 15:30: pest wash with an agent not named (answered as done; where and how strong was not told).")
    assert "(taken as wetted by the wash; where was not told)" in one(desk, CareKind.AIR).why[0].text
    assert of(desk, CareKind.FIRST_WASH) == []
    said = records.words(wash.facts, desk.read(records.labels))
    assert (said.title, said.detail) == ("washed against pests", "an agent not named")


def test_a_look_done_put_off_or_declined_is_an_answer_in_the_journal(desk: Desk) -> None:
    desk.run(put, 101, (ago(days=3), Cut(Part.SPIKE)))
    due_now = of(desk, CareKind.CUT_CHECK)[0]
    desk.run(care.answer, due_now, Reply.PUT_OFF, date(2026, 11, 20), "dark")
    assert of(desk, CareKind.CUT_CHECK)[0].due == date(2026, 11, 20)
    desk.run(care.answer, of(desk, CareKind.CUT_CHECK)[0], Reply.DECLINED, None, "the spike is gone")
    assert [one.due for one in of(desk, CareKind.CUT_CHECK)] == [date(2026, 11, 22)]
    desk.run(care.answer, of(desk, CareKind.CUT_CHECK)[0], Reply.DONE)
    assert of(desk, CareKind.CUT_CHECK) == []
    answers = [entry.facts for entry in desk.read(journal.of_plant, 101) if isinstance(entry.facts, Answer)]
    assert [(said.reply, said.until, said.reason) for said in answers] == [
        (Reply.PUT_OFF, date(2026, 11, 20), "dark"), (Reply.DECLINED, None, "the spike is gone"),
        (Reply.DONE, None, "")]


@pytest.mark.parametrize(("written", "kind", "reply", "until", "reason"), [
    (POOL, CareKind.AIR, Reply.PUT_OFF, date(2026, 11, 20), ""),
    (PEROXIDE, CareKind.PLAIN_WATER, Reply.DONE, None, ""),
    (PEROXIDE, CareKind.PLAIN_WATER, Reply.PUT_OFF, date(2026, 11, 20), ""),
    (PEROXIDE, CareKind.PLAIN_WATER, Reply.DECLINED, None, "  "),
    (Unpotted(), CareKind.POT_UP, Reply.DONE, None, ""), (Sighted("aphid"), CareKind.PEST_LOOK, Reply.DONE, None, ""),
    (Cut(Part.SPIKE), CareKind.DRESS_CUT, Reply.PUT_OFF, date(2026, 11, 18), ""),
    (Cut(Part.SPIKE), CareKind.DRESS_CUT, Reply.PUT_OFF, None, ""),
    (Cut(Part.SPIKE), CareKind.DRESS_CUT, Reply.MISSED, None, "")])
def test_answers_that_do_not_fit_are_refused_and_change_nothing(
        desk: Desk, written: Facts, kind: CareKind, reply: Reply, until: date | None, reason: str) -> None:
    desk.run(put, 101, (ago(hours=1), written))
    before = desk.read(journal.everything)
    with pytest.raises(Refused) as refused:
        desk.run(care.answer, one(desk, kind), reply, until, reason)
    assert refused.value.detail
    assert desk.read(journal.everything) == before


def test_what_is_no_longer_owed_cannot_be_answered(desk: Desk) -> None:
    (entry,) = desk.run(put, 101, (ago(hours=1), Cut(Part.SPIKE)))
    stale = one(desk, CareKind.DRESS_CUT)
    desk.run(records.withdraw, entry)
    with pytest.raises(Refused, match="no longer owed"):
        desk.run(care.answer, stale, Reply.DONE)
    assert desk.run(care.missed, stale) is None
    assert desk.read(journal.everything) == ()


def test_a_missed_alarm_is_an_entry_and_the_care_stays(desk: Desk) -> None:
    desk.run(put, 101, (ago(days=3), Cut(Part.SPIKE)))
    desk.run(care.missed, of(desk, CareKind.CUT_CHECK)[0])
    assert of(desk, CareKind.CUT_CHECK)[0].missed == NOW


def test_what_a_missed_alarm_rests_on_is_not_undone_from_under_it(desk: Desk) -> None:
    desk.run(put, 101, (ago(days=3), Cut(Part.SPIKE)))
    desk.run(care.missed, of(desk, CareKind.CUT_CHECK)[0])
    before = desk.read(journal.everything)
    with pytest.raises(Refused, match="cannot be taken back"):
        desk.undo()
    assert desk.read(journal.everything) == before


def test_an_answer_whose_entry_was_taken_back_is_no_fault(desk: Desk) -> None:
    (entry,) = desk.run(put, 101, (ago(days=3), Cut(Part.SPIKE)))
    desk.run(care.answer, of(desk, CareKind.CUT_CHECK)[0], Reply.DONE)
    desk.run(records.withdraw, entry)
    assert backup.check(desk.store) == ()
    assert of(desk, CareKind.CUT_CHECK) == []


def test_blot_air_and_dry_by_hand(desk: Desk, clock: SteppedClock) -> None:
    desk.run(put, 101, (ago(hours=1), POOL))
    desk.run(care.blot, 101)
    clock.advance(60)
    desk.run(care.air_on, 101)
    drying = one(desk, CareKind.AIR).drying
    assert drying is not None
    assert (drying.pool, drying.aired) == (False, True)
    clock.advance(3600)
    desk.run(care.confirm_dry, 101)
    assert of(desk, CareKind.AIR) == []
    assert [type(entry.facts) for entry in desk.read(journal.of_plant, 101)][1::2] == [Blotted, Dry]
    for verb in (care.blot, care.air_on, care.confirm_dry):
        with pytest.raises(Refused, match="not wet"):
            desk.run(verb, 101)
