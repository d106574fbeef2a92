"""What stands against parting with a plant: what is said there stands against it, and nothing else does."""

from __future__ import annotations

from greenhouse_desk.domain.journal import Looked, Sighted
from greenhouse_desk.services import dealings
from greenhouse_desk.services.clock import SteppedClock
from greenhouse_desk.services.desk import Desk
from tests.services.sittings import stock, tell

DAY = 86400


def test_that_a_plant_is_clear_does_not_stand_against_it(desk: Desk, clock: SteppedClock) -> None:
    desk.run(stock, [101])
    for _ in range(8):
        clock.advance(20 * DAY)
        desk.run(tell, 101, Looked(True))
    told = desk.read(dealings.before_trading, clock.now(), 101)
    assert told.standing.word == "clear"
    assert told.standing.why
    said = desk.read(dealings.against_parting, clock.now(), 101)
    assert not any("clear" in line for line in said), said


def test_a_find_does(desk: Desk, clock: SteppedClock) -> None:
    desk.run(stock, [101])
    desk.run(tell, 101, Sighted("mealybug", "adult", "axils", 2))
    said = desk.read(dealings.against_parting, clock.now(), 101)
    assert said[0].startswith("It is infested: ")
