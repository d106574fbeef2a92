"""How large bench mode draws: millimetres on the real screen, and how far away they can be read. No Qt here."""

from __future__ import annotations

import math
from dataclasses import dataclass
from functools import cached_property

MM_PER_INCH = 25.4
FALLBACK_DPI = 96.0
SANE_DPI = (60.0, 400.0)
SANS_CAP = 0.66
SANS_DIGIT = 0.648
SERIF_CAP = 0.663

LEAST_ARC = 20.0
BEST_ARC = 22.0
DIGITS_AT_MM = 3000.0
STEP_AT_MM = 1500.0

BASE_WIDTH_MM = 1366 * MM_PER_INCH / FALLBACK_DPI
BASE_HEIGHT_MM = 768 * MM_PER_INCH / FALLBACK_DPI
DIGITS_MM = 20.4
DIGITS_FLOOR_MM = 18.0
LEAST_SCALE = DIGITS_FLOOR_MM / DIGITS_MM
MOST_SCALE = 1.7
STEP_MM = 13.0
STEP_FLOOR_MM = 9.0
TARGET_MM = 20.0
KEY_MM = 25.0
LEAVE_MM = 21.0
NOTICE_MM = 7.94
ROW_MM = 13.0
ROW_NUMBER_MM = 8.75
CELL_WIDTH_MM, CELL_HEIGHT_MM = 82.0, 61.0
CELL_LEAST_WIDTH_MM, CELL_LEAST_HEIGHT_MM = 78.0, 52.0
QUEUE_MM = 92.0
MOST_COLUMNS, MOST_ROWS = 3, 2
LEAST_PX = 13


def character_height_mm(distance_mm: float, arc_minutes: float) -> float:
    """Height in mm of a character that fills `arc_minutes` of visual angle at `distance_mm`.

    Source: ISO 9241-3 gives the angle as 3438 h / D minutes of arc and asks for 20 to 22, 16 at the least. This is
    the same with the exact 2 pi / 21600 radians in a minute.
    """
    return 6.283 * distance_mm * arc_minutes / 21600.0


def arc_minutes(height_mm: float, distance_mm: float) -> float:
    """Visual angle in minutes of arc of a character `height_mm` high, seen from `distance_mm`. See above."""
    return 21600.0 * height_mm / (6.283 * distance_mm)


def readable(height_mm: float, distance_mm: float) -> bool:
    """Whether a character `height_mm` high fills the 20 minutes of arc asked for, seen from `distance_mm`."""
    return height_mm >= character_height_mm(distance_mm, LEAST_ARC)


def sane_dpi(reported: float) -> float:
    """Pixels per inch to count with: `reported`, or 96 when a screen reports none or nonsense."""
    low, high = SANE_DPI
    return reported if math.isfinite(reported) and low <= reported <= high else FALLBACK_DPI


def dpi_of(width_px: float, width_mm: float) -> float:
    """Pixels per inch of a screen `width_px` pixels and `width_mm` millimetres wide."""
    return width_px / width_mm * MM_PER_INCH


