"""The sitter's sheet on paper: on one page where that can be, with small pictures as long as they have room."""

from __future__ import annotations

from collections import defaultdict
from collections.abc import Iterator, Mapping, Sequence
from dataclasses import dataclass, replace
from datetime import date
from types import MappingProxyType

from greenhouse_desk.domain.labels_set import isolation_mark
from greenhouse_desk.domain.paper import A4, HAIR, Face, Item, Line, Measure, Page, Picture, Words, frame
from greenhouse_desk.domain.paper_text import broken, listed, shortened
from greenhouse_desk.domain.sitter import Rest, days_of
from greenhouse_desk.services.page_flow import (
    BODY,
    BOLD,
    DAYS,
    LEADING,
    PART,
    SMALL,
    TITLE,
    Flow,
    Margins,
    day_words,
)
from greenhouse_desk.services.page_parts import ISOLATION, MARK_HIGH, MARK_WIDE, section, writing
from greenhouse_desk.services.photos import Printable
from greenhouse_desk.services.sitter_looks import WAYS, Way, looks
from greenhouse_desk.services.sitter_sheet import Bench, SitterSheet

MARGINS = Margins(12, 8, 13)
PIXELS = 220
"""Pixels a side of a picture: 13 mm at 430 dots to the inch."""
REPORT_LINES, REPORT_LEAST, REPORT_HIGH = 6, 3, 6.4
NARROW = 160.0  # below this width the two lists stand under each other
NO_PICTURES: Mapping[str, Printable] = MappingProxyType({})
INTRO = "For whoever looks in: nothing here needs skill. Do what stands here, no more. In doubt leave it, and call me."
STEPS = (
    "Look along every bench: fallen, wilted, dark or wet? Write it down below, and call.",
    "On a circled day pour plain water, room warm, slowly onto the pellets, up to the mark on the pot and no more. "
    "Tick it.",
    "Take the day's looks: only look, never touch, then tick. A photo with the number in it tells me most.",
    "Water in the middle of a plant? Soak it up with the corner of a paper towel, and write it down.")
NEVER = (
    "wet the middle, where the leaves meet, or the leaves",
    "move a plant to another bench; turn, tidy or wipe it",
    "wash, spray, cut, pull or repot; use my bottles",
    "pour more because a leaf hangs: call me first")
RESTING = "water those that rest dry, also when their bench gets water (bulbs that shrivel: call me)"
ASK = "water these before you asked me, they may rest dry"
LEFT_TO_ME = "Left to me, I know that it falls due; please do not:"
LEFT_OFF = "Pictures left off: no room"
REPORT = "Report back"
APART = f"{ISOLATION}: last of all"
REPORT_TIGHT = f"{REPORT}: day, number, what you saw"
REPORT_HEADS = (("Day", 0.0), ("Number", 0.14), ("What you saw", 0.28))


@dataclass(frozen=True, slots=True)
class _Grid:
    """How the squares for water are set: their side and the gap between them, the names' room and letters, and whether
    that a place comes last stands `beneath` its name."""

    square: float
    gap: float
    name_wide: float
    face: Face
    beneath: bool


OPEN, CLOSE = _Grid(4.2, 1.0, 56.0, BODY, True), _Grid(3.8, 0.5, 66.0, SMALL, False)


def wanted(sheet: SitterSheet) -> tuple[str, ...]:
    """The SHA-256 of the pictures the sheet prints."""
    shown = [number for row in sheet.rows for number in row.plants]
    return tuple(dict.fromkeys(sheet.photos[number] for number in shown if number in sheet.photos))


def pages(sheet: SitterSheet, measure: Measure, pictures: Mapping[str, Printable] = NO_PICTURES,
          size: tuple[float, float] = A4, over: bool = False) -> tuple[Page, ...]:
    """The sheet on one page, the roomiest way in which that can be; where it cannot, on as few as pictures allow.

    Where one page has room only without pictures they are left off, and its foot says so; with `over` they are kept
    and go on over more pages.
    """
    off = any(one in pictures for one in wanted(sheet))
    tried = [set_in(sheet, Flow(measure, size, MARGINS), pictures, way, off) for way in WAYS]
    pictured = [made for made in tried if any(_pictured(page.items) for page in made)]
    best = min(pictured, key=len, default=())
    if best and (over or len(best) == 1):
        return best
    with_side = [made for made, way in zip(tried, WAYS, strict=True) if way.side]
    return next((made for made in tried if len(made) == 1), min(with_side, key=len))


