"""Care as an iCalendar file (RFC 5545) that a second import updates: stable UIDs, and a SEQUENCE that rises on change.

The file an export writes over is read first: what did not change keeps its SEQUENCE, what is no longer owed is
cancelled.
"""

from __future__ import annotations

from collections.abc import Iterable, Sequence
from dataclasses import dataclass
from datetime import UTC, date, datetime, time, timedelta
from pathlib import Path
from typing import Any
from uuid import UUID, uuid4, uuid5

from greenhouse_desk.domain.care import CALM, Care, CareKind
from greenhouse_desk.domain.care_day import dated
from greenhouse_desk.domain.faults import Refused
from greenhouse_desk.services import care, collection
from greenhouse_desk.services.desk import Desk, Done
from greenhouse_desk.services.exchange import write_file
from greenhouse_desk.services.files import ending
from greenhouse_desk.services.owed import why
from greenhouse_desk.store import house, plants
from greenhouse_desk.store.engine import Session

Component = Any
"""A part of a calendar; the library's own types are seen only behind its door."""
OTHER_FILE = "Name another file; this one is left as it is."
PRODUCT = "-//Greenhouse Desk//Care//EN"
DAYS_AHEAD = 400
CANCELLED_KEPT_DAYS = 90
BEFORE_INSTANT = timedelta(minutes=-30)
EPOCH = datetime(2020, 1, 1, tzinfo=UTC)
STAMPS = ("DTSTAMP", "SEQUENCE")
SLUGS = {kind.value.replace(" ", "-").replace("--", "-"): kind for kind in CareKind}
"""The kinds of care as they are named on the command line."""


@dataclass(frozen=True, slots=True)
class Made:
    """A calendar file: its bytes, how many entries it holds, and how many of them are cancelled."""

    data: bytes
    entries: int
    cancelled: int

    @property
    def words(self) -> str:
        """"12 entries written, 2 of them cancelled because they are no longer owed"."""
        gone = f", {self.cancelled} of them cancelled: no longer owed, or not chosen" if self.cancelled else ""
        return f"{self.entries} {'entry' if self.entries == 1 else 'entries'} written{gone}."


@dataclass(frozen=True, slots=True)
class Subject:
    """One care with what its entry says of the plant: its name as typed and the way to its place."""

    care: Care
    name: str
    place: str


@dataclass(frozen=True, slots=True)
class Rings:
    """When alarms ring: care of a day `at` a local time, seen from `now` (local, aware). What would have rung before
    that rings the next time it is `at`, for an alarm in the past never does."""

    at: time
    now: datetime

    def day(self, due: date) -> timedelta | datetime:
        """For care of a day, counted from its beginning."""
        if datetime.combine(due, self.at, self.now.tzinfo) <= self.now:
            return self._next()
        return timedelta(hours=self.at.hour)

    def instant(self, due: datetime) -> timedelta | datetime:
        """For what has a minute of its own: ahead of it, else at it."""
        if due <= self.now:
            return self._next()
        return BEFORE_INSTANT if due + BEFORE_INSTANT > self.now else timedelta(0)

    def _next(self) -> datetime:
        days = [self.now.date() + timedelta(days=nth) for nth in (0, 1)]
        moments = [datetime.combine(day, self.at, self.now.tzinfo) for day in days]
        return next(moment for moment in moments if moment > self.now).astimezone(UTC)


def kinds_of(words: str) -> frozenset[CareKind]:
    """The kinds named in `words`, parted by commas; all when empty. Raises Refused for a word that is none."""
    wanted = [word.strip().lower().replace(" ", "-") for word in words.split(",") if word.strip()]
    unknown = [word for word in wanted if word not in SLUGS]
    if unknown:
        raise Refused(f"There is no care called {unknown[0]}", "", f"Known are: {', '.join(sorted(SLUGS))}.")
    return frozenset(SLUGS[word] for word in wanted) or frozenset(CareKind)


def mark(session: Session, now: datetime) -> Done[str]:
    """What marks this collection's entries in other calendars; given once and kept."""
    known = house.calendar_id(session)
    if not known:
        known = str(uuid4())
        house.save_calendar_id(session, known)
    return Done("Calendar", frozenset(), known, own=False)


def made(session: Session, now: datetime, marked: str, kinds: frozenset[CareKind], events: bool = False,
         old: bytes = b"") -> Made:
    """All care of these kinds as it is owed at `now` (aware); `old` is the file this one replaces, if any.

    A care is a task (VTODO), or an all-day event with `events`; a hold is always an event over its days. Raises Refused
    when `old` is not one of ours, so that nothing else is written over.
    """
    from icalendar import Calendar

    before = _before(old)
    rings = Rings(house.rules(session).day_rings_at, now.astimezone(collection.zone(session)))
    calendar = Calendar()
    for key, value in (("prodid", PRODUCT), ("version", "2.0"), ("calscale", "GREGORIAN"), ("method", "PUBLISH")):
        calendar.add(key, value)
    found = [_component(one, UUID(marked), rings, events) for one in _subjects(session, now, kinds)]
    for one in found:
        _stamp(one, before.pop(str(one["UID"]), None), now)
        calendar.add_component(one)
    gone = [_cancelled(one, now) for one in before.values() if _still_told(one, now)]
    for one in gone:
        calendar.add_component(one)
    return Made(calendar.to_ical(), len(found) + len(gone), len(gone))


def _first_mark(desk: Desk) -> str:
    part = desk.store.read_only
    if part is not None:
        raise Refused("No calendar can be made of this collection yet", f"{part} is read-only, and the mark by which a "
                      "later calendar updates the first is written into the collection once.",
                      "Write the first calendar where the collection can be written; the next ones can be made here.")
    return desk.run(mark)


