"""The timeline's layout: no two texts touch at any zoom, and every entry is told exactly once."""

from __future__ import annotations

import random
from itertools import pairwise
from zoneinfo import ZoneInfo

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from greenhouse_desk.domain.timeline import CLEAR, GAP, laid_out
from greenhouse_desk.domain.timeline_ticks import ticks
from greenhouse_desk.domain.timeline_values import DAY, FARTHEST, NEAREST, Box, Item, Lane, Sort, View, spanning
from tests.builders import NOW

AT = NOW.timestamp()
WORDS = ("pour", "photo", "potted in clay pellets", "clean look", "to North sill", "Phalaenopsis 'ร้อยมาลัย'")
ZONES = ("Europe/London", "America/St_Johns", "Pacific/Apia", "Asia/Kathmandu")


def width(words: str, bold: bool = False) -> float:
    return len(words) * (7.5 if bold else 7.0)


def tick_width(words: str) -> float:
    return width(words, True)


def item(at: float, nth: int, sort: Sort = Sort.NOTE, photo: str = "") -> Item:
    return Item(at, "note", WORDS[nth % len(WORDS)], sort, nth, photo=photo)


def lane(dice: random.Random, most: int) -> Lane:
    """A random journal: a rhythm of its own, evenings in which much happens, and care for the time to come."""
    reach = 10 ** dice.uniform(3, 8.6)
    past = [AT - dice.uniform(0, reach) for _ in range(dice.randint(0, most))]
    for evening in [AT - dice.uniform(0, reach) for _ in range(dice.randint(0, 4))]:
        past += [evening + dice.uniform(0, 7000) for _ in range(dice.randint(1, 60))]
    ahead = [AT + dice.choice((0.0, dice.uniform(0, 200 * DAY))) for _ in range(dice.randint(0, 25))]
    return Lane(101, tuple(item(at, nth, photo=dice.choice(("", "sha"))) for nth, at in enumerate(sorted(past))),
                tuple(item(at, nth, Sort.CARE) for nth, at in enumerate(sorted(ahead))))


def view(dice: random.Random) -> View:
    span = 10 ** dice.uniform(3.86, 8.5)
    start = AT - span * dice.uniform(-0.3, 1.3)
    return spanning(start, start + span, dice.uniform(200, 2600))


def told(boxes: list[Box]) -> list[int]:
    return [place for box in boxes for place in range(box.first, box.first + box.count)]


def faults(of: Lane, seen: View, photo: float) -> list[str]:
    """What is wrong with this lane's layout."""
    boxes = laid_out(of, seen, AT, width, photo).boxes
    found = []
    for one, other in pairwise(boxes):
        end = one.right + (GAP + one.words if one.words else 0)
        if end > other.left + 0.01:
            found.append(f"{one} touches {other}")
    line = seen.x(AT)
    for box in boxes:
        end = box.right + (GAP + box.words if box.words else 0)
        if (box.left < line + CLEAR - 0.01) if box.ahead else (end > line - CLEAR + 0.01):
            found.append(f"{box} crosses the now-line at {line}")
    for ahead, row in ((False, of.past), (True, of.ahead)):
        places = sorted(told([box for box in boxes if box.ahead is ahead]))
        if len(places) != len(set(places)):
            found.append("an entry is told twice")
        missing = [nth for nth, one in enumerate(row) if seen.start < one.at < seen.end and nth not in places]
        found += [f"entry {nth} is not told" for nth in missing if 20 < seen.x(row[nth].at) < seen.width - 20]
    return found


@settings(max_examples=200)
@given(st.randoms(use_true_random=False))
def test_nothing_touches_and_every_entry_is_told_once(dice: random.Random) -> None:
    of, seen = lane(dice, 300), view(dice)
    assert faults(of, seen, dice.choice((0.0, 34.0, 88.0))) == []


@pytest.mark.long
def test_nothing_touches_in_ten_thousand_histories() -> None:
    for nth in range(10_000):
        dice = random.Random(f"history {nth}")
        assert faults(lane(dice, 300), view(dice), dice.choice((0.0, 34.0, 88.0))) == [], nth


