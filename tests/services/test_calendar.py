"""The calendar file, read back by the calendar library and byte by byte: RFC 5545, and a second import that updates."""

from __future__ import annotations

from datetime import date, datetime, timedelta
from pathlib import Path
from typing import Any

import pytest
from icalendar import Calendar

from greenhouse_desk import cli
from greenhouse_desk.domain.care import CareKind
from greenhouse_desk.domain.faults import Refused
from greenhouse_desk.domain.journal import Potted, Purpose, Reply, Roots, Treated, Wetted
from greenhouse_desk.domain.journal_words import Part
from greenhouse_desk.services import calendar, care, collection, records
from greenhouse_desk.services.clock import SteppedClock
from greenhouse_desk.services.collection import NewPlant
from greenhouse_desk.services.desk import Desk
from greenhouse_desk.store.engine import Store

NAME = "× Brassolaeliocattleya Ōsumi 'Frühlingslicht über dem Wintergarten am Fluß' 蘭"


@pytest.fixture
def owing(desk: Desk) -> Desk:
    """One plant with a long name of many bytes, moved and treated today."""
    desk.run(collection.add_plant, NewPlant(NAME, 133))
    for facts in (Potted("clay pellets", transition=True), Wetted((Part.CROWN,)),
                  Treated("hydrogen-peroxide", Purpose.ROOT_DISINFECTION, (Part.ROOTS,), 3.0, 10.0)):
        desk.run(records.add, 133, facts)
    return desk


def written(desk: Desk, path: Path, kinds: str = "", events: bool = False) -> bytes:
    calendar.to_file(desk, path, calendar.kinds_of(kinds), events)
    return path.read_bytes()


def entries(data: bytes) -> dict[str, Any]:
    return {str(one["UID"]): one for one in Calendar.from_ical(data).subcomponents}


def taken_in(store: dict[str, Any], data: bytes) -> None:
    """What a calendar does on import (RFC 5546 2.1.4): by UID, the higher SEQUENCE wins."""
    for uid, one in entries(data).items():
        if uid not in store or int(one["SEQUENCE"]) >= int(store[uid]["SEQUENCE"]):
            store[uid] = one


def test_the_lines_keep_the_standard(owing: Desk, tmp_path: Path) -> None:
    data = written(owing, tmp_path / "care.ics")
    lines = data.split(b"\r\n")
    assert lines.pop() == b""
    assert b"\n" not in b"".join(lines), "CRLF ends every line"
    assert max(map(len, lines)) == 75, "RFC 5545 3.1: 75 octets without the line break, and long lines there are"
    for line in lines:
        line.decode("utf-8")  # no fold inside a character
    assert NAME in data.replace(b"\r\n ", b"").decode().replace("\\,", ","), "unfolded it is whole"
    assert data.startswith(b"BEGIN:VCALENDAR\r\n")
    top = Calendar.from_ical(data)
    assert (top["VERSION"], top["CALSCALE"], top["METHOD"]) == ("2.0", "GREGORIAN", "PUBLISH")
    assert b"TZID" not in data, "UTC or whole days only"


def test_every_entry_is_whole(owing: Desk, tmp_path: Path) -> None:
    found = entries(written(owing, tmp_path / "care.ics"))
    owed = owing.read(care.ahead, owing.clock(), 400)
    assert len(found) == len(owed) > 8
    assert any("From 2 Dec 2026, at the latest 9 Dec 2026." in str(one["DESCRIPTION"]) for one in found.values())
    for one in found.values():
        assert {"UID", "DTSTAMP", "SEQUENCE", "SUMMARY", "DESCRIPTION", "CATEGORIES"} <= set(one)
        assert one.name == "VEVENT" or "DTSTART" not in one
        for alarm in one.subcomponents:
            assert alarm["ACTION"] == "DISPLAY"
            related = alarm["TRIGGER"].params["RELATED"]
            assert related == ("END" if one.name == "VTODO" else "START"), "a task with only DUE has no start"
    names = {one.name for one in found.values()}
    assert names == {"VTODO", "VEVENT"}, "tasks, and the hold as a span"
    hold = next(one for one in found.values() if one.name == "VEVENT")
    assert hold["DTEND"].dt - hold["DTSTART"].dt == timedelta(days=15)
    assert not hold.subcomponents


