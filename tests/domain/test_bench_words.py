"""What the board says of times: stretches in words, the clock against the limit, and how long a soak is over."""

from __future__ import annotations

from dataclasses import replace
from datetime import timedelta
from zoneinfo import ZoneInfo

import pytest

from greenhouse_desk.domain.bench import Run, RunStep, Sitting, Soak, State, board
from greenhouse_desk.domain.bench_board import span
from greenhouse_desk.domain.journal import Part
from greenhouse_desk.domain.protocols import Deed, ProtocolStep, Work
from tests.builders import NOW

ZONE = ZoneInfo("Europe/London")
SOAK = ProtocolStep("dip", "dip", "", Deed.TREAT, Work.SOAK, (Part.ROOTS,), least_min=10, most_min=12)


def soaking(minutes: float) -> Sitting:
    """The roots of 101 in a soak of 10 to 12 minutes that began so long ago."""
    run = Run(1, 101, "", "p", "P", (RunStep(101, 1, SOAK, State.SOAKING, None),), "clear")
    soak = Soak(1, "roots", "", NOW - timedelta(minutes=minutes), 600, 720, 1, 101)
    return Sitting(1, NOW - timedelta(hours=1), (run,), soaks=(soak,))


@pytest.mark.parametrize(("seconds", "words"), [
    (0, "0 min"), (59, "0 min"), (60, "1 min"), (89 * 60, "89 min"), (90 * 60 - 1, "89 min"), (90 * 60, "1 h 30"),
    (125 * 60, "2 h 05")])
def test_a_stretch_in_words(seconds: float, words: str) -> None:
    assert span(seconds) == words


@pytest.mark.parametrize(("minutes", "words"), [
    (None, "15:30"), (20, "15:30, dusk in 20 min"), (0, "15:30, dusk in 0 min"), (-1, "15:30, 1 min past dusk"),
    (-130, "15:30, 2 h 10 past dusk")])
def test_the_clock_tells_how_far_the_limit_is(minutes: int | None, words: str) -> None:
    at = soaking(1)
    if minutes is not None:
        at = replace(at, limit=NOW + timedelta(minutes=minutes), limit_name="dusk")
    assert board(at, NOW, ZONE).clock == words


@pytest.mark.parametrize(("minutes", "note"), [
    (9, ""), (10, ""), (10 + 59 / 60, ""), (11, "least reached at 15:29, 1 min ago"), (12.5, ""),
    (12 + 59 / 60, ""), (13, "most passed at 15:29, 1 min ago"), (40, "most passed at 15:02, 28 min ago")])
def test_a_minute_after_its_least_or_most_a_soak_says_since_when(minutes: float, note: str) -> None:
    seen = board(soaking(minutes), NOW, ZONE)
    assert [cell.note for cell in seen.cells] == [note]
    assert seen.words == ((f"101: {note}.",) if note else ())
