"""What plants of one bench session shared besides bench and tools: wash water or a tray, told at the bench or
after its end."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import replace
from datetime import datetime

from greenhouse_desk.domain.bench_turns import current, touched_at
from greenhouse_desk.domain.faults import Refused
from greenhouse_desk.domain.journal import Shared, Sharing
from greenhouse_desk.services.desk import Done
from greenhouse_desk.services.treatments_sitting import PRESSES, at_bench, kept_session
from greenhouse_desk.store import bench, journal
from greenhouse_desk.store.engine import Session

KINDS = frozenset({"journal"})


def together(session: Session, session_id: int) -> tuple[int, ...]:
    """The plants of a session, in the order they were worked on; none where one was alone and had nothing to share."""
    numbers = tuple(run.plant for run in bench.runs(session, session_id))
    return numbers if len(numbers) > 1 else ()


def share_with_before(session: Session, now: datetime, session_id: int, how: Sharing, plant: int | None) -> Done[int]:
    """Write down that `plant` (None: the one hands are on) shared wash water or a tray with the one hands were on
    before it. Returns the entry's id. Raises Refused where there was none, and as `share` does."""
    at = at_bench(session, session_id)
    here = next((run for run in at.runs if run.plant == plant), None) or current(at)
    others = [(when, run.plant) for run in at.runs if run is not here and (when := touched_at(at, run)) is not None]
    if here is None or not others:
        raise Refused("No plant was worked on before this one", "Nothing was written.",
                      "Note it once the second plant has shared it.")
    return replace(share(session, now, session_id, how, (here.plant, max(others)[1])), kinds=PRESSES)


def share(session: Session, now: datetime, session_id: int, how: Sharing, plants: Sequence[int]) -> Done[int]:
    """Write down that `plants` of the session shared wash water or a tray in it. Returns the entry's id.

    Raises Refused for fewer than two plants, one that was not in the session, and what is written down already.
    """
    runs = {run.plant: run.id for run in bench.runs(session, session_id)}
    wanted = tuple(dict.fromkeys(plants))
    for number in wanted:
        if number not in runs:
            raise Refused(f"{number} was not in this session", "Nothing was written.",
                          "Write what it shared into its own journal.")
    if len(wanted) < 2:
        raise Refused("Sharing takes two plants at least", "Nothing was written.", "Name those that shared it.")
    first, *others = wanted
    facts = Shared(how, tuple(others))
    if any(entry.facts == facts for entry in journal.of_runs(session, [runs[first]])):
        raise Refused("That is written down already", "", "It stands in the record below.")
    ended = kept_session(session, session_id).ended_at or now
    entry = journal.add(session, min(ended, now), facts, plant=first, run=runs[first])
    return Done(f"{', '.join(map(str, wanted))}: shared {how.value}", KINDS, entry)
