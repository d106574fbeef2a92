"""Where benches and cards stand on the canvas, where a dragged card would go, and which card an arrow key reaches."""

from __future__ import annotations

from dataclasses import replace
from itertools import combinations, pairwise

import pytest
from hypothesis import given
from hypothesis import strategies as st
from PySide6.QtCore import QPoint
from PySide6.QtGui import QColor, QImage, QPainter
from PySide6.QtWidgets import QApplication

from greenhouse_desk.domain.care import CareWords
from greenhouse_desk.domain.names import parse
from greenhouse_desk.domain.plants import Place
from greenhouse_desk.domain.quarantine import Standing
from greenhouse_desk.services.collection import BenchRow, Card
from greenhouse_desk.ui import drawing, style
from greenhouse_desk.ui.collection.dragging import by_key, target_at
from greenhouse_desk.ui.collection.layout import lay, nearest, sizes
from greenhouse_desk.ui.collection.model import Seat
from greenhouse_desk.ui.collection.register import grouped, level_of, paint_tick
from tests.builders import plant

MIXED = ("Paphiopedilum 麻栗坡兜兰 malipoense 'Jade 玉' × 杏黄兜兰 armeniacum 長い名前",
         "Phalaenopsis 蝴蝶蘭蝴蝶蘭蝴蝶蘭蝴蝶蘭蝴蝶蘭", "Cattleya العربية طويلة جدا للغاية والنهاية",
         "فالاينوبسيس أمابيليس كبيرة جدا مع اسم طويل", "Vanda 🌸🌺🌸🌺🌸🌺🌸🌺🌸🌺🌸🌺🌸🌺🌸",
         "Cattleya 蘭 العربية 🌸🌺 'Größe' Some Long Grex Name",
         "Stelis gelida 👩‍🌾👩‍🌾 and more words here for length")
"""Names that mix writings, each too long for a card."""

WIDTHS = st.integers(380, 3000)
COUNTS = st.lists(st.integers(0, 40), max_size=8)


def bench(number: int, plants: list[int]) -> BenchRow:
    """A bench with these plants."""
    cards = tuple(Card(plant(one, place=number), parse("Cattleya"), "", Standing("clear", "", 0), None, None)
                  for one in plants)
    return BenchRow(Place(number, f"Bench {number}"), f"Bench {number}", None, (), cards)


@given(COUNTS, WIDTHS, st.booleans())
def test_every_plant_stands_on_the_canvas_and_none_on_another(counts: list[int], width: int, dense: bool) -> None:
    plan = lay(counts, width, dense)
    rects = [rect for strip in plan.strips for rect in strip.cards]
    assert [len(strip.cards) for strip in plan.strips] == counts
    assert all(rect.right() < width and rect.left() >= 0 and rect.bottom() <= plan.height for rect in rects)
    assert not any(a.intersects(b) for a, b in combinations(rects[:80], 2))
    heads = [strip.head for strip in plan.strips]
    assert not any(head.intersects(rect) for head in heads for rect in rects[:120])


@given(st.integers(1, 40), WIDTHS)
def test_a_bench_goes_on_until_its_end_and_says_which(count: int, width: int) -> None:
    rails = lay([count], width, False).strips[0].rails
    assert [rail.goes_on for rail in rails] == [True] * (len(rails) - 1) + [False]


def test_a_short_bench_stands_in_what_is_left_of_a_row() -> None:
    plan = lay([8, 2], 1160, False)
    assert plan.strips[1].head.y() == plan.strips[0].cards[-1].y()
    assert plan.strips[1].head.x() > plan.strips[0].cards[-1].right()


def test_an_empty_bench_keeps_rail_and_room_for_its_words() -> None:
    strip = lay([0], 900, False).strips[0]
    assert strip.empty is not None
    assert strip.empty.width() > 250
    assert len(strip.rails) == 1


def test_six_cards_stand_in_a_row_of_the_usual_window() -> None:
    assert sizes(1152, False).columns == 6
    assert sizes(1152, False).card >= 164
    assert sizes(886, False).columns == 4


def test_many_plants_stand_dense() -> None:
    plan = lay([44, 30, 26, 12, 88, 100], 1152, True)
    assert plan.height < 60 * 74
    assert lay([300], 1152, True).height * 3 < lay([300], 1152, False).height


def test_arrows_go_along_the_bench_and_to_the_nearest_above_and_below() -> None:
    plan = lay([4, 2], 900, False)
    rects = [rect for strip in plan.strips for rect in strip.cards]
    assert nearest(rects, 1, 1, 0) == 2
    assert nearest(rects, 0, -1, 0) == 0
    assert nearest(rects, 5, 1, 0) == 5
    assert nearest(rects, 0, 0, 1) == 4
    assert nearest(rects, 3, 0, 1) == 5
    assert nearest(rects, 4, 0, -1) == 0
    assert nearest(rects, 0, 0, -1) == 0


