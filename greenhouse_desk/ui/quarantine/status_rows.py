"""Rows of the status list: over everything, or for one pest or disease alone."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from datetime import date

from greenhouse_desk.domain.quarantine import CLEAR
from greenhouse_desk.services.inspections import Turn
from greenhouse_desk.ui.quarantine.status_list import StatusRow

EVERYTHING = "every pest and disease"


def pests_of(turns: Sequence[Turn]) -> tuple[str, ...]:
    """The pests and diseases somebody is held back by, the most plants first."""
    tally: dict[str, int] = {}
    for turn in turns:
        for status in turn.standing.statuses:
            if status.what and status.rank > CLEAR:
                tally[status.what] = tally.get(status.what, 0) + 1
    return tuple(sorted(tally, key=lambda what: (-tally[what], what)))


def status_rows(turns: Sequence[Turn], what: str, names: Mapping[str, str], needed: int,
                today: date) -> tuple[StatusRow, ...]:
    """Everyone held back by `what` (EVERYTHING: by anything), the gravest first, then who may be clear soonest."""
    found = []
    for turn in turns:
        held = [status for status in turn.standing.statuses
                if status.rank > CLEAR and what in (EVERYTHING, status.what)]
        if held:
            worst = held[0]
            earliest = turn.standing.earliest if what == EVERYTHING else worst.earliest
            row = StatusRow(turn.plant, turn.name, worst.word, names.get(worst.what, worst.what.replace("-", " ")),
                            worst.next, worst.counted, 0 if worst.by_test else needed, earliest, today,
                            earliest != worst.earliest)
            found.append((-worst.rank, earliest or date.max, turn.plant, row))
    return tuple(row for *_, row in sorted(found, key=lambda item: item[:3]))
