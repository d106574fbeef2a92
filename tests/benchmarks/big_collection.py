"""An invented collection of any size with a year and a half of journal, written straight into the store's tables."""

from __future__ import annotations

import random
from collections.abc import Iterator
from dataclasses import dataclass
from datetime import UTC, datetime, timedelta
from itertools import count
from pathlib import Path

from sqlalchemy import insert

from greenhouse_desk.domain.journal import (
    KINDS,
    Aired,
    Answer,
    Arrived,
    Cut,
    Dressed,
    Dry,
    Facts,
    Leaving,
    Left,
    Looked,
    Note,
    Part,
    Photo,
    Placed,
    Potted,
    Poured,
    Purpose,
    Reading,
    Released,
    Reply,
    Roots,
    Sighted,
    Treated,
    Unpotted,
    Wetted,
    written,
)
from greenhouse_desk.services import shelf
from greenhouse_desk.store.engine import Session, open_store
from greenhouse_desk.store.tables import (
    EntryRow,
    PlaceRow,
    PlantRow,
    RuleRow,
    RunRow,
    RunStepRow,
    SessionRow,
    SourceRow,
    Table,
    ToolUseRow,
)

NOW = datetime(2026, 11, 18, 14, 0, tzinfo=UTC)
DAYS = 548
ON_A_BENCH, BENCHES_A_ROOM = 20, 10
SICK, GONE, SESSIONS_A_HUNDRED, IN_A_SESSION = 0.04, 0.05, 4, 8
STAYING = 160
"""Plants with lower numbers have not left: measures use them."""
NAMES = ("Phalaenopsis amabilis", "Laelia anceps", "Cattleya walkeriana", "Paphiopedilum rothschildianum",
         "Dendrobium kingianum", "Masdevallia veitchiana", "Oncidium sphacelatum", "Vanda coerulea",
         "Zygopetalum maculatum", "Bulbophyllum lobbii", "Angraecum sesquipedale", "Brassavola nodosa")
MEDIA = ("LECA", "LECA, fine", "pumice")
PESTS = ("mealybug", "spider-mite", "scale")
Told = tuple[datetime, Facts]


@dataclass
class Rows:
    """What is to be written: rows by table, and the numbers still free."""

    dice: random.Random
    sessions: list[dict[str, object]]
    runs: list[dict[str, object]]
    steps: list[dict[str, object]]
    uses: list[dict[str, object]]
    entries: list[dict[str, object]]

    def tell(self, at: datetime, facts: Facts, plant: int | None = None, place: int | None = None,
             run: int | None = None, step: int | None = None) -> None:
        """An entry of the journal."""
        self.entries.append({"at": at, "kind": KINDS[type(facts)].value, "plant": plant, "place": place, "note": "",
                             "facts": written(facts), "run": run, "step": step})


def build(folder: Path, plants: int) -> None:
    """Make the collection in `folder`: always the same for the same number of `plants`."""
    store = open_store(folder, create=True)
    try:
        with store.transaction() as session:
            _write(session, plants)
    finally:
        store.close()


def _write(session: Session, plants: int) -> None:
    rows = Rows(random.Random(f"{plants} plants"), [], [], [], [], [])
    benches = _places(session, plants)
    _put(session, PlantRow, [{"number": number, "name": _name(number), "habit": "unknown", "notes": ""}
                             for number in range(101, 101 + plants)])
    _put(session, SourceRow, [{"id": key, "name": f"source {key}", "notes": ""} for key in range(1, 21)])
    session.add(RuleRow(name="latitude", value=52.5))
    session.add(RuleRow(name="longitude", value=13.4))
    session.add(RuleRow(name="zone", value="Europe/Berlin"))
    for number in range(101, 101 + plants):
        for at, facts in sorted(_life(rows.dice, number, benches), key=lambda one: one[0]):
            rows.tell(at, facts, number)
    _sittings(rows, plants)
    _air(rows, benches)
    rows.entries.sort(key=lambda row: str(row["at"]))
    for table, told in ((SessionRow, rows.sessions), (RunRow, rows.runs), (RunStepRow, rows.steps),
                        (ToolUseRow, rows.uses), (EntryRow, rows.entries)):
        _put(session, table, told)


def _put(session: Session, table: type[Table], rows: list[dict[str, object]]) -> None:
    if rows:
        session.execute(insert(table.__table__), rows)  # type: ignore[arg-type]


def _name(number: int) -> str:
    return f"{NAMES[number % len(NAMES)]} 'Clone {number}'"


