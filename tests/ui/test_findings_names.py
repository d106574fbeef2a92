"""Names of lines stand at their ends, in the order of the lines, and never over each other; in a small picture a legend
has the same order."""

from __future__ import annotations

from dataclasses import replace
from datetime import UTC, datetime, timedelta
from itertools import pairwise
from typing import Any

import pytest
from hypothesis import given
from hypothesis import strategies as st
from matplotlib.backends.backend_agg import FigureCanvasAgg
from matplotlib.figure import Figure
from matplotlib.offsetbox import AnnotationBbox
from matplotlib.transforms import Bbox

from greenhouse_desk.domain.findings import Chart, Curves, Finding, Months, Settled, Table, Track, Tracks
from greenhouse_desk.domain.transitions import settling_curve
from greenhouse_desk.ui import style
from greenhouse_desk.ui.findings import charts
from greenhouse_desk.ui.findings.line_ends import spread

AT = datetime(2026, 11, 1, tzinfo=UTC)
WORDS = ("Phalaenopsis", "Paphiopedilum", "Vanda", "Cattleya", "Dendrobium", "Masdevallia")


def drawn(chart: Chart, width: int = 1130, height: int = 500) -> Figure:
    """The chart as it stands in the window, laid out."""
    made = charts.figure(Finding("A", "b", "c", chart, Table((), ())), style.palette(False), (width / 96, height / 96))
    canvas: Any = FigureCanvasAgg(made)
    canvas.draw()
    return made


def curves(count: int) -> Curves:
    """Groups that all end close together."""
    groups = []
    for nth in range(count):
        days = [40 + 3 * nth, 60 + nth, 80, 90, 95 + nth]
        groups.append(Settled(WORDS[nth], tuple(settling_curve(days, [True] * (3 + nth % 2) + [False] * (2 - nth % 2))),
                              5, 3, (5, 5, 3, 1), max(days)))
    return Curves(tuple(groups), (0, 28, 56, 84))


def tracks(count: int) -> Tracks:
    """Lines of two units that end within a hair of each other."""
    lines = [Track(f"line {nth}", "C", tuple((AT + timedelta(days=day), 20 + nth / 50 + day) for day in range(9)))
             for nth in range(count)]
    marks = Track("night too wet", "% RH", ((AT + timedelta(days=3), 95.0),), apart=True)
    return Tracks((*lines, Track("humidity", "% RH", tuple((AT + timedelta(days=day), 60.0 + day)
                                                           for day in range(9))), marks))


def names(made: Figure, at: int = 0) -> dict[str, Bbox]:
    """What is written at the ends of lines of a panel, from the top down, and where."""
    found = [one for one in made.axes[at].artists if isinstance(one, AnnotationBbox)]
    parts: Any = [one.offsetbox for one in found]
    told = [(part.get_children()[1].get_text(), one.get_window_extent())
            for part, one in zip(parts, found, strict=True)]
    return dict(sorted(told, key=lambda one: -one[1].y0))


@given(st.lists(st.tuples(st.floats(0, 400), st.floats(10, 40)), max_size=9))
def test_names_are_pushed_apart_and_stay_between_head_and_foot(wanted: list[tuple[float, float]]) -> None:
    placed = sorted(zip(spread(wanted, 400), (size for _, size in wanted), strict=True))
    assert all(one + size / 2 <= other - after / 2 + 0.001 for (one, size), (other, after) in pairwise(placed))
    assert all(size / 2 - 0.001 <= middle <= 400 - size / 2 + 0.001 for middle, size in placed)


def test_names_that_do_not_touch_stay_beside_their_lines() -> None:
    assert spread([(300, 17), (100, 17)], 400) == (300, 100)


@pytest.mark.parametrize("chart", [curves(6), curves(1), tracks(4)])
def test_names_stand_at_the_ends_and_touch_neither_each_other_nor_the_edge(chart: Chart) -> None:
    made = drawn(chart)
    for at in range(len(made.axes)):
        written = names(made, at)
        boxes = list(written.values())
        assert boxes
        assert made.axes[at].get_legend() is None
        assert all(upper.y0 >= lower.y1 - 1 for upper, lower in pairwise(boxes))
        assert all(box.x1 <= made.bbox.x1 for box in boxes)
        assert all(box.x0 >= made.axes[at].bbox.x1 - 12 for box, text in zip(boxes, written, strict=True)
                   if text != "night too wet")
        assert all(box.y0 >= made.axes[at].bbox.y0 - 9 and box.y1 <= made.axes[at].bbox.y1 + 9 for box in boxes)


def test_each_name_has_the_dashes_and_the_ink_of_its_line() -> None:
    axes: Any = drawn(curves(6)).axes[0]
    samples = [one.offsetbox.get_children()[0].get_children()[0] for one in axes.artists]
    told = [(one.get_color(), one._unscaled_dash_pattern) for one in axes.lines]
    assert [(one.get_color(), one._unscaled_dash_pattern) for one in samples] == told
    assert len({str(one) for one in told}) == 6


def test_names_have_the_order_of_the_lines() -> None:
    assert list(names(drawn(tracks(4)))) == ["line 3", "line 2", "line 1", "line 0"]


@pytest.mark.parametrize(("width", "height"), [(420, 500), (1130, 200)])
def test_without_room_a_legend_has_the_order_of_the_lines(width: int, height: int) -> None:
    made = drawn(curves(6), width, height)
    told = made.axes[0].get_legend()
    assert told is not None
    assert names(made) == {}
    lines: Any = made.axes[0].lines
    ends: dict[str, float] = {line.get_label(): line.get_ydata()[-1] for line in lines}
    shown = [ends[text.get_text()] for text in told.get_texts()]
    assert shown == sorted(shown, reverse=True)


@pytest.mark.parametrize("width", [1130, 420])
def test_words_of_bars_have_the_order_of_the_stack(width: int) -> None:
    months = tuple(AT.date().replace(month=month) for month in range(1, 13))
    made = drawn(Months(months, (("mealybug", (1,) * 12), ("thrips", (2,) * 12))), width)
    told = made.axes[0].get_legend()
    assert told is not None
    assert [text.get_text() for text in told.get_texts()] == ["thrips (24)", "mealybug (12)"]
    bars, box = made.axes[0].patches, told.get_window_extent()
    assert not any(box.overlaps(bar.get_window_extent()) for bar in bars)


def test_a_curve_ends_on_the_last_day_its_plants_were_watched() -> None:
    """Another group goes on for longer: flat to the edge would say that nothing more settled, and nobody looked."""
    known = curves(2)
    short, long = known.groups[0], replace(known.groups[1], last=130.0, steps=tuple(
        step._replace(day=step.day + 40) for step in known.groups[1].steps))
    made = drawn(Curves((short, long), known.marks), 900, 500)
    axes: Any = made.axes[0]
    ends = [float(line.get_xdata()[-1]) for line in axes.get_lines()]
    assert ends == [pytest.approx(short.last / 7), pytest.approx(130 / 7)]
    bands = [max(path.vertices[:, 0].max() for path in one.get_paths()) for one in axes.collections]
    assert bands == [pytest.approx(end) for end in ends]


def test_a_line_of_which_nothing_is_known_is_left_out() -> None:
    """The dew point, where a logger told no moisture at all: its readings are there, their dew points are not."""
    days = [AT + timedelta(days=day) for day in range(3)]
    known, dry = Track("mean", "C", tuple((at, 20.0) for at in days)), tuple((at, float("nan")) for at in days)
    assert list(names(drawn(Tracks((known, Track("dew point", "C", dry)))))) == ["mean"]