def test_days_stay_days_and_ring_in_the_morning_and_instants_are_utc(owing: Desk, tmp_path: Path) -> None:
    todos = [one for one in entries(written(owing, tmp_path / "care.ics")).values() if one.name == "VTODO"]
    by_kind = {one["CATEGORIES"].to_ical().decode(): one for one in todos}
    check = by_kind["crown check"]
    assert isinstance(check["DUE"].dt, date)
    assert not isinstance(check["DUE"].dt, datetime)
    assert check.subcomponents[0]["TRIGGER"].dt == timedelta(hours=9)
    airing = by_kind["air until dry"]
    assert airing["DUE"].to_ical().endswith(b"Z")
    assert airing.subcomponents[0]["TRIGGER"].dt == timedelta(minutes=-30)


def test_what_is_overdue_rings_once_more_on_the_day_the_file_is_made(owing: Desk, clock: SteppedClock,
                                                                     tmp_path: Path) -> None:
    """Its day stays its day; an alarm in the past would never ring."""
    before = entries(written(owing, tmp_path / "a.ics", "root-check"))
    clock.advance(86400 * 16)
    late = min(entries(written(owing, tmp_path / "b.ics", "root-check")).values(), key=lambda one: one["DUE"].dt)
    assert late["DUE"].dt == before[str(late["UID"])]["DUE"].dt < clock.now().date()
    (alarm,) = late.subcomponents
    rings = alarm["TRIGGER"].dt
    assert clock.now() < rings < clock.now() + timedelta(days=1)
    assert alarm["TRIGGER"].params["VALUE"] == "DATE-TIME"
    assert entries(written(owing, tmp_path / "b.ics", "root-check"))[str(late["UID"])]["SEQUENCE"] == late["SEQUENCE"]


def test_a_second_import_updates_instead_of_doubling(owing: Desk, clock: SteppedClock, tmp_path: Path) -> None:
    path, phone = tmp_path / "care.ics", dict[str, Any]()
    first = written(owing, path)
    taken_in(phone, first)
    count = len(phone)
    clock.advance(3600)
    old, again = entries(first), entries(written(owing, path))
    for uid, one in again.items():
        if one["CATEGORIES"].to_ical() != b"air until dry":  # its words count from now
            assert one.to_ical() == old[uid].to_ical(), "nothing changed, not even a stamp"
    check = next(one for one in owing.read(care.ahead, clock.now(), 400) if one.kind is CareKind.ROOT_CHECK)
    until = check.due + timedelta(days=3)
    owing.run(care.answer, check, Reply.PUT_OFF, until)
    taken_in(phone, written(owing, path))
    assert len(phone) == count
    moved = [one for one in phone.values() if one["SUMMARY"] == "133: root check" and one["DUE"].dt == until]
    assert len(moved) == 1
    assert int(moved[0]["SEQUENCE"]) > int(old[str(moved[0]["UID"])]["SEQUENCE"])


def test_a_lost_file_still_updates(owing: Desk, clock: SteppedClock, tmp_path: Path) -> None:
    before = entries(written(owing, tmp_path / "a.ics"))
    clock.advance(120)
    after = entries(written(owing, tmp_path / "b.ics"))
    assert set(before) == set(after)
    assert all(int(after[uid]["SEQUENCE"]) > int(before[uid]["SEQUENCE"]) for uid in before)


