"""Who has a blade of its own is asked at each press: worked out anew when it can differ, and only then."""

from __future__ import annotations

from datetime import datetime

import pytest

from greenhouse_desk.domain.journal import Released, Shared, Sharing, Sighted
from greenhouse_desk.domain.quarantine import Standing
from greenhouse_desk.services import quarantine, treatments
from greenhouse_desk.services.clock import SteppedClock
from greenhouse_desk.services.desk import Desk
from greenhouse_desk.store.engine import Session
from tests.services.sittings import CUT_ONLY, Grower, stock, tell

SIGNS = Sighted("virus-signs", "streaks or rings")


@pytest.fixture
def asked(monkeypatch: pytest.MonkeyPatch) -> list[datetime]:
    """When the standing of every plant was worked out for the blades."""
    found: list[datetime] = []
    of_all = quarantine.status

    def told(session: Session, now: datetime) -> dict[int, Standing]:
        found.append(now)
        return of_all(session, now)

    monkeypatch.setattr(quarantine, "status", told)
    return found


def test_presses_that_change_nothing_of_it_do_not_work_it_out_again(desk: Desk, clock: SteppedClock,
                                                                    asked: list[datetime]) -> None:
    desk.run(stock, [101, 102, 103])
    desk.run(tell, 103, SIGNS)
    grower = Grower(desk, clock).begins({101: CUT_ONLY.id, 102: CUT_ONLY.id})
    presses = 0
    while grower.sitting.ended_at is None:
        grower.obeys()
        presses += 1
    touches = 2
    assert presses > 2 * touches
    assert 0 < len(asked) <= 1 + touches


def test_what_a_virus_holds_back_follows_each_entry_and_what_is_taken_back(desk: Desk, clock: SteppedClock,
                                                                           asked: list[datetime]) -> None:
    desk.run(stock, [101, 102, 103])
    desk.run(tell, 103, SIGNS)
    grower = Grower(desk, clock).begins({101: CUT_ONLY.id, 102: CUT_ONLY.id})
    assert grower.sitting.own_blade == frozenset()
    clock.advance(60)
    desk.run(tell, 101, Shared(Sharing.WATER, (103,)))
    assert grower.sitting.own_blade == {101}, "exposed"
    desk.undo()
    assert grower.sitting.own_blade == frozenset()
    clock.advance(60)
    desk.run(tell, 102, SIGNS)
    assert desk.read(treatments.sitting, grower.session).own_blade == {102}, "whoever asks first, and as of when"
    assert grower.sitting.own_blade == {102}, "found on it"
    clock.advance(60)
    desk.run(tell, 102, Released("a test of a sister plant was clean"))
    assert grower.sitting.own_blade == frozenset()
    assert len(asked) == 5


def test_a_cut_with_the_tool_that_cut_a_carrier_counts(desk: Desk, clock: SteppedClock) -> None:
    """Ethanol clears no virus: the next plant that the cutter is taken to has its own blade from then on."""
    desk.run(stock, [101, 102])
    grower = Grower(desk, clock).begins({101: CUT_ONLY.id})
    while grower.sitting.ended_at is None:
        grower.obeys()
    desk.run(tell, 101, SIGNS)
    clock.advance(3600)
    later = Grower(desk, clock).begins({102: CUT_ONLY.id})
    seen = [later.sitting.own_blade]
    while later.sitting.ended_at is None:
        later.obeys()
        seen.append(later.sitting.own_blade)
    assert [seen[0], seen[-1]] == [frozenset(), {102}], "the tool is what changed"
