"""The courses of a month on a page for the wall, in millimetres: days across, plants down, bands with their looks."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from dataclasses import dataclass
from datetime import date, datetime, timedelta
from math import isfinite

from greenhouse_desk.domain.care_day import day_words
from greenhouse_desk.domain.courses_forecast import Outlook
from greenhouse_desk.domain.courses_moving import named, shown_on
from greenhouse_desk.domain.courses_values import End, Verdict
from greenhouse_desk.domain.labels_names import forms
from greenhouse_desk.domain.paper import HAIR, Face, Item, Line, Measure, Page, Ring, Words, frame
from greenhouse_desk.services import transitions
from greenhouse_desk.services.month_page import MONTHS, month_page
from greenhouse_desk.services.page_parts import name_in
from greenhouse_desk.services.transitions import Overview, Row
from greenhouse_desk.store.engine import Session

WIDTH, HEIGHT, MARGIN = 297.0, 210.0, 10.0
PLANTS = 66.0
"""The width of the plants' column."""
TOP, LOW = 30.0, 19.0
LEAST, MOST = 8.0, 13.0
"""How high a plant's row is."""
BAND, RING, PAD, WEEK = 2.4, 1.3, 1.4, 0.8
TITLE_FACE, DAY_FACE = Face(5.5, "serif", bold=True), Face(2.0, bold=True)
NUMBER_FACE, SAID_FACE, FOOT_FACE = Face(3.0, "serif", bold=True), Face(2.0), Face(1.6)
NAME_LETTER = 2.3
KEY = ("Thick: confirmed by a look. Open: since the last look. Broken: forecast to the latest, a stroke where it is "
       "likely settled;", "none where too few are known to tell. Ring with a tick: a look that was taken. Open ring: a "
       "look to come.")


@dataclass(frozen=True, slots=True)
class _Sheet:
    """The axis of one month on paper."""

    first: date
    today: date
    measure: Measure

    @property
    def last(self) -> date:
        return (self.first + timedelta(days=32)).replace(day=1) - timedelta(days=1)

    @property
    def left(self) -> float:
        return MARGIN + PLANTS

    @property
    def per_day(self) -> float:
        return (WIDTH - MARGIN - self.left) / self.last.day

    def x(self, day: date) -> float:
        """Where the middle of a day lies; days off the month lie at its ends."""
        if day < self.first:
            return self.left
        return self.left + self.per_day * (day.day - 0.5) if day <= self.last else WIDTH - MARGIN

    def holds(self, day: date) -> bool:
        return self.first <= day <= self.last


def month_pages(session: Session, now: datetime, month: date, measure: Measure) -> tuple[Page, ...]:
    """The sheets for the wall of the month that holds `month`, as told at `now` (aware): care, then the courses."""
    shown = transitions.overview(session, now)
    return (month_page(session, now, month, measure), *course_pages(shown, month, measure))


