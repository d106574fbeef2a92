"""The timeline's layout: no two texts touch at any zoom, and every entry is told exactly once."""

from __future__ import annotations

import random

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from greenhouse_desk.domain.timeline import laid_out, strips
from greenhouse_desk.domain.timeline_sorts import Sort
from greenhouse_desk.domain.timeline_values import (
    DAY,
    FARTHEST,
    NEAREST,
    Band,
    Item,
    Lane,
    Look,
    Room,
    View,
    lane,
    spanning,
)
from tests.domain.timeline_histories import AT, PICTURES, a_lane, a_view, an_item, crowded, faults, width

DICE = st.randoms(use_true_random=False)
MINUTE = 60.0


@settings(max_examples=200)
@given(DICE)
def test_nothing_touches_and_every_entry_is_told_once(dice: random.Random) -> None:
    of, room = a_lane(dice), Room(a_view(dice), AT, dice.choice(PICTURES))
    assert faults(of, room) == []


@pytest.mark.long
def test_nothing_touches_in_ten_thousand_histories() -> None:
    for nth in range(10_000):
        dice = random.Random(f"history {nth}")
        assert faults(a_lane(dice), Room(a_view(dice), AT, dice.choice(PICTURES))) == [], nth


@given(DICE)
def test_everything_is_in_a_box_when_all_is_in_view(dice: random.Random) -> None:
    of = a_lane(dice)
    row = laid_out(of, Room(spanning(AT - FARTHEST / 2, AT + FARTHEST / 2, 900), AT), width)
    assert (row.earlier, row.later) == (0, 0)
    assert sum(box.count for box in row.boxes) == len(of.past.items) + len(of.ahead.items)


@settings(max_examples=200)
@given(DICE)
def test_zooming_in_unfolds_every_group_down_to_one_minute(dice: random.Random) -> None:
    """At the nearest zoom what is still in one group happened within a minute, or waits at the now-line."""
    of = a_lane(dice)
    for one in dice.sample(of.past.items, min(5, len(of.past.items))):
        seen = View(one.at - NEAREST * 450, NEAREST, 900)
        row = laid_out(of, Room(seen, AT), width)
        assert [box for box in crowded(row.boxes) if box.end - box.start >= MINUTE] == []
        assert any(one in of.of(box) for box in row.boxes), "what is looked at is told"


@given(DICE)
def test_a_mark_in_the_middle_is_told_at_every_zoom_on_the_way_in(dice: random.Random) -> None:
    of = a_lane(dice)
    if not of.past.items:
        return
    one, seen = dice.choice(of.past.items), spanning(AT - FARTHEST, AT, 900)
    while seen.per_px > NEAREST:
        seen = seen.zoomed(1.3, 0).with_at(one.at, 450)
        row = laid_out(of, Room(seen, AT), width)
        line = seen.x(AT)
        assert any(one in of.of(box) for box in row.boxes) or line < 640, seen


def groups(of: Lane, seen: View) -> set[tuple[int, int]]:
    return {(box.first, box.count) for box in laid_out(of, Room(seen, AT), width).boxes}


@given(DICE)
def test_groups_stay_as_they_are_while_the_view_moves(dice: random.Random) -> None:
    of, still = a_lane(dice), a_view(dice)
    moved = still.moved(dice.uniform(-40, 40))
    apart = [box for box in laid_out(of, Room(still, AT), width).boxes
             if box.left > 45 and box.right < still.width - 45]
    assert {(box.first, box.count) for box in apart} <= groups(of, moved)


def test_a_group_says_its_count_and_unfolds_when_nearer() -> None:
    of = lane(1, (an_item(AT - DAY - 600 * nth, nth) for nth in range(14)))
    (far,) = laid_out(of, Room(spanning(AT - 60 * DAY, AT + 30 * DAY, 900), AT), width).boxes
    assert (far.count, far.told) == (14, "14 notes")
    near = laid_out(of, Room(spanning(far.start - 600, far.end + 600, 900), AT), width).boxes
    assert [box.count for box in near] == [1] * 14
    assert near[-1].words > 0


