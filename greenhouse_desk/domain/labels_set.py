"""Sets one label: every box filled from what is told of the plant, or why the label cannot be made."""

from __future__ import annotations

from collections.abc import Callable, Iterator, Sequence
from dataclasses import dataclass

from greenhouse_desk.domain.labels import Box, Form, Layout, Told, What
from greenhouse_desk.domain.labels_code import code
from greenhouse_desk.domain.labels_fit import Fitted, Paragraphs, Setter
from greenhouse_desk.domain.labels_names import Part, forms, parentage, plain
from greenhouse_desk.domain.paper import Dark, Group, Item, Line, Measure, Ring, Shape, frame

BAR = 0.4  # heights of the isolation mark from one of its bars to the next
EDGE = 0.3  # mm: its frame
TICK = 2.0  # mm: the dashes that show where to fold


@dataclass(frozen=True, slots=True)
class Label:
    """One label from its upper left corner. `notes` say what was shortened or left out; `refused` why there is none."""

    number: int
    items: tuple[Item, ...]
    notes: tuple[str, ...] = ()
    refused: str = ""


@dataclass
class _Making:
    layout: Layout
    told: Told
    measure: Measure
    notes: list[str]
    refused: list[str]


def label(layout: Layout, told: Told, measure: Measure) -> Label:
    """The label of a plant; where its number, name or code does not fit, nothing but the reason."""
    making = _Making(layout, told, measure, [], [])
    front = tuple(item for box in layout.boxes if not box.back for item in _filled(making, box))
    back = tuple(item for box in layout.boxes if box.back for item in _filled(making, box))
    if making.refused:
        return Label(told.number, (), (), "; ".join(making.refused))
    return Label(told.number, (*front, *_back(layout, back), *_edges(layout)), tuple(making.notes))


def _back(layout: Layout, items: tuple[Item, ...]) -> Iterator[Group]:
    if items and layout.form is Form.FOLD_OVER:
        yield Group(layout.width, layout.height, items, 180)
    elif items and layout.form is Form.FOLD_ROUND:
        yield Group(layout.width / 2, 0, items)


def _edges(layout: Layout) -> Iterator[Item]:
    """Where to cut, to fold and to punch."""
    wide, high = layout.width, layout.height
    if layout.form is Form.FOLD_OVER:
        yield from (Line(x, high / 2, x + TICK, high / 2) for x in (0, wide - TICK))
    elif layout.form is Form.FOLD_ROUND:
        yield from (Line(wide / 2, y, wide / 2, y + TICK) for y in (0, high - TICK))
    if layout.outline:
        yield frame(0, 0, wide, high)
        if layout.hole is not None:
            yield Ring(layout.hole.x, layout.hole.y, layout.hole.diameter / 2)


def _filled(making: _Making, box: Box) -> tuple[Item, ...]:
    return FILLERS[box.what](making, box)


def _code(making: _Making, box: Box) -> tuple[Item, ...]:
    side = min(box.width, box.height)
    made = code(making.told.number, side)
    if made is None:
        making.refused.append(f"a code of {side:g} mm is too small to be read")
        return ()
    x, y = box.x + (box.width - side) / 2 + made.quiet, box.y + (box.height - side) / 2 + made.quiet
    return (Dark(x, y, made.module, made.rows),)


def _isolation(making: _Making, box: Box) -> tuple[Item, ...]:
    return isolation_mark(box.x, box.y, box.width, box.height) if making.told.isolation else ()


def isolation_mark(x: float, y: float, width: float, height: float) -> tuple[Item, ...]:
    """A box of slanting bars, as on the rail of an isolation place."""
    slant = min(height, width / 2)
    count = max(1, round((width - slant) / (BAR * height)))
    pitch = (width - slant) / count
    bars = [Shape(tuple((x + number * pitch + across, y + down) for across, down in
                        ((0, height), (slant, 0), (slant + pitch / 2, 0), (pitch / 2, height))))
            for number in range(count)]
    half = EDGE / 2
    return (*bars, frame(x + half, y + half, width - EDGE, height - EDGE, EDGE))


def _number(making: _Making, box: Box) -> tuple[Item, ...]:
    fitted = Setter(box, making.measure).fit([(plain(str(making.told.number)),)])
    return _must(making, fitted, "the number")


def _name(making: _Making, box: Box) -> tuple[Item, ...]:
    told = making.told
    apart = any(other.what is What.PARENTAGE for other in making.layout.boxes)
    wordings = [(form,) for form in forms(told.name, dict(told.shorts), parents=not apart)]
    fitted = Setter(box, making.measure).fit(wordings)
    if fitted is not None and fitted.wording:
        making.notes.append("name shortened")
    return _must(making, fitted, "the name")


def _must(making: _Making, fitted: Fitted | None, what: str) -> tuple[Item, ...]:
    if fitted is None:
        making.refused.append(f"{what} does not fit, even in the smallest letters")
        return ()
    return fitted.words


def _parentage(making: _Making, box: Box) -> tuple[Item, ...]:
    told = making.told
    parts = parentage(told.name)
    if not parts or parts in forms(told.name, {})[:1]:
        return ()  # a formula is its own name
    shorts = dict(told.shorts)
    short = tuple(Part(tuple((_short(text, shorts), italic) for text, italic in part.pieces), part.sign)
                  for part in parts)
    fitted = Setter(box, making.measure).fit([(parts,), (short,)])
    if fitted is None:
        making.notes.append("parents left out")
    return fitted.words if fitted else ()


def _short(text: str, shorts: dict[str, str]) -> str:
    return shorts.get(text, text)


def _date(making: _Making, box: Box) -> tuple[Item, ...]:
    return _may(making, box, [(plain(f"{box.words} {text}"),) for text in making.told.dates], "date", cut=False)


def _source(making: _Making, box: Box) -> tuple[Item, ...]:
    return _text(making, box, making.told.source, "source")


def _medium(making: _Making, box: Box) -> tuple[Item, ...]:
    return _text(making, box, making.told.medium, "medium")


def _text(making: _Making, box: Box, text: str, what: str) -> tuple[Item, ...]:
    full = plain(f"{box.words} {text}")
    return _may(making, box, [(full,), (plain(text),)] if box.words else [(full,)], what) if text else ()


def _lines(making: _Making, box: Box) -> tuple[Item, ...]:
    lines = tuple(parts for line in making.told.lines if (parts := plain(line)))
    return _may(making, box, [lines], "lines") if lines else ()


def _may(making: _Making, box: Box, wordings: Sequence[Paragraphs], what: str, cut: bool = True) -> tuple[Item, ...]:
    """Text that may be cut, or left out where not even a cut piece of it fits."""
    if not wordings:
        return ()
    fitted = Setter(box, making.measure).fit(wordings, may_cut=cut)
    if fitted is None:
        making.notes.append(f"{what} left out")
    elif fitted.cut:
        making.notes.append(f"{what} cut")
    return fitted.words if fitted else ()


FILLERS: dict[What, Callable[[_Making, Box], tuple[Item, ...]]] = {
    What.NUMBER: _number, What.NAME: _name, What.CODE: _code, What.ISOLATION: _isolation, What.DATE: _date,
    What.SOURCE: _source, What.PARENTAGE: _parentage, What.MEDIUM: _medium, What.LINES: _lines,
}


