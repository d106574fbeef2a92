"""The journal as read, kept plant by plant until an entry of that plant changes: triggers tell, whoever changes it.

Only what the rows say is kept here, and the last answer of the rules of quarantine, which carries what it rests on and
is compared with the journal before any of it is told again; so does what it told of viruses. The triggers are made as
those of undo, on the one connection that may write: an entry added, corrected, withdrawn, taken back or put back lets
go of its plant. What was read while a transaction changed it is let go of again when the next one begins, so that a
rollback leaves nothing behind.
"""

from __future__ import annotations

import sqlite3
from collections.abc import Callable, Iterable, Mapping, Sequence

from greenhouse_desk.domain.journal import Entry, Kind
from greenhouse_desk.domain.plants import Plant
from greenhouse_desk.domain.quarantine import Answer

Read = Callable[[Sequence[int] | None], Iterable[Entry]]
"""Reads the journals of these plants (None: of all), each oldest first."""
TRIGGERS = (
    ("insert", "AFTER INSERT ON main.entry", "SELECT entry_changed(NEW.plant, NEW.plant);"),
    ("update", "AFTER UPDATE ON main.entry", "SELECT entry_changed(OLD.plant, NEW.plant);"),
    ("delete", "AFTER DELETE ON main.entry", "SELECT entry_changed(OLD.plant, OLD.plant);"),
    ("step", "AFTER UPDATE ON main.run_step",
     "SELECT entry_changed(plant, plant) FROM main.entry WHERE entry.step = NEW.id AND OLD.step <> NEW.step;"),
)
"""What an entry tells lies in its own row, and the checks it owes in the step it names."""


class Told:
    """One plant's journal, oldest first, and what is asked of it again and again."""

    __slots__ = ("_newest", "_of", "_plant", "entries")

    def __init__(self, entries: tuple[Entry, ...]) -> None:
        self.entries = entries
        self._of: dict[frozenset[Kind], tuple[Entry, ...]] = {}
        self._newest: dict[Kind, Entry] | None = None
        self._plant: tuple[tuple[object, ...], Plant] | None = None

    def of(self, kinds: frozenset[Kind]) -> tuple[Entry, ...]:
        """The entries of these kinds."""
        found = self._of.get(kinds)
        if found is None:
            found = self._of[kinds] = tuple(entry for entry in self.entries if entry.kind in kinds)
        return found

    @property
    def newest(self) -> Mapping[Kind, Entry]:
        """The newest entry of each kind."""
        if self._newest is None:
            self._newest = {entry.kind: entry for entry in self.entries}
        return self._newest

    def plant(self, row: tuple[object, ...], read: Callable[[Told], Plant]) -> Plant:
        """The plant as it stands by its own `row` and this journal, read again only when the row differs."""
        if self._plant is None or self._plant[0] != row:
            self._plant = (row, read(self))
        return self._plant[1]


class Kept:
    """What was read of the journal on one connection, and what the rules of quarantine answered last. Call `on_begin`
    whenever a transaction begins."""

    def __init__(self) -> None:
        self.last_answer: Answer | None = None
        self.virus_held: tuple[object, frozenset[int]] | None = None
        self._told: dict[int, Told] = {}
        self._whole = False
        self._missing: set[int] = set()
        self._changing: set[int] = set()

    def watch(self, raw: sqlite3.Connection) -> None:
        """Put the triggers on this connection (temporary: they live as long as it does)."""
        raw.create_function("entry_changed", 2, self._changed)
        for name, when, what in TRIGGERS:
            raw.execute(f"CREATE TEMP TRIGGER IF NOT EXISTS kept_{name} {when} BEGIN {what} END")

    def on_begin(self, _connection: object) -> None:
        """The transaction before has ended, one way or the other: let go of what was read of its changes."""
        for plant in self._changing:
            self._let_go(plant)
        self._changing.clear()

    def one(self, plant: int, read: Read) -> Told:
        """One plant's journal."""
        return self.some([plant], read)[plant]

    def some(self, plants: Iterable[int], read: Read) -> Mapping[int, Told]:
        """These plants' journals."""
        wanted = list(plants)
        self._read(read, [plant for plant in wanted if plant not in self._told])
        return {plant: self._told[plant] for plant in wanted}

    def all(self, read: Read) -> Mapping[int, Told]:
        """Every plant's journal; a plant without an entry may be left out."""
        self._read(read, sorted(self._missing) if self._whole else None)
        self._whole = True
        return dict(self._told)

    def _read(self, read: Read, plants: Sequence[int] | None) -> None:
        if plants is not None and not plants:
            return
        found: dict[int, list[Entry]] = {} if plants is None else {plant: [] for plant in plants}
        for entry in read(plants):
            if entry.plant is not None:
                found.setdefault(entry.plant, []).append(entry)
        self._told.update({plant: Told(tuple(entries)) for plant, entries in found.items()})
        self._missing.difference_update(found)

    def _changed(self, before: int | None, after: int | None) -> None:
        for plant in (before, after):
            if plant is not None:
                self._let_go(plant)
                self._changing.add(plant)

    def _let_go(self, plant: int) -> None:
        self._told.pop(plant, None)
        self._missing.add(plant)

