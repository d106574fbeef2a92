"""A plant's record set on A4 pages in millimetres: what it says line by line, broken where the page ends."""

from __future__ import annotations

from collections.abc import Iterator, Mapping, Sequence
from dataclasses import dataclass, field
from datetime import date
from types import MappingProxyType

from greenhouse_desk.domain.care_day import MONTHS
from greenhouse_desk.domain.dealings import Check
from greenhouse_desk.domain.paper import A4, Face, Item, Line, Measure, Page, Picture, Words
from greenhouse_desk.services.photos import Printable
from greenhouse_desk.services.plant_record import Part, PlantRecord

LEFT, RIGHT, TOP, BOTTOM = 20.0, 190.0, 22.0, 277.0
DAY = 25.0
TITLE, PART, BODY, BOLD, SMALL = (Face(4.6, "serif", True), Face(3.2, "serif", True), Face(2.35), Face(2.35, bold=True),
                                  Face(2.0))
LEADING = 2.1  # of a capital's height, from base line to base line
NUMBER = Face(8.0, "serif", True)
WIDE = 82.0  # mm: the most a picture takes each way, two beside each other
PICTURES = 6
"""How many photos a record prints, the newest; the rest is counted."""
NO_PICTURES: Mapping[str, Printable] = MappingProxyType({})


def wanted(record: PlantRecord) -> tuple[str, ...]:
    """The SHA-256 of the photos a record prints, the newest first."""
    return tuple(sha256 for sha256, _ in record.photos[:PICTURES])


def pages(record: PlantRecord, measure: Measure, pictures: Mapping[str, Printable] = NO_PICTURES) -> tuple[Page, ...]:
    """The record as pages; `measure` tells what words take up, `pictures` are the `wanted` photos that are there. The
    notice stands on the first page.
    """
    setting = _Setting(measure)
    setting.line(str(record.number), NUMBER)
    setting.line(record.name, TITLE)
    for words in _head(record):
        setting.line(words, BODY)
    setting.gap()
    setting.line(record.notice, BOLD)
    _chance(setting, record)
    for part in record.parts:
        _part(setting, part)
    _exposed(setting, record)
    _checks(setting, record.checks)
    if record.photos:
        _pictures(setting, record, pictures)
    if record.notes:
        setting.heading("Private notes")
        setting.line(record.notes, BODY)
    return setting.done(f"{record.number}, made on {_day(record.made)}")


def _head(record: PlantRecord) -> Iterator[str]:
    came = f", came on {_day(record.came)}" if record.came else ", day of arrival unknown"
    yield f"From {record.source or 'a source not written down'}{came}"
    yield ", ".join(filter(None, (record.medium, record.pot, f"stands on {record.place}" if record.place else "")))
    if record.left:
        yield f"It left: {record.left}"
    yield f"Now {record.standing}: {record.standing_why}"


def _chance(setting: _Setting, record: PlantRecord) -> None:
    setting.heading("Chance that it still carries something")
    setting.line(record.chance, BOLD)
    for reason in record.assumptions:
        setting.line(reason.text, BODY)
        setting.line(reason.shown, SMALL)


def _pictures(setting: _Setting, record: PlantRecord, pictures: Mapping[str, Printable]) -> None:
    shown = [(pictures[sha256], day) for sha256, day in record.photos[:PICTURES] if sha256 in pictures]
    pairs = [shown[nth:nth + 2] for nth in range(0, len(shown), 2)]
    setting.heading("Pictures", _tall(pairs[0]) if pairs else 0.0)
    for pair in pairs:
        setting.pictures(pair)
    lost = min(len(record.photos), PICTURES) - len(shown)
    if lost:
        setting.line(f"{lost} {'picture is' if lost == 1 else 'pictures are'} not there to print.", BODY)
    older = len(record.photos) - PICTURES
    if older > 0:
        setting.line(f"{older} older {'picture is' if older == 1 else 'pictures are'} in the journal.", BODY)


def _tall(pair: Sequence[tuple[Printable, date]]) -> float:
    """How high a row of pictures is with its days, in mm."""
    return max(one.height * min(WIDE / one.width, WIDE / one.height) for one, _ in pair) + 10


