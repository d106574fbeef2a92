"""Running text on paper: nothing lost by breaking, nothing wider than its room, cuts marked."""

from __future__ import annotations

import pytest
from hypothesis import given
from hypothesis import strategies as st

from greenhouse_desk.domain.paper import Extent, Face
from greenhouse_desk.domain.paper_text import all_but, broken, fitted, listed, reach, shortened

FACE = Face(1.0)
TEXT = st.text(st.sampled_from("ab íש💐\u0301 W×'-"), max_size=60)


def measure(text: str, face: Face) -> Extent:
    """Every letter as wide as it is high, accents without width; ink hangs over the end a little, as italics do."""
    wide = sum(sign != "\u0301" for sign in text) * face.letter
    return Extent(0, wide + 0.3, -face.letter, 0, wide)


@given(TEXT, st.floats(2.5, 40))
def test_no_line_is_wider_than_its_room_and_no_letter_is_lost(text: str, width: float) -> None:
    rows = broken(text, FACE, width, measure)
    assert "".join(rows).replace(" ", "") == "".join(text.split())
    assert all(reach(row, FACE, measure) <= width for row in rows)


@given(TEXT, st.floats(0.5, 40), st.integers(0, 3))
def test_what_has_no_room_is_cut_and_the_cut_is_marked(text: str, width: float, lines: int) -> None:
    one = shortened(text, FACE, width, measure)
    assert not one or reach(one, FACE, measure) <= width
    assert one in ("", " ".join(text.split())) or one.endswith("…")
    rows = fitted(text, FACE, width, lines, measure)
    assert len(rows) <= max(lines, 0) or not broken(text, FACE, width, measure)


def test_words_are_cut_at_spaces_first() -> None:
    assert shortened("root check today", FACE, 13, measure) == "root check…"
    assert shortened("transition", FACE, 6, measure) == "tran…"
    assert fitted("one two three four", FACE, 8, 2, measure) == ["one two", "three…"]


@pytest.mark.parametrize(("meant", "said"), [
    ([1, 2, 3, 4, 5, 6], "all"), ([1, 3, 4, 6], "all but 2 and 5"), ([1, 2], "1 and 2"), ([1], "1"),
    ([1, 2, 3], "1, 2 and 3"), ([2, 9], "2 and 9")])
def test_plants_that_stand_together_are_named_the_short_way(meant: list[int], said: str) -> None:
    assert all_but(meant, [1, 2, 3, 4, 5, 6], 2) == said


def test_a_lone_plant_is_not_all() -> None:
    assert all_but([7], [7], 3) == "7"
    assert listed([]) == ""


def test_where_many_are_left_out_those_meant_are_named() -> None:
    assert all_but(range(1, 8), range(1, 11), 2) == "1, 2, 3, 4, 5, 6 and 7"
    assert all_but(range(1, 8), range(1, 11), 3) == "all but 8, 9 and 10"


def test_a_cut_never_parts_an_accent_from_its_letter() -> None:
    def each(text: str, face: Face) -> Extent:
        return Extent(0, len(text), -1, 0, len(text))

    assert broken("abc\u0301def", FACE, 3, each) == ["abc\u0301", "def"]
