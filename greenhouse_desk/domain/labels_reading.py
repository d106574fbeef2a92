"""Label layouts in data files: read with every fault named, and written back as plain tables."""

from __future__ import annotations

import math
from collections.abc import Mapping
from itertools import combinations
from typing import Any

from greenhouse_desk.domain.datafile import Fields, Gathered, by_word
from greenhouse_desk.domain.faults import Fault
from greenhouse_desk.domain.labels import (
    LEAST_LETTER,
    LEAST_NUMBER,
    Align,
    Box,
    Form,
    Grid,
    Hole,
    Layout,
    What,
)
from greenhouse_desk.domain.labels_code import code
from greenhouse_desk.domain.paper import A4, SIZES

LEAST_LABEL, LONGEST_MM = 5, 1500
LARGEST_LETTER = 200
LAYS_OVER = 0.05  # mm that boxes or labels may overlap by rounding
MOST_ON_SHEET = 500


def read_layout(data: Mapping[str, Any], file: str, id: str,
                own: bool = False) -> tuple[Layout | None, tuple[Fault, ...]]:
    """The layout in a file's data, None where it cannot be used, and every fault found in it."""
    gathered = Gathered(file)
    fields = Fields(dict(data), "", gathered)
    layout = Layout(
        id, fields.text("title", required=True, most=60, lines=1), fields.word("form", by_word(Form), Form.PLAIN, True),
        fields.number("width_mm", 0, LEAST_LABEL, LONGEST_MM, True),
        fields.number("height_mm", 0, LEAST_LABEL, LONGEST_MM, True),
        fields.tables("box", _box, "a list of boxes"), _part(fields, "sheet", _grid), _part(fields, "hole", _hole),
        fields.number("buried_mm", 0, 0, LONGEST_MM), fields.flag("outline"), own)
    fields.end()
    if not gathered.faults:
        _check(layout, gathered)
    return (None if gathered.faults else layout), tuple(gathered.faults)


def _part(fields: Fields, key: str, read: Any) -> Any:
    fields.taken.add(key)
    return fields.table(fields.data[key], key, read) if key in fields.data else None


def _box(fields: Fields) -> Box:
    what = fields.word("what", by_word(What), What.LINES, True)
    least = LEAST_NUMBER if what is What.NUMBER else LEAST_LETTER
    letter = fields.number("letter_mm", max(2.0, least), LEAST_LETTER, LARGEST_LETTER)
    return Box(
        what, fields.number("x_mm", 0, 0, LONGEST_MM, True), fields.number("y_mm", 0, 0, LONGEST_MM, True),
        fields.number("width_mm", 1, 1, LONGEST_MM, True), fields.number("height_mm", 1, 1, LONGEST_MM, True),
        letter, fields.number("least_mm", min(least, letter), LEAST_LETTER, LARGEST_LETTER),
        fields.word("face", {"sans": False, "serif": True}, False), fields.flag("bold"),
        fields.word("align", by_word(Align), Align.LEFT), fields.text("words", most=20, lines=1), fields.flag("back"))


def _grid(fields: Fields) -> Grid:
    wide, high = fields.word("paper", dict(SIZES), A4)
    return Grid(
        fields.number("width_mm", wide, 5, LONGEST_MM), fields.number("height_mm", high, 5, LONGEST_MM),

        fields.number("left_mm", 0, 0, LONGEST_MM, True), fields.number("top_mm", 0, 0, LONGEST_MM, True),
        int(fields.number("across", 1, 1, 100, True)), int(fields.number("down", 1, 1, 100, True)),
        fields.number("step_x_mm", 0, 0, LONGEST_MM, True), fields.number("step_y_mm", 0, 0, LONGEST_MM, True))


def _hole(fields: Fields) -> Hole:
    return Hole(fields.number("x_mm", 0, 0, LONGEST_MM, True), fields.number("y_mm", 0, 0, LONGEST_MM, True),
                fields.number("diameter_mm", 5, 1, 50, True))


def faults_of(layout: Layout) -> tuple[Fault, ...]:
    """What is wrong with a layout's measures: boxes that overlap, reach over an edge, cannot hold their code."""
    gathered = Gathered(f"{layout.id}.toml")
    _check(layout, gathered)
    return tuple(gathered.faults)


