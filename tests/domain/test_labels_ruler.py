"""What is read off the ruler page puts the printer right: every error of scale and place comes back as none."""

from __future__ import annotations

import pytest
from hypothesis import given
from hypothesis import strategies as st

from greenhouse_desk.domain.faults import Refused
from greenhouse_desk.domain.labels_ruler import correction, ruler_page
from greenhouse_desk.domain.paper import Line, Words
from tests.domain.label_builders import square_face


@given(st.floats(0.93, 1.07), st.floats(0.93, 1.07), st.floats(-8, 8), st.floats(-8, 8))
def test_a_printer_that_stretches_and_shifts_is_put_right(wide: float, high: float, right: float, low: float) -> None:
    """A printer that puts x at wide * x + right; the rulers are measured on its paper, then x goes where it should."""
    put = correction(100 * wide, 100 * high, 20 * wide + right, 20 * high + low)
    for x in (0.0, 20.0, 197.3):
        assert wide * (x * put.across + put.shift_x) + right == pytest.approx(x, abs=1e-9)
        assert high * (x * put.down + put.shift_y) + low == pytest.approx(x, abs=1e-9)


@pytest.mark.parametrize("found", [(100, 85, 20, 20), (100, 112, 20, 20), (100, 100, 40, 20),
                                   (89, 100, 20, 20), (100, 100, 20, 1)])
def test_figures_that_no_printer_is_wrong_by_are_refused(found: tuple[float, float, float, float]) -> None:
    with pytest.raises(Refused):
        correction(*found)


def test_the_rulers_are_a_hundred_millimetres() -> None:
    page = ruler_page(210, 297, square_face)
    long = [item for item in page.items if isinstance(item, Line) and max(item.x2 - item.x1, item.y2 - item.y1) > 50]
    assert [(line.x1, line.y1, line.x2, line.y2) for line in long] == [(20, 20, 120, 20), (20, 20, 20, 120)]
    assert len([item for item in ruler_page(148, 210, square_face).items if isinstance(item, Words)]) >= 2
