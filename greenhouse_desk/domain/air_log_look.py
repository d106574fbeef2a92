"""A first look at a logger's file: what parts its cells, which line names the columns, what each is likely to hold."""

from __future__ import annotations

import csv
import re
from collections import Counter
from collections.abc import Iterable, Sequence
from dataclasses import dataclass, replace

from greenhouse_desk.domain.air_log import Columns, DateOrder, MoistUnit, TempUnit
from greenhouse_desk.domain.air_log_time import DAY, TIME, WHOLE

DELIMITERS = ";\t|,"
"""In this order: a comma may also be that of a decimal."""
DELIMITER_WORDS = {",": "comma", ";": "semicolon", "\t": "tab", "|": "bar"}
BY_HAND = {**DELIMITER_WORDS, " ": "space"}
"""What a grower may choose; a space is never guessed, for it also parts a day from its time."""
LOOKED_AT = 60
NUMBER = re.compile(r"\s*[-+]?\d+([.,]\d+)?\s*\Z", re.ASCII)
SECONDS = re.compile(r"\d{9,11}\Z", re.ASCII)
COMMA = re.compile(r"\s*[-+]?\d+,\d+\s*\Z", re.ASCII)
WORDS = {"temp": ("temp", "°c", "°f"), "rh": ("humid", "rh", "feucht", "hum"), "speed": ("speed", "wind", "m/s")}
NOT_AIR = ("dew", "soil", "leaf", "vpd", "battery")
"""Words in a column's name by which it is none of ours."""


@dataclass(frozen=True, slots=True)
class Sample:
    """The beginning of a file: its delimiter, the line that names the columns (0: none), their names, the first rows
    as (line, cells)."""

    delimiter: str
    head: int
    names: tuple[str, ...]
    rows: tuple[tuple[int, tuple[str, ...]], ...]

    @property
    def signature(self) -> str:
        """By what files of one logger are known again: the delimiter and the names of the columns; where none are
        named, what kind of cells each holds, which two loggers may well share."""
        told = [name.strip().casefold() for name in self.names] if self.head else [
            f"({_kind(self.column(nth))})" for nth in range(len(self.names))]
        return self.delimiter.join(told)

    def column(self, nth: int) -> list[str]:
        """The cells of a column."""
        return [cells[nth] for _, cells in self.rows if nth < len(cells)]


def look(lines: Sequence[str], delimiter: str = "") -> Sample:
    """What the first lines of a file look like, parted by `delimiter` or by the likeliest; of an empty one a sample
    without rows."""
    delimiter = delimiter or max(DELIMITERS, key=lambda one: _evenness(lines, one))
    table = _table(lines, delimiter)
    width = _width(table)
    even = [(line, cells) for line, cells in table if len(cells) == width]
    if not even:
        return Sample(delimiter, 0, (), ())
    first = next((nth for nth, (_, cells) in enumerate(even) if any(NUMBER.match(cell) for cell in cells)), 0)
    bare = tuple(f"column {nth + 1}" for nth in range(width))
    if not first:
        return Sample(delimiter, 0, bare, tuple(even))
    line, named = even[first - 1]
    return Sample(delimiter, line, tuple(cell.strip() or bare[nth] for nth, cell in enumerate(named)),
                  tuple(even[first:]))


def _table(lines: Iterable[str], delimiter: str) -> list[tuple[int, tuple[str, ...]]]:
    reader = csv.reader(lines, delimiter=delimiter)
    return [(reader.line_num, tuple(cells)) for cells in reader if any(cell.strip() for cell in cells)][:LOOKED_AT]


def _width(table: Iterable[tuple[int, Sequence[str]]]) -> int:
    counts = Counter(len(cells) for _, cells in table)
    return max(counts, key=lambda width: (counts[width] * (width > 1), width), default=0)


def _evenness(lines: Sequence[str], delimiter: str) -> int:
    """On how many lines this delimiter makes the same number of cells, more than one."""
    table = _table(lines[:LOOKED_AT], delimiter)
    width = _width(table)
    return sum(len(cells) == width for _, cells in table) if width > 1 else 0


