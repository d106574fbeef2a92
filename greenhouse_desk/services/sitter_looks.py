"""The looks on a sitter's sheet, by day and place: with a picture beside each, or told once and pictured once."""

from __future__ import annotations

from collections.abc import Iterator, Mapping, Sequence
from dataclasses import dataclass, replace
from datetime import date
from itertools import groupby

from greenhouse_desk.domain.paper import HAIR, Face, Item, Line, Picture, Words, frame
from greenhouse_desk.domain.paper_text import broken
from greenhouse_desk.domain.sentences import capital
from greenhouse_desk.services.page_flow import BODY, BOLD, LEADING, SMALL, Flow, weekday_words
from greenhouse_desk.services.page_parts import ISOLATION, TICK, tick_box
from greenhouse_desk.services.photos import Printable
from greenhouse_desk.services.sitter_sheet import Row, SitterSheet

TILE_GAP, TILES_MOST, UNDER, GUTTER = 1.6, 8, 1.8, 6.0
DAY_WIDE, DAY_CLOSE, TEXT_SHARE = 22.0, 17.0, 0.5
NONE = "None is due in these days."
Pictures = Mapping[str, Printable]
Tiles = Sequence[tuple[int, Printable | None]]
"""Plants with their pictures, None where there is none."""


@dataclass(frozen=True, slots=True)
class Way:
    """How looks are set: pictures `side` mm wide (0: none), beside each look or, `once`, all together at the end; in
    small letters and two columns where it is `close`. Where it is `tight` the rest of the page has small letters too,
    and its squares and lines stand nearer."""

    side: float
    once: bool = False
    close: bool = False
    tight: bool = False


WAYS = (Way(13), Way(9), Way(12, once=True), Way(14, once=True, close=True, tight=True),
        Way(11, once=True, close=True, tight=True), Way(8, once=True, close=True, tight=True),
        Way(0, once=True, close=True), Way(0, once=True, close=True, tight=True))
"""From the roomiest to the closest."""


@dataclass(frozen=True, slots=True)
class _Line:
    """The looks of a day at one place, broken into rows; `first` of its day."""

    day: date
    first: bool
    rows: tuple[str, ...]


def looks(flow: Flow, sheet: SitterSheet, pictures: Pictures, way: Way) -> None:
    """All looks of the sheet."""
    if not sheet.rows:
        flow.line(NONE, BODY)
    elif way.once:
        _told_once(flow, sheet, pictures, way)
    else:
        for _day, rows in groupby(sheet.rows, key=lambda row: row.day):
            for nth, row in enumerate(rows):
                _look(flow, row, nth == 0, _tiles(sheet, row.plants, pictures), way.side)


def _tiles(sheet: SitterSheet, numbers: Sequence[int], pictures: Pictures) -> Tiles:
    return [(number, pictures.get(sheet.photos.get(number, ""))) for number in numbers]


def _where(row: Row) -> str:
    return f"{row.place} ({ISOLATION}, last)" if row.isolation else row.place


def _look(flow: Flow, row: Row, new_day: bool, tiles: Tiles, side: float) -> None:
    """A look: its day, a box, where and what in words, the plants' pictures beside it."""
    left = flow.left + DAY_WIDE + TICK + 2
    shown = tiles if len(tiles) <= TILES_MOST else ()
    wide = (flow.right - left) * (TEXT_SHARE if shown else 1)
    text = ((f"{_where(row)}: {row.whom}", BOLD), (f"Look at {row.look.name}. {row.look.words}"
                                                   if row.look.name.startswith("the ") else
                                                   f"Look {row.look.name}. {row.look.words}", BODY))
    rows = [(line, face) for words, face in text for line in broken(words, face, wide - 3, flow.measure)]
    across = flow.right - left - wide
    high = max(LEADING * BODY.letter * len(rows) + 1.4, _tall(shown, across, side))
    sheets = len(flow.full)
    flow.room(high)
    base = flow.y + LEADING * BODY.letter
    if new_day or len(flow.full) > sheets:
        _day(flow, row.day, flow.left, flow.right, BOLD)
    flow.items.append(tick_box(flow.left + DAY_WIDE, base))
    flow.items += [Words(left, base + nth * LEADING * face.letter, line, face) for nth, (line, face) in enumerate(rows)]
    flow.items += _strip(shown, left + wide, flow.y + 1.4, across, side)
    flow.y += high


def _day(flow: Flow, day: date, left: float, right: float, face: Face) -> None:
    flow.items.append(Line(left, flow.y + 0.6, right, flow.y + 0.6, HAIR))
    flow.items.append(Words(left, flow.y + LEADING * face.letter, weekday_words(day), face))


