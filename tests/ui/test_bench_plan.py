"""The evening plan as values and as words: what stands on the chart, how lanes keep apart, what a grower hears."""

from __future__ import annotations

from dataclasses import replace
from datetime import timedelta
from itertools import combinations, pairwise
from zoneinfo import ZoneInfo

import pytest
from hypothesis import given
from hypothesis import strategies as st
from PySide6.QtCore import QRectF, Qt
from PySide6.QtGui import QPainter
from PySide6.QtTest import QTest
from pytestqt.qtbot import QtBot

from greenhouse_desk.domain.bench import Job, plan
from greenhouse_desk.domain.journal import Part
from greenhouse_desk.domain.protocols import Deed, Protocol, ProtocolStep, Work
from greenhouse_desk.ui import drawing, style
from greenhouse_desk.ui.bench.before import moved
from greenhouse_desk.ui.bench.evening import Evening, Lane, Place, SoakBar, evening
from greenhouse_desk.ui.bench.plan_chart import PlanChart
from greenhouse_desk.ui.bench.plan_paint import PlanPainter
from greenhouse_desk.ui.bench.plan_space import height, lane_height, tops
from greenhouse_desk.ui.bench.plan_words import GAP, beside, spread
from greenhouse_desk.ui.style import sans
from tests.builders import NOW
from tests.ui.bench_builders import STEPS

ZONE = ZoneInfo("Europe/London")
TRIM = Protocol("trim", "Trim", "A test", tuple(replace(step, minutes=4) for step in STEPS))


def shown(*plants: int) -> Evening:
    planned = plan([Job(plant, TRIM.steps, n) for n, plant in enumerate(plants)])
    return evening(planned, dict.fromkeys(plants, TRIM),
                   [Place(plant, "Laelia anceps", "clear", "nothing found") for plant in plants], NOW,
                   NOW + timedelta(minutes=40), "dusk")


def test_every_plant_has_its_soak_from_least_to_most() -> None:
    for lane in shown(104, 121).lanes:
        soak = lane.soaks[0]
        assert soak.least - soak.start == 10
        assert soak.most - soak.start == 12
        assert soak.least <= soak.ends <= soak.most
        assert soak.words == "roots in peroxide, 10 to 12 min"


def test_hands_are_on_one_plant_at_a_time_and_name_what_they_do() -> None:
    bars = shown(104, 121).hands
    assert all(one.end <= two.start + 1e-9 for one, two in pairwise(bars))
    assert bars[0].plant == 104
    assert bars[0].deeds == ("unpot", "count roots", "treat the roots")


def test_the_axis_reaches_dusk_where_it_comes_soon() -> None:
    of = shown(104)
    assert of.minutes > 40
    assert replace(of, limit=NOW + timedelta(hours=9)).minutes < 60


def test_soaks_beside_each_other_stand_in_rows_of_their_own() -> None:
    lane = Lane(104, "Laelia", "clear", "", (SoakBar(0, 10, 12, 10, "a"), SoakBar(4, 14, 60, 20, "b"),
                                            SoakBar(200, 210, 220, 210, "c")))
    assert lane.rows == (0, 1, 0)
    three = replace(lane, soaks=(*lane.soaks[:2], SoakBar(8, 18, 40, 18, "d")))
    assert three.rows == (0, 1, 2)
    assert lane_height(three) > lane_height(replace(lane, soaks=lane.soaks[:1]))


def test_a_soak_of_tools_stands_with_the_tools_and_on_no_plant() -> None:
    """Whoever's protocol asks for it, it is no plant's soak."""
    tools = ProtocolStep("tools", "Stand two clean tools in alcohol", "Stand them in it.", Deed.SOAK_TOOLS, Work.SOAK,
                         on=(Part.TOOLS,), agent="ethanol", strength=70.0, least_min=3.0, most_min=120.0, minutes=1)
    of = Protocol("trim", "Trim", "A test", (tools, *TRIM.steps))
    planned = plan([Job(104, of.steps)])
    made = evening(planned, {104: of}, [Place(104, "Laelia", "clear", "")], NOW, None, "")
    assert [soak.words for soak in made.lanes[0].soaks] == ["roots in peroxide, 10 to 12 min"]
    assert any(bar.soaking for name, bars in made.tools if name == "cutters" for bar in bars)


BAR = st.tuples(st.floats(206, 900), st.floats(2, 400))