def _places(session: Session, plants: int) -> list[int]:
    """Rooms with benches in them, one in ten an isolation bench; the keys of the benches."""
    rooms = -(-plants // (ON_A_BENCH * BENCHES_A_ROOM))
    _put(session, PlaceRow, [{"id": room, "name": f"Room {room}", "parent": None, "position": float(room),
                              "isolation": False, "bench": False, "lights_out": None} for room in range(1, rooms + 1)])
    keys = list(range(rooms + 1, rooms + 1 + -(-plants // ON_A_BENCH)))
    _put(session, PlaceRow, [{"id": key, "name": f"Bench {key}", "parent": 1 + nth // BENCHES_A_ROOM,
                              "position": float(nth), "isolation": nth % BENCHES_A_ROOM == 9, "bench": True,
                              "lights_out": None} for nth, key in enumerate(keys)])
    return keys


def _life(dice: random.Random, number: int, benches: list[int]) -> Iterator[Told]:
    """Some forty entries on one plant, the way a grower writes them."""
    nth = (number - 101) // ON_A_BENCH
    came = NOW - timedelta(days=dice.uniform(5, DAYS) if dice.random() < 0.3 else DAYS)
    yield came, Arrived(dice.randint(1, 20))
    yield came, Placed(benches[nth], float(number % ON_A_BENCH))
    yield came, Potted(dice.choice(MEDIA), "12 cm")
    if dice.random() < 0.4:
        yield _day(dice, came), Placed(dice.choice(benches), dice.random())
    for _ in range(12):
        yield _day(dice, came), Poured(dice.randint(80, 300), dice.random() < 0.7)
    for _ in range(9):
        yield _day(dice, came), Looked(True, "10x")
    for _ in range(3):
        yield _day(dice, came), Photo(f"{dice.getrandbits(256):064x}", "p.jpg")
    yield _day(dice, came), Note("new leaf")
    yield from _potted_on(dice, came)
    if dice.random() < SICK:
        yield from _sick(dice, came)
    if dice.random() < GONE and number >= STAYING:
        yield NOW - timedelta(days=dice.uniform(0, 4)), Left(dice.choice(list(Leaving)))


def _day(dice: random.Random, since: datetime) -> datetime:
    return since + (NOW - since) * dice.random()


def _potted_on(dice: random.Random, came: datetime) -> Iterator[Told]:
    """Out of the pot, trimmed, dressed, washed and dried; then looks at what it does."""
    at = _day(dice, came)
    yield at, Unpotted()
    yield at, Cut(Part.ROOTS, dice.randint(1, 3))
    yield at, Dressed("cinnamon")
    yield at, Treated("hydrogen-peroxide", Purpose.ROOT_DISINFECTION, (Part.ROOTS,), 1.0, 10.0)
    yield at, Potted(dice.choice(MEDIA), "14 cm", dice.random() < 0.5)
    yield at, Wetted((Part.CROWN, Part.LEAVES), pool=dice.random() < 0.5)
    yield at, Aired()
    if dice.random() < 0.99:
        yield at + timedelta(hours=2), Dry()
    for week in (2, 4, 8):
        if at + timedelta(weeks=week) < NOW:
            yield at + timedelta(weeks=week), Roots(dice.randint(4, 12), dice.randint(0, 3), dice.randint(0, 4))
    if at + timedelta(weeks=1) < NOW:
        yield at + timedelta(weeks=1), Answer("crown check", 1, 0, Reply.DONE)


def _sick(dice: random.Random, came: datetime) -> Iterator[Told]:
    at = max(came, NOW - timedelta(days=dice.uniform(1, 200)))
    yield at, Sighted(dice.choice(PESTS), "", "leaf axil", 3)
    if dice.random() < 0.7:
        yield at + (NOW - at) * 0.1, Treated("soap", Purpose.PEST_WASH, (Part.LEAVES,), 1.0)
    if dice.random() < 0.3:
        yield at + (NOW - at) * 0.9, Released("looked clean")


def _sittings(rows: Rows, plants: int) -> None:
    """Bench sessions: runs with copied steps, tools taken, entries that name their step."""
    protocol = shelf.shelf(None).protocol("pest-wash")
    assert protocol is not None
    runs, steps = count(1), count(1)
    for sitting in range(1, 1 + plants * SESSIONS_A_HUNDRED // 100):
        at = NOW - timedelta(days=rows.dice.uniform(1, DAYS))
        rows.sessions.append({"id": sitting, "started_at": at, "ended_at": at + timedelta(hours=2), "left_at": None,
                              "loose_ends": []})
        for nth, plant in enumerate(rows.dice.sample(range(101, 101 + plants), min(IN_A_SESSION, plants))):
            run, begun = next(runs), at + timedelta(minutes=10 * nth)
            rows.runs.append({"id": run, "session": sitting, "plant": plant, "protocol": protocol.id,
                              "title": protocol.title, "position": float(nth), "standing": "clear", "standing_why": ""})
            rows.uses.append({"session": sitting, "tool": "snips", "plant": plant, "at": begun})
            for ordinal, step in enumerate(protocol.steps):
                key = next(steps)
                rows.steps.append({"id": key, "run": run, "ordinal": ordinal, "step": written(step), "state": "done",
                                   "done_at": begun, "found": []})
                if ordinal < 2:
                    rows.tell(begun, Looked(True, "10x"), plant, run=run, step=key)


def _air(rows: Rows, benches: list[int]) -> None:
    """A reading a day in the first room and on one bench of each."""
    for place in (1, *benches[::BENCHES_A_ROOM]):
        for day in range(DAYS):
            rows.tell(NOW - timedelta(days=day, hours=rows.dice.random()),
                      Reading(18 + rows.dice.random() * 6, 0.5 + rows.dice.random() * 0.3), place=place)