def _pictured(items: Sequence[Item]) -> bool:
    return any(isinstance(item, Picture) for item in items)


def set_in(sheet: SitterSheet, flow: Flow, pictures: Mapping[str, Printable],
           way: Way, off: bool = False) -> tuple[Page, ...]:
    """The sheet set in one way, on as many pages as that takes; `off` tells whether pictures are lost without room."""
    dates = f"{day_words(sheet.first)} to {day_words(sheet.last)}"
    _head(flow, dates)
    _lists(flow, sheet, SMALL if way.tight else BODY)
    _water(flow, sheet, CLOSE if way.tight else OPEN)
    section(flow, "Looks", 20)
    looks(flow, sheet, pictures, way)
    _left(flow, sheet, SMALL if way.tight else BODY)
    _report(flow, way.tight)
    lost = f". {LEFT_OFF}" if off and not any(map(_pictured, (*flow.full, flow.items))) else ""
    return flow.done(f"While I am away, {dates}, made on {day_words(sheet.made)}{lost}")


def _head(flow: Flow, dates: str) -> None:
    flow.line(f"While I am away: {dates}", TITLE)
    flow.line(INTRO, BODY)
    flow.gap(5.5)
    middle = (flow.left + flow.right) / 2
    for words, left, right in (("Call me:", flow.left, middle - 3), ("or:", middle, flow.right)):
        flow.items.append(Words(left, flow.y, words, BOLD))
        flow.items.append(writing(left + flow.measure(words, BOLD).advance + 2, right, flow.y + 0.6))


def _lists(flow: Flow, sheet: SitterSheet, face: Face) -> None:
    """What to do each time and what never to do, beside each other where there is room."""
    narrow = flow.size[0] < NARROW
    wide = flow.right - flow.left if narrow else (flow.right - flow.left - 6) / 2
    flow.gap(3)
    steps = [(f"{nth}", text) for nth, text in enumerate(STEPS, 1)]
    nevers = [("", text) for text in never(sheet)]
    top = flow.y
    first = _column(flow, flow.left, top, wide, ("Each time you come", face), steps)
    second = _column(flow, flow.left if narrow else flow.right - wide, first + 2 if narrow else top, wide,
                     ("Never", face), nevers)
    flow.y = max(first, second)


def never(sheet: SitterSheet) -> Iterator[str]:
    """What a sitter must never do, the plants it matters most for named."""
    if sheet.held:
        days = defaultdict(list)
        for number, day in sheet.held:
            days[day].append(number)
        told = "; ".join(f"{listed(numbers)} until {day_words(day)}" for day, numbers in sorted(days.items()))
        yield f"feed any plant; it burns those on plain water: {told}"
    else:
        yield "feed any plant"
    for words, usual in ((RESTING, False), (ASK, True)):
        rests = [rest for rest in sheet.resting if rest.usual is usual]
        if rests:
            yield f"{words}: {_rests(rests, sheet.first)}"
    yield from NEVER
    apart = [bench for bench in sheet.benches if bench.isolation]
    if apart:
        named = " or ".join(bench.short for bench in apart)
        yield f"touch {named} ({ISOLATION}) first: it comes last. Then wash your hands, and go to no other plant"


def _rests(rests: Sequence[Rest], first: date) -> str:
    """"103 and 109 until 31 Jan 2027; 162 from 1 Nov 2026 until 28 Feb 2027"."""
    days: dict[tuple[date, date], list[int]] = defaultdict(list)
    for rest in rests:
        days[rest.first, rest.last].append(rest.plant)
    return "; ".join(f"{listed(numbers)}{_from(begins, first)} until {day_words(ends)}"
                     for (begins, ends), numbers in sorted(days.items()))


def _from(begins: date, first: date) -> str:
    return f" from {day_words(begins)}" if begins > first else ""


def _column(flow: Flow, x: float, top: float, wide: float, head: tuple[str, Face],
            lines: Sequence[tuple[str, str]]) -> float:
    """A list with its title, in a face; each line has its number, or a cross where it is forbidden. Returns where it
    ends."""
    title, face = head
    y = top + PART.letter * LEADING
    flow.items.append(Words(x, y, title, PART))
    for sign, text in lines:
        y += 0.9
        base = y + LEADING * face.letter
        flow.items += [Words(x, base, sign, replace(face, bold=True))] if sign else _cross(x, base)
        for row in broken(text, face, wide - 5, flow.measure):
            y += LEADING * face.letter
            flow.items.append(Words(x + 5, y, row, face))
    return y