def _part(setting: _Setting, part: Part) -> None:
    setting.heading(part.title)
    for one in part.lines:
        setting.dated(one.day, ", ".join(filter(None, (one.title, one.detail))))
    if not part.lines:
        setting.line("Nothing is written down.", BODY)


def _exposed(setting: _Setting, record: PlantRecord) -> None:
    setting.heading("Exposures that still count")
    for one in record.exposures:
        setting.dated(one.since, one.words)
    if not record.exposures:
        setting.line("None on record.", BODY)


def _checks(setting: _Setting, checks: tuple[Check, ...]) -> None:
    if checks:
        setting.heading("Check list before handing on")
    for check in checks:
        setting.line(f"{check.verdict.value}: {check.title}. {check.evidence}", BODY)


def _day(day: date | None) -> str:
    return f"{day.day} {MONTHS[day.month - 1]} {day.year}" if day is not None else ""


@dataclass
class _Setting:
    """Pages being filled from the top."""

    measure: Measure
    y: float = TOP
    items: list[Item] = field(default_factory=list)
    full: list[list[Item]] = field(default_factory=list)

    def gap(self, mm: float = 3.0) -> None:
        """Room before what follows."""
        self.y += mm

    def heading(self, words: str, after: float = 0.0) -> None:
        """A part's title with a line over it; never alone at the foot of a page: `after` is room for what follows."""
        self.gap()
        if self.y + 24 + after > BOTTOM:
            self._turn()
        self.items.append(Line(LEFT, self.y, RIGHT, self.y))
        self.gap(1.5)
        self.line(words, PART)

    def dated(self, day: date | None, words: str) -> None:
        """A day, and beside it what happened."""
        self._room(BODY)
        self.items.append(Words(LEFT, self.y + BODY.letter * LEADING, _day(day), BODY))
        self.line(words, BODY, LEFT + DAY)

    def line(self, words: str, face: Face, left: float = LEFT) -> None:
        """Words broken into as many lines as they need."""
        for row in self._broken(words, face, RIGHT - left):
            self._room(face)
            self.y += face.letter * LEADING
            self.items.append(Words(left, self.y, row, face))

    def pictures(self, pair: Sequence[tuple[Printable, date]]) -> None:
        """One or two pictures beside each other, each with its day below, on one page."""
        if self.y + _tall(pair) > BOTTOM:
            self._turn()
        self.gap(2)
        for nth, (one, day) in enumerate(pair):
            by = min(WIDE / one.width, WIDE / one.height)
            left = LEFT + nth * (RIGHT - LEFT - WIDE)
            self.items.append(Picture(left, self.y, one.width * by, one.height * by, one.data))
            self.items.append(Words(left, self.y + one.height * by + 4, _day(day), SMALL))
        self.gap(_tall(pair) - 2)

    def _room(self, face: Face) -> None:
        if self.y + face.letter * LEADING > BOTTOM:
            self._turn()

    def _turn(self) -> None:
        self.full.append(self.items)
        self.items, self.y = [], TOP

    def _broken(self, words: str, face: Face, width: float) -> list[str]:
        rows: list[str] = []
        for word in words.split():
            longer = f"{rows[-1]} {word}" if rows else word
            if rows and self.measure(longer, face).advance <= width:
                rows[-1] = longer
            else:
                rows += [word] if self.measure(word, face).advance <= width else self._cut(word, face, width)
        return rows

    def _cut(self, word: str, face: Face, width: float) -> list[str]:
        """A word wider than the page, cut where it must."""
        rows = [""]
        for sign in word:
            if self.measure(rows[-1] + sign, face).advance > width and rows[-1]:
                rows.append("")
            rows[-1] += sign
        return rows

    def done(self, foot: str) -> tuple[Page, ...]:
        """The pages, each with its number at the foot."""
        every = [*self.full, self.items]
        return tuple(Page(*A4, (*items, Words(LEFT, 287.0, f"{foot}, page {nth} of {len(every)}", SMALL)))
                     for nth, items in enumerate(every, 1))
