"""Makes text fit its box: wrapped, then shortened, then set smaller down to a least height, then cut or refused."""

from __future__ import annotations

import unicodedata
from collections.abc import Iterator, Sequence
from dataclasses import dataclass, replace
from itertools import takewhile

from greenhouse_desk.domain.figures import Constant
from greenhouse_desk.domain.labels import GOOD_LETTER, Align, Box
from greenhouse_desk.domain.labels_names import Part
from greenhouse_desk.domain.paper import Extent, Face, Measure, Words

LEADING = Constant(1.75, "letter heights", "from one line of a label to the next", "house rule")
STEP = 0.94  # each smaller size that is tried, of the one before
SLACK = 0.01  # mm
ELLIPSIS = "…"
JOINER = "\u200d"
SKIN_TONES = "🏻🏼🏽🏾🏿"
FLAG_LETTER = "REGIONAL INDICATOR"
Paragraphs = tuple[tuple[Part, ...], ...]


@dataclass(frozen=True, slots=True)
class Fitted:
    """Text in place: its words, the letter height it came to, which wording was taken, and whether it had to be cut."""

    words: tuple[Words, ...]
    letter: float
    wording: int
    cut: bool = False


@dataclass(frozen=True, slots=True)
class _Run:
    text: str
    face: Face
    extent: Extent


Row = tuple[_Run, ...]


