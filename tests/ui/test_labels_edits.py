"""Every field of the layout editor, one by one: what it changes on the page, and bad values refused in words."""

from __future__ import annotations

from collections.abc import Callable
from typing import NamedTuple

import pytest

from greenhouse_desk.domain.labels import Align
from greenhouse_desk.domain.labels_sheets import printed
from greenhouse_desk.domain.paper import Page, Words, flat
from greenhouse_desk.services.labels_shelf import layouts
from greenhouse_desk.ui import paper
from greenhouse_desk.ui.labels.editor import SizesEditor
from tests.domain.label_builders import told

SHIPPED = layouts(None)
A5, ROLL, STAKE = "a5-70x38", "roll-57x32", "stake-across"


class Edit(NamedTuple):
    """A field of a layout's part (or its label, its sheet), how far it is moved from what it was, and what comes of it.

    `wanted` is the way of `measured` from the page as it was to the page as it is then.
    """

    layout: str
    field: tuple[str, str]
    by: float
    measured: Callable[[Page], float]
    wanted: float
    part: str = "number"


def words(page: Page, text: str) -> list[Words]:
    return [one for one in flat(page.items) if isinstance(one, Words) and text in one.text]


def across(page: Page) -> float:
    return words(page, "1010")[0].x


def along(page: Page) -> float:
    return words(page, "1010")[0].y


def letter(page: Page) -> float:
    return words(page, "1010")[0].face.letter


def name_letter(page: Page) -> float:
    return words(page, "Phal")[0].face.letter


def count(page: Page) -> float:
    return len(words(page, "1010"))


def next_across(page: Page) -> float:
    return words(page, "1010")[1].x - across(page)


def next_along(page: Page) -> float:
    rows = sorted({one.y for one in words(page, "1010")})
    return rows[1] - rows[0]


FIRST_BELOW_6 = 9 * 0.94**7 - 9
"""Letters of 9 mm get smaller by 6 in a hundred at a time: the seventh step is the first that stands in 6 mm."""
FOUR_DIGITS_IN_20 = 9 * 0.94**6 - 9
"""And the sixth the first in which four figures take up no more than 20 mm."""

EDITS = (
    Edit(A5, ("box", "x"), 1.5, across, 1.5), Edit(A5, ("box", "y"), -1, along, -1),
    Edit(A5, ("box", "width"), -10, letter, FOUR_DIGITS_IN_20),
    Edit(A5, ("box", "height"), -4, letter, FIRST_BELOW_6),
    Edit(A5, ("box", "letter_mm"), -2, letter, -2), Edit(A5, ("box", "letter_mm"), -0.4, name_letter, -0.4, "name"),
    Edit(ROLL, ("label", "width"), 3, lambda page: page.width, 3),
    Edit(ROLL, ("label", "height"), 2, lambda page: page.height, 2),
    Edit(STAKE, ("label", "buried_mm"), -5, along, 0), Edit(A5, ("sheet", "left"), -1, across, -1),
    Edit(A5, ("sheet", "top"), 1.5, along, 1.5), Edit(A5, ("sheet", "across"), -1, count, -5),
    Edit(A5, ("sheet", "down"), -1, count, -2), Edit(A5, ("sheet", "step_x"), 1.5, next_across, 1.5),
    Edit(A5, ("sheet", "step_y"), 1, next_along, 1))
BAD = (
    (A5, ("box", "x"), 30, "number", "it overlaps box 1 (number)"),
    (A5, ("box", "y"), 30, "number", "number: it reaches over"),
    (A5, ("box", "width"), 50, "number", "number: it reaches over"), (A5, ("box", "height"), 30, "number", "overlaps"),
    (A5, ("box", "width"), -21, "code", "code: a code needs a square"),
    (A5, ("label", "width"), -30, "number", "reaches over"),
    (A5, ("label", "height"), -30, "number", "reaches over"),
    (STAKE, ("label", "buried_mm"), 30, "number", "reaches"),
    (A5, ("sheet", "left"), 20, "number", "the paper at 148 mm"),
    (A5, ("sheet", "top"), 40, "number", "the paper at 210"),
    (A5, ("sheet", "across"), 2, "number", "the paper at 148 mm"), (A5, ("sheet", "down"), 4, "number", "at 210 mm"),
    (A5, ("sheet", "step_x"), -20, "number", "overlap"), (A5, ("sheet", "step_y"), -20, "number", "overlap"),
    (A5, ("label", "width"), -60, "number", "reaches over"), (A5, ("box", "x"), -9, "code", "overlaps"))
