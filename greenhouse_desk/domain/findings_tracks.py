"""Findings over time: one plant's roots as they were counted."""

from __future__ import annotations

from greenhouse_desk.domain.findings import Finding, Table, Track, Tracks
from greenhouse_desk.domain.journal import Roots
from greenhouse_desk.domain.plants import History

LEAST_POINTS = 2


def roots(one: History) -> Finding:
    """Living and dead roots and new tips of a plant at each count."""
    counted = [(entry.at, entry.facts) for entry in one.entries if isinstance(entry.facts, Roots)]
    lines = (Track("living", "roots", tuple((at, float(facts.living)) for at, facts in counted)),
             Track("dead", "roots", tuple((at, float(facts.dead)) for at, facts in counted)),
             Track("new tips", "roots", tuple((at, float(facts.new_tips)) for at, facts in counted)))
    said = "No root was counted yet."
    if counted:
        first, last = counted[0][1], counted[-1][1]
        said = f"Last counted {last.living} living, {last.dead} dead, {last.new_tips} new tips."
        if len(counted) > 1:
            said += f" The first count had {first.living} living and {first.dead} dead."
    times = "1 root count" if len(counted) == 1 else f"{len(counted)} root counts"
    return Finding(f"Roots of {one.plant.number}", f"{times} of one plant", said,
                   Tracks(lines) if len(counted) >= LEAST_POINTS else None,
                   Table(("counted (UTC)", "living", "dead", "new tips"),
                         tuple((at.isoformat(timespec="minutes"), facts.living, facts.dead, facts.new_tips)
                               for at, facts in counted)))
