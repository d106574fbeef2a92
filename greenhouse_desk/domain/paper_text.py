"""Running text on printed pages: broken into lines at its words, or shortened with an ellipsis."""

from __future__ import annotations

from collections.abc import Sequence

from greenhouse_desk.domain.labels_fit import ELLIPSIS, joined
from greenhouse_desk.domain.paper import Face, Measure


def reach(text: str, face: Face, measure: Measure) -> float:
    """How wide words are in mm, from where they start to the end of their ink or to where the next word would stand."""
    extent = measure(text, face)
    return max(extent.advance, extent.right)


def broken(text: str, face: Face, width: float, measure: Measure) -> list[str]:
    """The text in lines at most `width` mm wide, broken at its spaces; a word wider than that is cut where it must."""
    rows: list[str] = []
    for word in text.split():
        longer = f"{rows[-1]} {word}" if rows else word
        if rows and reach(longer, face, measure) <= width:
            rows[-1] = longer
        else:
            rows += [word] if reach(word, face, measure) <= width else _cut(word, face, width, measure)
    return rows


def _cut(word: str, face: Face, width: float, measure: Measure) -> list[str]:
    rows = [""]
    for sign in word:
        if rows[-1] and not joined(rows[-1][-1], sign) and reach(rows[-1] + sign, face, measure) > width:
            rows.append("")
        rows[-1] += sign
    return rows


def shortened(text: str, face: Face, width: float, measure: Measure) -> str:
    """The text on one line at most `width` mm wide: whole, else cut at a space, else inside its first word; the cut is
    marked. Empty where not even one letter has room."""
    said = " ".join(text.split())
    if reach(said, face, measure) <= width:
        return said
    spaces = [place for place, sign in enumerate(said) if sign == " "]
    inside = [place for place in range(1, len(said)) if place < min(spaces, default=len(said))
              and not joined(said[place - 1], said[place])]
    for end in (*reversed(spaces), *reversed(inside)):
        if reach(said[:end].rstrip(" ,;:") + ELLIPSIS, face, measure) <= width:
            return said[:end].rstrip(" ,;:") + ELLIPSIS
    return ""


def fitted(text: str, face: Face, width: float, lines: int, measure: Measure) -> list[str]:
    """The text in at most `lines` lines; what has no room in the last is cut and marked."""
    rows = broken(text, face, width, measure)
    if len(rows) <= lines:
        return rows
    return [*rows[:lines - 1], shortened(" ".join(rows[lines - 1:]), face, width, measure)] if lines > 0 else []


def listed(numbers: Sequence[int]) -> str:
    """Plant numbers in words: "104, 119 and 130"."""
    words = [str(number) for number in numbers]
    return words[0] if len(words) == 1 else f"{', '.join(words[:-1])} and {words[-1]}" if words else ""


def all_but(numbers: Sequence[int], every: Sequence[int], few: int) -> str:
    """Which of all the plants that stand together: "all", "all but 112 and 130" where at most `few` are left out and
    more are meant than left out, else their numbers."""
    meant = set(numbers)
    others = [number for number in every if number not in meant]
    if len(meant) < 2 or not meant <= set(every) or len(others) > few or len(others) >= len(meant):
        return listed(numbers)
    return f"all but {listed(others)}" if others else "all"
