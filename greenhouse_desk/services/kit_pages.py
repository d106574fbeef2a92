"""What to lay out before a bench session, on paper: amounts with a box each, cautions, and what must never meet."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from datetime import datetime, tzinfo

from greenhouse_desk.domain.care_day import clock_words
from greenhouse_desk.domain.figures import counted
from greenhouse_desk.domain.paper import A4, HAIR, Face, Line, Measure, Page, Words
from greenhouse_desk.domain.paper_text import broken, shortened
from greenhouse_desk.domain.protocols import KitLine
from greenhouse_desk.domain.sentences import capital
from greenhouse_desk.services.page_flow import BODY, BOLD, LEADING, SMALL, Flow, day_words
from greenhouse_desk.services.page_parts import TICK, head, tick_box
from greenhouse_desk.services.treatments_choosing import Preparation

Pairs = tuple[tuple[str, str], ...]
LITRE_ML = 1000
AMOUNT_WIDE = 26.0
NUMBER = Face(2.6, "serif", True)
NUMBER_WIDE = 16.0
MIX_FOOT = "Rinse and dry tools and trays between any two agents. Labels, local rules and licensed advice come first."
HOW = "Tick each thing as it stands on the bench."


@dataclass(frozen=True, slots=True)
class Kit:
    """What a session takes. `pairs` are agents of this bench that must never meet, with why; `others` what must be
    kept away, with what it must not meet; `queue` the plants in turn, each with its standing in words."""

    at: datetime
    zone: tzinfo
    ends_at: datetime
    lines: tuple[KitLine, ...]
    cautions: tuple[str, ...]
    pairs: Pairs
    others: Pairs
    queue: tuple[tuple[int, str, str], ...]
    drying: str
    faults: tuple[str, ...] = ()


def kit(named: Sequence[tuple[int, str, str]], found: Preparation, apart: tuple[Pairs, Pairs], zone: tzinfo) -> Kit:
    """The kit of a preparation; `named` are number, name and protocol of its plants in turn, `apart` the pairs that
    must never meet and what must be kept away."""
    return Kit(found.starts_at, zone, found.ends_at, found.kit, found.cautions, *apart, tuple(named),
               found.drying.words, (*(str(fault) for fault in found.faults), *found.waits))


def amount(line: KitLine) -> str:
    """How much: "250 ml", "1.5 L", "1 pair", "3"."""
    if line.unit == "ml" and line.amount >= LITRE_ML:
        return f"{line.amount / LITRE_ML:g} L"
    single = line.amount == 1 and len(line.unit) > 2 and line.unit.endswith("s")
    return f"{line.amount:g} {line.unit[:-1] if single else line.unit}".strip()


def pages(made: Kit, measure: Measure, size: tuple[float, float] = A4) -> tuple[Page, ...]:
    """The kit list on sheets of `size`."""
    flow = Flow(measure, size)
    day = day_words(made.at.astimezone(made.zone).date())
    title = f"Kit for the bench, {day}"
    head(flow, title, (
        f"{counted(len(made.queue), 'plant')}, about {clock_words(made.at, made.zone)} to "
        f"{clock_words(made.ends_at, made.zone)}, one pair of hands. {HOW}",))
    for fault in made.faults:
        flow.line(f"Before you start: {fault}", BOLD)
    flow.heading("Lay out")
    for line in made.lines:
        _thing(flow, line)
    _never(flow, made)
    if made.cautions:
        flow.heading("Cautions")
    for caution in made.cautions:
        flow.gap(1)
        flow.line(caution, BODY)
    _queue(flow, made)
    return flow.done(title)


def _thing(flow: Flow, line: KitLine) -> None:
    """A box, the amount, what it is, and its note below; kept on one sheet."""
    left = flow.left + TICK + 2 + AMOUNT_WIDE
    what = broken(capital(line.what), BOLD, flow.right - left, flow.measure)
    note = broken(line.note, SMALL, flow.right - left, flow.measure)
    flow.room(2.5 + LEADING * (BOLD.letter * len(what) + SMALL.letter * len(note)))
    flow.y += 1.2
    base = flow.y + LEADING * BOLD.letter
    much = shortened(amount(line), BOLD, AMOUNT_WIDE - 2, flow.measure)
    flow.items += [tick_box(flow.left, base), Words(flow.left + TICK + 2, base, much, BOLD)]
    for rows, face in ((what, BOLD), (note, SMALL)):
        for row in rows:
            flow.y += LEADING * face.letter
            flow.items.append(Words(left, flow.y, row, face))
    flow.y += 1.3
    flow.items.append(Line(flow.left, flow.y, flow.right, flow.y, HAIR))


def _never(flow: Flow, made: Kit) -> None:
    """What must never meet, with a bar beside it as thick as a warning asks."""
    if not made.pairs and not made.others:
        return
    flow.heading("Never together")
    for who, why in made.pairs:
        _barred(flow, f"{who}: never", why)
    for never, here in made.others:
        _barred(flow, f"{capital(never)}: keep it away", f"Never with {here}.")
    flow.gap(1)
    flow.line(MIX_FOOT, BODY)


def _barred(flow: Flow, bold: str, words: str) -> None:
    left = flow.left + 5
    rows = [(row, face) for text, face in ((bold, BOLD), (words, BODY))
            for row in broken(text, face, flow.right - left, flow.measure)]
    flow.gap(1.4)
    high = LEADING * BODY.letter * len(rows)
    flow.room(high)
    flow.items.append(Line(flow.left + 1, flow.y + 1.4, flow.left + 1, flow.y + high + 0.6, 1.0))
    for row, face in rows:
        flow.y += LEADING * face.letter
        flow.items.append(Words(left, flow.y, row, face))


def _queue(flow: Flow, made: Kit) -> None:
    flow.heading("Queue, and time to dry")
    flow.line(made.drying, BODY)
    for number, name, protocol in made.queue:
        flow.gap(0.6)
        flow.room(LEADING * BODY.letter)
        flow.items.append(Words(flow.left, flow.y + LEADING * BODY.letter, str(number), NUMBER))
        flow.line(f"{name}: {protocol}", BODY, flow.left + NUMBER_WIDE)