def _told_once(flow: Flow, sheet: SitterSheet, pictures: Pictures, way: Way) -> None:
    """First what each look is; then day by day who is looked at, in a line or two; then the plants' pictures."""
    face = SMALL if way.close else BODY
    told = [f"{capital(look.name)}: {look.words[:1].lower()}{look.words[1:]}"
            for look in dict.fromkeys(row.look for row in sheet.rows)]
    for line in [" ".join(told)] if way.close else told:
        flow.line(line, face)
    flow.gap(1.4)
    half = (flow.right - flow.left - GUTTER) / 2
    beside = (DAY_CLOSE if way.close else DAY_WIDE) + TICK + 2
    lines = _lines(flow, sheet, face, (half if way.close else flow.right - flow.left) - beside)
    high = LEADING * face.letter
    middle = _middle(lines)
    longer = max(sum(len(line.rows) for line in part) for part in (lines[:middle], lines[middle:]))
    if way.close and flow.y + longer * high <= flow.bottom:
        top = flow.y
        for part, left in ((lines[:middle], flow.left), (lines[middle:], flow.right - half)):
            flow.y = top
            _listed(flow, part, face, (left, left + beside, left + half))
        flow.y = top + longer * high
    else:
        _listed(flow, lines, face, (flow.left, flow.left + beside, flow.right))
    if way.side:
        _who_is_who(flow, sheet, pictures, way.side)


def _lines(flow: Flow, sheet: SitterSheet, face: Face, wide: float) -> list[_Line]:
    """Each day's looks, a line for each place: "East sill: the middle 125, 130; the cut end 131"."""
    found: list[_Line] = []
    for (day, _place), group in groupby(sheet.rows, key=lambda row: (row.day, row.place)):
        rows = list(group)
        said = f"{_where(rows[0])}: {'; '.join(f'{row.look.name} {row.whom}' for row in rows)}"
        first = not found or found[-1].day != day
        found.append(_Line(day, first, tuple(broken(said, face, wide, flow.measure))))
    return found


def _middle(lines: Sequence[_Line]) -> int:
    """After how many lines the second column begins, so that neither is much longer."""
    whole = sum(len(line.rows) for line in lines)
    above = 0
    for nth, line in enumerate(lines):
        above += len(line.rows)
        if 2 * above >= whole:
            return nth + 1
    return len(lines)


def _listed(flow: Flow, lines: Sequence[_Line], face: Face, edges: tuple[float, float, float]) -> None:
    """Lines under each other; `edges` are where their days begin, where their words do, and where both end."""
    left, words, right = edges
    for nth, line in enumerate(lines):
        sheets = len(flow.full)
        flow.room(LEADING * face.letter * len(line.rows))
        if line.first or nth == 0 or len(flow.full) > sheets:
            _day(flow, line.day, left, right, replace(face, bold=True))
        flow.items.append(tick_box(words - TICK - 2, flow.y + LEADING * face.letter))
        for row in line.rows:
            flow.y += LEADING * face.letter
            flow.items.append(Words(words, flow.y, row, face))


def _who_is_who(flow: Flow, sheet: SitterSheet, pictures: Pictures, side: float) -> None:
    """Every plant that is looked at, once, bench by bench."""
    meant = {number for row in sheet.rows for number in row.plants}
    numbers = [number for bench in sheet.benches for number in bench.plants if number in meant]
    tiles = [tile for tile in _tiles(sheet, numbers, pictures) if tile[1] is not None]
    across = flow.right - flow.left
    flow.gap(0.8)
    for line in _in_lines(tiles, across, side):
        high = _tall(line, across, side)
        flow.room(high)
        flow.items += _strip(line, flow.left, flow.y + 1.2, across, side)
        flow.y += high


def _in_lines(tiles: Tiles, across: float, side: float) -> list[Tiles]:
    """As many tiles to a line as have room."""
    per_line = max(1, int((across + TILE_GAP) // (side + TILE_GAP)))
    return [tiles[first:first + per_line] for first in range(0, len(tiles), per_line)]


def _scale(picture: Printable, side: float) -> float:
    return min(side / picture.width, side / picture.height)


def _high(line: Tiles, side: float) -> float:
    """How high the pictures of a line are; a plant without one has a square."""
    return max(side if picture is None else picture.height * _scale(picture, side) for _, picture in line)


def _tall(tiles: Tiles, across: float, side: float) -> float:
    """How much room tiles take with their numbers."""
    return sum(_high(line, side) + SMALL.letter + UNDER for line in _in_lines(tiles, across, side))


def _strip(tiles: Tiles, x: float, y: float, across: float, side: float) -> Iterator[Item]:
    """Pictures in lines, each with its number below."""
    for line in _in_lines(tiles, across, side):
        high = _high(line, side)
        for nth, (number, picture) in enumerate(line):
            yield from _tile(x + nth * (side + TILE_GAP), y, (side, high), number, picture)
        y += high + SMALL.letter + UNDER


def _tile(x: float, y: float, room: tuple[float, float], number: int, picture: Printable | None) -> Iterator[Item]:
    """A picture in its room with the number below; an empty frame where there is none."""
    side, tall = room
    if picture is None:
        yield frame(x, y, side, tall)
    else:
        by = _scale(picture, side)
        wide, high = picture.width * by, picture.height * by
        yield Picture(x + (side - wide) / 2, y + tall - high, wide, high, picture.data)
    yield Words(x, y + tall + SMALL.letter + 0.6, str(number), Face(SMALL.letter, bold=True))
