"""Reading a list of plants from CSV: every row checked, every fault said with line and column, nothing guessed."""

from __future__ import annotations

import csv
import re
from collections import Counter
from collections.abc import Iterator
from dataclasses import dataclass
from datetime import date
from io import StringIO
from pathlib import Path

from greenhouse_desk.domain.care_day import month_name
from greenhouse_desk.domain.faults import Refused

COLUMNS = ("number", "name", "place", "medium", "acquired", "source", "notes")
REQUIRED = ("number", "name")
DELIMITERS = ",;\t|"
SAMPLE = 65_536
LARGEST_FILE = 64 * 1024 * 1024
LONGEST_CELL = 20_000
HIGHEST_NUMBER = 999_999
EARLIEST = date(1900, 1, 1)
ISO_DAY = re.compile(r"\d{4}-\d{2}-\d{2}\Z", re.ASCII)
OTHER_DAY = re.compile(r"\s*(\d{1,4})[./\- ](\d{1,2})[./\- ](\d{1,4})\.?\s*\Z", re.ASCII)
DELIMITER_WORDS = {",": "comma", ";": "semicolon", "\t": "tab", "|": "bar"}


@dataclass(frozen=True, slots=True)
class RefusedRow:
    """A row, or the whole file, that was not taken: its line (from 1, None: unknown), column, and what to do."""

    line: int | None
    column: str | None
    message: str

    @property
    def where(self) -> str:
        """ "line 7, acquired", or "the file" where no line is known."""
        return ", ".join(filter(None, (f"line {self.line}" if self.line else "the file", self.column)))


@dataclass(frozen=True, slots=True)
class PlantRow:
    """One good row. An empty cell, and a column that is not there, tell nothing and change nothing."""

    line: int
    number: int
    name: str
    place: str = ""
    medium: str = ""
    acquired: date | None = None
    source: str = ""
    notes: str = ""


@dataclass(frozen=True, slots=True)
class Listed:
    """What a file holds: good rows, refused ones, columns nobody knows, and the delimiter that was guessed.

    `faulty` are the refused rows as far as they can be read (number 0 where that cannot), so that what else is wrong
    with them is told at once.
    """

    rows: tuple[PlantRow, ...]
    refused: tuple[RefusedRow, ...]
    unknown: tuple[str, ...] = ()
    delimiter: str = ","
    faulty: tuple[PlantRow, ...] = ()

    @property
    def delimiter_words(self) -> str:
        return DELIMITER_WORDS[self.delimiter]


def read_list(path: Path) -> Listed:
    """Read the file at `path`. Raises Refused when it cannot be read at all; every other fault is a refused row."""
    try:
        if path.stat().st_size > LARGEST_FILE:
            raise Refused("That file is too large", f"{path} holds more than {LARGEST_FILE // 2**20} MB.",
                          "A list of plants is far smaller: check which file it is.")
        data = path.read_bytes()
    except OSError as error:
        raise Refused("The file cannot be read", f"{path}: {error.strerror}.", "Check its name and place.") from error
    return parse_list(data)


def read_or_tell(path: Path) -> Listed:
    """Read the file at `path`; that it cannot be read at all is told like every other fault, as a refused row."""
    try:
        return read_list(path)
    except Refused as refused:
        return _whole(None, None, f"{refused.title}: {refused.detail} {refused.next_step}")


def parse_list(data: bytes) -> Listed:
    """Read the bytes of a CSV file in UTF-8, with or without a byte order mark."""
    try:
        text = data.decode("utf-8-sig")
    except UnicodeDecodeError as error:
        line = data[:error.start].count(b"\n") + 1
        return _whole(line, None, f"Byte {error.start + 1} is not UTF-8. Save the file as \"CSV, UTF-8\".")
    csv.field_size_limit(LARGEST_FILE)
    delimiter = guess_delimiter(text[:SAMPLE])
    table: list[tuple[int, list[str]]] = []
    try:
        table.extend(_lines(text, delimiter))
    except _Malformed as error:
        return _whole(error.line, None, f"The row that begins here is not well-formed CSV: {error}. A quote that is "
                                        "opened is closed again, and one inside a cell is written twice.")
    if not table:
        return _whole(1, None, f"The file is empty. Its first line names the columns: {', '.join(COLUMNS)}.")
    return _listed(table, delimiter)


def guess_delimiter(sample: str) -> str:
    """The delimiter that splits the header into the most known columns; a comma when none does."""
    header = next((line for line in sample.splitlines() if line.strip()), "")

    def known(delimiter: str) -> int:
        cells = next(csv.reader([header], delimiter=delimiter), [])
        return sum(cell.strip().casefold() in COLUMNS for cell in cells)

    return max(DELIMITERS, key=known)


class _Malformed(ValueError):
    def __init__(self, words: str, line: int) -> None:
        super().__init__(words)
        self.line = line


def _lines(text: str, delimiter: str) -> Iterator[tuple[int, list[str]]]:
    reader = csv.reader(StringIO(text, newline=""), delimiter=delimiter, strict=True)
    line = 1
    try:
        for cells in reader:
            if any(cells):
                yield line, cells
            line = reader.line_num + 1
    except csv.Error as error:
        raise _Malformed(str(error), line) from error


def _whole(line: int | None, column: str | None, message: str) -> Listed:
    return Listed((), (RefusedRow(line, column, message),))