def test_entries_of_different_marks_are_entries_and_care_is_owed() -> None:
    mixed = lane(1, (an_item(AT - DAY, 1), Item(AT - DAY, "pour", "pour", Sort.WATER, 2)),
                 (an_item(AT, 3, Sort.CARE), an_item(AT, 4, Sort.CARE)))
    row = laid_out(mixed, Room(spanning(AT - 9 * DAY, AT + 9 * DAY, 600), AT), width)
    assert [box.told for box in row.boxes] == ["2 entries", "2 things owed"]


def test_what_is_late_stands_right_of_the_now_line() -> None:
    of = lane(1, (an_item(AT - 1, 1),), (an_item(AT, 2, Sort.CARE),))
    past, owed = laid_out(of, Room(spanning(AT - 9 * DAY, AT + 9 * DAY, 600), AT), width).boxes
    assert (past.right, owed.left) == (295.0, 305.0)


def test_what_does_not_fit_beside_the_edge_is_counted_there() -> None:
    """The now-line lies so near the left edge that the mark before it has no room: it is told as earlier."""
    of = lane(1, (an_item(AT - 1, 1), an_item(AT - 2, 2)), (an_item(AT + DAY, 3, Sort.CARE),))
    row = laid_out(of, Room(View(AT - 10, 1.0, 400), AT), width)
    assert (row.boxes, row.earlier, row.later) == ((), 2, 1)


def test_a_picture_stands_beside_a_lone_photo_with_room_for_it() -> None:
    of = lane(1, [an_item(AT - 5 * DAY, 1, photo="sha"), an_item(AT - 2 * DAY, 2, photo="sha")])
    seen = spanning(AT - 10 * DAY, AT + DAY, 600)
    assert [box.picture for box in laid_out(of, Room(seen, AT, (56, 32)), width).boxes] == [56, 56]
    small = spanning(AT - 30 * DAY, AT + DAY, 600)
    assert [box.picture for box in laid_out(of, Room(small, AT, (56, 32)), width).boxes] == [32, 0]
    narrow = spanning(AT - 100 * DAY, AT + DAY, 600)
    assert [box.picture for box in laid_out(of, Room(narrow, AT, (56, 32)), width).boxes] == [0]


def test_a_band_names_itself_where_it_is_in_view() -> None:
    long = Band(AT - 900 * DAY, AT, Look.STAY, "North sill")
    ((strip,), *_) = strips([long], Room(spanning(AT - 9 * DAY, AT + 9 * DAY, 600), AT), width)
    assert (strip.left, strip.right, strip.words_left, strip.words) == (-5.0, 300.0, 5.0, 70.0)


def test_the_words_of_a_hold_do_not_cross_the_now_line() -> None:
    hold = Band(AT - DAY, AT + 9 * DAY, Look.HOLD, "plain water until 2 Dec")
    (*_, (strip,), _) = strips([hold], Room(spanning(AT - 9 * DAY, AT + 9 * DAY, 600), AT), width)
    assert (strip.left, strip.words_left, strip.words) == pytest.approx((300 - 600 / 18, 305.0, 161.0))


def test_a_zoom_keeps_the_moment_under_the_pointer_and_stops_at_its_bounds() -> None:
    seen = spanning(AT - DAY, AT + DAY, 800)
    nearer = seen.zoomed(1.7, 300)
    assert nearer.moment(300) == pytest.approx(seen.moment(300))
    assert seen.zoomed(1e9, 10).per_px == NEAREST
    assert seen.zoomed(1e-9, 10).per_px * 800 == pytest.approx(FARTHEST)


def test_a_view_goes_no_further_than_its_middle_may() -> None:
    seen = spanning(AT - DAY, AT + DAY, 800)
    assert seen.kept(AT - 5 * DAY, AT) == seen
    away = seen.moved(1e6).kept(AT - 5 * DAY, AT)
    assert (away.start + away.end) / 2 == pytest.approx(AT)


def test_only_the_wanted_sorts_are_left() -> None:
    of = lane(1, (an_item(AT - 5, 1), an_item(AT - 4, 2, Sort.PHOTO)), (an_item(AT, 3, Sort.CARE),),
              (Band(AT - 9, AT, Look.STAY),), (AT,))
    only = of.only(frozenset({Sort.PHOTO}))
    assert [one.entry for one in only.past.items] == [2]
    assert (only.ahead.items, only.bands, only.pottings) == ((), (), ())
    assert of.only(frozenset(Sort)) is of
