"""Layouts of labels: every shipped one sound and readable, every fault of a file named, written back the same."""

from __future__ import annotations

import tomllib
from dataclasses import replace
from typing import Any

import pytest
import tomli_w

from greenhouse_desk.domain.labels import LEAST_LETTER, LEAST_NUMBER, Form, Layout, What
from greenhouse_desk.domain.labels_code import code
from greenhouse_desk.domain.labels_reading import faults_of, plain, read_layout
from greenhouse_desk.domain.labels_sheets import page_size
from greenhouse_desk.domain.paper import SIZES
from greenhouse_desk.shipped import folder
from tests.domain.label_builders import LAYOUTS

STANDING_MM = 4.65
"""16 minutes of arc at 1 m: 6.283 x 1000 x 16 / 21600 (ISO 9241-3, least height)."""
SOUND: dict[str, Any] = {
    "title": "Mine", "form": "plain", "width_mm": 60, "height_mm": 30, "box": [
        {"what": "number", "x_mm": 1, "y_mm": 1, "width_mm": 30, "height_mm": 10, "letter_mm": 8},
        {"what": "code", "x_mm": 40, "y_mm": 1, "width_mm": 18, "height_mm": 18}]}


def changed(where: str, value: Any) -> dict[str, Any]:
    """SOUND with one value changed: "width_mm", "box.0.x_mm" or "sheet"."""
    data: Any = tomllib.loads(tomli_w.dumps(SOUND))
    *path, last = where.split(".")
    table = data
    for step in path:
        table = table[int(step)] if step.isdigit() else table[step]
    table[last] = value
    return dict(data)


def test_every_kind_of_label_is_shipped() -> None:
    assert {layout.form for layout in LAYOUTS} == set(Form)
    assert any(layout.grid for layout in LAYOUTS)
    assert any(layout.grid is None for layout in LAYOUTS), "sheets and rolls"
    assert {box.what for layout in LAYOUTS for box in layout.boxes} == set(What)


@pytest.mark.parametrize("layout", LAYOUTS, ids=lambda layout: layout.id)
def test_a_shipped_number_reads_from_standing_height_and_its_code_holds_any_number(layout: Layout) -> None:
    numbers = [box for box in layout.boxes if box.what is What.NUMBER]
    assert numbers
    assert min(min(box.least_mm, box.letter_mm) for box in numbers) >= STANDING_MM
    sides = [min(box.width, box.height) for box in layout.boxes if box.what is What.CODE]
    assert sides
    assert all(code(number, side) for side in sides for number in (1, 9999, 999_999))
    assert all(box.least_mm >= LEAST_LETTER for box in layout.boxes)


def test_the_least_heights_come_from_the_distance() -> None:
    assert pytest.approx(STANDING_MM, abs=0.01) == LEAST_NUMBER
    assert pytest.approx(1.4, abs=0.01) == LEAST_LETTER


@pytest.mark.parametrize("layout", LAYOUTS, ids=lambda layout: layout.id)
def test_written_and_read_back_a_layout_is_the_same(layout: Layout) -> None:
    text = tomli_w.dumps(plain(layout))
    assert read_layout(tomllib.loads(text), "x.toml", layout.id) == (layout, ())


@pytest.mark.parametrize("layout", LAYOUTS, ids=lambda layout: layout.id)
def test_no_file_says_what_is_nowhere_read(layout: Layout) -> None:
    data = tomllib.loads((folder("labels") / f"{layout.id}.toml").read_text("utf-8"))
    assert [fault.path for fault in read_layout({**data, "colour": "red"}, "x.toml", "x")[1]] == ["colour"]


@pytest.mark.parametrize(("where", "value", "path", "words"), [
    ("width_mm", 3, "width_mm", "5"), ("form", "square", "form", "plain"), ("title", "", "title", "expected"),
    ("box.0.what", "price", "box[1].what", "number"), ("box.0.x_mm", 35, "box[1]", "reaches over the edge"),
    ("box.0.width_mm", 42, "box[2]", "overlaps box 1"), ("box.1.width_mm", 10, "box[2]", "10.9 mm"),
    ("box.0.back", True, "box[1].back", "folded"), ("box.0.what", "name", "box", "number"),
    ("hole", {"x_mm": 5, "y_mm": 5, "diameter_mm": 5}, "box[1]", "hole"), ("buried_mm", 20, "box[1]", "reaches over"),
    ("sheet", {"paper": "A4", "left_mm": 0, "top_mm": 0, "across": 4, "down": 1, "step_x_mm": 60, "step_y_mm": 0},
     "sheet", "240 mm, the paper at 210"),
    ("sheet", {"paper": "A4", "left_mm": 0, "top_mm": 0, "across": 2, "down": 1, "step_x_mm": 50, "step_y_mm": 0},
     "sheet.step_x_mm", "overlap"), ("box.0.letter_mm", 0.5, "box[1].letter_mm", "from 1.4 to")])
def test_each_fault_is_named_with_its_place(where: str, value: Any, path: str, words: str) -> None:
    layout, faults = read_layout(changed(where, value), "mine.toml", "mine")
    assert layout is None
    assert any(fault.path == path and words in str(fault) for fault in faults), [str(fault) for fault in faults]


@pytest.mark.parametrize("name", SIZES)
def test_a_sheet_on_any_paper_of_the_standard_is_read_and_laid_out(name: str) -> None:
    """The sizes themselves are checked in tests/outside against ISO 216; the smallest label fits the smallest paper."""
    sheet = {"paper": name, "left_mm": 1, "top_mm": 1, "across": 1, "down": 1, "step_x_mm": 0, "step_y_mm": 0}
    data = {**SOUND, "width_mm": 24, "height_mm": 30, "sheet": sheet, "box": [
        {"what": "number", "x_mm": 1, "y_mm": 1, "width_mm": 22, "height_mm": 10}]}
    layout, faults = read_layout(data, "mine.toml", "mine")
    assert faults == ()
    assert layout is not None
    assert page_size(layout) == SIZES[name]


def test_a_sound_layout_has_no_fault() -> None:
    layout, faults = read_layout(SOUND, "mine.toml", "mine", own=True)
    assert (faults, layout is not None and layout.own) == ((), True)


def test_a_layout_changed_by_hand_is_checked_again() -> None:
    layout = next(one for one in LAYOUTS if one.id == "roll-57x32")
    assert faults_of(layout) == ()
    assert faults_of(replace(layout, width=40.0))
