"""The record of a bench session on paper: plant by plant in queue order, the times in a column of their own."""

from __future__ import annotations

import re
from collections.abc import Sequence
from itertools import zip_longest

from greenhouse_desk.domain.paper import A4, Measure, Page, Words
from greenhouse_desk.services.page_flow import BODY, BOLD, LEADING, Flow
from greenhouse_desk.services.page_parts import head

CLOCK = re.compile(r"(\d\d:\d\d) (.*)", re.DOTALL)
TOOLS = re.compile(r"Left open: |\d\d:\d\d |.* in .*: (not ended|[0-9.]+ min)")
"""What a record tells after its plants: how long tools stood in what, to whom they were taken, what was left open."""
BESIDES = "Tools, and what was left open"
TIME_WIDE = 14.0
OWED = ("What each plant is owed from here on is worked out from these entries; this sheet is a copy as it stood, "
        "printed from the journal.")


def pages(lines: Sequence[str], measure: Measure, size: tuple[float, float] = A4) -> tuple[Page, ...]:
    """`treatments.record` on sheets of `size`: the first line is the title, one that is not indented begins a plant."""
    flow = Flow(measure, size)
    title = lines[0] if lines else "Bench session"
    head(flow, title, (OWED,))
    besides = False
    for line, following in zip_longest(lines[1:], lines[2:], fillvalue=""):
        if line.startswith("  "):
            _timed(flow, line.strip())
            continue
        of_plant = following.startswith("  ") or not TOOLS.match(line)
        flow.again = ""
        if of_plant or not besides:
            flow.heading(line if of_plant else BESIDES)
            flow.again = line if of_plant else BESIDES
        if not of_plant:
            besides = True
            _timed(flow, line)
    flow.again = ""
    return flow.done(title)


def _timed(flow: Flow, line: str) -> None:
    """A line with its time at the left, or across where it has none."""
    found = CLOCK.fullmatch(line)
    if found is None:
        flow.line(line, BODY)
        return
    flow.room(LEADING * BODY.letter)
    flow.items.append(Words(flow.left, flow.y + LEADING * BODY.letter, found[1], BOLD))
    flow.line(found[2], BODY, flow.left + TIME_WIDE)
