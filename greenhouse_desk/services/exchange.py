"""Exchange: plants in from a CSV list, plants out to one, exactly or made safe for spreadsheet programs."""

from __future__ import annotations

import csv
from collections.abc import Iterable, Iterator, Mapping
from dataclasses import dataclass, replace
from datetime import date, datetime
from errno import ENOENT
from io import StringIO
from itertools import groupby
from pathlib import Path

from greenhouse_desk.domain.care_day import dated
from greenhouse_desk.domain.journal import Kind, Potted
from greenhouse_desk.domain.plants import Place, Plant
from greenhouse_desk.services import collection
from greenhouse_desk.services.collection_places import PATH_JOINT, named, split
from greenhouse_desk.services.desk import Done
from greenhouse_desk.services.exchange_rows import COLUMNS as COLUMNS
from greenhouse_desk.services.exchange_rows import Listed as Listed
from greenhouse_desk.services.exchange_rows import PlantRow, RefusedRow
from greenhouse_desk.services.exchange_rows import parse_list as parse_list
from greenhouse_desk.services.exchange_rows import read_list as read_list
from greenhouse_desk.services.exchange_rows import read_or_tell as read_or_tell
from greenhouse_desk.store import journal, plants
from greenhouse_desk.store.disk import put, unwritten
from greenhouse_desk.store.engine import Session

KINDS = frozenset({"plants", "journal", "places"})
LONGEST_SAID = 40
FORMULA_STARTS = ("=", "+", "-", "@", "\t", "\r", "＝", "＋", "－", "＠")


@dataclass(frozen=True, slots=True)
class Change:
    """What an import made of one thing that was known of a plant; "" where nothing was."""

    number: int
    column: str
    old: str
    new: str


@dataclass(frozen=True, slots=True)
class Imported:
    """What an import did: how many plants are new, how many were changed and in what, the rows that were refused."""

    added: int
    changed: int
    refused: tuple[RefusedRow, ...]
    changes: tuple[Change, ...] = ()


def take_in(session: Session, now: datetime, listed: Listed, keep_good: bool = False) -> Done[Imported]:
    """Take the plants of a list in: new numbers are added, known ones changed where a filled cell differs.

    All or nothing: with one refused row nothing is changed, unless `keep_good`. Unknown places and sources are made.
    A changed place is a move of today; a changed medium, day or source mends the entry that told it.
    """
    today = now.astimezone(collection.zone(session)).date()
    known = {plant.number: plant for plant in plants.plants(session, collection.zone(session))}
    benches = _Benches(collection.places_of(session), [row.place for row in listed.rows if row.place])
    refused = _every_fault(listed, known, benches, today)
    bad = {one.line for one in refused}
    good = [row for row in listed.rows if row.line not in bad]
    if refused and not keep_good:
        return Done("Import nothing", frozenset(), Imported(0, 0, tuple(refused)))
    sources = {source.id: source.name for source in plants.sources(session)}
    added = sum(_add(session, now, row, benches) for row in good if row.number not in known)
    changes = [change for row in good if row.number in known
               for change in _change(session, now, row, known[row.number], benches, sources)]
    changed = len({change.number for change in changes})
    words = f"Import {added} new and {changed} changed plants"
    return Done(words, KINDS, Imported(added, changed, tuple(refused), tuple(changes)))


def change_lines(changes: Iterable[Change]) -> Iterator[str]:
    """One line for each plant that was changed: what was known, and what is known now."""
    for number, of_plant in groupby(changes, lambda change: change.number):
        yield f"  {number}: " + "; ".join(f"{one.column} {_short(one.old)} -> {_short(one.new)}" for one in of_plant)


def _short(cell: str) -> str:
    line = " ".join(cell.split()) or "nothing"
    return line if len(line) <= LONGEST_SAID else f"{line[:LONGEST_SAID - 3]}..."


def faults_alone(listed: Listed, today: date) -> tuple[RefusedRow, ...]:
    """What is wrong with a list by itself: what an import into nothing would refuse."""
    return tuple(_every_fault(listed, {}, _Benches((), ()), today))


