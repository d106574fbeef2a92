"""A plant's record set on A4 pages in millimetres: what it says line by line, broken where the page ends."""

from __future__ import annotations

from collections.abc import Iterator, Mapping, Sequence
from datetime import date
from types import MappingProxyType

from greenhouse_desk.domain.dealings import Check
from greenhouse_desk.domain.paper import A4, Face, Measure, Page, Picture, Words
from greenhouse_desk.domain.sentences import capital
from greenhouse_desk.services.page_flow import BODY, BOLD, LEADING, SMALL, TITLE, Flow, Margins, day_words
from greenhouse_desk.services.photos import Printable
from greenhouse_desk.services.plant_record import Part, PlantRecord

LEFT, RIGHT, TOP, BOTTOM = 20.0, 190.0, 22.0, 277.0
DAY = 25.0
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
    setting = Flow(measure, A4, Margins(LEFT, TOP, A4[1] - BOTTOM))
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
    return setting.done(f"{record.number}, made on {day_words(record.made)}")


def _head(record: PlantRecord) -> Iterator[str]:
    came = f", came on {day_words(record.came)}" if record.came else ", day of arrival unknown"
    yield f"From {record.source or 'a source not written down'}{came}"
    yield ", ".join(filter(None, (record.medium, record.pot, f"stands on {record.place}" if record.place else "")))
    if record.left:
        yield f"It left: {record.left}"
    yield f"Now {record.standing}: {record.standing_why}"


def _chance(setting: Flow, record: PlantRecord) -> None:
    setting.heading("Chance that it still carries something")
    setting.line(record.chance, BOLD)
    for reason in record.assumptions:
        setting.line(reason.text, BODY)
        setting.line(reason.shown, SMALL)


def _pictures(setting: Flow, record: PlantRecord, pictures: Mapping[str, Printable]) -> None:
    shown = [(pictures[sha256], day) for sha256, day in record.photos[:PICTURES] if sha256 in pictures]
    pairs = [shown[nth:nth + 2] for nth in range(0, len(shown), 2)]
    setting.heading("Pictures", _tall(pairs[0]) if pairs else 0.0)
    for pair in pairs:
        _pair(setting, pair)
    lost = min(len(record.photos), PICTURES) - len(shown)
    if lost:
        setting.line(f"{lost} {'picture is' if lost == 1 else 'pictures are'} not there to print.", BODY)
    older = len(record.photos) - PICTURES
    if older > 0:
        setting.line(f"{older} older {'picture is' if older == 1 else 'pictures are'} in the journal.", BODY)


def _tall(pair: Sequence[tuple[Printable, date]]) -> float:
    """How high a row of pictures is with its days, in mm."""
    return max(one.height * min(WIDE / one.width, WIDE / one.height) for one, _ in pair) + 10


def _part(setting: Flow, part: Part) -> None:
    setting.heading(part.title)
    for one in part.lines:
        _dated(setting, one.day, ", ".join(filter(None, (one.title, one.detail))))
    if not part.lines:
        setting.line("Nothing is written down.", BODY)


def _exposed(setting: Flow, record: PlantRecord) -> None:
    setting.heading("Exposures that still count")
    for one in record.exposures:
        _dated(setting, one.since, one.words)
    if not record.exposures:
        setting.line("None on record.", BODY)


def _checks(setting: Flow, checks: tuple[Check, ...]) -> None:
    if checks:
        setting.heading("Check list before handing on")
    for check in checks:
        setting.line(f"{check.verdict.value}: {check.title}. {capital(check.evidence)}", BODY)


def _dated(setting: Flow, day: date | None, words: str) -> None:
    """A day, and beside it what happened."""
    setting.room(BODY.letter * LEADING)
    setting.items.append(Words(LEFT, setting.y + BODY.letter * LEADING, day_words(day), BODY))
    setting.line(words, BODY, LEFT + DAY)


def _pair(setting: Flow, pair: Sequence[tuple[Printable, date]]) -> None:
    """One or two pictures beside each other, each with its day below, on one page."""
    setting.room(_tall(pair))
    setting.gap(2)
    for nth, (one, day) in enumerate(pair):
        by = min(WIDE / one.width, WIDE / one.height)
        left = LEFT + nth * (RIGHT - LEFT - WIDE)
        setting.items.append(Picture(left, setting.y, one.width * by, one.height * by, one.data))
        setting.items.append(Words(left, setting.y + one.height * by + 4, day_words(day), SMALL))
    setting.gap(_tall(pair) - 2)
