"""The ruler page: what a printer gets wrong is read off it with a ruler and put right from then on."""

from __future__ import annotations

from collections.abc import Iterator

from greenhouse_desk.domain.faults import Refused
from greenhouse_desk.domain.paper import Correction, Face, Item, Line, Measure, Page, Words

LENGTH = 100.0  # mm: each ruler
CORNER = 20.0  # mm: where both begin, from the paper's left and upper edge
MOST_WRONG = 0.1  # share
FAR = 15.0  # mm
THICK, TICK, LONG_TICK = 0.25, 2.0, 4.0  # mm
SAID = Face(3.0)
ASKED = (
    "Print this page as it is: at 100 %, without fitting it to the paper.",
    "With a ruler, measure the line that goes across and the one that goes down,",
    "each from end to end. Then measure from the paper's left edge to the line that",
    "goes down, and from the paper's upper edge to the line that goes across.",
    "Press “Set true size” on the Labels screen and give these four figures.",
)


def ruler_page(width: float, height: float, measure: Measure) -> Page:
    """A page with a ruler of 100 mm each way from one corner, and what to do with it. It must never be corrected."""
    words = [Words(CORNER + 12, CORNER + 18 + 6 * nth, text, SAID) for nth, text in enumerate(ASKED)]
    kept = [one for one in words if one.x + measure(one.text, one.face).right < width]
    return Page(width, height, (*_ruler(), *_ends(), *kept))


def _ruler() -> Iterator[Item]:
    end = CORNER + LENGTH
    yield Line(CORNER, CORNER, end, CORNER, THICK)
    yield Line(CORNER, CORNER, CORNER, end, THICK)
    for mm in range(int(LENGTH) + 1):
        at, tick = CORNER + mm, LONG_TICK if mm % 10 == 0 else TICK if mm % 5 == 0 else TICK / 2
        yield Line(at, CORNER, at, CORNER + tick)
        yield Line(CORNER, at, CORNER + tick, at)


def _ends() -> Iterator[Item]:
    yield Words(CORNER + LENGTH - 6, CORNER + 9, "100 mm", Face(2.2))
    yield Words(CORNER + 5, CORNER + LENGTH, "100 mm", Face(2.2))


def correction(across_mm: float, down_mm: float, left_mm: float, top_mm: float) -> Correction:
    """What puts a printer right whose rulers came out so long, that far from the paper's left and upper edge.

    Raises Refused for figures that no printer is so wrong by: then it fitted the page to the paper.
    """
    for name, found in (("across", across_mm), ("down", down_mm)):
        if abs(found / LENGTH - 1) > MOST_WRONG:
            raise Refused(f"{found:g} mm {name} is too far from {LENGTH:g}", "The page was fitted to the paper.",
                          "Print it again at 100 %.")
    for name, found in (("left", left_mm), ("upper", top_mm)):
        if abs(found - CORNER) > FAR:
            raise Refused(f"{found:g} mm from the {name} edge is too far from {CORNER:g}", "", "Measure again.")
    across, down = LENGTH / across_mm, LENGTH / down_mm
    return Correction(across, down, CORNER - left_mm * across, CORNER - top_mm * down)