def holds_plants(session: Session) -> bool:
    """Whether there is any plant yet."""
    return bool(plants.plants(session, collection.zone(session)))


def plants_out(session: Session, for_spreadsheets: bool = False) -> bytes:
    """The growing plants as CSV in UTF-8. The exact form reads back unchanged; that for spreadsheets has a byte order
    mark, and an apostrophe before cells that a spreadsheet would take for a formula."""
    out = StringIO(newline="")
    writer = csv.writer(out)
    writer.writerow(COLUMNS)
    where = {place.id: place for place in plants.places(session)}
    sources = {source.id: source.name for source in plants.sources(session)}
    for plant in plants.plants(session, collection.zone(session)):
        if plant.left is None:
            cells = _cells(plant, where, sources)
            writer.writerow([neutral(cell) for cell in cells] if for_spreadsheets else cells)
    return out.getvalue().encode("utf-8-sig" if for_spreadsheets else "utf-8")


def write_file(path: Path, data: bytes) -> None:
    """Write `data` to `path` in one go: the old file stays whole until the new one is. Raises Refused."""
    try:
        if not path.parent.is_dir():
            raise FileNotFoundError(ENOENT, "there is no such folder", str(path.parent))
        put(path, data)
    except OSError as error:
        raise unwritten(path, error) from error


def neutral(cell: str) -> str:
    """`cell` as a spreadsheet takes it for words, never for a formula."""
    return f"'{cell}" if cell.lstrip(" ").startswith(FORMULA_STARTS) else cell


def joined(path: Iterable[str]) -> str:
    """A place's path as it stands in a list: "Cellar > Lamp rack"."""
    return f" {PATH_JOINT} ".join(path)


def _cells(plant: Plant, where: Mapping[int, Place], sources: Mapping[int, str]) -> list[str]:
    return [str(plant.number), plant.name, joined(_path(plant.place, where)), plant.medium,
            plant.acquired_on.isoformat() if plant.acquired_on else "", sources.get(plant.source or 0, ""), plant.notes]


def _path(place: int | None, where: Mapping[int, Place]) -> tuple[str, ...]:
    names: list[str] = []
    while place is not None:
        names.append(where[place].name)
        place = where[place].parent
    return tuple(reversed(names))


class _Benches:
    """The places a list may name, by path and by their own name; new ones are made when first needed.

    What a cell means is settled before anything is made, so that the order of the rows does not matter.
    """

    def __init__(self, places: Iterable[Place], cells: Iterable[str]) -> None:
        self.where = {place.id: place for place in places}
        self.by_path = {_fold(_path(key, self.where)): key for key in self.where}
        self.meant = {cell: self.key(cell) for cell in cells}
        self.benches = {_fold(split(cell)) for cell in self.meant}

    def key(self, cell: str) -> int | None:
        """The one place that `cell` names; None when it is new, or when several are called so."""
        found = named(self.where, split(cell))
        return found[0] if len(found) == 1 else None

    def fault(self, cell: str) -> str:
        """Why plants cannot be put where `cell` says, "" when they can."""
        names = split(cell)
        if not all(names):
            return f"{cell!r} names no place. Write a bench, or the way to it: room {PATH_JOINT} bench."
        found = self.key(cell)
        if found is not None and not self.where[found].bench:
            return f"{self.where[found].name} is a room without a bench of its own. Name a bench in it."
        alike = named(self.where, names)
        if len(alike) > 1:
            return f"{len(alike)} places are called {joined(names)}. Write the way to one: room {PATH_JOINT} bench."
        return ""

    def made(self, session: Session, now: datetime, cell: str) -> int:
        """The place that `cell` means, made with the rooms around it when it is new."""
        meant = self.meant[cell]
        if meant is not None:
            return meant
        names = split(cell)
        for depth in range(1, len(names) + 1):
            self._make(session, now, names[:depth])
        return self.by_path[_fold(names)]

    def _make(self, session: Session, now: datetime, names: tuple[str, ...]) -> None:
        if _fold(names) in self.by_path:
            return
        place = Place(0, names[-1], self.by_path.get(_fold(names[:-1])), float(len(self.where)),
                      bench=_fold(names) in self.benches)
        key = collection.save_place(session, now, place).value
        self.where[key] = replace(place, id=key)
        self.by_path[_fold(names)] = key