@pytest.mark.parametrize(("dx", "before"), [(-30, 101), (30, 102)])
def test_a_card_let_go_left_or_right_of_a_middle_goes_before_or_after(dx: int, before: int) -> None:
    benches = [bench(1, [101, 102, 103]), bench(2, [])]
    plan = lay([3, 0], 900, False)
    target = target_at(plan, benches, plan.strips[0].cards[0].center() + QPoint(dx, 0))
    assert target is not None
    assert (target.place, target.before) == (1, before)


def test_a_card_let_go_past_the_last_goes_to_the_end_and_on_an_empty_bench_stands_alone() -> None:
    benches = [bench(1, [101, 102, 103]), bench(2, [])]
    plan = lay([3, 0], 900, False)
    last = plan.strips[0].cards[-1]
    end = target_at(plan, benches, QPoint(last.right() + 20, last.center().y()))
    alone = target_at(plan, benches, plan.strips[1].area.center())
    assert end is not None
    assert alone is not None
    assert (end.place, end.before) == (1, None)
    assert (alone.place, alone.before) == (2, None)


def test_nothing_is_moved_far_off_or_to_where_there_is_no_place() -> None:
    benches = [bench(1, [101]), bench(0, [102])]
    plan = lay([1, 1], 1200, False)
    assert target_at(plan, benches, QPoint(600, 5000)) is None
    assert target_at(plan, benches, plan.strips[1].cards[0].center()) is None


def test_a_key_moves_a_plant_one_place_along_or_one_bench_across() -> None:
    benches = [bench(1, [101, 102, 103]), bench(2, [104]), bench(0, [105])]
    assert by_key(benches, 102, -1, 0) == (1, 101)
    assert by_key(benches, 101, 1, 0) == (1, 103)
    assert by_key(benches, 102, 1, 0) == (1, None)
    assert by_key(benches, 101, -1, 0) is None
    assert by_key(benches, 103, 1, 0) is None
    assert by_key(benches, 101, 0, 1) == (2, 104)
    assert by_key(benches, 102, 0, 1) == (2, None)
    assert by_key(benches, 104, 0, -1) == (1, 101)
    assert by_key(benches, 104, 0, 1) is None
    assert by_key(benches, 105, 0, -1) == (1, None)


@pytest.mark.parametrize("width", [160.0, 420.0, 900.0])
@pytest.mark.parametrize("count", [5, 60, 320])
def test_the_register_has_a_tick_for_each_plant_inside_its_width(qapp: object, width: float, count: int) -> None:
    from_each = [bench(1, list(range(101, 101 + count // 2))), bench(2, list(range(101 + count // 2, 101 + count)))]
    from_seats = [seat for number, row in enumerate(from_each) for seat in seats(row, number)]
    groups = grouped(from_seats, ["South staging with a long name", "Sill"], width)
    assert [tick.number for group in groups for tick in group.ticks] == list(range(101, 101 + count))
    assert groups[-1].x + groups[-1].room <= width + 4
    assert groups[0].x + len(groups[0].ticks) * groups[0].pitch <= groups[1].x


def seats(row: BenchRow, number: int) -> list[Seat]:
    """The seats of one bench."""
    return [Seat(card, number, row.place.id, row.path, False) for card in row.cards]


@pytest.mark.parametrize(("mark", "level"), [("over", "over"), ("drying", "today"), ("later", "none")])
def test_a_crown_with_time_left_to_dry_is_not_late_in_the_register(mark: str, level: str) -> None:
    seat = seats(bench(0, [101]), 0)[0]
    card = replace(seat.card, words=CareWords(mark, "crown dry by 17:59"))
    assert level_of(replace(seat, card=card)) == level


@pytest.mark.parametrize("pitch", [4, 3, 2])
def test_late_neighbours_stand_apart_in_the_register(qapp: object, pitch: int) -> None:
    """Ten of them: as many flags with ground between, not one block."""
    colours = style.palette(False)
    drawn = QImage(80, 30, QImage.Format.Format_RGB32)
    drawn.fill(colours.bench)
    painter = QPainter(drawn)
    for place in range(10):
        paint_tick(painter, "over", 10 + (place + 0.5) * pitch, pitch, colours)
    painter.end()
    inked = [QColor(drawn.pixel(x, 9)).name() == colours.madder.name() for x in range(80)]
    assert sum(now and not before for before, now in pairwise(inked)) == 10


@pytest.mark.parametrize("name", MIXED)
@pytest.mark.parametrize(("px", "lines"), [(16, 2), (15, 1), (28, 3)])
def test_a_name_that_is_cut_always_says_so(qapp: QApplication, name: str, px: int, lines: int) -> None:
    """At any width: where no room is left for the ellipsis, the word before makes it."""
    whole = "".join(parse(name).plain.split())
    for width in range(60, 420, 7):
        rows = drawing.name_lines(parse(name), px, width, lines)
        shown = "".join(run.text for row in rows for run in row)
        cut = "".join(shown.split()).replace("‘", "'").replace("’", "'") != whole
        assert shown.rstrip().endswith("…") is cut, (width, shown)
        for row in rows:
            assert sum(drawing.width_of(run.text, run.font) for run in row[:-1]) + drawing.width_of(
                row[-1].text.rstrip(), row[-1].font) <= width + 5, (width, shown)