def _listed(table: list[tuple[int, list[str]]], delimiter: str) -> Listed:
    line, first = table[0]
    header = [cell.strip().casefold() for cell in first]
    twice = [name for name, count in Counter(header).items() if count > 1 and name]
    missing = [name for name in REQUIRED if name not in header]
    if twice:
        return _whole(line, twice[0], f"The column {twice[0]} is there more than once. Keep one.")
    if missing:
        return _whole(line, missing[0], f"There is no column {missing[0]}. The first line names the columns: "
                                        f"{', '.join(COLUMNS)}; {' and '.join(REQUIRED)} are needed.")
    refused: list[RefusedRow] = []
    read = [row for at, cells in table[1:] if (row := _row(at, header, cells, refused)) is not None]
    refused += _twins(read)
    bad = {one.line for one in refused}
    rows, faulty = [row for row in read if row.line not in bad], [row for row in read if row.line in bad]
    unknown = tuple(name or f"column {n + 1}, without a name" for n, name in enumerate(header) if name not in COLUMNS)
    return Listed(tuple(rows), tuple(sorted(refused, key=lambda one: one.line or 0)), unknown, delimiter, tuple(faulty))


def _row(line: int, header: list[str], cells: list[str], refused: list[RefusedRow]) -> PlantRow | None:
    """The row as far as it can be read; its faults go to `refused`. None where its cells cannot be told apart."""
    if len(cells) != len(header):
        refused.append(RefusedRow(line, None, f"The row has {len(cells)} cells where the first line has {len(header)}. "
                                              "A cell with the delimiter or a line break in it needs quotes."))
        return None
    told = {name: cell for name, cell in zip(header, cells, strict=True) if name in COLUMNS}
    faults = {name: fault for name, cell in told.items() if (fault := _cell_fault(name, cell))}
    refused.extend(RefusedRow(line, name, fault) for name, fault in faults.items())
    told.update(dict.fromkeys(faults, ""))
    acquired = told.get("acquired", "").strip()
    return PlantRow(line, int(told["number"] or 0), told["name"], told.get("place", "").strip(),
                    told.get("medium", "").strip(), date.fromisoformat(acquired) if acquired else None,
                    told.get("source", "").strip(), told.get("notes", ""))


def _cell_fault(name: str, cell: str) -> str:
    if len(cell) > LONGEST_CELL:
        return f"The cell holds {len(cell):,} characters; {LONGEST_CELL:,} are allowed. Shorten it."
    if name == "number":
        return _number_fault(cell.strip())
    if name == "acquired":
        return day_fault(cell.strip())
    if name == "notes":
        return ""
    if name == "name" and not cell.strip():
        return "The name is empty. Every plant needs one, even a genus alone."
    if odd := next((sign for sign in cell if ord(sign) < 32), ""):
        what = "a line break" if odd in "\r\n" else f"the control character U+{ord(odd):04X}"
        return f"The cell holds {what}, which is not allowed here. Take it out."
    return "" if len(cell) <= 400 else f"The cell holds {len(cell)} characters; 400 are allowed here. Shorten it."


def _number_fault(cell: str) -> str:
    if re.fullmatch(r"[0-9]{1,6}", cell) and int(cell) > 0:
        return ""
    shown = repr(cell[:20]) if cell else "Nothing"
    return f"{shown} is no plant number: a whole number from 1 to {HIGHEST_NUMBER} is needed."


def day_fault(cell: str) -> str:
    """What is wrong with a day written as `cell`, "" when nothing is; a day that could mean two is never guessed."""
    if not cell:
        return ""
    if ISO_DAY.match(cell):
        try:
            return "" if date.fromisoformat(cell) >= EARLIEST else f"{cell} is too long ago. Check the year."
        except ValueError:
            return f"There is no day {cell}. Write it as year-month-day, such as 2024-12-25."
    other = OTHER_DAY.match(cell)
    readings = sorted(_readings(*other.groups())) if other else []
    if len(readings) > 1:
        years = len({day.year for day in readings}) > 1
        said = " or ".join(f"{day.day} {month_name(day)}{f' {day.year}' if years else ''}" for day in readings)
        return f"{cell.strip()} could be {said}; write {' or '.join(day.isoformat() for day in readings)}."
    return f"{cell[:20]!r} is not a day written year first. Write {readings[0] if readings else 'it as 2024-12-25'}."


def _readings(first: str, second: str, third: str) -> set[date]:
    if len(first) == 4:
        tries = [(first, second, third), (first, third, second)]
    else:
        year = third if len(third) == 4 else f"20{third:0>2}"
        tries = [(year, second, first), (year, first, second)]
        if len(third) < 4:
            tries.append((f"20{first:0>2}", second, third))
    found = set()
    for year, month, day in tries:
        try:
            found.add(date(int(year), int(month), int(day)))
        except ValueError:
            continue
    return found


def _twins(rows: list[PlantRow]) -> Iterator[RefusedRow]:
    """Rows that bear the same number, those refused for something else among them: which to keep is not guessed."""
    lines: dict[int, list[int]] = {}
    for row in rows:
        lines.setdefault(row.number, []).append(row.line)
    for row in rows:
        others = [str(line) for line in lines[row.number] if line != row.line and row.number]
        if others:
            where = f"line{'s' if len(others) > 1 else ''} {', '.join(others)}"
            yield RefusedRow(row.line, "number", f"Number {row.number} is also on {where}. Keep one.")
