"""Label layouts as they are shipped, one told of by default, and a face that is measured without Qt."""

from __future__ import annotations

import tomllib
from collections.abc import Sequence
from itertools import groupby
from typing import Any

from greenhouse_desk.domain.labels import Box, Layout, Told, What
from greenhouse_desk.domain.labels_fit import Fitted
from greenhouse_desk.domain.labels_reading import read_layout
from greenhouse_desk.domain.names import parse
from greenhouse_desk.domain.paper import Extent, Face, Words
from greenhouse_desk.shipped import folder

SHORTS = (("Phalaenopsis", "Phal."), ("Paphiopedilum", "Paph."), ("Cattleya", "C."))


def square_face(text: str, face: Face) -> Extent:
    """A face in which every letter is as wide as it is high, and none goes below the line."""
    return Extent(0, len(text) * face.letter, -face.letter, 0, len(text) * face.letter)


def shipped_layouts() -> tuple[Layout, ...]:
    """The layouts that come with the program; a fault in one fails here."""
    found = []
    for path in sorted(folder("labels").glob("*.toml")):
        layout, faults = read_layout(tomllib.loads(path.read_text("utf-8")), path.name, path.stem)
        assert layout is not None, faults
        found.append(layout)
    return tuple(found)


LAYOUTS = shipped_layouts()


def told(name: str = "Phalaenopsis amabilis", number: int = 1010, **changes: Any) -> Told:
    """What is told of plant 1010 of this name, everything filled in; `changes` are fields of Told."""
    full: dict[str, Any] = {
        "isolation": True, "dates": ("repotted 14 November 2026", "14 Nov 2026"), "source": "a swap in the hall",
        "medium": "clay pellets", "lines": ("free line",), "shorts": SHORTS}
    return Told(number, parse(name), **(full | changes))


def box(width: float, height: float, **changes: Any) -> Box:
    """A box at 10, 20 for letters of 2 mm that may shrink to 1."""
    return Box(**{"what": What.NAME, "x": 10, "y": 20, "width": width, "height": height, "letter_mm": 2.0,
                  "least_mm": 1.0, **changes})


def lines_of(fitted: Fitted | Sequence[Words]) -> list[str]:
    """The text of each line, top first."""
    words = fitted.words if isinstance(fitted, Fitted) else fitted
    return ["".join(one.text for one in row) for _, row in groupby(words, lambda one: one.y)]
