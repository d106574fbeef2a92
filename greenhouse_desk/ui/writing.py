"""Words on a line in their order on the page: those written from right to left run that way among themselves."""

from __future__ import annotations

from collections.abc import Sequence
from typing import NamedTuple
from unicodedata import bidirectional

from PySide6.QtGui import QFont, QFontMetricsF

LEFTWARD = {"R", "AL"}


class Run(NamedTuple):
    """A stretch of one face on a line."""

    text: str
    font: QFont


def width_of(text: str, font: QFont) -> float:
    """How wide `text` is, in pixels."""
    return QFontMetricsF(font).horizontalAdvance(text)


def placed(row: Sequence[Run], left: float) -> list[tuple[float, Run]]:
    """Where each word of a line begins that starts at `left` and reads from left to right.

    Words written from right to left that follow each other are laid out from their stretch's right end; a figure or a
    sign between two of them, and a figure after one, belongs to them.
    """
    found: list[tuple[float, Run]] = []
    at = 0
    while at < len(row):
        end = _stretch(row, at)
        wide = sum(width_of(run.text, run.font) for run in row[at:end])
        found += _leftward(row[at:end], left + wide) if end > at + 1 else [(left, row[at])]
        left, at = left + wide, max(end, at + 1)
    return found


def _leftward(row: Sequence[Run], right: float) -> list[tuple[float, Run]]:
    """Words from right to left; the space after the last one stays at the right, before what follows."""
    last = row[-1]
    right -= width_of(last.text, last.font) - width_of(last.text.rstrip(), last.font)
    found = []
    for run in row:
        word = Run(run.text.rstrip(), run.font)
        right -= width_of(word.text, word.font)
        found.append((right, word))
        right -= width_of(run.text, run.font) - width_of(word.text, word.font)
    return found


def _stretch(row: Sequence[Run], at: int) -> int:
    """Where the stretch of words that begins at `at` ends: one word, or as many as run from right to left."""
    end = at + 1
    if _way(row[at].text) != "R":
        return end
    for nth in range(at + 1, len(row)):
        way = _way(row[nth].text)
        if way == "L":
            break
        if way in ("R", "figure"):
            end = nth + 1
    return end


def _way(word: str) -> str:
    """"R" or "L" by the first letter, "figure" for a word with figures and no letter, "" for signs alone."""
    kinds = [bidirectional(sign) for sign in word]
    strong = next((kind for kind in kinds if kind == "L" or kind in LEFTWARD), "")
    if strong:
        return "L" if strong == "L" else "R"
    return "figure" if {"EN", "AN"} & set(kinds) else ""
