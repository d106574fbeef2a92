"""At the bench the dial of finds begins with what the plant's own journal knows, and writes down what was chosen."""

from __future__ import annotations

from greenhouse_desk.domain.bench import Key
from greenhouse_desk.domain.journal import Sighted
from greenhouse_desk.domain.protocols import Asks
from greenhouse_desk.services.clock import SteppedClock
from greenhouse_desk.services.desk import Desk
from greenhouse_desk.store import journal
from tests.services.sittings import REPOT, Grower, stock, tell

DAY = 86400


def test_what_was_found_on_the_plant_stands_first_the_newest_first(desk: Desk, clock: SteppedClock) -> None:
    desk.run(stock, [101, 102], medium="expanded clay pellets")
    for what in ("two-spotted-mite", "mealybug", "mealybug"):
        desk.run(tell, 101, Sighted(what, "", "leaves", 3))
        clock.advance(DAY)
    at = Grower(desk, clock).begins({101: REPOT.id})
    asked = at.comes_to(Asks.SIGHTINGS).instruction.question
    assert asked is not None
    assert asked.choices[2:4] == ("mealybug", "two-spotted mite")
    for answer in (asked.kept(2), 0, 1, 7, 0):
        at.press(Key.NEXT, answer)
    seen = [one.facts for one in desk.read(journal.of_plant, 101) if isinstance(one.facts, Sighted)]
    assert (seen[-1].what, seen[-1].count) == ("mealybug", 7)


def test_what_a_neighbour_may_have_passed_on_stands_first_too(desk: Desk, clock: SteppedClock) -> None:
    desk.run(stock, [101, 102], medium="expanded clay pellets")
    clock.advance(10 * DAY)
    desk.run(tell, 101, Sighted("mealybug", "", "leaves", 3))
    at = Grower(desk, clock).begins({102: REPOT.id})
    assert at.sitting.known == {102: ("mealybug",)}, at.sitting.runs[0].standing_why
