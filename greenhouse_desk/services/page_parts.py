"""What the sheets have in common: a plant's name set by the naming codes, boxes to tick, lines to write on, the marks.

All sizes in mm.
"""

from __future__ import annotations

from collections.abc import Sequence

from greenhouse_desk.domain.labels import Align, Box, What
from greenhouse_desk.domain.labels_fit import Setter
from greenhouse_desk.domain.labels_names import Part, forms
from greenhouse_desk.domain.labels_set import isolation_mark
from greenhouse_desk.domain.names import BotanicalName, parse
from greenhouse_desk.domain.names_genera import Genera
from greenhouse_desk.domain.paper import HAIR, Item, Line, Measure, Words, frame
from greenhouse_desk.domain.paper_text import shortened
from greenhouse_desk.services.page_flow import BODY, LEADING, PART, SMALL, TITLE, Flow

Wordings = tuple[tuple[Part, ...], ...]
"""A name from its fullest to its shortest form."""
TICK = 3.6
MARK_WIDE, MARK_HIGH = 9.0, 3.6
LEAST = 0.85  # of the letter height a name begins with: smaller it gets no more, but shorter
ISOLATION = "isolation"


def wordings(name: str, genera: Genera) -> Wordings:
    """The forms a name as typed may be shortened to by the naming codes."""
    read = parse(name)
    return forms(read, _shorts(read, genera))


def _shorts(name: BotanicalName, genera: Genera) -> dict[str, str]:
    words = {word for piece in name.pieces if piece.italic for word in piece.text.split() if word[:1].isupper()}
    return {word: shorts[0] for word in words if (shorts := genera.shorts(word))}


def name_in(box: tuple[float, float, float, float], name: Wordings, letter: float, measure: Measure,
            middle: bool = False) -> tuple[Words, ...]:
    """A name inside `box` (x, y, width, height): wrapped, then shortened, then cut; nothing where not a letter fits."""
    room = Box(What.NAME, *box, letter, letter * LEAST, align=Align.CENTRE if middle else Align.LEFT)
    fitted = Setter(room, measure).fit([(form,) for form in name], may_cut=True)
    return fitted.words if fitted is not None else ()


def tick_box(x: float, base: float) -> Item:
    """An empty box to tick, standing on the base line `base`."""
    return frame(x, base - TICK + 0.4, TICK, TICK, 2 * HAIR)


def writing(left: float, right: float, base: float) -> Item:
    """A line to write on."""
    return Line(left, base, right, base, HAIR, dashed=True)


def head(flow: Flow, title: str, words: Sequence[str]) -> None:
    """The head of the first sheet: what it is, and how to use it."""
    flow.line(title, TITLE)
    flow.gap(1)
    for line in words:
        flow.line(line, BODY)


def section(flow: Flow, words: str, after: float) -> None:
    """A part's title with a line over it, said again where it goes on; `after` is room for what follows."""
    flow.again = ""
    flow.gap(2.6)
    flow.room(PART.letter * LEADING + after)
    flow.items.append(Line(flow.left, flow.y, flow.right, flow.y, 2 * HAIR))
    flow.line(words, PART)
    flow.gap(0.8)
    flow.again = words


def place_head(flow: Flow, name: str, isolation: bool, after: float, beside: str = "") -> None:
    """A place's name with a line over it; an isolation place has its mark and the word, and says so on each sheet."""
    said = f"{name}, {ISOLATION}" if isolation else name
    flow.again = ""
    flow.gap(4)
    flow.room(PART.letter * LEADING + after + 4)
    flow.items.append(Line(flow.left, flow.y, flow.right, flow.y, 3 * HAIR))
    flow.y += PART.letter * LEADING + 0.6
    left = flow.left
    if isolation:
        flow.items += isolation_mark(left, flow.y - MARK_HIGH, MARK_WIDE, MARK_HIGH)
        left += MARK_WIDE + 2.5
    room = flow.right - left - (flow.measure(beside, SMALL).advance + 4 if beside else 0)
    words = shortened(said, PART, room, flow.measure)
    flow.items.append(Words(left, flow.y, words, PART))
    if beside:
        flow.items.append(Words(flow.right - flow.measure(beside, SMALL).advance, flow.y, beside, SMALL))
    flow.again = said
    flow.gap(2.2)