class Setter:
    """Sets text for one box. `measure` tells what words in a face take up."""

    def __init__(self, box: Box, measure: Measure) -> None:
        self._box = box
        self._measure = measure

    def fit(self, wordings: Sequence[Paragraphs], may_cut: bool = False) -> Fitted | None:
        """The first of `wordings` that fits at the largest height at which one does; None where nothing fits.

        Up to `GOOD_LETTER`: no word is lost for higher letters, and the one that fits is set as high as can be.
        """
        for letter in self._heights():
            for number, wording in enumerate(wordings[:1] if letter > GOOD_LETTER else wordings):
                if (placed := self._set(wording, letter)) is not None:
                    return self._highest(Fitted(placed, letter, number), wording)
        return self._cut(wordings[-1]) if may_cut and wordings else None

    def _set(self, wording: Paragraphs, letter: float) -> tuple[Words, ...] | None:
        rows = self._rows(wording, letter)
        return None if rows is None else self._placed(rows, letter)

    def _highest(self, found: Fitted, wording: Paragraphs) -> Fitted:
        """A shortened wording in the highest letters it fits in."""
        if not found.wording or found.letter != GOOD_LETTER:
            return found
        higher = takewhile(lambda letter: letter > GOOD_LETTER, self._heights())
        sets = ((letter, self._set(wording, letter)) for letter in higher)
        return next((replace(found, words=placed, letter=letter) for letter, placed in sets if placed), found)

    def _heights(self) -> Iterator[float]:
        letter, least = self._box.letter_mm, min(self._box.least_mm, self._box.letter_mm)
        while letter > least:
            yield letter
            smaller = letter * STEP
            letter = GOOD_LETTER if smaller < GOOD_LETTER < letter else smaller
        yield least

    def _rows(self, wording: Paragraphs, letter: float) -> list[Row] | None:
        """All rows of a wording, None where a part is wider than the box."""
        rows: list[Row] = []
        for paragraph in wording:
            wrapped = self._wrap(paragraph, letter)
            if wrapped is None:
                return None
            rows += [self._runs(row, letter) for row in wrapped]
        return rows

    def _wrap(self, paragraph: Sequence[Part], letter: float) -> list[list[Part]] | None:
        """Broken at the crosses where that is enough, else between parts; never inside a part."""
        rows: list[list[Part]] = [[]]
        for segment in _segments(paragraph):
            if self._fits([*rows[-1], *segment], letter):
                rows[-1] += segment
            elif self._fits(segment, letter):
                rows.append([*segment])
            elif not self._fill(rows, segment, letter):
                return None
        return [row for row in rows if row]

    def _fill(self, rows: list[list[Part]], segment: Sequence[Part], letter: float) -> bool:
        if rows[-1]:
            rows.append([])
        for part in segment:
            if not self._fits([part], letter):
                return False
            if rows[-1] and not self._fits([*rows[-1], part], letter):
                rows.append([])
            rows[-1].append(part)
        return True

    def _fits(self, row: Sequence[Part], letter: float) -> bool:
        return _width(self._runs(row, letter)) <= self._box.width + SLACK

    def _runs(self, row: Sequence[Part], letter: float) -> Row:
        """A row in runs of one face each; a space goes with the run before it."""
        runs: list[tuple[str, bool]] = []
        for place, part in enumerate(row):
            for text, italic in (((" ", False), *part.pieces) if place else part.pieces):
                if runs and (runs[-1][1] == italic or not text.strip()):
                    runs[-1] = (runs[-1][0] + text, runs[-1][1])
                else:
                    runs.append((text, italic))
        faces = [(text, self._face(letter, italic)) for text, italic in runs]
        return tuple(_Run(text, face, self._measure(text, face)) for text, face in faces)

    def _face(self, letter: float, italic: bool = False) -> Face:
        return Face(letter, "serif" if self._box.serif else "sans", self._box.bold, italic)

    def _placed(self, rows: Sequence[Row], letter: float) -> tuple[Words, ...] | None:
        """The rows from the top of the box down; None where one is too wide or the last goes below the box."""
        if any(_width(row) > self._box.width + SLACK for row in rows):
            return None
        base, words, low = self._box.y, [], 0.0
        for number, row in enumerate(rows):
            top = max([letter, *(-run.extent.top for run in row)])
            base = base + top if number == 0 else max(base + LEADING.value * letter, base + low + top)
            low = max([0.0, *(run.extent.bottom for run in row)])
            words += list(self._along(row, base))
        room = self._box.y + self._box.height - base - low
        if room < -SLACK:
            return None
        if self._box.align is not Align.CENTRE:
            return tuple(words)
        return tuple(replace(one, y=one.y + room / 2) for one in words)

    def _along(self, row: Row, base: float) -> Iterator[Words]:
        spare = self._box.width - _width(row)
        share = {Align.LEFT: 0.0, Align.CENTRE: 0.5, Align.RIGHT: 1.0}[self._box.align]
        x = self._box.x + spare * share - min(0.0, row[0].extent.left if row else 0.0)
        for run in row:
            yield Words(x, base, run.text, run.face)
            x += run.extent.advance

    def _cut(self, wording: Paragraphs) -> Fitted | None:
        """As many words as fit at the least height, with an ellipsis after the last."""
        letter = min(self._box.least_mm, self._box.letter_mm)
        words = [part for paragraph in wording for part in paragraph]
        for kept in range(len(words) - 1, 0, -1):
            last = Part((*words[kept - 1].pieces, (ELLIPSIS, False)))
            rows = self._rows(((*words[:kept - 1], last),), letter)
            if rows is not None and (placed := self._placed(rows, letter)) is not None:
                return Fitted(placed, letter, 0, cut=True)
        return self._cut_word(words[0].text, letter) if words else None

    def _cut_word(self, text: str, letter: float) -> Fitted | None:
        for kept in range(len(text) - 1, 0, -1):
            if joined(text[kept - 1], text[kept]):
                continue
            row = self._runs([Part(((text[:kept] + ELLIPSIS, False),))], letter)
            if (placed := self._placed([row], letter)) is not None:
                return Fitted(placed, letter, 0, cut=True)
        return None


def joined(before: str, after: str) -> bool:
    """Whether two characters are drawn as one: an accent, a skin tone, a joiner between them, two halves of a flag."""
    return (JOINER in (before, after) or unicodedata.category(after)[0] == "M" or after in SKIN_TONES
            or all(unicodedata.name(one, "").startswith(FLAG_LETTER) for one in (before, after)))


def _segments(paragraph: Sequence[Part]) -> list[list[Part]]:
    """The paragraph cut before each cross."""
    found: list[list[Part]] = [[]]
    for part in paragraph:
        if part.sign and found[-1]:
            found.append([])
        found[-1].append(part)
    return found


def _width(row: Row) -> float:
    """From the leftmost to the rightmost ink of a row, the starting point counted in."""
    left, right, x = 0.0, 0.0, 0.0
    for run in row:
        left, right = min(left, x + run.extent.left), max(right, x + run.extent.right)
        x += run.extent.advance
    return right - left