def _check(layout: Layout, gathered: Gathered) -> None:
    if not any(box.what is What.NUMBER for box in layout.boxes):
        gathered.add("box", "a box for the number was expected: a label without it cannot be told from another")
    for number, box in enumerate(layout.boxes, 1):
        _check_box(layout, box, f"box[{number}]", gathered)
    for (first, a), (second, b) in combinations(enumerate(layout.boxes, 1), 2):
        if a.back == b.back and _overlap(a, b):
            gathered.add(f"box[{second}]", f"it overlaps box {first} ({a.what.value})")
    if layout.grid is not None:
        _check_grid(layout, layout.grid, gathered)


def _check_box(layout: Layout, box: Box, path: str, gathered: Gathered) -> None:
    left, top, right, bottom = printable(layout)
    if box.back and not layout.form.folded:
        gathered.add(f"{path}.back", "only a folded label has a back")
    if (box.x < left - LAYS_OVER or box.y < top - LAYS_OVER or box.x + box.width > right + LAYS_OVER
            or box.y + box.height > bottom + LAYS_OVER):
        gathered.add(path, f"it reaches over the edge: what can be seen goes from {left:g} to {right:g} mm across and "
                           f"{top:g} to {bottom:g} mm down")
    if box.what is What.CODE and code(9999, min(box.width, box.height)) is None:
        gathered.add(path, "a code needs a square of 10.9 mm at least")
    if layout.hole is not None and _in_hole(layout.hole, box):
        gathered.add(path, "it lies over the hole")


def printable(layout: Layout) -> tuple[float, float, float, float]:
    """Left, top, right and bottom in mm of what is seen from one side, the buried end left out."""
    wide, high = layout.half
    return (layout.buried_mm, 0.0, wide, high) if wide >= high else (0.0, 0.0, wide, high - layout.buried_mm)


def apart(layout: Layout, box: Box) -> bool:
    """Whether a part could be put on without lying over another, the hole or an edge."""
    gathered = Gathered("")
    _check_box(layout, box, "", gathered)
    return not gathered.faults and not any(one.back == box.back and _overlap(one, box) for one in layout.boxes)


def _overlap(a: Box, b: Box) -> bool:
    return (min(a.x + a.width, b.x + b.width) - max(a.x, b.x) > LAYS_OVER
            and min(a.y + a.height, b.y + b.height) - max(a.y, b.y) > LAYS_OVER)


def _in_hole(hole: Hole, box: Box) -> bool:
    near_x = min(max(hole.x, box.x), box.x + box.width)
    near_y = min(max(hole.y, box.y), box.y + box.height)
    return math.hypot(near_x - hole.x, near_y - hole.y) < hole.diameter / 2


def _check_grid(layout: Layout, grid: Grid, gathered: Gathered) -> None:
    for axis, size, step, count, start, whole in (
            ("x", layout.width, grid.step_x, grid.across, grid.left, grid.width),
            ("y", layout.height, grid.step_y, grid.down, grid.top, grid.height)):
        if count > 1 and step < size - LAYS_OVER:
            gathered.add(f"sheet.step_{axis}_mm", f"labels of {size:g} mm would overlap")
        end = start + (count - 1) * step + size
        if end > whole + LAYS_OVER:
            gathered.add("sheet", f"the labels end at {end:g} mm, the paper at {whole:g} mm")
    if grid.count > MOST_ON_SHEET:
        gathered.add("sheet", f"at most {MOST_ON_SHEET} labels were expected on a sheet")


def plain(layout: Layout) -> dict[str, Any]:
    """The layout as the tables of a data file; `read_layout` gives the same layout back."""
    data: dict[str, Any] = {"title": layout.title, "form": layout.form.value, "width_mm": layout.width,
                            "height_mm": layout.height, "buried_mm": layout.buried_mm, "outline": layout.outline}
    if layout.hole is not None:
        data["hole"] = {"x_mm": layout.hole.x, "y_mm": layout.hole.y, "diameter_mm": layout.hole.diameter}
    if layout.grid is not None:
        grid = layout.grid
        data["sheet"] = {"width_mm": grid.width, "height_mm": grid.height, "left_mm": grid.left, "top_mm": grid.top,
                         "across": grid.across, "down": grid.down, "step_x_mm": grid.step_x, "step_y_mm": grid.step_y}
    return {**data, "box": [_plain_box(box) for box in layout.boxes]}


def _plain_box(box: Box) -> dict[str, Any]:
    table: dict[str, Any] = {
        "what": box.what.value, "x_mm": box.x, "y_mm": box.y, "width_mm": box.width, "height_mm": box.height,
        "letter_mm": box.letter_mm, "least_mm": box.least_mm, "face": "serif" if box.serif else "sans",
        "bold": box.bold, "align": box.align.value, "back": box.back}
    return {**table, "words": box.words} if box.words else table