def guessed(sample: Sample) -> Columns:
    """What the columns are likely to hold, for the grower to look over; where nothing speaks, the first ones."""
    day, time = _times(sample)
    taken = {day, time}
    found = {}
    for what, words in WORDS.items():
        found[what] = next((nth for nth, name in enumerate(sample.names) if nth not in taken and _says(name, words)),
                           None)
        taken.add(found[what])
    numeric = [nth for nth, name in enumerate(sample.names) if nth not in taken and _numeric(sample.column(nth))
               and not any(word in name.casefold() for word in NOT_AIR)]
    temp = found["temp"] if found["temp"] is not None else numeric.pop(0) if numeric else 0
    rh = found["rh"] if found["rh"] is not None else numeric.pop(0) if numeric else None
    made = Columns(sample.delimiter, time, temp, rh, sample.head, day, found["speed"],
                   order=order_of(sample.column(time if day is None else day)))
    return replace(made, temp_unit=_temp_unit(sample, temp), rh_unit=_rh_unit(sample, rh),
                   decimal_comma=any(COMMA.match(cell) for nth in (temp, *_some(rh)) for cell in sample.column(nth)))


def _some(nth: int | None) -> tuple[int, ...]:
    return () if nth is None else (nth,)


def _kind(cells: Sequence[str]) -> str:
    """What most cells of a column are: day and time, day, time, seconds since 1970, number or words."""
    for kind, pattern in (("day and time", WHOLE), ("day", DAY), ("time", TIME), ("seconds", SECONDS),
                          ("number", NUMBER)):
        if _most(cells, pattern):
            return kind
    return "words"


def _says(name: str, words: Iterable[str]) -> bool:
    said = name.casefold()
    return any(word in said for word in words) and not any(word in said for word in NOT_AIR)


def _numeric(cells: Sequence[str]) -> bool:
    return bool(cells) and sum(bool(NUMBER.match(cell)) for cell in cells) * 2 > len(cells)


def _times(sample: Sample) -> tuple[int | None, int]:
    """The column of the day, where it stands apart, and that of the time."""
    columns = range(len(sample.names))
    whole = next((nth for nth in columns if _most(sample.column(nth), WHOLE)), None)
    if whole is not None:
        return None, whole
    day = next((nth for nth in columns if _most(sample.column(nth), DAY)), None)
    time = next((nth for nth in columns if nth != day and _most(sample.column(nth), TIME)
                 and any(":" in cell for cell in sample.column(nth))), None)
    return (day, time) if day is not None and time is not None else (None, 0)


def _most(cells: Sequence[str], pattern: re.Pattern[str]) -> bool:
    return bool(cells) and sum(bool(pattern.match(cell.strip())) for cell in cells) * 2 > len(cells)


def order_of(cells: Iterable[str]) -> DateOrder:
    """The order of day and month, as far as these cells tell; the day first where nothing tells."""
    told = [re.findall(r"\d+", cell)[:3] for cell in cells]
    parts = [[int(part) for part in one] for one in told if len(one) == 3]
    if told and not parts:
        return DateOrder.SECONDS if any(len(one) == 1 and len(one[0]) > 8 for one in told if one) else DateOrder.YEAR
    if any(len(one[0]) == 4 for one in told if len(one) == 3):
        return DateOrder.YEAR
    return DateOrder.MONTH if any(one[1] > 12 for one in parts) else DateOrder.DAY


def order_unsure(cells: Iterable[str]) -> bool:
    """Whether day and month could be either way round in all of these."""
    parts = [[int(part) for part in re.findall(r"\d+", cell)[:3]] for cell in cells]
    return bool(parts) and all(len(one) == 3 and one[0] <= 12 and one[1] <= 12 for one in parts)


def _temp_unit(sample: Sample, nth: int) -> TempUnit:
    name = sample.names[nth].casefold() if nth < len(sample.names) else ""
    values = [float(cell.replace(",", ".")) for cell in sample.column(nth) if NUMBER.match(cell)]
    if "°f" in name or "fahrenheit" in name or re.search(r"[(\[ ]f[)\]]?\Z", name):
        return TempUnit.F
    if "kelvin" in name or (values and min(values) > 200):
        return TempUnit.K
    return TempUnit.F if values and min(values) > 50 else TempUnit.C


def _rh_unit(sample: Sample, nth: int | None) -> MoistUnit:
    cells = [] if nth is None else sample.column(nth)
    values = [float(cell.replace(",", ".")) for cell in cells if NUMBER.match(cell)]
    return MoistUnit.FRACTION if values and max(values) <= 1 else MoistUnit.PERCENT
