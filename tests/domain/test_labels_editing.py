"""Layouts changed part by part: what is put on lies free, what is traded or mirrored overlaps no more than before."""

from __future__ import annotations

from dataclasses import replace

import pytest

from greenhouse_desk.domain.labels import LEAST_NUMBER, Align, Form, Layout, What
from greenhouse_desk.domain.labels_editing import added, advice, code_on_left, mirrored, traded, without
from greenhouse_desk.domain.labels_reading import faults_of
from tests.domain.label_builders import LAYOUTS

BY_ID = {layout.id: layout for layout in LAYOUTS}
EMPTY = Layout("x", "X", Form.PLAIN, 70, 38, ())
ALL = pytest.mark.parametrize("layout", LAYOUTS, ids=lambda layout: layout.id)


def test_every_part_put_on_an_empty_label_lies_free_of_the_others() -> None:
    layout = EMPTY
    for what in What:
        layout = added(layout, what)
    assert [box.what for box in layout.boxes] == list(What)
    assert faults_of(layout) == ()


def test_where_there_is_little_room_a_part_comes_smaller() -> None:
    more = added(added(replace(EMPTY, width=24), What.NUMBER), What.DATE)
    assert [box.width for box in more.boxes] == [20, 20]
    less = added(added(replace(EMPTY, width=20), What.NUMBER), What.DATE)
    assert [box.width for box in less.boxes] == [15, 15]
    assert faults_of(less) == ()


def test_where_there_is_no_room_its_fault_says_so() -> None:
    full = added(BY_ID["stake-across"], What.CODE)
    assert any("overlaps" in fault.message for fault in faults_of(full))


def test_a_part_keeps_to_its_side_and_off_the_hole() -> None:
    flag = without(BY_ID["fold-round"], 1)
    back = added(flag, What.DATE, back=False)
    assert (back.boxes[-1].back, faults_of(back)) == (False, ())
    tag = added(without(without(BY_ID["tag"], 0), 0), What.NUMBER)
    assert faults_of(tag) == ()


@ALL
def test_a_part_taken_off_leaves_the_others(layout: Layout) -> None:
    less = without(layout, 1)
    assert less.boxes == (layout.boxes[0], *layout.boxes[2:])


def test_a_text_trades_its_room_with_the_next_one_read_from_the_top() -> None:
    sheet = BY_ID["a4-70x30"]
    row = [box.what for box in sheet.boxes].index(What.NAME)
    later = traded(sheet, row, 1)
    assert later is not None
    name, date = later.boxes[row], later.boxes[row + 1]
    assert (name.what, name.x, name.y, name.width, name.height) == (What.NAME, 5, 25.6, 22, 2.6)
    assert (date.what, date.x, date.y, date.width, date.height) == (What.DATE, 5, 13, 41, 11.6)
    assert traded(later, row, -1) == sheet
    assert traded(sheet, row, -1) is None, "the number stays where it is"
    assert traded(sheet, 0, 1) is None


def test_front_and_back_do_not_trade() -> None:
    tent = BY_ID["fold-over"]
    row = [box.what for box in tent.boxes].index(What.NAME)
    assert traded(tent, row, 1) is None


@ALL
def test_mirrored_the_code_is_on_the_other_side_and_nothing_overlaps(layout: Layout) -> None:
    other = mirrored(layout)
    assert faults_of(other) == ()
    assert code_on_left(other) != code_on_left(layout)
    back = mirrored(other)
    assert [box.x for box in back.boxes] == pytest.approx([box.x for box in layout.boxes])
    assert [box.align for box in other.boxes] == [box.align for box in layout.boxes]


def test_the_stakes_end_stays_buried() -> None:
    other = mirrored(BY_ID["stake-along"])
    assert min(box.x for box in other.boxes) >= other.buried_mm


def test_what_is_worth_a_word() -> None:
    sheet = BY_ID["a4-70x30"]
    assert advice(sheet) == ""
    small = replace(sheet, boxes=(replace(sheet.boxes[0], letter_mm=3, align=Align.LEFT), *sheet.boxes[1:]))
    assert f"down to {LEAST_NUMBER:g} mm" in advice(small)
    assert "scanner" in advice(replace(sheet, boxes=sheet.boxes[:-1]))
    assert "No name" in advice(replace(sheet, boxes=tuple(box for box in sheet.boxes if box.what is not What.NAME)))
