"""A logger's file taken in at a place: looked at, read as the grower says, merged with what is there, told openly."""

from __future__ import annotations

import csv
from collections.abc import Callable, Iterator, Mapping, Sequence
from dataclasses import dataclass, replace
from datetime import UTC, date, datetime, timedelta, tzinfo
from itertools import pairwise
from pathlib import Path

from greenhouse_desk.domain.air_log import Columns, Heard, Log
from greenhouse_desk.domain.air_log_look import BY_HAND, Sample, guessed
from greenhouse_desk.domain.air_log_look import look as look_over
from greenhouse_desk.domain.air_log_read import heard
from greenhouse_desk.domain.air_slots import DAY_S
from greenhouse_desk.domain.faults import Refused
from greenhouse_desk.domain.written import read, written
from greenhouse_desk.services.air_takeout import packed_day, without
from greenhouse_desk.services.desk import Done
from greenhouse_desk.store import air, house, plants
from greenhouse_desk.store.air import Block, Import
from greenhouse_desk.store.engine import Session

KINDS = frozenset({"air", "house"})
HEAD_BYTES = 64 * 1024
LARGEST_MB = 256
LONGEST_CELL = 128 * 1024
"""Characters; set before each reading, for the limit is the process's and a list of plants may hold longer ones."""
NO_TABLE = "Let the logger write CSV, or choose another file."
CLOCKS_APART = timedelta(hours=26)
"""The farthest two clocks on earth stand apart, from UTC-12 to UTC+14."""
MOST_MAPPINGS = 50
"""Loggers whose columns are remembered; the oldest gives way."""


@dataclass(frozen=True, slots=True)
class Looked:
    """A file as it looks from its first lines: what its columns are likely to hold, or how they were read before;
    `before` stays as that was, where `columns` are chosen anew."""

    path: Path
    sample: Sample
    columns: Columns
    known: bool
    before: Columns | None = None


@dataclass(frozen=True, slots=True)
class Prepared:
    """A whole file read and packed day by day, with the days it was merged with as they were then.

    Where it was taken in before and read otherwise, `instead` are those imports, whose `gone` readings make room first;
    `emptied` days are left with none.
    """

    place: int
    file: str
    columns: Columns
    signature: str
    heard: Heard
    days: tuple[Block, ...]
    before: Mapping[date, Block]
    added: int
    changed: int
    emptied: tuple[date, ...] = ()
    instead: tuple[Import, ...] = ()
    gone: int = 0

    @property
    def changes(self) -> bool:
        """Whether taking it in does anything."""
        return bool(self.days or self.emptied)


def open_head(path: Path, delimiter: str = "") -> Sample:
    """The first lines of a file, its cells parted by `delimiter` or as it looks. Raises Refused where it cannot be
    read, or holds no table."""
    lines = _first_lines(path)
    csv.field_size_limit(LONGEST_CELL)
    try:
        sample = look_over(lines, delimiter)
    except csv.Error as error:
        raise Refused("There is no table in that file", f"{path.name}: {error}.", NO_TABLE) from error
    if not sample.rows or len(sample.names) < 2:
        parted = BY_HAND.get(delimiter, "comma, semicolon, tab or bar")
        raise Refused("There is no table in that file", f"{path.name} has no lines with a time and figures parted by a "
                      f"{parted}.", NO_TABLE)
    return sample


def _first_lines(path: Path) -> list[str]:
    try:
        if path.stat().st_size > LARGEST_MB * 2**20:
            raise Refused("That file is too large", f"{path.name} holds more than {LARGEST_MB} MB.",
                          "Let the logger write its years into files of their own.")
        with path.open("rb") as file:
            data = file.read(HEAD_BYTES)
    except OSError as error:
        raise Refused("The file cannot be read", f"{path}: {error.strerror}.", "Check its name and place.") from error
    lines = decoded(data).splitlines(keepends=True)
    return lines[:-1] if len(data) == HEAD_BYTES else lines


