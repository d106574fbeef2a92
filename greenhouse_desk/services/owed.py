"""What is owed as a plain list: for the command line, one row for each care, soonest first; in words by need."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from dataclasses import dataclass
from datetime import UTC, datetime
from itertools import groupby

from greenhouse_desk.domain import care as rules_of_care
from greenhouse_desk.domain.care import Care, CareWords, Moment, Turn
from greenhouse_desk.domain.care_turns import HEADINGS, HELP
from greenhouse_desk.domain.figures import counted
from greenhouse_desk.services import care as services_care
from greenhouse_desk.services import collection
from greenhouse_desk.store import house, plants
from greenhouse_desk.store.engine import Session

LONGEST_NAME = 44


@dataclass(frozen=True, slots=True)
class Owed:
    """One care of one plant with its name as typed, the way to its place ("" when it stands nowhere) and its words.

    `turn` is the group it stands in and `need` its place among all, most in need first; `put_off` the words of that.
    """

    care: Care
    name: str
    place: str
    words: CareWords
    turn: Turn
    put_off: str
    need: int

    def plain(self) -> dict[str, str | int | None]:
        """The row in JSON's types: care days as dates, instants in UTC; `why` is the reasoning, step by step."""
        care = self.care
        return {"plant": care.plant, "name": self.name, "place": self.place or None, "kind": care.kind.value,
                "from": written(care.opens), "due": written(care.due),
                "latest": written(care.latest) if care.latest is not None else None,
                "what": care.what, "why": why(care)}


def owed(session: Session, now: datetime) -> tuple[Owed, ...]:
    """Everything owed at the aware instant `now` as far ahead as the house rules look, holds included."""
    local = collection.zone(session)
    rules = house.rules(session)
    where = {place.id: place for place in plants.places(session)}
    known = {plant.number: plant for plant in plants.plants(session, local)}
    cares = services_care.due(session, now)
    need = {care: place for place, care in enumerate(rules_of_care.by_need(cares, now, local, rules))}
    return tuple(Owed(care, known[care.plant].name, collection.path_of(known[care.plant].place, where),
                      rules_of_care.words(care, now, local, rules), rules_of_care.turn_of(care, now, local, rules),
                      rules_of_care.put_off_words(care, now, local, rules), need[care]) for care in cares)


def in_words(rows: Sequence[Owed]) -> str:
    """For reading: under the turns of the care strip, most in need first, each with why; the columns aligned."""
    if not rows:
        return "Nothing is owed."
    plants = len({row.care.plant for row in rows})
    lines = [f"{counted(len(rows), 'thing')} owed to {counted(plants, 'plant')}, most in need first."]
    spaced = [max(len(_cells(row)[at]) for row in rows) for at in range(3)]
    for turn, group in groupby(sorted(rows, key=lambda row: row.need), key=lambda row: row.turn):
        told = f" ({HELP[turn]})" if turn in HELP else ""
        lines += ["", f"{HEADINGS[turn]}{told}"]
        lines += [line for row in group for line in _lines(row, spaced)]
    return "\n".join(lines)


def _cells(row: Owed) -> tuple[str, str, str]:
    name = row.name if len(row.name) <= LONGEST_NAME else f"{row.name[:LONGEST_NAME - 3]}..."
    return row.words.text, name, row.place


def _lines(row: Owed, spaced: Sequence[int]) -> Iterator[str]:
    cells = [cell.ljust(width) for cell, width in zip(_cells(row), spaced, strict=True)]
    yield f"{row.care.plant:>7}  {'  '.join(cells)}".rstrip()
    if row.put_off:
        yield f"{'':>9}{row.put_off}"
    yield f"{'':>9}because: {row.care.why[0].text}"


def written(moment: Moment) -> str:
    """A care day as an ISO date, an instant as ISO in UTC."""
    return moment.astimezone(UTC).isoformat(timespec="seconds") if isinstance(moment, datetime) else moment.isoformat()


def why(care: Care) -> str:
    """The reasoning in one string: each step with its source or mark in brackets."""
    return " ".join(f"{reason.text} [{reason.shown}]" if reason.source else reason.text for reason in care.why)