LEAST = {("label", "width"): 5, ("label", "height"): 5, ("box", "width"): 1, ("box", "height"): 1,
         ("box", "letter_mm"): 1.4, ("sheet", "across"): 1, ("sheet", "down"): 1}


@pytest.fixture
def editor(qapp: object) -> SizesEditor:
    """The editor by itself."""
    paper.ready()
    return SizesEditor()


def page_of(editor: SizesEditor) -> Page:
    """The first page that would be printed, full of one plant's labels."""
    layout = editor.layout_tried()
    return printed(layout, [told()], paper.measure, copies=min(10, layout.per_page)).pages[0]


def moved(editor: SizesEditor, layout: str, field: tuple[str, str], by: float, part: str) -> None:
    """Take a layout and one of its parts in hand and move a field by so much."""
    editor.begin(SHIPPED.named(layout))
    editor.box.setCurrentText(part)
    editor.sizes[field].setValue(editor.sizes[field].value() + by)


@pytest.mark.parametrize("edit", EDITS, ids=lambda edit: f"{edit.part} {' '.join(edit.field)}")
def test_a_field_changes_the_printed_page_accordingly(editor: SizesEditor, edit: Edit) -> None:
    editor.begin(SHIPPED.named(edit.layout))
    before = edit.measured(page_of(editor))
    moved(editor, edit.layout, edit.field, edit.by, edit.part)
    assert editor.keep.isEnabled(), editor.faults.text()
    assert edit.measured(page_of(editor)) - before == pytest.approx(edit.wanted, abs=0.05)


@pytest.mark.parametrize(("layout", "field", "by", "part", "said"), BAD)
def test_a_value_that_cannot_be_is_refused_in_words(editor: SizesEditor, layout: str, field: tuple[str, str], by: float,
                                                    part: str, said: str) -> None:
    moved(editor, layout, field, by, part)
    assert said in editor.faults.text()
    assert not editor.keep.isEnabled()


def test_no_field_goes_where_its_file_could_not_be_read(editor: SizesEditor) -> None:
    """A sheet of no labels, a label of no width: each field stops at its least and says what that is."""
    editor.begin(SHIPPED.named(A5))
    for field, spin in editor.sizes.items():
        spin.setValue(-5)
        assert spin.value() == LEAST.get(field, 0), field
        assert spin.toolTip().startswith(f"{LEAST.get(field, 0):g} to "), field


def test_every_field_there_is_stands_in_both_tables(editor: SizesEditor) -> None:
    assert {edit.field for edit in EDITS} == set(editor.sizes)
    assert {field for _, field, *_ in BAD} == set(editor.sizes) - {("box", "letter_mm")}, "letters only have a range"


def test_how_a_text_stands_is_seen_on_the_page(editor: SizesEditor) -> None:
    editor.begin(SHIPPED.named(A5))
    editor.box.setCurrentText("medium")
    left = words(page_of(editor), "clay")[0]
    editor.parts.align.setCurrentIndex(list(Align).index(Align.RIGHT))
    editor.parts.bold.setChecked(True)
    editor.parts.words.setText("in")
    editor.parts.words.textEdited.emit("in")
    right = words(page_of(editor), "in clay")[0]
    assert right.face.bold
    assert right.x > left.x + 5
    box = editor.layout_tried().boxes[editor.parts.row]
    taken = right.x - words(page_of(editor), "1010")[0].x + 4 + paper.measure(right.text, right.face).right
    assert taken == pytest.approx(box.x + box.width, abs=0.3)
