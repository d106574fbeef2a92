"""The code on a label: what it says, how it is made to fit, and how it is read back."""

from __future__ import annotations

import re
from dataclasses import dataclass
from functools import lru_cache

import segno

from greenhouse_desk.domain.figures import Constant

WORD = "PLANT"
READ = re.compile(rf"\s*{WORD} ([1-9][0-9]{{0,5}})\s*", re.IGNORECASE)
QUIET = Constant(4, "modules", "light border around a code", "published: ISO/IEC 18004, QR code, quiet zone")
LEAST_MODULE = Constant(0.375, "mm", "smallest square of a code: three dots of a 203 dpi label printer", "derived here")
LEVELS = ("h", "q", "m", "l")
"""How much of a code may be lost and it still reads, most first: about 30, 25, 15 and 7 %."""


@dataclass(frozen=True, slots=True)
class Code:
    """A code's squares, 1 for dark, without the quiet zone; its error level and the width of a square in mm."""

    rows: tuple[bytes, ...]
    level: str
    module: float

    @property
    def quiet(self) -> float:
        """The light border in mm."""
        return self.module * QUIET.value


def text_of(number: int) -> str:
    """What a plant's code says: one word and its number in decimal; no other run of three digits."""
    return f"{WORD} {number}"


def number_in(text: str) -> int | None:
    """The plant number that a code's text names, None when it is no code of ours."""
    found = READ.fullmatch(text)
    return int(found.group(1)) if found else None


def begins_code(text: str) -> bool:
    """Whether more letters could make a code of `text`, or it is one already; in any case of letters."""
    word = f"{WORD} "
    typed = text.upper()
    return word.startswith(typed) or (typed.startswith(word) and READ.fullmatch(text) is not None)


def code(number: int, side_mm: float) -> Code | None:
    """The code of a plant for a square of `side_mm` with its quiet zone inside, None where that is too small.

    Of the levels whose squares come out no smaller than `LEAST_MODULE`, the one that bears most damage is taken.
    """
    for level in LEVELS:
        rows = _rows(text_of(number), level)
        module = side_mm / (len(rows) + 2 * QUIET.value)
        if module >= LEAST_MODULE.value - 1e-9:
            return Code(rows, level.upper(), module)
    return None


@lru_cache(maxsize=4096)
def _rows(text: str, level: str) -> tuple[bytes, ...]:
    return tuple(bytes(row) for row in segno.make_qr(text, error=level, boost_error=False).matrix)