def to_file(desk: Desk, path: Path, kinds: frozenset[CareKind], events: bool = False) -> Made:
    """Write the calendar to `path`, over the one of ours that may lie there. Raises Refused as `made` and `put` do."""
    ending(path, (".ics",), "a calendar")
    marked = desk.read(house.calendar_id) or _first_mark(desk)
    old = path.read_bytes() if path.is_file() else b""
    done = desk.read(made, desk.clock(), marked, kinds, events, old)
    write_file(path, done.data)
    return done


def _subjects(session: Session, now: datetime, kinds: frozenset[CareKind]) -> Iterable[Subject]:
    local = collection.zone(session)
    names = {plant.number: plant for plant in plants.plants(session, local)}
    where = {place.id: place for place in plants.places(session)}
    for one in care.ahead(session, now, DAYS_AHEAD):
        if one.kind in kinds:
            plant = names[one.plant]
            yield Subject(one, plant.name, collection.path_of(plant.place, where))


def _before(old: bytes) -> dict[str, Component]:
    """The entries of the file to be replaced by UID."""
    from icalendar import Calendar

    if not old.strip():
        return {}
    try:
        calendar = Calendar.from_ical(old)
    except ValueError as error:
        raise Refused("That file is no calendar", str(error), OTHER_FILE) from error
    if str(calendar.get("PRODID", "")) != PRODUCT:
        raise Refused("That calendar is not from here", f"It was made by {calendar.get('PRODID', 'nobody named')}.",
                      OTHER_FILE)
    return {str(one["UID"]): one for one in calendar.subcomponents if "UID" in one}


def _component(of: Subject, marked: UUID, rings: Rings, events: bool) -> Component:
    from icalendar import Event, Todo

    one = of.care
    made: Component = Event() if one.hold or events else Todo()
    made.add("uid", str(uuid5(marked, f"{one.kind.value}/{one.origin}/{one.nth}")))
    made.add("summary", f"{one.plant}: {one.short}")
    told = [one.what, ", ".join(filter(None, (of.name, of.place))), *_window(one), why(one)]
    made.add("description", "\n".join(told))
    made.add("categories", [one.kind.value])
    if one.hold:
        _span(made, _day(one.opens), _day(one.latest or one.due))
        made.add("transp", "TRANSPARENT")
    else:
        _asks(made, one, rings, events)
    return made


def _asks(made: Any, one: Care, rings: Rings, events: bool) -> None:
    """When it is due, and its alarm; what is calm is due on its last day and rings never."""
    due = one.latest or one.due if one.kind in CALM else one.due
    if events:
        _span(made, _day(due), _day(due))
    else:
        made.add("due", due.astimezone(UTC) if isinstance(due, datetime) else due)
        made.add("status", "NEEDS-ACTION")
    if one.kind not in CALM:
        trigger = rings.instant(due) if isinstance(due, datetime) and not events else rings.day(_day(due))
        made.add_component(_alarm(f"{one.plant}: {one.what}", trigger, "START" if events else "END"))


def _window(one: Care) -> Sequence[str]:
    first, last = _day(one.opens), _day(one.latest or one.due)
    return () if first == last else (f"From {dated(first)}, at the latest {dated(last)}.",)


def _span(made: Any, first: date, last: date) -> None:
    made.add("dtstart", first)
    made.add("dtend", last + timedelta(days=1))


def _day(moment: date | datetime) -> date:
    return moment.date() if isinstance(moment, datetime) else moment


def _alarm(words: str, trigger: timedelta | datetime, related: str) -> Component:
    """A displayed alarm. A task that has only a DUE has no start: its trigger must say that it counts from the end.
    An instant of its own counts from nothing."""
    from icalendar import Alarm

    made = Alarm()
    made.add("action", "DISPLAY")
    made.add("description", words)
    told = {"VALUE": "DATE-TIME"} if isinstance(trigger, datetime) else {"RELATED": related}
    made.add("trigger", trigger, parameters=told)
    return made


def _stamp(made: Component, before: Component | None, now: datetime) -> None:
    """DTSTAMP, and a SEQUENCE that is kept while nothing else changed; minutes always rise, even without the old file.
    """
    same = before is not None and _bare(before) == _bare(made)
    made.add("dtstamp", before["DTSTAMP"].dt if same and before is not None else now)
    made.add("sequence", int(before["SEQUENCE"]) if same and before is not None else _next(before, now))


def _next(before: Component | None, now: datetime) -> int:
    minutes = int((now - EPOCH).total_seconds() // 60)
    return minutes if before is None else max(minutes, int(before["SEQUENCE"]) + 1)


def _bare(of: Component) -> bytes:
    """The component without its stamps, as it is written."""
    copied = of.copy()
    copied.subcomponents = list(of.subcomponents)
    for stamp in STAMPS:
        copied.pop(stamp, None)
    return bytes(copied.to_ical())


def _cancelled(of: Component, now: datetime) -> Component:
    if str(of.get("STATUS", "")) == "CANCELLED":
        return of
    sequence = _next(of, now)
    for key in (*STAMPS, "STATUS"):
        of.pop(key, None)
    of.subcomponents.clear()
    of.add("status", "CANCELLED")
    of.add("dtstamp", now)
    of.add("sequence", sequence)
    return of


def _still_told(of: Component, now: datetime) -> bool:
    """Whether an entry that is gone is still to be told as cancelled: not for ever."""
    value = (of.get("DUE") or of.get("DTSTART")).dt
    return (now.date() - _day(value)).days <= CANCELLED_KEPT_DAYS