@given(st.randoms(use_true_random=False))
def test_everything_in_view_is_counted_when_all_is_in_view(dice: random.Random) -> None:
    of = lane(dice, 300)
    seen = spanning(AT - FARTHEST / 2, AT + FARTHEST / 2, 900)
    boxes = laid_out(of, seen, AT, width).boxes
    assert sum(box.count for box in boxes if not box.ahead) == len(of.past)
    assert sum(box.count for box in boxes if box.ahead) == len(of.ahead)


def groups(of: Lane, seen: View) -> set[tuple[int, int]]:
    return {(box.first, box.count) for box in laid_out(of, seen, AT, width).boxes
            if not box.ahead and box.left > 90 and box.right < seen.width - 90}


def test_groups_stay_as_they_are_while_the_view_moves() -> None:
    of = Lane(1, tuple(item(AT - 3 * DAY * nth, nth) for nth in range(60, 0, -1)))
    still = spanning(AT - 170 * DAY, AT - 10 * DAY, 700)
    moved = still.moved(13)
    inner = {group for group in groups(of, still) if still.x(of.past[group[0]].at) > 120}
    assert len(inner) > 10
    assert inner <= groups(of, moved)


def test_a_group_says_its_count_and_unfolds_when_nearer() -> None:
    of = Lane(1, tuple(item(AT - DAY - 600 * nth, nth) for nth in range(14, 0, -1)))
    far = laid_out(of, spanning(AT - 60 * DAY, AT + 30 * DAY, 900), AT, width).boxes
    assert [(box.count, box.told) for box in far] == [(14, "14 notes")]
    near = laid_out(of, spanning(far[0].start, far[0].end + 600, 900), AT, width).boxes
    assert [box.count for box in near] == [1] * 14
    assert near[-1].words > 0


def test_what_is_late_stands_right_of_the_now_line() -> None:
    of = Lane(1, (item(AT - 1, 1),), (item(AT, 2, Sort.CARE),))
    past, owed = laid_out(of, spanning(AT - 9 * DAY, AT + 9 * DAY, 600), AT, width).boxes
    assert (past.right, owed.left) == (295.0, 305.0)


@given(st.randoms(use_true_random=False), st.sampled_from(ZONES))
def test_the_words_of_the_axis_never_touch(dice: random.Random, zone: str) -> None:
    seen = view(dice)
    found = ticks(seen, ZoneInfo(zone), tick_width)
    named = [tick for tick in found if tick.words]
    assert all(tick.x + 4 + tick_width(tick.words) <= after.x for tick, after in pairwise(named)), seen
    assert len(named) >= (1 if seen.width > 400 else 0)
    assert all(tick.x < after.x for tick, after in pairwise(found))


@pytest.mark.parametrize(("days", "words"), [
    (10 * 365, ["2025", "2026", "2027"]), (400, ["Oct", "2027"]), (28, ["18", "23 Nov"]), (0.25, ["15:30", "16:00"])])
def test_the_axis_names_what_the_zoom_is_about(days: float, words: list[str]) -> None:
    seen = spanning(AT - days * DAY / 2, AT + days * DAY / 2, 1100)
    told_words = [tick.words for tick in ticks(seen, ZoneInfo("Europe/London"), tick_width)]
    assert [one for one in words if one not in told_words] == []


def test_a_zoom_keeps_the_moment_under_the_pointer_and_stops_at_its_bounds() -> None:
    seen = spanning(AT - DAY, AT + DAY, 800)
    nearer = seen.zoomed(1.7, 300)
    assert nearer.moment(300) == pytest.approx(seen.moment(300))
    assert seen.zoomed(1e9, 10).per_px * 800 == pytest.approx(NEAREST)
    assert seen.zoomed(1e-9, 10).per_px * 800 == pytest.approx(FARTHEST)


def test_only_the_wanted_sorts_are_left() -> None:
    of = Lane(1, (item(AT - 5, 1), item(AT - 4, 2, Sort.PHOTO)), (item(AT, 3, Sort.CARE),))
    assert [one.entry for one in of.only(frozenset({Sort.PHOTO})).past] == [2]
    assert of.only(frozenset({Sort.PHOTO})).ahead == ()
    assert of.only(frozenset(Sort)) is of
