"""A month of care on one page for the wall, in millimetres: a box a day, care of one kind told together."""

from __future__ import annotations

from calendar import monthcalendar
from collections import defaultdict
from collections.abc import Iterator, Mapping, Sequence
from datetime import date, datetime

from greenhouse_desk.domain.care import Care, care_day, stands_on
from greenhouse_desk.domain.paper import HAIR, Face, Item, Line, Measure, Page, Words, frame
from greenhouse_desk.services import care
from greenhouse_desk.store.engine import Session

WIDTH, HEIGHT, MARGIN = 297.0, 210.0, 10.0
TITLE, HEADS = 14.0, 7.0
DAYS = ("Monday", "Tuesday", "Wednesday", "Thursday", "Friday", "Saturday", "Sunday")
MONTHS = ("January", "February", "March", "April", "May", "June", "July", "August", "September", "October", "November",
          "December")
TITLE_FACE, HEAD_FACE = Face(5.5, "serif", bold=True), Face(2.4, bold=True)
DAY_FACE, CARE_FACE, FOOT_FACE = Face(3.0, "serif", bold=True), Face(1.75), Face(1.6)
LARGER = (Face(2.3), Face(2.0))
"""Faces of the care tried before `CARE_FACE`: it is read from where one stands, so as large as a day has room for."""
LEADING = 1.9
"""From line to line, in heights of a letter."""
PAST_ROW = 9.0
PAD = 1.6
AHEAD_DAYS = 400
FOOT = "Worked out from the journal as it stood; a look taken, a plant settled or a rule changed moves what follows."


def month_page(session: Session, now: datetime, month: date, measure: Measure) -> Page:
    """The month that holds `month`, as care is owed at `now` (aware); what is late stands on today's day."""
    around = care.surroundings(session)
    today = care_day(now, around.zone, around.rules)
    days: dict[date, list[Care]] = defaultdict(list)
    for one in care.ahead(session, now, AHEAD_DAYS):
        if not one.hold:
            days[max(stands_on(one, around.zone, around.rules), today)].append(one)
    return Page(WIDTH, HEIGHT, tuple(_items(month, today, days, measure)))


def _items(month: date, today: date, days: Mapping[date, Sequence[Care]], measure: Measure) -> Iterator[Item]:
    yield Words(MARGIN, MARGIN + 7, f"{MONTHS[month.month - 1]} {month.year}", TITLE_FACE)
    weeks = monthcalendar(month.year, month.month)
    wide = (WIDTH - 2 * MARGIN) / 7
    top = MARGIN + TITLE + HEADS
    highs = heights([_is_past(week, month, today) for week in weeks], HEIGHT - MARGIN - 5 - top)
    for place, name in enumerate(DAYS):
        yield Words(MARGIN + place * wide + PAD, top - 2, name, HEAD_FACE)
    for row, week in enumerate(weeks):
        high = highs[row]
        for place, number in enumerate(week):
            x, y = MARGIN + place * wide, top + sum(highs[:row])
            yield frame(x, y, wide, high)
            if number:
                day = month.replace(day=number)
                yield from _day(x, y, wide, high, day, day == today, days.get(day, ()), measure)
    yield Words(MARGIN, HEIGHT - MARGIN + 1, f"As of {today.day} {MONTHS[today.month - 1]} {today.year}. {FOOT}",
                FOOT_FACE)


def heights(past: Sequence[bool], whole: float) -> list[float]:
    """The rows' heights in mm: weeks that are over are low, the others share what is left."""
    ahead = sum(not over for over in past)
    if not ahead or ahead == len(past):
        return [whole / len(past)] * len(past)
    return [PAST_ROW if over else (whole - PAST_ROW * sum(past)) / ahead for over in past]


def _is_past(week: Sequence[int], month: date, today: date) -> bool:
    return month.replace(day=max(week)) < today


def _faced(owed: Sequence[Care], width: float, high: float, measure: Measure) -> tuple[Face, list[str]]:
    """The largest face in which the care of a day fits its box, and its lines in it; the smallest where none does."""
    for face in (*LARGER, CARE_FACE):
        told = lines(owed, width, measure, face)
        if len(told) <= _room(high, face):
            break
    return face, told


def _first(face: Face) -> float:
    """How far below the top of a box its first line of care stands."""
    return PAD + DAY_FACE.letter + LEADING * face.letter + 0.6


def _room(high: float, face: Face) -> int:
    """How many lines of care a box so high has room for."""
    return int((high - PAD - _first(face)) // (LEADING * face.letter)) + 1


def _day(x: float, y: float, wide: float, high: float, day: date, is_today: bool, owed: Sequence[Care],
         measure: Measure) -> Iterator[Item]:
    said = f"{day.day}  today" if is_today else str(day.day)
    yield Words(x + PAD, y + PAD + DAY_FACE.letter, said, DAY_FACE)
    if is_today:
        yield Line(x, y + 0.4, x + wide, y + 0.4, 8 * HAIR)
    face, told = _faced(owed, wide - 2 * PAD, high, measure)
    for place, line in enumerate(shortened(told, _room(high, face))):
        yield Words(x + PAD, y + _first(face) + place * LEADING * face.letter, line, face)


def lines(owed: Sequence[Care], width: float, measure: Measure, face: Face = CARE_FACE) -> list[str]:
    """The care of a day in lines at most `width` mm wide: "root check: 107, 134", one kind after the other."""
    kinds: dict[str, list[int]] = defaultdict(list)
    for one in owed:
        kinds[one.short].append(one.plant)
    found: list[str] = []
    for short, plants in sorted(kinds.items(), key=lambda item: (-len(item[1]), item[0])):
        words = [f"{short}:", *(f"{plant}," for plant in sorted(plants)[:-1]), str(max(plants))]
        found += _wrapped(words, width, measure, face)
    return found


def _wrapped(words: Sequence[str], width: float, measure: Measure, face: Face) -> list[str]:
    rows = [words[0]]
    for word in words[1:]:
        longer = f"{rows[-1]} {word}"
        if measure(longer, face).advance <= width:
            rows[-1] = longer
        else:
            rows.append(f"  {word}")
    return rows


def shortened(found: Sequence[str], room: int) -> list[str]:
    """As many lines as there is room for; the last says how many lines more there are."""
    if len(found) <= room:
        return list(found)
    return [*found[:room - 1], f"and {len(found) - room + 1} lines more"] if room > 0 else []
