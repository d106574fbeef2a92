"""The calendar file read by another parser than the one that writes it (vobject), and taken in twice."""

from __future__ import annotations

from datetime import UTC, date, datetime, timedelta
from pathlib import Path
from typing import Any

import pytest
import vobject  # type: ignore[import-untyped]

from greenhouse_desk.domain.care import Care, CareKind
from greenhouse_desk.domain.journal import Potted, Purpose, Reply, Treated, Wetted
from greenhouse_desk.domain.journal_words import Part
from greenhouse_desk.services import calendar, care, collection, records
from greenhouse_desk.services.clock import SteppedClock
from greenhouse_desk.services.collection import NewPlant
from greenhouse_desk.services.desk import Desk

NAME = "× Brassolaeliocattleya Ōsumi 'Frühlingslicht; über, dem Wintergarten am Fluß' 蘭"


@pytest.fixture
def owing(desk: Desk) -> Desk:
    """Two plants with much ahead of them, one under a long name of many bytes with all that has to be escaped."""
    for number, name in ((133, NAME), (134, "Phalaenopsis amabilis")):
        desk.run(collection.add_plant, NewPlant(name, number))
        for facts in (Potted("clay pellets", transition=True), Wetted((Part.CROWN,)),
                      Treated("hydrogen-peroxide", Purpose.ROOT_DISINFECTION, (Part.ROOTS,), 3.0, 10.0)):
            desk.run(records.add, number, facts)
    return desk


def written(desk: Desk, path: Path) -> Path:
    calendar.to_file(desk, path, calendar.kinds_of(""), False)
    return path


def read(path: Path) -> list[Any]:
    """Every entry of the file, each held to the standard by the other parser."""
    (whole,) = vobject.readComponents(path.read_bytes().decode())
    assert whole.validate(raiseException=True)
    return [*whole.contents.get("vtodo", []), *whole.contents.get("vevent", [])]


def ends(entry: Any) -> date | datetime:
    """The day or instant an entry is due; of a span its last day."""
    if entry.name == "VTODO":
        return entry.due.value  # type: ignore[no-any-return]
    return entry.dtend.value - timedelta(days=1)  # type: ignore[no-any-return]


def at(moment: date | datetime) -> date | datetime:
    return moment.astimezone(UTC).replace(microsecond=0) if isinstance(moment, datetime) else moment


def owed(desk: Desk) -> list[Care]:
    return list(desk.read(care.ahead, desk.clock(), 400))


def test_another_parser_reads_the_care_that_is_owed(owing: Desk, tmp_path: Path) -> None:
    found = read(written(owing, tmp_path / "care.ics"))
    wanted = owed(owing)
    assert len(found) == len(wanted) > 16
    told = sorted((str(one.summary.value).partition(":")[0], str(one.categories.value[0])) for one in found)
    assert told == sorted((str(one.plant), one.kind.value) for one in wanted)
    due = {(one.plant, one.kind, at(one.due)) for one in wanted if one.kind is not CareKind.PLAIN_WATER}
    read_back = {(int(str(one.summary.value).partition(":")[0]), CareKind(one.categories.value[0]), at(ends(one)))
                 for one in found if one.categories.value[0] != CareKind.PLAIN_WATER.value}
    assert due <= read_back
    assert any(NAME in str(one.description.value) for one in found), "folded between bytes and escaped, and whole again"


def test_a_fresh_calendar_that_takes_the_file_in_twice_holds_each_entry_once(
        owing: Desk, clock: SteppedClock, tmp_path: Path) -> None:
    store: dict[str, Any] = {}

    def take_in(path: Path) -> None:
        """By UID, the higher SEQUENCE wins (RFC 5546 2.1.4)."""
        for one in read(path):
            kept = store.get(one.uid.value)
            if kept is None or int(one.sequence.value) >= int(kept.sequence.value):
                store[one.uid.value] = one

    path = tmp_path / "care.ics"
    take_in(written(owing, path))
    count = len(store)
    assert count == len(owed(owing))
    take_in(path)
    assert len(store) == count
    clock.advance(3600)
    check = next(one for one in owed(owing) if one.kind is CareKind.ROOT_CHECK)
    owing.run(care.answer, check, Reply.PUT_OFF, check.due + timedelta(days=3))
    take_in(written(owing, path))
    assert len(store) == count
    assert any(ends(one) == check.due + timedelta(days=3) for one in store.values())
