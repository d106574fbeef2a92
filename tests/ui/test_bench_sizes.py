"""Bench mode in millimetres: readable at 3 m and 1.5 m by ISO 9241-3 on every screen, targets for wet hands."""

from __future__ import annotations

import pytest
from hypothesis import given
from hypothesis import strategies as st

from greenhouse_desk.ui.bench.arrange import Box, arrange
from greenhouse_desk.ui.bench.sizes import (
    BEST_ARC,
    DIGITS_AT_MM,
    LEAST_ARC,
    SANS_DIGIT,
    SERIF_CAP,
    STEP_AT_MM,
    Sizes,
    arc_minutes,
    character_height_mm,
    readable,
    sane_dpi,
)

SCREENS = {
    "base, 96 dpi": (1366, 768, 96.0), "14 inch": (1366, 768, 112.0), "11.6 inch": (1366, 768, 135.0),
    "14 inch full": (1920, 1080, 157.0), "24 inch": (1920, 1080, 92.0), "27 inch": (2560, 1440, 109.0),
    "27 inch, scaled by two": (1920, 1080, 81.5), "32 inch": (3840, 2160, 138.0), "projector": (1280, 720, 60.0),
    "base, text twice as large": (683, 384, 48.0),
}
WIDTHS = st.integers(900, 4000)
DPI = st.floats(60, 220)


@pytest.fixture(params=list(SCREENS.values()), ids=list(SCREENS))
def sizes(request: pytest.FixtureRequest) -> Sizes:
    return Sizes(*request.param)


def test_the_standards_formula_gives_its_published_angle() -> None:
    """ISO 9241-3: angle = 3438 h / D minutes of arc; 20 to 22 wanted. From the standard's text, known second hand."""
    assert arc_minutes(18.0, DIGITS_AT_MM) == pytest.approx(3438 * 18 / 3000, rel=1e-3)
    assert character_height_mm(3000, LEAST_ARC) == pytest.approx(17.45, abs=0.01)
    assert character_height_mm(3000, BEST_ARC) == pytest.approx(19.2, abs=0.01)
    assert character_height_mm(1500, LEAST_ARC) == pytest.approx(8.73, abs=0.01)


@given(st.floats(1, 1e4), st.floats(1, 60))
def test_height_and_angle_are_each_others_inverse(distance: float, arc: float) -> None:
    assert arc_minutes(character_height_mm(distance, arc), distance) == pytest.approx(arc)


def test_timer_digits_hold_at_3_m(sizes: Sizes) -> None:
    for px in (sizes.digits, sizes.digits_floor):
        high = px * SANS_DIGIT / sizes.px_per_mm
        assert high >= 18.0
        assert readable(high, DIGITS_AT_MM)


def test_step_text_holds_at_1_5_m_even_at_its_floor(sizes: Sizes) -> None:
    assert readable(sizes.step_floor * SERIF_CAP / sizes.px_per_mm, STEP_AT_MM)
    assert sizes.step * SERIF_CAP / sizes.px_per_mm >= 11.4
    assert readable(sizes.row_number * SANS_DIGIT / sizes.px_per_mm, STEP_AT_MM)


def test_the_base_screen_has_the_sizes_of_the_look() -> None:
    base = Sizes(1366, 768, 96.0)
    assert base.step * SERIF_CAP / base.px_per_mm == pytest.approx(13, abs=0.3)
    assert base.digits_mm == pytest.approx(20.4)
    assert base.key / base.px_per_mm == pytest.approx(25, abs=0.1)
    assert base.row / base.px_per_mm == pytest.approx(13, abs=0.1)
    assert (base.columns, base.rows, base.sub_lines) == (3, 2, True)


def test_letters_keep_their_millimetres_where_text_is_twice_as_large() -> None:
    """13 px is the least of letters at 96 dpi; where a pixel of the look is twice as large, half as many do."""
    once, twice = Sizes(1366, 768, 96.0), Sizes(683, 384, 48.0)
    for px in (10, 13, 15, 17, 24, 46):
        assert twice.letters(px) * 2 == pytest.approx(once.letters(px), abs=1)
        assert once.letters(px) == max(px, 13)


def test_no_letters_are_lower_than_3_mm_and_13_pixels(sizes: Sizes) -> None:
    for px in (6, 10, 13, 17):
        assert sizes.letters(px) >= min(13, 3.2 * sizes.px_per_mm)


def test_targets_fit_wet_fingers(sizes: Sizes) -> None:
    at = arrange(sizes, 6, True, 1)
    for box in (*at.keys, at.leave):
        assert box.h / sizes.px_per_mm >= 19.99
        assert box.w / sizes.px_per_mm >= 19.99


def test_fewer_cells_come_before_smaller_digits_and_sub_lines_go_next() -> None:
    small, smaller = Sizes(1366, 768, 135.0), Sizes(1024, 600, 135.0)
    assert small.cells < 6
    assert small.digits_mm == smaller.digits_mm == pytest.approx(18.0)
    assert not smaller.sub_lines


@pytest.mark.parametrize("nonsense", [0.0, -5.0, float("nan"), float("inf"), 20.0, 5000.0])
def test_a_screen_that_tells_nonsense_counts_as_96_dpi(nonsense: float) -> None:
    assert sane_dpi(nonsense) == 96.0
    assert sane_dpi(112.0) == 112.0


def _overlap(one: Box, two: Box) -> bool:
    return (one.x < two.right - 0.01 and two.x < one.right - 0.01
            and one.y < two.bottom - 0.01 and two.y < one.bottom - 0.01)


@given(WIDTHS, st.floats(0.52, 0.75), DPI, st.integers(0, 6), st.booleans(), st.integers(0, 2))
def test_nothing_lies_on_anything_else(width: int, shape: float, dpi: float, cells: int, tool: bool,
                                       notices: int) -> None:
    sizes = Sizes(width, width * shape, dpi)
    if sizes.height_mm < 150 or sizes.width_mm < 210:
        return
    at = arrange(sizes, cells, tool, notices)
    boxes = [at.head, *at.cells, at.notices, *at.keys, at.leave, *([at.tool] if tool else []), at.queue]
    boxes += [at.detail] if at.detail is not None else []
    for n, one in enumerate(boxes):
        assert one.x >= -0.01
        assert one.right <= sizes.width + 0.01
        assert one.bottom <= sizes.height + 0.01
        for two in boxes[n + 1:]:
            assert not _overlap(one, two), (one, two)


@given(WIDTHS, st.floats(0.52, 0.75), DPI, st.integers(1, 6), st.booleans())
def test_countdowns_stand_still_whatever_is_said_below_them(width: int, shape: float, dpi: float, cells: int,
                                                            tool: bool) -> None:
    sizes = Sizes(width, width * shape, dpi)
    at = [[box.whole for box in arrange(sizes, cells, tool, notices).cells] for notices in (0, 1, 2)]
    assert at[0] == at[1] == at[2]
    fewer = [box.whole for box in arrange(sizes, cells - 1, not tool, 1).cells]
    assert fewer == at[0][:len(fewer)], "nor where one ends or begins"