def decoded(data: bytes) -> str:
    """A logger's text: UTF-8 or UTF-16 where it is that, else Western European."""
    if data[:2] in (b"\xff\xfe", b"\xfe\xff"):
        return data.decode("utf-16", errors="replace")
    try:
        return data.decode("utf-8-sig")
    except UnicodeDecodeError as error:
        cut = error.start >= len(data) - 3 and len(data) == HEAD_BYTES
        return data[:error.start].decode("utf-8-sig") if cut else data.decode("cp1252", errors="replace")


def look(session: Session, path: Path) -> Looked:
    """A file looked at: read before as such a file was, its cells parted as then, else as guessed. Raises Refused."""
    sample = open_head(path)
    told = remembered(session)
    lines = _first_lines(path)
    for key, known in reversed(told.items()):  # what was told last counts
        as_then = sample if known.delimiter == sample.delimiter else look_over(lines, known.delimiter)
        if as_then.rows and as_then.signature == key:
            columns = replace(known, head=as_then.head)
            return Looked(path, as_then, columns, True, columns)
    return Looked(path, sample, guessed(sample), False)


def parted(looked: Looked, delimiter: str) -> Looked:
    """The file looked at anew, its cells parted as the grower says. Raises Refused where that makes no table."""
    sample = open_head(looked.path, delimiter)
    return replace(looked, sample=sample, columns=guessed(sample), known=False)


def remembered(session: Session) -> dict[str, Columns]:
    """How files were read before, by what their first lines look like; what cannot be read any more is left out."""
    found = {}
    for signature, told in house.air_columns(session).items():
        try:
            found[signature] = read(Columns, told)
        except ValueError:
            continue
    return found


def known_days(session: Session, place: int) -> dict[date, Block]:
    """What a place has of loggers, to be handed to `prepare`."""
    return air.blocks(session, place)


def prepare(looked: Looked, place: int, zone: tzinfo, now: datetime, known: Mapping[date, Block],
            told: Callable[[float], None] = lambda _: None, earlier: Sequence[Import] = ()) -> Prepared:
    """Read and pack a whole file: long, for the pool; `told` hears the share that is read, and may raise to stop it.
    `earlier` are the files taken in there.

    Raises Refused where the file cannot be read, or no line of it can.
    """
    try:
        lines = decoded(looked.path.read_bytes()).splitlines(keepends=True)
    except OSError as error:
        raise Refused("The file cannot be read", f"{looked.path}: {error.strerror}.", "Check its place.") from error
    csv.field_size_limit(LONGEST_CELL)
    try:
        found = heard(lines, looked.columns, zone, now, lambda line: told(line / max(len(lines), 1)))
    except csv.Error as error:
        raise Refused(f"{looked.path.name} is no table", f"A cell of it is too long ({error}).", NO_TABLE) from error
    if not found.log.at:
        first = next((f"Line {one.line}: {one.words}" for one in found.faults), "It has no line with readings.")
        raise Refused(f"Nothing could be read from {looked.path.name}", first,
                      "Look at the columns, units and the order of the date again.")
    if found.turned is not None:
        raise Refused(f"Day and month are the other way round in {looked.path.name}",
                      _turned_words(found, looked.columns),
                      f"Choose “{found.turned}” for how the day is written. Nothing was taken in.")
    return _packed(looked, place, found, known, read_otherwise(looked, found, earlier), told)


def read_otherwise(looked: Looked, found: Heard, earlier: Sequence[Import]) -> tuple[Import, ...]:
    """The imports of this file whose readings another choice of columns or clock puts right: those of its name which it
    holds whole, give or take what a clock may be off. An earlier file that only bears the same name stays."""
    if looked.before is None or looked.before == looked.columns:
        return ()
    first, last = found.first - CLOCKS_APART, found.last + CLOCKS_APART
    return tuple(one for one in earlier if one.file == looked.path.name and first <= one.first and one.last <= last)


