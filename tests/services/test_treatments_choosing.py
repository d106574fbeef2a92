"""Before the bench: what is proposed and why, what the preparation tells, and what cannot be started."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import replace
from datetime import datetime, timedelta

import pytest

from greenhouse_desk.domain.bench import Job, plan
from greenhouse_desk.domain.bench_choice import TOOL_AGENT, TOOL_SOAK_LEAST_MIN
from greenhouse_desk.domain.faults import Refused
from greenhouse_desk.domain.journal import (
    Leaving,
    Left,
    Looked,
    Overruled,
    Part,
    Potted,
    Purpose,
    Reading,
    Roots,
    Sighted,
    Signs,
    Treated,
    Unpotted,
)
from greenhouse_desk.domain.journal_course import Growing
from greenhouse_desk.domain.journal_words import FOR_NOW
from greenhouse_desk.domain.protocols import Deed, Protocol
from greenhouse_desk.services import records, treatments
from greenhouse_desk.services.clock import SteppedClock
from greenhouse_desk.services.desk import Desk, Done
from greenhouse_desk.services.shelf import shelf
from greenhouse_desk.services.treatments import Candidate, Choice
from greenhouse_desk.store import journal
from greenhouse_desk.store.engine import Session
from tests.services.sittings import CUT_ONLY, DIP, REPOT, grower, shelf_of, soak, step, stock, tell

DAY = 86400


def candidate(desk: Desk, clock: SteppedClock, number: int) -> Candidate:
    some = [one for one in desk.read(treatments.candidates, clock.now()) if one.plant == number]
    return desk.read(treatments.proposed, clock.now(), some)[0]


def start(desk: Desk, *choices: tuple[int, str], protocols: Sequence[Protocol] = ()) -> int:
    return desk.run(treatments.start, [Choice(*choice) for choice in choices], shelf_of(*protocols))


def test_the_wash_is_proposed_because_of_what_was_seen(desk: Desk, clock: SteppedClock) -> None:
    desk.run(stock, [101])
    clock.advance(100 * DAY)
    desk.run(tell, 101, Sighted("mealybug", "adult", "axils", 3))
    clock.advance(DAY)
    desk.run(tell, 101, Sighted("mealybug", "adult", "axils", 3))
    found = candidate(desk, clock, 101)
    assert found.proposed == "pest-wash"
    assert "mealybug" in found.proposed_why
    assert found.past == "mealybug, 2 times, last 27 Feb 2027"
    desk.run(tell, 101, Treated("alcohol-soap-wash", Purpose.PEST_WASH, (Part.LEAVES,)))
    assert candidate(desk, clock, 101).last_treatment == "pest wash with alcohol-and-soap wash, 27 Feb 2027"
    desk.run(tell, 101, Treated("", Purpose.PEST_WASH))
    assert candidate(desk, clock, 101).last_treatment == "pest wash with an agent not named, 27 Feb 2027"


def test_a_wash_is_proposed_only_on_a_day_it_is_owed(desk: Desk, clock: SteppedClock) -> None:
    desk.run(stock, [101], medium="expanded clay pellets")
    clock.advance(100 * DAY)
    desk.run(tell, 101, Sighted("boisduval-scale", "female shield", "leaves", 3))
    assert candidate(desk, clock, 101).proposed == "pest-wash"
    clock.advance(DAY)
    desk.run(tell, 101, Treated("alcohol-soap-wash", Purpose.PEST_WASH, (Part.LEAVES,)))
    found = candidate(desk, clock, 101)
    assert found.proposed == ""
    assert "wash not due yet: from 9 Mar" in found.proposed_why
    assert found.past == "Boisduval scale, 26 Feb 2027"
    clock.advance(14 * DAY)
    assert candidate(desk, clock, 101).proposed == "pest-wash"


def test_a_disease_is_no_reason_for_a_wash(desk: Desk, clock: SteppedClock) -> None:
    desk.run(stock, [101], medium="pumice")
    clock.advance(100 * DAY)
    desk.run(tell, 101, Sighted("soft-rot", "spreading", "leaves", 1))
    found = candidate(desk, clock, 101)
    assert found.proposed == ""
    assert "no wash is owed" in found.proposed_why


@pytest.mark.parametrize(("medium", "moves"), [
    ("pumice", False), ("lava", False), ("LECA", False), ("Fir bark, medium", True), ("sphagnum", True), ("", False)])
def test_the_move_is_proposed_out_of_what_rots_alone_and_only_once_it_may_start(
        medium: str, moves: bool, desk: Desk, clock: SteppedClock) -> None:
    desk.run(stock, [101], medium=medium)
    clock.advance(100 * DAY)
    found = candidate(desk, clock, 101)
    assert found.proposed == ""
    assert found.proposed_why.startswith(f"stands in {medium}, but the move should wait: short days" if moves else
                                         "nothing is owed that needs the bench")
    clock.advance(80 * DAY)
    desk.run(warm)
    desk.run(tell, 101, Roots(9, 0, 3))
    desk.run(tell, 101, Signs(growing=Growing.GROWTH))
    found = candidate(desk, clock, 101)
    assert found.proposed == ("transition-repot" if moves else "")
    if moves:
        assert "It may start" in found.proposed_why


def warm(session: Session, now: datetime) -> Done[None]:
    """A verb: a warm reading on the bench."""
    journal.add(session, now, Reading(21.0, 0.6), place=1)
    return Done("Read", frozenset({"journal"}), None)


def test_what_was_looked_at_and_what_never_is_told(desk: Desk, clock: SteppedClock) -> None:
    desk.run(stock, [101, 102])
    clock.advance(100 * DAY)
    desk.run(tell, 101, Looked(True))
    assert candidate(desk, clock, 101).past == "no pest seen"
    assert candidate(desk, clock, 102).past == "never looked at"


def test_a_third_of_the_roots_dead_asks_for_the_trim_until_it_is_potted_for_good(
        desk: Desk, clock: SteppedClock) -> None:
    desk.run(stock, [101], medium="expanded clay pellets")
    clock.advance(100 * DAY)
    desk.run(tell, 101, Roots(6, 4))
    found = candidate(desk, clock, 101)
    assert (found.proposed, found.proposed_why) == (
        "root-trim-and-repot", "4 of 10 roots were dead at the last count")
    clock.advance(60)
    desk.run(records.add, 101, Potted("expanded clay pellets"), note=FOR_NOW)
    desk.run(tell, 101, Potted("expanded clay pellets", day_known=False))
    assert candidate(desk, clock, 101).proposed == "root-trim-and-repot"
    clock.advance(60)
    desk.run(tell, 101, Potted("expanded clay pellets"))
    assert candidate(desk, clock, 101).proposed == ""


def test_bare_roots_ask_for_the_bench(desk: Desk, clock: SteppedClock) -> None:
    desk.run(stock, [101], medium="expanded clay pellets")
    desk.run(tell, 101, Unpotted())
    found = candidate(desk, clock, 101)
    assert (found.proposed, found.proposed_why) == ("root-trim-and-repot", "Pot it up: its roots are bare")


def test_a_move_that_should_wait_starts_only_with_a_reason_that_is_written_down(
        desk: Desk, clock: SteppedClock) -> None:
    move = Protocol("go-trial", "Go", "", (step("in", Deed.POT, medium="expanded clay pellets", transition=True),))
    desk.run(stock, [101])
    clock.advance(100 * DAY)
    said = desk.read(treatments.move, clock.now(), 101)
    assert said.waits
    assert said.words.startswith("Better not yet: short days")
    told = desk.read(treatments.preparation, clock.now(), [Choice(101, move.id)], shelf_of(move))
    assert told.waits == (f"101: {said.words}",)
    with pytest.raises(Refused, match="Better not move 101 yet"):
        start(desk, (101, move.id), protocols=[move])
    desk.run(treatments.start, [Choice(101, move.id, reason="the bark has gone sour")], shelf_of(move))
    (given,) = [entry.facts for entry in desk.read(journal.of_plant, 101) if isinstance(entry.facts, Overruled)]
    assert (given.of, given.instead, given.reason) == ("start", "start", "the bark has gone sour")
    assert not desk.read(treatments.move, clock.now(), 101).waits


def test_what_was_laid_out_is_kept_with_the_session(desk: Desk, clock: SteppedClock) -> None:
    desk.run(stock, [101])
    session = desk.run(treatments.start, [Choice(101, DIP.id)], shelf_of(), (), "Laid out before the start: gloves.")
    assert any("Laid out before the start: gloves." in line for line in desk.read(treatments.record, session))


def test_a_plant_that_left_is_no_candidate(desk: Desk, clock: SteppedClock) -> None:
    desk.run(stock, [101, 102])
    clock.advance(DAY)
    desk.run(tell, 101, Left(Leaving.DEAD))
    assert [one.plant for one in desk.read(treatments.candidates, clock.now())] == [102]


def test_the_preparation_counts_materials_and_tells_the_end_and_whether_it_dries(
        desk: Desk, clock: SteppedClock) -> None:
    desk.run(stock, [101, 102, 103])
    choices = [Choice(number, REPOT.id) for number in (103, 101, 102)]
    told = desk.read(treatments.preparation, clock.now(), choices, shelf_of())
    assert [plant for plant, _ in told.order] == [101, 102, 103]
    peroxide = next(line for line in told.kit if line.what.startswith("hydrogen peroxide"))
    assert (peroxide.amount, peroxide.unit) == (180, "ml")
    assert told.ends_at - told.starts_at == timedelta(minutes=told.plan.makespan_minutes)
    assert told.startable
    assert told.drying.ok is False
    assert told.limit is not None
    assert told.ends_at > told.limit
    both = desk.read(treatments.preparation, clock.now(), [Choice(101, REPOT.id), Choice(103, REPOT.id)], shelf_of())
    assert "101: " in both.drying.words
    assert "103: " in both.drying.words, "each plant that may stay wet is named"
    assert desk.read(treatments.preparation, clock.now(), [Choice(101, DIP.id)], shelf_of()).drying.ok is True


def test_agents_that_must_not_meet_cannot_be_started(desk: Desk, clock: SteppedClock) -> None:
    mixed = Protocol("mixed-trial", "Mixed", "", (
        soak("dip", Deed.TREAT, on=(Part.ROOTS,), agent="hydrogen-peroxide", strength=3.0),
        soak("acid", Deed.TREAT, ["dip"], on=(Part.ROOTS,), agent="vinegar", strength=5.0)))
    desk.run(stock, [101])
    told = desk.read(treatments.preparation, clock.now(), [Choice(101, mixed.id)], shelf_of(mixed))
    assert not told.startable
    assert any(fault.grave for fault in told.faults)
    with pytest.raises(Refused, match="agents would meet"):
        start(desk, (101, mixed.id), protocols=[mixed])
    assert desk.read(treatments.open_sittings) == ()


def test_editing_a_protocol_never_rewrites_a_session(desk: Desk, clock: SteppedClock) -> None:
    at = grower(desk, clock, [101, 102]).begins({101: DIP.id})
    edited = replace(DIP, title="Other", steps=DIP.steps[:1])
    desk.run(treatments.start, [Choice(102, edited.id)], shelf_of(edited))
    run = at.sitting.runs[0]
    assert (run.title, tuple(step.step for step in run.steps)) == (DIP.title, DIP.steps)


@pytest.mark.parametrize(("choices", "title"), [
    ((), "Nothing to start"), (((101, DIP.id), (101, CUT_ONLY.id)), "A plant was chosen twice"),
    (((999, DIP.id),), "Plant 999 is not growing here"), (((101, "none"),), "There is no protocol none")])
def test_what_cannot_be_started_is_refused(choices: tuple[tuple[int, str], ...], title: str, desk: Desk) -> None:
    desk.run(stock, [101])
    with pytest.raises(Refused) as refusal:
        start(desk, *choices)
    assert refusal.value.title == title
    assert desk.read(treatments.open_sittings) == ()


def test_a_plant_in_an_open_session_is_not_taken_to_another(desk: Desk) -> None:
    desk.run(stock, [101, 102])
    start(desk, (101, DIP.id))
    with pytest.raises(Refused, match="Plant 101 is in a bench session"):
        start(desk, (101, DIP.id))
    start(desk, (102, DIP.id))


def test_the_tool_soak_is_the_published_one_of_the_shelf() -> None:
    uses = [use for use in shelf(None).agents[TOOL_AGENT].uses if use.on == "tools"]
    assert [use.least_min for use in uses] == [TOOL_SOAK_LEAST_MIN.value]
    assert uses[0].low <= 70 <= uses[0].high


@pytest.mark.parametrize("number", range(6))
def test_every_shipped_protocol_runs_to_its_end(number: int, desk: Desk, clock: SteppedClock) -> None:
    shipped = shelf(None)
    protocol = shipped.protocols[number]
    at = grower(desk, clock, (101, 102)).begins({101: protocol.id, 102: protocol.id}, shipped).finishes()
    assert all(step.closed for run in at.sitting.runs for step in run.steps)
    assert at.desk.read(treatments.record, at.session)[0].startswith("Bench session of 18 Nov 2026 15:30, ended")
    soaks = [soak for soak in at.sitting.soaks if not soak.tool]
    assert all(soak.ended_at is not None and soak.ended_at >= soak.least_at for soak in soaks)


@pytest.mark.parametrize("number", range(6))
def test_no_shipped_protocol_keeps_an_agent_on_a_plant_past_its_most(number: int) -> None:
    steps = shelf(None).protocols[number].steps
    for count in (1, 3, 7):
        assert plan([Job(101 + n, steps, pests=True) for n in range(count)]).overruns == ()