def test_what_is_done_is_cancelled_once_and_forgotten_in_time(owing: Desk, clock: SteppedClock, tmp_path: Path) -> None:
    path = tmp_path / "care.ics"
    before = entries(written(owing, path))
    clock.advance(86400 * 13)
    owing.run(records.add, 133, Roots(5, 0, 1))
    gone = {uid: one for uid, one in entries(written(owing, path)).items() if one.get("STATUS") == "CANCELLED"}
    assert any(one["SUMMARY"] == "133: root check" for one in gone.values())
    for uid, one in gone.items():
        assert int(one["SEQUENCE"]) > int(before[uid]["SEQUENCE"])
        assert not one.subcomponents, "what is cancelled rings no more"
    kept = entries(written(owing, path))
    assert all(int(kept[uid]["SEQUENCE"]) == int(gone[uid]["SEQUENCE"]) for uid in gone)
    clock.advance(86400 * 120)
    assert not set(gone) & set(entries(written(owing, path)))


def test_a_window_of_whole_months_is_due_on_its_last_day_and_rings_never(desk: Desk, clock: SteppedClock,
                                                                         tmp_path: Path) -> None:
    desk.run(collection.add_plant, NewPlant("Phalaenopsis amabilis", 101, acquired_on=date(2020, 5, 1)))
    clock.advance(86400 * 160)
    (todo,) = entries(written(desk, tmp_path / "a.ics", "repotting-window")).values()
    assert (todo.name, todo["DUE"].dt, todo.subcomponents) == ("VTODO", date(2027, 7, 31), [])
    assert "From 1 Apr 2027, at the latest 31 Jul 2027." in str(todo["DESCRIPTION"])
    (event,) = entries(written(desk, tmp_path / "b.ics", "repotting-window", events=True)).values()
    assert (event["DTSTART"].dt, event.subcomponents) == (date(2027, 7, 31), [])


def test_only_the_kinds_asked_for(owing: Desk, tmp_path: Path) -> None:
    found = entries(written(owing, tmp_path / "a.ics", "root-check, crown check"))
    assert {one["SUMMARY"] for one in found.values()} == {"133: root check", "133: crown check"}
    with pytest.raises(Refused, match="no care called root-chek"):
        calendar.kinds_of("root-chek")


def test_events_for_calendars_that_show_no_tasks(owing: Desk, tmp_path: Path) -> None:
    found = entries(written(owing, tmp_path / "a.ics", "root-check", events=True))
    assert {one.name for one in found.values()} == {"VEVENT"}
    one = next(iter(found.values()))
    assert one["DTEND"].dt - one["DTSTART"].dt == timedelta(days=1)
    assert one.subcomponents[0]["TRIGGER"].dt == timedelta(hours=9)


@pytest.mark.parametrize("other", [
    b"hello", b"BEGIN:VCALENDAR\r\nVERSION:2.0\r\nPRODID:-//else//EN\r\nEND:VCALENDAR\r\n"])
def test_a_file_that_is_not_ours_is_left_as_it_is(owing: Desk, tmp_path: Path, other: bytes) -> None:
    path = tmp_path / "theirs.ics"
    path.write_bytes(other)
    with pytest.raises(Refused):
        calendar.to_file(owing, path, calendar.kinds_of(""))
    assert path.read_bytes() == other


def test_the_mark_is_no_deed_and_two_collections_do_not_meet(owing: Desk, tmp_path: Path) -> None:
    last = owing.next_undo()
    marked = owing.run(calendar.mark)
    assert owing.next_undo() == last
    assert owing.run(calendar.mark) == marked
    other = owing.read(calendar.made, owing.clock(), "12345678-1234-5678-1234-567812345678", calendar.kinds_of(""))
    assert not set(entries(other.data)) & set(entries(written(owing, tmp_path / "a.ics")))


def test_the_verb(owing: Desk, store: Store, tmp_path: Path, capsys: pytest.CaptureFixture[str]) -> None:
    folder, now = store.folder, owing.clock().isoformat()
    store.close()
    call = ["--store", str(folder), "--now", now, "calendar", "-o", str(tmp_path / "out.ics"), "--kinds", "root-check"]
    assert cli.main([*call, "--json"]) == 0
    assert '"entries": 5' in capsys.readouterr().out
    assert len(entries((tmp_path / "out.ics").read_bytes())) == 5
    assert cli.main([*call[:-1], "nonsense"]) == 2
    assert "no care called nonsense" in capsys.readouterr().err