def _packed(looked: Looked, place: int, found: Heard, known: Mapping[date, Block],
            instead: tuple[Import, ...], told: Callable[[float], None]) -> Prepared:
    cut = without(known, [(one.first, one.last) for one in instead])
    days, added, changed = {day: block for day, block in cut.days.items() if block is not None}, 0, 0
    for day, log in by_days(found.log):
        told(1.0)
        merged, new, other = _merged(day, log, cut.days.get(day, known.get(day)))
        added, changed = added + new, changed + other
        if new or other:
            days[day] = merged
    emptied = tuple(day for day in cut.days if day not in days)
    before = {day: known[day] for day in (*days, *emptied) if day in known}
    return Prepared(place, looked.path.name, looked.columns, looked.sample.signature, found, tuple(days.values()),
                    before, added, changed, emptied, instead, cut.readings)


def _turned_words(found: Heard, columns: Columns) -> str:
    """What speaks against the order that was chosen: the lines it loses, or days that lie a month apart."""
    lines = found.refused + len(found.log.at)
    lost = f"{found.refused:,} of {lines:,} lines cannot be read or are still to come" if found.refused else \
        "the days lie a month apart"
    return f"Read as “{columns.order}”, {lost}; as “{found.turned}” its days follow one another."


def by_days(log: Log) -> Iterator[tuple[date, Log]]:
    """A log's days of UTC."""
    days = [at // DAY_S for at in log.at]
    starts = [0, *(nth for nth, (one, later) in enumerate(pairwise(days), 1) if one != later), len(days)]
    for one, later in pairwise(starts):
        day = datetime.fromtimestamp(days[one] * DAY_S, UTC).date()
        yield day, Log(*(column[one:later] for column in (log.at, log.temp, log.rh, log.speed)))


def _merged(day: date, log: Log, known: Block | None) -> tuple[Block, int, int]:
    """A day with what was known of it; how many of its readings are new, and how many tell something else. A damaged
    day gives way."""
    new, other = len(log.at), 0
    there = None if known is None else air.readable(day, known.packed)
    if known is not None and there is not None:
        if there == log:
            return known, 0, 0
        old, fresh = _rows(there), _rows(log)
        new = len(fresh.keys() - old.keys())
        other = sum(old[at] != row for at, row in fresh.items() if at in old)
        rows = sorted({**old, **fresh}.items())
        log = Log([at for at, _ in rows], *(list(column) for column in zip(*(row for _, row in rows), strict=True)))
    return packed_day(day, log), new, other


def _rows(log: Log) -> dict[int, tuple[int, int, int]]:
    return dict(zip(log.at, zip(log.temp, log.rh, log.speed, strict=True), strict=True))


def take_in(session: Session, now: datetime, made: Prepared) -> Done[Prepared]:
    """Keep a prepared file, and how it was read; undo takes both away.

    Raises Refused for a place that is gone, or whose record changed since it was prepared.
    """
    place = next((one for one in plants.places(session) if one.id == made.place), None)
    if place is None:
        raise Refused("There is no such place", "It was removed meanwhile.", "Choose a place from the list.")
    now_there = air.blocks(session, made.place)
    touched = (*(block.day for block in made.days), *made.emptied)
    if any(now_there.get(day) != made.before.get(day) for day in touched):
        raise Refused("The record changed meanwhile", f"Other readings of {place.name} came in.", "Take the file in "
                      "again.")
    if made.changes:
        air.forget(session, made.place, made.instead)
        air.put(session, made.place, dict.fromkeys(made.emptied))
        air.save(session, Import(made.place, made.file, now, made.heard.first, made.heard.last, made.added,
                                 made.changed), made.days, made.before)
    _remember(session, made)
    return Done(f"Air of {place.name} from {made.file}", KINDS, made)


def _remember(session: Session, made: Prepared) -> None:
    known = house.air_columns(session)
    told = written(replace(made.columns, head=0))
    if known.get(made.signature) != told:
        others = [(key, value) for key, value in known.items() if key != made.signature][-(MOST_MAPPINGS - 1):]
        house.save_air_columns(session, dict([*others, (made.signature, told)]))


def imported(session: Session, place: int) -> tuple[Import, ...]:
    """The files taken in at a place, newest first."""
    return air.imports(session, place)


def same(made: Prepared) -> int:
    """How many readings of a file were known already, just so."""
    return len(made.heard.log.at) - made.added - made.changed
