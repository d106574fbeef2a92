"""The outbreak: one pair of snips taken from plant to plant, and what it carried."""

from __future__ import annotations

from collections.abc import Sequence
from datetime import timedelta

from greenhouse_desk.domain.journal import Cut, Dressed, OutbreakOpened, Part
from greenhouse_desk.store import journal
from greenhouse_desk.store.engine import Session
from greenhouse_desk.store.tables import RunRow, SessionRow, SoakRow, ToolUseRow

from .days import Days
from .stories import CINNAMON

TOOL = "long snips"
PEST = "mealybug"
CARRIER = 127
CARRIED_TO = (112, 149)
DAYS_AGO = 47
EACH = timedelta(minutes=6)
OPENED_DAYS_AGO = 26


def share_the_snips(session: Session, days: Days, numbers: Sequence[int]) -> None:
    """One evening spikes were cut on `numbers`: the carrier first, two more with the same snips, then a soak, the rest.

    The two took the pest along; those cut after the soak stayed clean.
    """
    first = [CARRIER, *CARRIED_TO]
    rest = [number for number in numbers if number not in first]
    started = days.at(DAYS_AGO, 17, 0)
    sitting = SessionRow(started_at=started, ended_at=started + timedelta(minutes=55), loose_ends=[])
    session.add(sitting)
    session.flush()
    soak_at = started + EACH * len(first)
    for nth, number in enumerate([*first, *rest]):
        at = started + EACH * nth + (timedelta(minutes=12) if number in rest else timedelta())
        run = RunRow(session=sitting.id, plant=number, protocol="spike-cut", title="Cut a spent spike", position=nth)
        session.add(run)
        session.flush()
        session.add(ToolUseRow(session=sitting.id, tool=TOOL, plant=number, at=at))
        journal.add(session, at, Cut(Part.SPIKE, 1), plant=number, run=run.id)
        journal.add(session, at + timedelta(minutes=2), Dressed(CINNAMON), plant=number, run=run.id)
    session.add(SoakRow(session=sitting.id, tool=TOOL, what="70 % ethanol", agent="ethanol",
                        started_at=soak_at, least_s=180.0, most_s=1800.0, ended_at=soak_at + timedelta(minutes=10)))
    session.flush()
    opened = days.at(OPENED_DAYS_AGO, 20, 0)  # the evening it was found on the second plant
    journal.add(session, opened, OutbreakOpened(PEST), plant=CARRIED_TO[0])
