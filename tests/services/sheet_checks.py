"""What holds for every printed sheet: no words outside the margins, none over others, and what it says in order."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from functools import lru_cache
from itertools import takewhile

from greenhouse_desk.domain.paper import Extent, Face, Page, Picture, Words, flat
from greenhouse_desk.services.page_flow import FOOT, Margins

SLACK = 0.05
"""mm: rounding."""
Ink = tuple[str, float, float, float, float]


@lru_cache(maxsize=50_000)
def measure(text: str, face: Face) -> Extent:
    """A made face: every letter four fifths as wide as a capital is high, marks without width, ink a hair beyond;
    digits stand on the base line."""
    wide = sum(sign not in "\u0301\u200d" for sign in text) * face.letter * 0.8
    return Extent(-0.05, wide + 0.05, -1.1 * face.letter, 0.0 if text.isdecimal() else 0.3 * face.letter, wide)


def words(pages: Sequence[Page]) -> list[str]:
    """Everything a sheet says, in the order it is drawn."""
    return [item.text for page in pages for item in flat(page.items) if isinstance(item, Words)]


def boxes(page: Page) -> Iterator[Ink]:
    """Each text with its ink, and each picture: left, top, right, bottom."""
    for item in flat(page.items):
        if isinstance(item, Words):
            ink = measure(item.text, item.face)
            yield item.text, item.x + ink.left, item.y + ink.top, item.x + ink.right, item.y + ink.bottom
        elif isinstance(item, Picture):
            yield "a picture", item.x, item.y, item.x + item.width, item.y + item.height


def faults(pages: Sequence[Page], margins: Margins) -> list[str]:
    """What lies outside the margins of a page, its foot excepted, and which texts lie over each other."""
    side, top = margins.side, margins.top - 1
    found: list[str] = []
    for nth, page in enumerate(pages, 1):
        *body, foot = boxes(page)
        low_most = page.height - margins.bottom + 1
        found += [f"page {nth}: {text!r} below" for text, _left, _high, _right, low in body if low > low_most]
        every = sorted((*body, foot), key=lambda box: box[2])
        found += [f"page {nth}: {text!r} outside" for text, left, high, right, low in every
                  if left < side - 0.1 or right > page.width - side + 0.1 or high < top or low > page.height - FOOT + 1]
        found += [f"page {nth}: {one[0]!r} over {other[0]!r}" for place, one in enumerate(every)
                  for other in _down_to(one[4], every[place + 1:]) if _over(one, other)]
    return found


def _down_to(low: float, boxes: Sequence[Ink]) -> Iterator[Ink]:
    return takewhile(lambda box: box[2] < low, boxes)


def _over(one: Ink, other: Ink) -> bool:
    _, left, top, right, bottom = one
    _, x1, y1, x2, y2 = other
    return min(right, x2) - max(left, x1) > 0.2 and min(bottom, y2) - max(top, y1) > SLACK