def _fold(names: tuple[str, ...]) -> tuple[str, ...]:
    return tuple(name.casefold() for name in names)


def _every_fault(listed: Listed, known: Mapping[int, Plant], benches: _Benches, today: date) -> list[RefusedRow]:
    """The faults of the file and those of its rows against what is known, by line; of a refused row too."""
    found = [*listed.refused, *_refused([*listed.rows, *listed.faulty], known, benches, today)]
    return sorted(found, key=lambda one: one.line or 0)


def _refused(rows: Iterable[PlantRow], known: Mapping[int, Plant], benches: _Benches,
             today: date) -> Iterable[RefusedRow]:
    for row in rows:
        plant = known.get(row.number)
        if plant is not None and plant.left is not None:
            day = f" on {dated(plant.left_on)}" if plant.left_on else ""
            yield RefusedRow(row.line, "number", f"Number {row.number} was {plant.name}, {plant.left.value}{day}. "
                                                 "Numbers are never given twice: take another.")
        if row.acquired is not None and row.acquired > today:
            yield RefusedRow(row.line, "acquired", f"{dated(row.acquired)} is still to come. Check the year.")
        if row.place and (fault := benches.fault(row.place)):
            yield RefusedRow(row.line, "place", fault)


def _add(session: Session, now: datetime, row: PlantRow, benches: _Benches) -> bool:
    place = benches.made(session, now, row.place) if row.place else None
    collection.add_plant(session, now, collection.NewPlant(
        row.name, row.number, place=place, medium=row.medium, source=row.source, acquired_on=row.acquired,
        notes=row.notes))
    return True


def _change(session: Session, now: datetime, row: PlantRow, old: Plant, benches: _Benches,
            sources: Mapping[int, str]) -> tuple[Change, ...]:
    changes = tuple(_differences(row, old, benches, sources))
    columns = {change.column for change in changes}
    if columns & {"name", "notes"}:
        collection.edit_plant(session, now, row.number, row.name, notes=row.notes or old.notes)
    if columns & {"source", "acquired"}:
        source = row.source or sources.get(old.source or 0, "")
        collection.arrive(session, now, row.number, source, row.acquired or old.acquired_on)
    if "medium" in columns:
        _mend_medium(session, now, row)
    if "place" in columns:
        collection.move(session, now, [row.number], benches.made(session, now, row.place))
    return changes


def _differences(row: PlantRow, old: Plant, benches: _Benches, sources: Mapping[int, str]) -> Iterable[Change]:
    """Where a filled cell differs from what is known; a place is compared as the bench it means, not as it is spelt."""
    was = dict(zip(COLUMNS, _cells(old, benches.where, sources), strict=True))
    day = row.acquired.isoformat() if row.acquired else ""
    told = {"name": row.name, "place": row.place, "medium": row.medium, "acquired": day, "source": row.source,
            "notes": row.notes}
    if row.place and benches.meant[row.place] == old.place:
        del told["place"]
    return (Change(row.number, column, was[column], cell) for column, cell in told.items()
            if cell and cell != was[column])


def _mend_medium(session: Session, now: datetime, row: PlantRow) -> None:
    told = [entry for entry in journal.of_plant(session, row.number) if entry.kind is Kind.POTTED]
    if told and isinstance(told[-1].facts, Potted):
        journal.correct(session, told[-1].id, told[-1].at, replace(told[-1].facts, medium=row.medium), told[-1].note)
    else:
        journal.add(session, now, Potted(row.medium, day_known=False), plant=row.number)