def _cross(x: float, base: float) -> list[Item]:
    """A thick cross on the base line."""
    high = BODY.letter
    return [Line(x, base - high, x + high, base, 0.6), Line(x, base, x + high, base - high, 0.6)]


def _water(flow: Flow, sheet: SitterSheet, grid: _Grid) -> None:
    """A square for each bench and day: the grower circles the days to water, the sitter ticks them. On one page where
    it can be, else with its days said again."""
    high = [grid.square + grid.gap + (LEADING * SMALL.letter if bench.isolation and grid.beneath else 0.0)
            for bench in sheet.benches]
    section(flow, "Water", min(sum(high) + 2, flow.bottom - flow.margins.top - 20))
    days = days_of(sheet.first, sheet.last)
    step = min(10.0, (flow.right - flow.left - grid.name_wide) / len(days))
    lefts = [flow.left + grid.name_wide + nth * step for nth in range(len(days))]
    _days(flow, days, lefts)
    for bench, tall in zip(sheet.benches, high, strict=True):
        sheets = len(flow.full)
        flow.room(tall)
        if len(flow.full) > sheets:
            _days(flow, days, lefts)
        _bench(flow, bench, lefts, grid)


def _days(flow: Flow, days: Sequence[date], lefts: Sequence[float]) -> None:
    for day, x in zip(days, lefts, strict=True):
        flow.items.append(Words(x, flow.y - SMALL.letter - 1, DAYS[day.weekday()][:2], SMALL))
        flow.items.append(Words(x, flow.y, str(day.day), SMALL))
    flow.gap(1.0)


def _bench(flow: Flow, bench: Bench, lefts: Sequence[float], grid: _Grid) -> None:
    """A bench and its squares; an isolation place with its mark, and that it comes last: before its name, so that a
    long one cannot hide it, or beneath."""
    flow.y += grid.square + grid.gap
    left, name = flow.left, bench.name
    if bench.isolation:
        flow.items += isolation_mark(left, flow.y - MARK_HIGH, MARK_WIDE, MARK_HIGH)
        left += MARK_WIDE + 1.5
        name = name if grid.beneath else f"{APART}: {bench.short}"
    room = lefts[0] - left - 2
    flow.items.append(Words(left, flow.y - 0.8, shortened(name, grid.face, room, flow.measure), grid.face))
    flow.items += [frame(x, flow.y - grid.square + 0.4, grid.square, grid.square) for x in lefts]
    if bench.isolation and grid.beneath:
        flow.y += LEADING * SMALL.letter
        flow.items.append(Words(left, flow.y - 0.8, APART, SMALL))


def _left(flow: Flow, sheet: SitterSheet, face: Face) -> None:
    """What stays the grower's, so that nobody does it out of kindness."""
    if not sheet.left:
        return
    deeds: dict[str, list[int]] = defaultdict(list)
    for care, _day in sheet.left:
        deeds[care.short].append(care.plant)
    told = "; ".join(f"{short} {listed(sorted(set(numbers)))}" for short, numbers in deeds.items())
    flow.again = ""
    flow.gap(2)
    flow.room(2 * LEADING * face.letter)
    flow.items.append(Line(flow.left, flow.y, flow.right, flow.y, 2 * HAIR))
    flow.gap(0.6)
    flow.line(f"{LEFT_TO_ME} {told}.", face)


def _report(flow: Flow, tight: bool) -> None:
    """Lines to fill in: day, number, what was seen. Their heads stand beneath the title, or in it."""
    wide = flow.right - flow.left
    section(flow, REPORT_TIGHT if tight else REPORT, 4 + REPORT_LEAST * REPORT_HIGH)
    if not tight:
        flow.gap(3.4)
        flow.items += [Words(flow.left + share * wide, flow.y, words, SMALL) for words, share in REPORT_HEADS]
    for _ in range(REPORT_LINES):
        if flow.y + REPORT_HIGH > flow.bottom:
            break
        flow.y += REPORT_HIGH
        for nth, (_words, share) in enumerate(REPORT_HEADS):
            end = REPORT_HEADS[nth + 1][1] * wide - 2 if nth + 1 < len(REPORT_HEADS) else wide
            flow.items.append(writing(flow.left + share * wide, flow.left + end, flow.y))
