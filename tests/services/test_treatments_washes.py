"""Whether a wash belongs into a session's plan: owed, not due yet, chosen all the same; and what is written of it."""

from __future__ import annotations

import pytest

from greenhouse_desk.domain.bench import Key
from greenhouse_desk.domain.journal import Note, Part, Purpose, Sighted, Treated
from greenhouse_desk.domain.protocols import Asks
from greenhouse_desk.services import treatments
from greenhouse_desk.services.clock import SteppedClock
from greenhouse_desk.services.desk import Desk
from greenhouse_desk.services.treatments import Choice
from greenhouse_desk.store import journal
from tests.services.sittings import REPOT, Grower, shelf_of, stock, tell

DAY = 86400


def washed_lately(desk: Desk, clock: SteppedClock) -> None:
    desk.run(stock, [101], medium="expanded clay pellets")
    clock.advance(100 * DAY)
    desk.run(tell, 101, Sighted("boisduval-scale", "female shield", "leaves", 3))
    desk.run(tell, 101, Treated("alcohol-soap-wash", Purpose.PEST_WASH, (Part.LEAVES,)))
    clock.advance(DAY)


def test_a_wash_that_is_not_due_is_in_the_plan_only_when_chosen(desk: Desk, clock: SteppedClock) -> None:
    washed_lately(desk, clock)

    def told(wash: bool = False) -> tuple[bool, tuple[str, ...]]:
        found = desk.read(treatments.preparation, clock.now(), [Choice(101, REPOT.id, wash)], shelf_of())
        return any(bar.step == "wash" for bar in found.plan.steps), found.notes

    assert told() == (False, ("101: wash not due yet: from 8 Mar; so the plan leaves it out. Should pests be seen at "
                              "the look, the wash is asked for.",))
    assert told(wash=True) == (True, ("101: wash not due yet: from 8 Mar; it is washed all the same, as you chose.",))
    planned = Choice(101, REPOT.id, True, wash_why="by the outbreak's plan: wash 2 Mar")
    assert desk.read(treatments.preparation, clock.now(), [planned], shelf_of()).notes == (
        "101: wash not due yet: from 8 Mar; it is washed all the same, by the outbreak's plan: wash 2 Mar.",)
    clock.advance(20 * DAY)
    assert told() == (True, ())


@pytest.mark.parametrize(("days", "choice", "why"), [
    (0, Choice(101, REPOT.id), "wash not due yet: from 8 Mar; so the plan leaves it out. Should pests be seen at the "
                               "look, the wash is asked for."),
    (0, Choice(101, REPOT.id, True, wash_why="by the outbreak's plan: wash 2 Mar"),
     "wash not due yet: from 8 Mar; it is washed all the same, by the outbreak's plan: wash 2 Mar."),
    (20, Choice(101, REPOT.id), "washed because it is owed: ")])
def test_why_a_wash_is_in_the_plan_or_left_out_is_in_the_journal(days: int, choice: Choice, why: str, desk: Desk,
                                                                clock: SteppedClock) -> None:
    washed_lately(desk, clock)
    clock.advance(days * DAY)
    session = desk.run(treatments.start, [choice], shelf_of())
    (note,) = [entry for entry in desk.read(journal.of_plant, 101) if isinstance(entry.facts, Note)]
    assert isinstance(note.facts, Note)
    assert note.facts.text.startswith(f"At the start: {why}")
    assert any(note.facts.text in line for line in desk.read(treatments.record, session)), "the session tells it too"
    desk.undo()
    assert not any(isinstance(entry.facts, Note) for entry in desk.read(journal.of_plant, 101)), "one deed"


@pytest.mark.parametrize(("wash", "sees", "asked"), [(False, False, False), (False, True, True), (True, False, True)])
def test_at_the_bench_a_wash_that_is_not_due_is_asked_for_when_chosen_or_when_pests_are_seen(
        wash: bool, sees: bool, asked: bool, desk: Desk, clock: SteppedClock) -> None:
    washed_lately(desk, clock)
    session = desk.run(treatments.start, [Choice(101, REPOT.id, wash)], shelf_of())
    at = Grower(desk, clock, session)
    at.comes_to(Asks.SIGHTINGS)
    for value in ([2, 0, 0, 1, 0] if sees else [1]):
        at.press(Key.NEXT, value)
    at.finishes()
    assert any(isinstance(facts, Treated) and facts.purpose is Purpose.PEST_WASH for facts in at.facts(101)) is asked