def course_pages(shown: Overview, month: date, measure: Measure) -> tuple[Page, ...]:
    """The courses under way in the month that holds `month`, on as many pages as they need; none where there are none.
    """
    sheet = _Sheet(month.replace(day=1), shown.today, measure)
    rows = [row for row in shown.rows if row.course.start <= sheet.last
            and (row.course.end is End.RUNNING or row.course.last >= sheet.first)]
    room = HEIGHT - TOP - LOW
    most = int(room // LEAST)
    parts = [rows[at:at + most] for at in range(0, len(rows), most)]
    return tuple(Page(WIDTH, HEIGHT, tuple(_page(sheet, part, min(MOST, room / len(part))))) for part in parts)


def _page(sheet: _Sheet, rows: Sequence[Row], high: float) -> Iterator[Item]:
    month = f"{MONTHS[sheet.first.month - 1]} {sheet.first.year}"
    yield Words(MARGIN, MARGIN + 7, f"Courses in {month}", TITLE_FACE)
    bottom = TOP + high * len(rows)
    for number in range(1, sheet.last.day + 1):
        day = sheet.first.replace(day=number)
        said = str(number)
        yield Words(sheet.x(day) - sheet.measure(said, DAY_FACE).advance / 2, TOP - 2, said, DAY_FACE)
    x = sheet.x(sheet.today)
    if sheet.holds(sheet.today):
        yield Words(x - sheet.measure("today", SAID_FACE).advance / 2, TOP - 6, "today", SAID_FACE)
    for place, row in enumerate(rows):
        top = TOP + place * high
        yield from _ruled(sheet, top)
        if sheet.holds(sheet.today):
            yield Line(x, top, x, top + PAD + BAND + 0.6, 4 * HAIR)  # no further: words stand below
        yield from _plant(sheet, row, top)
        yield from _band(sheet, row, top + PAD)
        yield from _looks(sheet, row, top + PAD + BAND + RING + 0.9)
    yield from _ruled(sheet, bottom)
    for nth, line in enumerate(KEY):
        yield Words(MARGIN, HEIGHT - MARGIN - 5.5 + 3 * nth, line, FOOT_FACE)
    as_of = f"As of {day_words(sheet.today, sheet.first)}."
    yield Words(MARGIN, HEIGHT - MARGIN + 1, f"{as_of} Worked out from the journal as it stood; a look taken moves "
                "what follows.", FOOT_FACE)


def _ruled(sheet: _Sheet, y: float) -> Iterator[Item]:
    """The line over a row, with a short stroke where a week begins: a long one would run through words."""
    yield Line(MARGIN, y, WIDTH - MARGIN, y)
    for number in range(1, sheet.last.day + 1):
        day = sheet.first.replace(day=number)
        if day.weekday() == 0:
            x = sheet.x(day) - sheet.per_day / 2
            yield Line(x, y - WEEK, x, y + WEEK)


def _plant(sheet: _Sheet, row: Row, top: float) -> Iterator[Item]:
    number = str(row.course.plant)
    yield Words(MARGIN + 0.5, top + 5, number, NUMBER_FACE)
    left = MARGIN + max(12.0, sheet.measure(number, NUMBER_FACE).advance + 2.5)
    room = MARGIN + PLANTS - left - 1.5
    yield from name_in((left, top + 0.8, room, 3.4), forms(row.name, {}), NAME_LETTER, sheet.measure)
    running = row.course.end is End.RUNNING
    verdict = "may be called settled" if row.course.verdict is Verdict.SETTLED else row.course.verdict.value
    said = f"week {row.course.week}, {verdict}" if running else row.course.end.value
    yield Words(left, top + 6.5, _cut(sheet, said, SAID_FACE, room), SAID_FACE)


def _cut(sheet: _Sheet, words: str, face: Face, room: float) -> str:
    """Words with their end left off where they have no room."""
    if sheet.measure(words, face).advance <= room:
        return words
    while words and sheet.measure(f"{words}…", face).advance > room:
        words = words[:-1].rstrip()
    return f"{words}…"


def _band(sheet: _Sheet, row: Row, top: float) -> Iterator[Item]:
    course, middle = row.course, top + BAND / 2
    seen = course.looks[-1].look.day if course.looks else course.start
    start, confirmed, end = sheet.x(course.start), sheet.x(min(seen, course.last)), sheet.x(course.last)
    if confirmed > start and seen >= sheet.first:
        yield Line(start, middle, confirmed, middle, BAND)
    if end > confirmed and course.last >= sheet.first:
        yield frame(confirmed, top, end - confirmed, BAND)
    if sheet.holds(course.start):
        yield Line(start, top - 0.8, start, top + BAND + 0.8, 4 * HAIR)
    if course.end is End.RUNNING:
        yield from _forecast(sheet, row, end, top)


def _forecast(sheet: _Sheet, row: Row, now: float, top: float) -> Iterator[Item]:
    if not isinstance(row.outlook, Outlook):
        return
    late = _day(row, row.outlook.late) or sheet.last
    if max(row.course.last, late) > sheet.first and late > row.course.last:
        yield Line(now, top + BAND / 2, sheet.x(late), top + BAND / 2, 2 * HAIR, dashed=True)
    likely = _day(row, row.outlook.likely)
    if likely is not None and sheet.holds(likely):
        x = sheet.x(likely)
        yield Line(x, top - 0.4, x, top + BAND + 0.4, 4 * HAIR)


def _day(row: Row, days: float) -> date | None:
    return row.course.start + timedelta(days=days) if isfinite(days) else None


def _looks(sheet: _Sheet, row: Row, y: float) -> Iterator[Item]:
    """A ring for each day with looks, with their words where they have room before the next ring."""
    said = {judged.look.day: "" for judged in row.course.looks if sheet.holds(judged.look.day)}
    taken = set(said)
    due: dict[date, list[str]] = {}
    for look in row.looks:
        if sheet.holds(day := shown_on(look, sheet.today)):
            due.setdefault(day, []).append(named((look,)))
    said.update({day: " and ".join(dict.fromkeys(words)) for day, words in due.items()})
    days, free = sorted(said), sheet.left
    for nth, day in enumerate(days):
        x = sheet.x(day)
        yield Ring(x, y, RING)
        if day in taken:
            yield Line(x - 0.7, y, x - 0.2, y + 0.6, 2 * HAIR)
            yield Line(x - 0.2, y + 0.6, x + 0.8, y - 0.6, 2 * HAIR)
        wide = sheet.measure(said[day], SAID_FACE).advance + RING + 0.8
        end = sheet.x(days[nth + 1]) - RING if nth + 1 < len(days) else WIDTH - MARGIN
        if said[day] and x + wide < end:
            yield Words(x + RING + 0.8, y + 0.6, said[day], SAID_FACE)
        elif said[day] and x - wide > free:
            yield Words(x - wide, y + 0.6, said[day], SAID_FACE)
        free = x + wide if x + wide < end else x + RING
