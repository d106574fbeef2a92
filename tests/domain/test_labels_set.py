"""One label and whole sheets: what is left out is said, what must be there refuses, and where each label lies."""

from __future__ import annotations

import pytest

from greenhouse_desk.domain.faults import Refused
from greenhouse_desk.domain.labels import GOOD_LETTER, Box, Form, Layout, What
from greenhouse_desk.domain.labels_set import Label, label
from greenhouse_desk.domain.labels_sheets import page_size, place_of, printed
from greenhouse_desk.domain.paper import Dark, Extent, Face, Group, Shape, Words, flat
from tests.domain.label_builders import LAYOUTS, box, square_face, told

SHEET = next(layout for layout in LAYOUTS if layout.id == "a4-70x30")
ROLL = next(layout for layout in LAYOUTS if layout.id == "roll-57x32")


def plain(*boxes: Box, width: float = 100, height: float = 100) -> Layout:
    return Layout("x", "X", Form.PLAIN, width, height, boxes)


def said(made: Label) -> list[str]:
    return [item.text for item in flat(made.items) if isinstance(item, Words)]


NUMBER = Box(What.NUMBER, 0, 0, 60, 10, 8, 5)


def test_a_plant_without_a_thing_leaves_its_box_empty() -> None:
    boxes = (NUMBER, *(Box(what, 0, 20 + 8 * nth, 90, 7) for nth, what in enumerate(
        (What.DATE, What.SOURCE, What.MEDIUM, What.LINES, What.PARENTAGE, What.ISOLATION))))
    bare = told(isolation=False, dates=(), source="", medium="", lines=())
    made = label(plain(*boxes), bare, square_face)
    assert (said(made), made.notes, made.refused) == (["1010"], (), "")
    full = label(plain(*boxes), told("Vanda Dawn (Vanda alba x Vanda rosea)"), square_face)
    assert "".join(said(full)) == ("1010repotted 14 November 2026a swap in the hallclay pelletsfree line"
                                   "Vanda alba × Vanda rosea")


@pytest.mark.parametrize(("what", "words"), [
    (What.NUMBER, "the number does not fit"), (What.NAME, "the name does not fit"),
    (What.CODE, "too small to be read")])
def test_number_name_and_code_are_never_left_out_in_silence(what: What, words: str) -> None:
    made = label(plain(NUMBER, box(2, 2, what=what)), told(), square_face)
    assert words in made.refused
    assert made.items == ()


def test_what_was_shortened_cut_or_left_out_is_said() -> None:
    small = {"width": 14.0, "height": 1.5}
    boxes = (NUMBER, box(**small, what=What.NAME), Box(What.SOURCE, 0, 30, 8, 2), Box(What.LINES, 0, 40, 1, 1),
             Box(What.DATE, 0, 50, 8, 2))
    made = label(plain(*boxes), told(), square_face)
    assert made.notes == ("name shortened", "source cut", "lines left out", "date left out")


def test_a_date_is_never_cut() -> None:
    made = label(plain(NUMBER, Box(What.DATE, 0, 50, 24, 2)), told(), square_face)
    assert said(made) == ["1010", "14 Nov 2026"]


@pytest.mark.parametrize("formula", ["Vanda alba × Vanda rosea", "Vanda Dawn × Vanda rosea"])
def test_a_formula_is_not_said_twice(formula: str) -> None:
    boxes = (NUMBER, Box(What.NAME, 0, 20, 99, 9), Box(What.PARENTAGE, 0, 40, 99, 9))
    assert "".join(said(label(plain(*boxes), told(formula), square_face))) == f"1010{formula}"


@pytest.mark.parametrize(("width", "height"), [(16, 5), (5, 5), (4, 12), (40, 3)])
def test_isolation_is_a_shape_that_stays_in_its_box(width: float, height: float) -> None:
    made = label(plain(NUMBER, box(width, height, what=What.ISOLATION)), told(), square_face)
    bars = [item for item in flat(made.items) if isinstance(item, Shape)]
    assert bars
    for bar in bars:
        xs, ys = zip(*bar.points, strict=True)
        assert bar.points[3][0] - bar.points[0][0] > 0.3, "a bar that can be seen"
        assert min(xs) >= 10 - 1e-6
        assert max(xs) <= 10 + width + 1e-6
        assert (min(ys), max(ys)) == (20, 20 + height)
    assert not any(isinstance(item, Shape) for item in flat(
        label(plain(NUMBER, box(width, height, what=What.ISOLATION)), told(isolation=False), square_face).items))


def test_the_code_keeps_its_light_border_inside_its_box() -> None:
    made = label(ROLL, told(), square_face)
    (squares,) = [item for item in made.items if isinstance(item, Dark)]
    (room,) = [one for one in ROLL.boxes if one.what is What.CODE]
    quiet = 4 * squares.module - 1e-9
    assert squares.x - room.x >= quiet
    assert room.x + room.width - squares.x - len(squares.rows) * squares.module >= quiet
    assert squares.y - room.y >= quiet


def test_from_the_fifth_label_of_a_used_sheet_row_by_row() -> None:
    many = [told(number=number) for number in range(101, 101 + 25)]
    made = printed(SHEET, many, square_face, start=5)
    assert [(page.width, page.height, len(page.items)) for page in made.pages] == [(210, 297, 23), (210, 297, 2)]
    corners = [(group.x, group.y) for group in made.pages[0].items if isinstance(group, Group)]
    assert corners[:3] == [(70, 43.5), (140, 43.5), (0, 73.5)]
    assert place_of(SHEET, 0) == (0, 13.5)
    first = made.pages[1].items[0]
    assert isinstance(first, Group)
    assert (first.x, first.y) == (0, 13.5)


def test_copies_lie_side_by_side_and_each_label_of_a_roll_is_a_page() -> None:
    made = printed(ROLL, [told(number=101), told(number=102)], square_face, copies=2)
    assert [said(Label(0, page.items))[0] for page in made.pages] == ["101", "101", "102", "102"]
    assert page_size(ROLL) == (57, 32)


def test_a_label_that_cannot_be_made_leaves_no_gap() -> None:
    endless = told("Vanda " + "longissime" * 9, number=102)
    made = printed(SHEET, [told(number=101), endless, told(number=103)], square_face)
    assert [one.number for one in made.made] == [101, 103]
    assert made.refusals == ("102: the name does not fit, even in the smallest letters",)
    assert len(made.pages[0].items) == 2


@pytest.mark.parametrize(("start", "copies"), [(0, 1), (28, 1), (-1, 1), (1, 0), (1, 100)])
def test_no_such_label_and_no_such_number_of_copies(start: int, copies: int) -> None:
    with pytest.raises(Refused):
        printed(SHEET, [told()], square_face, start, copies)


@pytest.mark.parametrize("layout", LAYOUTS, ids=lambda layout: layout.id)
def test_a_usual_name_is_set_large_enough_to_read_over_the_bench(layout: Layout) -> None:
    """In a face whose letters are about as wide for their height as the serif's."""
    def narrow(text: str, face: Face) -> Extent:
        return Extent(0, len(text) * face.letter * 0.7, -face.letter, 0.2 * face.letter, len(text) * face.letter * 0.7)

    made = label(layout, told("Phalaenopsis amabilis"), narrow)
    found = [one.face.letter for one in flat(made.items) if isinstance(one, Words) and "Phal" in one.text]
    assert found
    assert max(found) > GOOD_LETTER
