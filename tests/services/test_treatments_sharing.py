"""What plants of a session shared is told from its record, and exposes as an entry by hand does."""

from __future__ import annotations

import pytest

from greenhouse_desk.domain.faults import Refused
from greenhouse_desk.domain.journal import Shared, Sharing, Sighted
from greenhouse_desk.services import quarantine, treatments, treatments_sharing
from greenhouse_desk.services.clock import SteppedClock
from greenhouse_desk.services.desk import Desk
from greenhouse_desk.services.treatments import Choice
from greenhouse_desk.store import contacts, journal
from tests.services.sittings import DIP, shelf_of, stock, tell

DAY = 86400


@pytest.fixture
def session(desk: Desk, clock: SteppedClock) -> int:
    """A session with 101 and 102 that is over since yesterday."""
    desk.run(stock, [101, 102, 103])
    found = desk.run(treatments.start, [Choice(101, DIP.id), Choice(102, DIP.id)], shelf_of())
    desk.run(treatments.end, found, "time is up")
    clock.advance(DAY)
    return found


def test_it_is_kept_on_the_session_s_day_and_told_in_its_record(desk: Desk, clock: SteppedClock, session: int) -> None:
    assert desk.read(treatments_sharing.together, session) == (101, 102)
    before = desk.read(contacts.worked, clock.now().replace(year=2000))
    desk.run(treatments_sharing.share, session, Sharing.WATER, (101, 102))
    (entry,) = [one for one in desk.read(journal.of_plant, 101) if isinstance(one.facts, Shared)]
    assert entry.facts == Shared(Sharing.WATER, (102,))
    assert (clock.now() - entry.at).total_seconds() == DAY
    assert any("shared wash water with 102" in line for line in desk.read(treatments.record, session))
    assert desk.read(contacts.worked, clock.now().replace(year=2000)) == before, "no hand was on a plant for it"
    desk.run(tell, 102, Sighted("virus-signs"))
    exposed = desk.read(quarantine.status, clock.now())[101].statuses
    assert [one.how for one in exposed if one.word == "exposed"] == ["shared wash water"]
    desk.undo()
    desk.undo()
    assert not any(one.word == "exposed" for one in desk.read(quarantine.status, clock.now())[101].statuses)


@pytest.mark.parametrize(("plants", "refusal"), [
    ((101,), "Sharing takes two plants"), ((101, 101), "Sharing takes two plants"),
    ((101, 103), "103 was not in this session")])
def test_what_cannot_have_been_is_refused(plants: tuple[int, ...], refusal: str, desk: Desk, session: int) -> None:
    with pytest.raises(Refused, match=refusal):
        desk.run(treatments_sharing.share, session, Sharing.TRAY, plants)


def test_it_is_written_once(desk: Desk, session: int) -> None:
    desk.run(treatments_sharing.share, session, Sharing.TRAY, (101, 102))
    with pytest.raises(Refused, match="written down already"):
        desk.run(treatments_sharing.share, session, Sharing.TRAY, (101, 102))
    desk.run(treatments_sharing.share, session, Sharing.WATER, (101, 102))


def test_a_plant_alone_is_asked_nothing(desk: Desk) -> None:
    desk.run(stock, [101])
    found = desk.run(treatments.start, [Choice(101, DIP.id)], shelf_of())
    assert desk.read(treatments_sharing.together, found) == ()