@given(BAR, st.floats(20, 300), st.lists(st.floats(206, 1300), max_size=2))
def test_words_beside_a_bar_cross_no_line_and_stay_on_the_chart(bar: tuple[float, float], wide: float,
                                                                walls: list[float]) -> None:
    start, end = bar[0], bar[0] + bar[1]
    spot = beside(start, end, wide, walls, (210, 1300))
    first, last = spot.left, spot.left + spot.width
    assert spot.width <= wide
    if spot.width > 0:
        assert first >= 209.9
        assert last <= 1300.1
        assert last <= start - GAP + 0.1 or first >= end + GAP - 0.1
        assert not any(first < wall < last for wall in walls)


@given(st.lists(st.tuples(st.floats(0, 900), st.floats(10, 60)), max_size=12))
def test_numbers_below_short_work_stand_clear_of_each_other(work: list[tuple[float, float]]) -> None:
    work = sorted(work)
    fits = spread([middle for middle, _ in work], [wide for _, wide in work])
    kept = [one for one, on in zip(work, fits, strict=True) if on]
    assert bool(kept) is bool(work)
    for (one, wide), (two, other) in pairwise(kept):
        assert one + wide / 2 <= two - other / 2 + 1e-6


def test_what_is_cut_keeps_what_differs(qapp: object) -> None:
    """Two names with one beginning are cut in the middle, so that they still read differently."""
    font = sans(13)
    cuts = {drawing.cut(f"Lamp rack in the back room, {end}", font, 110) for end in ("upper", "lower")}
    assert len(cuts) == 2
    assert drawing.cut("Long bench", font, 110) == "Long bench"


def test_a_sentence_is_cut_at_its_end_and_words_beside_a_bar_are_whole(qapp: object) -> None:
    font, why = sans(13), "Boisduval scale seen on 23 Mar 2026; 3 clean looks in the last 45 days after it"
    assert drawing.shortened(why, font, 200).startswith("Boisduval scale seen on 23")
    assert drawing.shortened(why, font, 200).endswith("…")
    assert drawing.wrapped(why, font, 120, 2)[-1].endswith("…")
    assert SoakBar(0, 10, 12, 10, "roots in hydrogen peroxide, 10 to 12 min").ways == (
        "roots in hydrogen peroxide, 10 to 12 min", "roots in hydrogen peroxide", "roots")


@pytest.mark.parametrize("apart", [-90, -20, -5, 0, 1, 5, 20, 90])
@pytest.mark.parametrize("width", [420.0, 880.0])
def test_the_flags_of_dusk_and_end_never_lie_on_each_other(qapp: object, apart: int, width: float) -> None:
    of = shown(104, 121)
    of = replace(of, limit=of.ends_at + timedelta(minutes=apart), limit_name="assumed dusk")
    painter = PlanPainter(QPainter(), style.palette(False), ZONE, of, width, (width - 220) / of.minutes, QRectF())
    rects = [flag[0] for flag in painter._flags()]
    assert not any(one.intersects(two) for one, two in combinations(rects, 2))
    assert all(rect.right() <= width for rect in rects)


def test_lanes_lie_under_each_other() -> None:
    of = shown(104, 121, 126)
    edges = tops(of)
    assert all(two > one for one, two in pairwise(edges))
    assert height(of) > edges[-1]


def test_the_chart_says_all_it_shows_and_picks_by_keys(qtbot: QtBot) -> None:
    chart = PlanChart(style.palette(False), ZONE)
    qtbot.addWidget(chart)
    chart.show_evening(shown(104, 121))
    said = chart.accessibleDescription()
    assert "From 15:30 to " in said
    assert "dusk 16:10." in said
    assert "104 clear, roots in peroxide, 10 to 12 min: least at 15:52, most at 15:54." in said
    assert chart.plant == 104
    QTest.keyClick(chart, Qt.Key.Key_Down)
    assert chart.plant == 121
    heard: list[tuple[int, int]] = []
    chart.moved.connect(lambda plant, way: heard.append((plant, way)))
    QTest.keyClick(chart, Qt.Key.Key_Up, Qt.KeyboardModifier.AltModifier)
    assert heard == [(121, -1)]


def test_the_chart_paints_at_any_width_in_both_looks(qtbot: QtBot) -> None:
    for dark in (False, True):
        chart = PlanChart(style.palette(dark), ZONE)
        qtbot.addWidget(chart)
        chart.show_evening(shown(104, 121, 126))
        for width in (320, 880, 2400):
            chart.resize(width, chart.sizeHint().height())
            assert not chart.grab().isNull()


@pytest.mark.parametrize(("plant", "way", "order"), [
    (101, -1, (101, 102, 103)), (102, -1, (102, 101, 103)), (102, 1, (101, 103, 102)), (103, 1, (101, 102, 103))])
def test_a_plant_moves_one_place_and_stops_at_the_ends(plant: int, way: int, order: tuple[int, ...]) -> None:
    assert moved((101, 102, 103), plant, way) == order
