"""Names of lines at their ends, each with a sample of its line, pushed apart where they would touch: lines may end at
one point.

A legend apart from the lines makes the eye go to and fro; it stands in only where names have no room.
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from typing import Any

from matplotlib.axes import Axes
from matplotlib.lines import Line2D
from matplotlib.offsetbox import AnnotationBbox, DrawingArea, HPacker, TextArea

from greenhouse_desk.ui.style import Palette

POINT = 0.75  # points in a pixel at 96 dpi
ROW = 17.0  # pixels a row of words takes
BESIDE = 9.0  # points from the end of a line to its name
ACROSS = 0.3  # of the picture's width names may take
LETTER = 6.6  # pixels a letter takes, roughly
SAMPLE = 21.0  # points of line before a name


@dataclass(frozen=True, slots=True)
class End:
    """A line's name, its dashes, which the line itself does not tell, and where it ends, in the units of its axes;
    `foot`: the words of marks along the foot, at that share of the height."""

    words: str
    line: Line2D
    dash: Any
    x: Any
    y: float
    foot: bool = False

    @property
    def rows(self) -> int:
        return self.words.count("\n") + 1


def has_room(ends: Sequence[End], width: float, height: float) -> bool:
    """Whether these names fit beside axes of `height` pixels, in a picture `width` pixels wide."""
    longest = max((len(row) for end in ends for row in end.words.split("\n")), default=0)
    return longest * LETTER + SAMPLE / POINT <= ACROSS * width and sum(ROW * end.rows for end in ends) <= height


def spread(wanted: Sequence[tuple[float, float]], height: float) -> tuple[float, ...]:
    """Middles of names, from the foot up, as near to those `wanted` as they can be without touching: (middle, size) in
    pixels, in any order; all between 0 and `height` where they have room."""
    order = sorted(range(len(wanted)), key=lambda nth: (wanted[nth][0], -nth))
    found = [0.0] * len(wanted)
    free = 0.0
    for nth in order:
        middle, size = wanted[nth]
        found[nth] = max(middle, free + size / 2)
        free = found[nth] + size / 2
    over = height
    for nth in reversed(order):
        size = wanted[nth][1]
        found[nth] = max(min(found[nth], over - size / 2), size / 2)
        over = found[nth] - size / 2
    return tuple(found)


def name(axes: Axes, ends: Sequence[End], look: Palette, height: float) -> None:
    """Write each name beside the end of its line; `axes` are about `height` pixels high."""
    low, high = axes.get_ylim()
    heights = [height * (end.y if end.foot else (end.y - low) / (high - low)) for end in ends]
    placed = spread([(at, ROW * end.rows) for at, end in zip(heights, ends, strict=True)], height)
    for end, was, at in zip(ends, heights, placed, strict=True):
        axes.add_artist(AnnotationBbox(
            _named(end, look), (end.x, end.y), (BESIDE, (at - was) * POINT), boxcoords="offset points",
            xycoords=("data", "axes fraction") if end.foot else "data", box_alignment=(0, 0.5), pad=0.1,
            annotation_clip=False, zorder=6, bboxprops={"facecolor": look.sheet.name(), "edgecolor": "none"}))


def _named(end: End, look: Palette) -> HPacker:
    """A sample of the line and its name."""
    of = end.line
    area = DrawingArea(8 if end.foot else SAMPLE, 8)
    area.add_artist(Line2D([4] if end.foot else [0, SAMPLE / 2, SAMPLE], [4] if end.foot else [4, 4, 4],
                           color=of.get_color(), linestyle=end.dash, linewidth=of.get_linewidth(),
                           marker=of.get_marker(), markersize=of.get_markersize(), markevery=[0 if end.foot else 1]))
    words = TextArea(end.words, textprops={"color": look.ink.name(), "linespacing": 1.0})
    return HPacker(children=[area, words], align="center", pad=0, sep=5)


def legend(axes: Axes, ends: Sequence[End], size: float, columns: int = 1) -> None:
    """Words for the lines where their ends have no room for them: in the order of the lines from the top down, on a
    plate of the sheet so that no line runs through them."""
    handles, words = axes.get_legend_handles_labels()
    by_height = [end.words.replace("\n", " ") for end in sorted(ends, key=lambda end: (end.foot, -end.y))]
    order = sorted(range(len(words)), key=lambda nth: by_height.index(words[nth]) if words[nth] in by_height else nth)
    drawn = axes.legend([handles[nth] for nth in order], [words[nth] for nth in order], loc="upper left", fontsize=size,
                        handlelength=4, ncols=columns, framealpha=1, edgecolor="none", borderaxespad=0.2)
    drawn.set_zorder(5)