@dataclass(frozen=True)
class Sizes:
    """One window of `width` by `height` pixels on a screen of `dpi` pixels per inch. All results in pixels."""

    width: float
    height: float
    dpi: float

    @cached_property
    def px_per_mm(self) -> float:
        return self.dpi / MM_PER_INCH

    @cached_property
    def scale(self) -> float:
        """1 on a screen of 361 by 203 mm; never so small that digits fall below their floor."""
        fits = min(self.width_mm / BASE_WIDTH_MM, self.height_mm / BASE_HEIGHT_MM)
        return min(max(fits, LEAST_SCALE), MOST_SCALE)

    @property
    def width_mm(self) -> float:
        return self.width / self.px_per_mm

    @property
    def height_mm(self) -> float:
        return self.height / self.px_per_mm

    def mm(self, millimetres: float) -> float:
        """Pixels of a length that keeps its millimetres on any screen."""
        return millimetres * self.px_per_mm

    def grown(self, millimetres: float) -> float:
        """Pixels of a length that grows with the screen and shrinks no further than the floor."""
        return millimetres * self.scale * self.px_per_mm

    def u(self, pixels: float) -> float:
        """Pixels of a length given in pixels of the base screen (96 dpi, scale 1)."""
        return self.grown(pixels * MM_PER_INCH / FALLBACK_DPI)

    def letters(self, pixels: float) -> int:
        """Font pixels given in pixels of the base screen; no smaller than 13 of them, nor than 3.4 mm."""
        return max(round(self.u(pixels)), min(LEAST_PX, round(self.mm(LEAST_PX * MM_PER_INCH / FALLBACK_DPI))))

    def sans(self, cap_mm: float) -> int:
        """Font pixels of a sans letter with a cap height of `cap_mm` on the base screen."""
        return math.ceil(self.grown(cap_mm) / SANS_CAP)

    def serif(self, cap_mm: float) -> int:
        """Font pixels of a serif letter with a cap height of `cap_mm` on the base screen."""
        return math.ceil(self.grown(cap_mm) / SERIF_CAP)

    @property
    def digits(self) -> int:
        """Font pixels of the countdown's digits."""
        return math.ceil(self.mm(self.digits_mm) / SANS_DIGIT)

    @property
    def digits_mm(self) -> float:
        return max(DIGITS_MM * self.scale, DIGITS_FLOOR_MM)

    @property
    def digits_floor(self) -> int:
        """Font pixels below which no countdown's digits fall, however many digits there are."""
        return math.ceil(self.mm(DIGITS_FLOOR_MM) / SANS_DIGIT)

    @property
    def step(self) -> int:
        """Font pixels of the instruction on one line."""
        return math.ceil(self.mm(max(STEP_MM * self.scale, STEP_FLOOR_MM)) / SERIF_CAP)

    @property
    def step_floor(self) -> int:
        """Font pixels below which the instruction does not fall; from here on it takes two lines."""
        return math.ceil(self.mm(STEP_FLOOR_MM) / SERIF_CAP)

    @property
    def margin(self) -> float:
        return self.grown(6.35)

    @property
    def gap(self) -> float:
        return self.grown(2.1)

    @property
    def foot(self) -> float:
        """Ground left below the keys, for the frame."""
        return self.grown(3.2)

    @property
    def head(self) -> float:
        """Height of the instruction with its caution."""
        return self.grown(43.5)

    @property
    def key(self) -> float:
        """Height of a key: 25 mm, less only where the screen is too small, never below a target's 20 mm."""
        return self.mm(max(KEY_MM * self.scale, TARGET_MM))

    @property
    def leave(self) -> float:
        """Width of the target that leaves for another day."""
        return max(self.mm(TARGET_MM), self.grown(LEAVE_MM))

    @property
    def queue(self) -> float:
        """Width of the column with tool and queue."""
        return self.grown(QUEUE_MM)

    @property
    def row(self) -> float:
        """Height of a queue row."""
        return self.mm(max(ROW_MM, ROW_MM * self.scale))

    @property
    def row_number(self) -> int:
        """Font pixels of the plant number in a queue row, to be read at 1.5 m."""
        return math.ceil(self.mm(max(ROW_NUMBER_MM, ROW_NUMBER_MM * self.scale)) / SANS_DIGIT)

    @property
    def row_with_words(self) -> float:
        """Height of a queue row that has a second line."""
        return self.row + self.grown(8.2)

    @property
    def middle(self) -> float:
        """Height left between instruction and keys."""
        return max(self.height - self.head - self.key - self.foot - self.grown(NOTICE_MM) - 2 * self.gap, 1.0)

    @property
    def field(self) -> float:
        """Width left for cells."""
        return max(self.width - 2 * self.margin - self.queue - 2 * self.gap, 1.0)

    @property
    def columns(self) -> int:
        """How many cells stand side by side."""
        return _how_many(self.field, self.grown(CELL_LEAST_WIDTH_MM), self.gap, MOST_COLUMNS)

    @property
    def rows(self) -> int:
        """How many cells stand one above the other."""
        return _how_many(self.middle, self.grown(CELL_LEAST_HEIGHT_MM), self.gap, MOST_ROWS)

    @property
    def cells(self) -> int:
        """How many countdowns this screen shows at once: six, fewer where it is too small."""
        return self.columns * self.rows

    @property
    def sub_lines(self) -> bool:
        """Whether the row of the plant in hand has its second line; the first thing to go after the cells."""
        return self.rows == MOST_ROWS


def _how_many(room: float, least: float, gap: float, most: int) -> int:
    return max(1, min(most, int((room + gap) // (least + gap))))
