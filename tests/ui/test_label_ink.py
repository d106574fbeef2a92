"""No ink outside its box: labels of odd names painted as they are printed, and looked at dot by dot."""

from __future__ import annotations

from collections.abc import Iterable, Iterator
from dataclasses import replace

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st
from PySide6.QtCore import QRectF
from PySide6.QtGui import QColor, QImage, QPainter

from greenhouse_desk.domain.labels import LEAST_NUMBER, Form, Layout, Told, What
from greenhouse_desk.domain.labels_set import Label, label
from greenhouse_desk.domain.names import parse
from greenhouse_desk.domain.paper import Face, Group, Item, Page, Words, flat
from greenhouse_desk.ui import fonts, paper
from tests.domain.label_builders import LAYOUTS, SHORTS, told

BY_ID = {layout.id: layout for layout in LAYOUTS}
DOTS = 12.0  # to the mm
BLUR = 1.5 / DOTS  # mm that a smoothed edge may reach over
FORMULA = ("Rhyncholaeliocattleya Goldenzelle 'Lemon Chiffon' × (Paphiopedilum rothschildianum var. album × "
           "Phragmipedium besseae f. flavum) × Brassolaeliocattleya Circle of the Longest Life")
PARTS = ["Phalaenopsis", "Paph.", "rothschildianum", "amabilis", "×", "x", "(", ")", "var.", "'Big One'", "AM/ABC",
         "Dawn", "of", "Griff.", "‘Ärgernis’", "ﬁf", "Ǻ̈q̣", "🌸", "👩‍👩‍👧", "שלום", "סחלב ורוד", "سحلبية", "jjjj",
         "蘭", "ไม้", "\u202e", "\u2067x"]
ODD = st.one_of(st.lists(st.sampled_from(PARTS), min_size=1, max_size=14).map(" ".join),
                st.text(min_size=1, max_size=50), st.just(FORMULA))
TOLD = st.builds(lambda number, name, source, lines, isolation: Told(
    number, parse(name), isolation, ("repotted 14 November 2026", "14 Nov 2026"), source, source, tuple(lines), SHORTS),
    st.integers(1, 999_999), ODD, ODD, st.lists(ODD, max_size=3), st.booleans())


@pytest.fixture(scope="module", autouse=True)
def _faces(qapp: object) -> None:
    fonts.load()


def rooms(layout: Layout) -> Iterator[QRectF]:
    """Each box where it lies on the unfolded label, in mm."""
    for box in layout.boxes:
        x, y = box.x, box.y
        if box.back and layout.form is Form.FOLD_OVER:
            x, y = layout.width - x - box.width, layout.height - y - box.height
        elif box.back:
            x += layout.width / 2
        yield QRectF(x, y, box.width, box.height)


def painted(layout: Layout, made: Label) -> QImage:
    image = QImage(round(layout.width * DOTS), round(layout.height * DOTS), QImage.Format.Format_RGB32)
    image.fill(QColor("white"))
    painter = QPainter(image)
    painter.scale(DOTS, DOTS)
    paper.paint(Page(layout.width, layout.height, made.items), painter)
    for room in rooms(layout):
        painter.fillRect(room.adjusted(-BLUR, -BLUR, BLUR, BLUR), QColor("white"))
    wide, high = layout.width, layout.height
    if layout.form is Form.FOLD_OVER:
        painter.fillRect(QRectF(0, high / 2 - 0.2, wide, 0.4), QColor("white"))
    elif layout.form is Form.FOLD_ROUND:
        painter.fillRect(QRectF(wide / 2 - 0.2, 0, 0.4, high), QColor("white"))
    painter.end()
    return image


def stray(layout: Layout, made: Label) -> bool:
    """Whether ink lies outside all boxes, the marks of folds left out."""
    image = painted(layout, made)
    blank = QImage(image.size(), image.format())
    blank.fill(QColor("white"))
    return image != blank


@pytest.mark.qt_log_ignore("OpenType support missing for")  # said where no face of the machine knows a drawn script
@settings(max_examples=max(300, settings().max_examples))
@given(TOLD, st.sampled_from(sorted(BY_ID)))
def test_no_ink_outside_its_box_and_no_letter_below_the_least(plant: Told, layout: str) -> None:
    bare = replace(BY_ID[layout], outline=False)
    made = label(bare, plant, paper.measure)
    assert bool(made.items) != bool(made.refused)
    assert not stray(bare, made)
    least = min(box.least_mm for box in bare.boxes)
    assert all(item.face.letter >= least - 1e-9 for item in flat(made.items) if isinstance(item, Words))


def test_ink_outside_a_box_is_seen() -> None:
    layout = BY_ID["roll-57x32"]
    made = label(layout, told(), paper.measure)
    assert not stray(layout, made)
    assert stray(layout, replace(made, items=(*made.items, Words(2.0, 31, "j", Face(2)))))


@pytest.mark.parametrize("layout", LAYOUTS, ids=lambda layout: layout.id)
def test_the_shortest_names_and_largest_numbers_fit_every_layout(layout: Layout) -> None:
    for number in (1, 101, 9999):
        made = label(layout, told(number=number), paper.measure)
        assert made.refused == ""
        (largest, *_) = sorted((item.face.letter for item in flat(made.items) if isinstance(item, Words)
                                and item.text == str(number)), reverse=True)
        assert largest >= LEAST_NUMBER


def told_by(items: Iterable[Item]) -> str:
    """All words, those of a turned back too."""
    return " ".join(told_by(item.items) if isinstance(item, Group) else item.text.strip() for item in items
                    if isinstance(item, Group | Words))


@pytest.mark.parametrize("layout", LAYOUTS, ids=lambda layout: layout.id)
def test_every_layout_has_room_for_what_the_date_is_and_a_name_of_the_longest_kind(layout: Layout) -> None:
    """A formula of two hybrids of the longest genera, a source and a medium as growers write them."""
    shorts = (("Rhyncholaeliocattleya", "Rlc."), ("Brassolaeliocattleya", "Blc."))
    long = told("Rhyncholaeliocattleya Goldenzelle × Brassolaeliocattleya Memoria Helen", shorts=shorts, dates=(
        "potted 28 Mar 2026", "28 Mar 2026"), source="swap table in spring", medium="medium bark")
    made = label(layout, long, paper.measure)
    words = told_by(made.items)
    assert set(made.notes) <= {"name shortened"}
    assert "Goldenzelle" in words
    assert "Memoria Helen" in words
    dated = any(box.what is What.DATE for box in layout.boxes)
    assert not dated or "potted 28 Mar 2026" in words


def test_digits_are_as_high_as_the_letters_they_are_measured_by() -> None:
    """`letter` is a capital's height; the number's own height is what is read from standing height."""
    for face in (Face(10, "serif", True), Face(10), Face(10, "serif"), Face(10, bold=True)):
        extent = paper.measure("1", face)
        assert -extent.top == pytest.approx(10, rel=0.05)
