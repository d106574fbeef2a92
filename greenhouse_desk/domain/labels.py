"""Labels: what a layout is (sizes in mm, boxes, the paper it lies on) and what a label can tell of a plant."""

from __future__ import annotations

import math
from dataclasses import dataclass
from enum import StrEnum

from greenhouse_desk.domain.figures import Constant
from greenhouse_desk.domain.names import BotanicalName
from greenhouse_desk.domain.paper import letter_for

STANDING = Constant(1000, "mm", "from a standing grower's eye to a pot on the bench", "from memory")
AT_ARM = Constant(500, "mm", "from the eye to a label that is looked at over the bench", "from memory")
AT_HAND = Constant(300, "mm", "from the eye to a label that is bent down to", "from memory")


def least_for(distance: Constant) -> float:
    """The least letter height for a distance, in whole hundredths of a mm, so that it can be typed."""
    return math.ceil(letter_for(distance.value) * 100) / 100


LEAST_NUMBER = least_for(STANDING)
"""mm: the least height of a plant number, so that it reads from standing height."""
GOOD_LETTER = least_for(AT_ARM)
"""mm: letters that read well over the bench; a name is shortened rather than set smaller, and not for larger ones."""
LEAST_LETTER = least_for(AT_HAND)
"""mm: the least height of any letter; what does not fit at it is refused."""


class Form(StrEnum):
    """What kind of thing a label is."""

    PLAIN = "plain"
    STAKE = "stake"
    FOLD_OVER = "fold-over"
    FOLD_ROUND = "fold-round"
    TAG = "tag"

    @property
    def folded(self) -> bool:
        """Whether it is printed on two halves."""
        return self in (Form.FOLD_OVER, Form.FOLD_ROUND)


class What(StrEnum):
    """What a box holds."""

    NUMBER = "number"
    NAME = "name"
    CODE = "code"
    ISOLATION = "isolation"
    DATE = "date"
    SOURCE = "source"
    PARENTAGE = "parentage"
    MEDIUM = "medium"
    LINES = "lines"


class Align(StrEnum):
    """Where text stands in its box."""

    LEFT = "left"
    CENTRE = "centre"
    RIGHT = "right"


@dataclass(frozen=True, slots=True)
class Box:
    """A part of a label, in mm from its upper left corner (of its half, on a folded one).

    `letter_mm` is the height of a capital to begin with; text gets smaller down to `least_mm`. `words` is put before
    what the box tells. `back` puts it on the second half of a folded label.
    """

    what: What
    x: float
    y: float
    width: float
    height: float
    letter_mm: float = 2.0
    least_mm: float = LEAST_LETTER
    serif: bool = False
    bold: bool = False
    align: Align = Align.LEFT
    words: str = ""
    back: bool = False


@dataclass(frozen=True, slots=True)
class Hole:
    """A hole in a tag: its middle and its diameter, in mm."""

    x: float
    y: float
    diameter: float


@dataclass(frozen=True, slots=True)
class Grid:
    """A sheet of labels: the paper, where the first label stands, how many, and from one to the next, in mm."""

    width: float
    height: float
    left: float
    top: float
    across: int
    down: int
    step_x: float
    step_y: float

    @property
    def count(self) -> int:
        """Labels on one sheet."""
        return self.across * self.down


@dataclass(frozen=True, slots=True)
class Layout:
    """How a label looks: its size in mm (unfolded), its boxes, and the sheet it lies on, None for one of a roll.

    `id` is its file's name without the ending; `own` tells the grower's own. `buried_mm` of a stake is the end that
    goes into the pot; nothing is printed there. `outline` draws where to cut.
    """

    id: str
    title: str
    form: Form
    width: float
    height: float
    boxes: tuple[Box, ...]
    grid: Grid | None = None
    hole: Hole | None = None
    buried_mm: float = 0.0
    outline: bool = False
    own: bool = False

    @property
    def half(self) -> tuple[float, float]:
        """Width and height of what is seen from one side."""
        if self.form is Form.FOLD_OVER:
            return self.width, self.height / 2
        return (self.width / 2, self.height) if self.form is Form.FOLD_ROUND else (self.width, self.height)

    @property
    def per_page(self) -> int:
        """Labels on one page."""
        return self.grid.count if self.grid else 1


@dataclass(frozen=True, slots=True)
class Told:
    """What a label can tell of a plant; what is "" or empty is left out. `shorts` are short forms of genera, by genus.

    `dates` and `sources` begin with the fullest wording; a later one stands in where there is little room.
    """

    number: int
    name: BotanicalName
    isolation: bool = False
    dates: tuple[str, ...] = ()
    source: str = ""
    medium: str = ""
    lines: tuple[str, ...] = ()
    shorts: tuple[tuple[str, str], ...] = ()
