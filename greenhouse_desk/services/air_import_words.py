"""What a logger's file holds and what taking it in does, in words: readings, gaps, doubts, and each line refused."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from datetime import datetime, tzinfo

from greenhouse_desk.domain.air_log import GAP_STEPS, STUCK_HOURS, Heard, Pause, step_words
from greenhouse_desk.domain.air_log_preview import NO_HUMIDITY
from greenhouse_desk.domain.care_day import moment_words
from greenhouse_desk.domain.figures import counted
from greenhouse_desk.services.air_import import Prepared, same

PAUSES_TOLD = 5
FAULTS_TOLD = 12


def sentences(made: Prepared, zone: tzinfo) -> tuple[str, ...]:
    """What the file holds, told by the home's clock (`zone`); without the refused lines."""
    return tuple(_sentences(made, zone))


def _sentences(made: Prepared, zone: tzinfo) -> Iterator[str]:
    found = made.heard
    yield (f"{len(found.log.at):,} readings from {_span(found.first, found.last, zone)}, "
           f"{step_words(found.step_s)}.")
    if made.instead:
        yield ("This file was taken in before and read otherwise. Taken in again, it replaces that: all "
               f"{counted(made.gone, 'reading')} of a logger from {_span(*_ends(made), zone)} make room first. Undo "
               "brings them back.")
    yield taken_words(made)
    if found.gaps:
        yield (f"{counted(len(found.gaps), 'gap')} longer than {GAP_STEPS.value:g} usual steps: "
               f"{_pauses(found.gaps, zone)}.")
    if found.stuck:
        yield (f"Nothing changed for {STUCK_HOURS.value:g} h or longer: {_pauses(found.stuck, zone)}. Is the sensor "
               "stuck?")
    yield from _odd(found)
    yield from found.notes


def taken_words(made: Prepared) -> str:
    """How many readings are new, how many change what was known, how many were known."""
    known = same(made)
    if made.added == len(made.heard.log.at):
        return "All are new."
    if not made.changes:
        return "All were known already."
    parts = [(made.added, "new"), (made.changed, "in the place of others of the same moment"), (known, "known already")]
    return f"Of these {', '.join(f'{count:,} {words}' for count, words in parts if count)}."


def _odd(found: Heard) -> Iterator[str]:
    if found.over:
        yield f"{counted(found.over, 'reading')} above 100 % RH are taken as 100: the sensor reads a little high."
    if found.log.rh[0] < 0:
        yield NO_HUMIDITY
    if found.doubled:
        yield f"{counted(found.doubled, 'line')} told a moment that a later line told again; the later one holds."


def faults(made: Prepared) -> tuple[str, ...]:
    """The refused lines, the first of them in full."""
    found = made.heard
    told = [f"line {fault.line}: {fault.words}" for fault in found.faults[:FAULTS_TOLD]]
    more = found.refused - len(told)
    return (*told, *([f"and {more:,} more."] if more else []))


def _pauses(pauses: Sequence[Pause], zone: tzinfo) -> str:
    told = [f"{_span(one.start, one.end, zone)} ({_long(one)})" for one in pauses[:PAUSES_TOLD]]
    more = len(pauses) - PAUSES_TOLD
    return "; ".join(told) + (f"; and {more:,} more" if more > 0 else "")


def _long(one: Pause) -> str:
    minutes = int((one.end - one.start).total_seconds()) // 60
    if minutes >= 48 * 60:
        return counted(minutes // 1440, "day")
    return f"{minutes // 60} h {minutes % 60:02d}" if minutes >= 60 else f"{minutes} min"


def _ends(made: Prepared) -> tuple[datetime, datetime]:
    return min(one.first for one in made.instead), max(one.last for one in made.instead)


def _span(start: datetime, end: datetime, zone: tzinfo) -> str:
    return f"{moment_words(start, zone)} to {moment_words(end, zone)}"
