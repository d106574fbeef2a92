"""Charts drawn by matplotlib in the window's look: told apart by line and word, never by colour alone.

Loaded only when a chart is first shown: matplotlib is slow to come.
"""

from __future__ import annotations

from collections.abc import Callable, Sequence
from datetime import date
from functools import cache
from importlib import resources
from io import BytesIO
from itertools import cycle
from pathlib import Path
from typing import Any

import matplotlib
from matplotlib import dates as axis_dates
from matplotlib import font_manager
from matplotlib.axes import Axes
from matplotlib.backends.backend_agg import FigureCanvasAgg
from matplotlib.figure import Figure
from matplotlib.lines import Line2D
from matplotlib.ticker import MaxNLocator
from PySide6.QtGui import QImage

from greenhouse_desk.domain.care_day import month_name
from greenhouse_desk.domain.findings import (
    Amounts,
    Chart,
    Curves,
    Finding,
    Months,
    Seasons,
    Settled,
    Shares,
    Track,
    Tracks,
)
from greenhouse_desk.ui import fonts
from greenhouse_desk.ui.findings import chart_rows, line_ends
from greenhouse_desk.ui.findings.line_ends import POINT, End
from greenhouse_desk.ui.style import Palette

SMALL, BODY = 13 * POINT, 14 * POINT
LINES: tuple[tuple[Any, str], ...] = (("-", "o"), ((0, (6, 2)), "s"), ((0, (1, 1.4)), "^"), ((0, (6, 2, 1, 2)), "D"),
                                      ((0, (3, 1)), "v"), ((0, (10, 3)), "P"))
AT_RISK, ROW = -46.0, 12.0  # points under the axis to the first row of numbers at risk, and between rows
LONGEST = 24
UNDER, BETWEEN = 56.0, 12.0  # pixels under the last panel for its axis, and between panels
FOOT = 0.07  # of a panel's height, where marks without a line stand
BESIDE_FROM = 640  # pixels of width from which the words of bars stand beside them
LEGEND_ROOM = 0.16  # of what the lines need, above them for their words, and so much again for each panel more
HATCHES = ("", "////", "....", "xxxx", "----", "oo")
INKS = ("water", "ink", "rule2", "ink2", "water", "ink")
"""No colour of the look that already means something else; lines and hatches tell the six apart."""


@cache
def _faces() -> None:
    for package, names in fonts.FACES.items():
        for name in names:
            with resources.as_file(resources.files(package) / "files" / name) as path:
                font_manager.fontManager.addfont(str(path))


def figure(finding: Finding, look: Palette, inches: tuple[float, float]) -> Figure:
    """The finding's chart on the look's sheet; an empty figure where it has none."""
    _faces()
    with matplotlib.rc_context(_style(look)):
        made = Figure(figsize=inches, dpi=96, facecolor=look.sheet.name(), layout="constrained")
        if finding.chart is not None:
            DRAWN[type(finding.chart)](made, finding.chart, look)
        return made


def picture(finding: Finding, look: Palette, width: int, height: int, ratio: float) -> QImage:
    """The chart as a picture of `width` by `height` pixels of the window on a screen of pixel ratio `ratio`."""
    made = figure(finding, look, (width / 96, height / 96))
    made.set_dpi(96 * ratio)
    canvas: Any = FigureCanvasAgg(made)
    canvas.draw()
    across, down = canvas.get_width_height()
    image = QImage(bytes(canvas.buffer_rgba()), across, down, 4 * across, QImage.Format.Format_RGBA8888).copy()
    image.setDevicePixelRatio(ratio)
    return image


def save(finding: Finding, look: Palette, path: Path, inches: tuple[float, float] = (10, 6)) -> bytes:
    """The chart as a file's bytes, PNG or SVG by the ending of `path`."""
    out = BytesIO()
    made = figure(finding, look, inches)
    with matplotlib.rc_context(_style(look, finding.title)):
        made.suptitle(f"{finding.title}\n{finding.rests_on}", x=0.01, ha="left", fontsize=BODY, color=look.ink.name())
        made.savefig(out, format=path.suffix.removeprefix(".").lower(), dpi=200, facecolor=look.sheet.name())
    return out.getvalue()


def _style(look: Palette, salt: str = "") -> Any:
    ink, ink2, rule = look.ink.name(), look.ink2.name(), look.rule.name()
    return {"font.family": [fonts.SANS], "font.size": SMALL, "text.color": ink, "axes.facecolor": look.sheet.name(),
            "axes.edgecolor": look.rule2.name(), "axes.labelcolor": ink, "axes.labelsize": SMALL,
            "legend.facecolor": look.sheet.name(),
            "axes.spines.top": False, "axes.spines.right": False, "xtick.color": ink2, "ytick.color": ink2,
            "xtick.labelcolor": ink, "ytick.labelcolor": ink, "axes.grid": True, "axes.grid.axis": "y",
            "grid.color": rule, "grid.linewidth": 0.8, "axes.axisbelow": True, "hatch.linewidth": 0.8,
            "hatch.color": look.sheet.name(), "svg.fonttype": "path", "svg.hashsalt": salt or None,
            "axes.unicode_minus": False}


def _ink(look: Palette, nth: int) -> str:
    return look.named(INKS[nth % len(INKS)]).name()


def _curves(made: Figure, chart: Curves, look: Palette) -> None:
    axes = made.add_subplot()
    weeks = max(chart.marks[-1], *(step.day for one in chart.groups for step in one.steps)) / 7
    ends = [_curve(axes, one, nth, look, weeks, banded=len(chart.groups) <= 2)
            for nth, one in enumerate(chart.groups)]
    height = _height(made) - ROW * len(ends) / POINT
    direct = line_ends.has_room(ends, _width(made), height)
    axes.set_ylim(0, 101 if direct else 100 + 8 * len(chart.groups))
    axes.set_yticks(range(0, 101, 20))
    axes.set_xlim(0, weeks if direct else weeks * 1.02)
    axes.set_ylabel("settled, % of plants")
    axes.set_xticks([mark / 7 for mark in chart.marks if mark / 7 <= weeks])
    axes.set_xlabel("weeks since the move; beneath: plants still unsettled and watched")
    for nth, one in enumerate(chart.groups):
        _at_risk(axes, one, chart, AT_RISK - ROW * nth, weeks)
    _named(axes, ends, look, height, direct)


def _width(made: Figure) -> float:
    """The picture's width in pixels of 96 dpi."""
    return float(made.get_size_inches()[0]) * 96


def _height(made: Figure, panels: int = 1) -> float:
    """About how many pixels high a panel is, less what stands under the last."""
    return (float(made.get_size_inches()[1]) * 96 - UNDER) / panels - BETWEEN


def _named(axes: Axes, ends: Sequence[End], look: Palette, height: float, direct: bool, columns: int = 1) -> None:
    """The lines' names at their ends, or where they have no room there in a legend."""
    if direct:
        line_ends.name(axes, ends, look, height)
    else:
        line_ends.legend(axes, ends, SMALL, columns)


def _at_risk(axes: Axes, one: Settled, chart: Curves, down: float, weeks: float) -> None:
    """The group's numbers at risk, each under its week."""
    where: dict[str, Any] = {"xycoords": ("data", "axes fraction"), "textcoords": "offset points"}
    words = one.words if len(one.words) <= LONGEST else f"{one.words[:LONGEST - 1]}…"
    axes.annotate(words, (0, 0), (-14, down), ha="right", **where)
    for mark, count in zip(chart.marks, one.at_risk, strict=True):
        if mark / 7 <= weeks:
            axes.annotate(str(count), (mark / 7, 0), (0, down), ha="center", **where)


def _curve(axes: Axes, one: Settled, nth: int, look: Palette, weeks: float, banded: bool) -> End:
    days = [0.0, *(step.day / 7 for step in one.steps), min(one.last / 7, weeks)]
    shares = [0.0, *(100 * (1 - step.share) for step in one.steps)]
    ink = _ink(look, nth)
    words = f"{one.words}\nn = {one.plants}, {one.settled} settled"
    (line,) = axes.step(days, [*shares, shares[-1]], where="post", color=ink, linewidth=2.2, linestyle=LINES[nth][0],
              label=words.replace("\n", " "), clip_on=False)
    if banded:
        low = [0.0, *(100 * (1 - step.high) for step in one.steps)]
        high = [0.0, *(100 * (1 - step.low) for step in one.steps)]
        axes.fill_between(days, [*low, low[-1]], [*high, high[-1]], step="post", color=ink, alpha=0.16, linewidth=0)
    return End(words, line, LINES[nth][0], weeks, shares[-1])


def _months(made: Figure, chart: Months, look: Palette) -> None:
    axes = made.add_subplot()
    under = [0] * len(chart.months)
    for nth, (words, counts) in enumerate(chart.series):
        axes.bar(range(len(counts)), counts, bottom=under, width=0.82, color=_ink(look, nth), hatch=HATCHES[nth],
                 edgecolor=look.sheet.name(), linewidth=0.6, label=f"{words} ({sum(counts)})")
        under = [low + count for low, count in zip(under, counts, strict=True)]
    axes.set_xticks(range(len(chart.months)), [_month_words(month, nth) for nth, month in enumerate(chart.months)])
    axes.set_ylabel("plants")
    axes.set_xlim(-0.7, len(chart.months) - 0.3)
    axes.yaxis.set_major_locator(MaxNLocator(integer=True))
    _bar_words(axes, max(under), _width(made))


def _bar_words(axes: Axes, most: int, width: float) -> None:
    """Words for the parts of the bars in the order they are stacked, the uppermost first; beside the bars, or above
    them in a narrow picture."""
    beside = width >= BESIDE_FROM
    axes.set_ylim(0, most + 0.5 if beside else 1.5 * most + 1)
    handles, words = axes.get_legend_handles_labels()
    axes.legend(handles[::-1], words[::-1], fontsize=SMALL, handlelength=3, framealpha=1, edgecolor="none",
                borderaxespad=0.2, loc="upper left", **({"bbox_to_anchor": (1.01, 1.0)} if beside else {"ncols": 2}))


def _month_words(month: date, nth: int) -> str:
    year = f"\n{month.year}" if nth == 0 or month.month == 1 else ""
    return month_name(month)[0] + year


def _tracks(made: Figure, chart: Tracks, look: Palette) -> None:
    units = list(dict.fromkeys(line.unit for line in chart.lines))
    panels: list[Axes] = list(made.subplots(len(units), 1, sharex=True, squeeze=False)[:, 0])
    height = _height(made, len(units))
    for panel, unit in zip(panels, units, strict=True):
        _panel(panel, [line for line in chart.lines if line.unit == unit and line.points], unit, look, _width(made),
               height)
    known: Any = axis_dates
    finder = known.AutoDateLocator(minticks=3, maxticks=8)
    panels[-1].xaxis.set_major_locator(finder)
    panels[-1].xaxis.set_major_formatter(known.ConciseDateFormatter(finder))


def _panel(panel: Axes, lines: Sequence[Track], unit: str, look: Palette, width: float, height: float) -> None:
    """The lines of one unit, with their names."""
    panel.margins(x=0.01)
    ends = []
    known = [line for line in lines if any(value == value for _, value in line.points)]  # none where air is too dry
    for line, (nth, (style, mark)) in zip(known, cycle(enumerate(LINES)), strict=False):
        drawn = _track(panel, line, style, mark, _ink(look, nth))
        at, value = next(point for point in reversed(line.points) if point[1] == point[1])
        dash, height_at = ("none", FOOT) if line.apart else (style, value)
        ends.append(End(line.words, drawn, dash, at, height_at, line.apart))
    panel.set_ylabel(unit)
    low, high = panel.get_ylim()
    direct = line_ends.has_room(ends, width, height)
    above = 0.05 if direct else LEGEND_ROOM * len(panel.figure.axes)
    foot = 0.2 if any(end.foot for end in ends) or not direct else 0.05
    panel.set_ylim(low - foot * (high - low), high + above * (high - low))
    if unit == "roots":
        panel.set_ylim(bottom=0)
        panel.yaxis.set_major_locator(MaxNLocator(integer=True))
    _named(panel, ends, look, height, direct, 4)


def _track(panel: Axes, line: Track, style: Any, mark: str, ink: str) -> Line2D:
    when: Any = [at for at, _ in line.points]
    if line.apart:  # along the foot, where no line runs
        (made,) = panel.plot(when, [FOOT] * len(when), linestyle="none", marker="v", markersize=7, color=ink,
                             label=line.words, transform=panel.get_xaxis_transform())
        return made
    few = len(line.points) <= 40
    (made,) = panel.plot(when, [value for _, value in line.points], linestyle=style, marker=mark if few else None,
                         markersize=5, color=ink, linewidth=1.8, label=line.words)
    return made


DRAWN: dict[type[Chart], Callable[[Figure, Any, Palette], None]] = {
    Curves: _curves, Months: _months, Shares: chart_rows.shares, Amounts: chart_rows.amounts, Tracks: _tracks,
    Seasons: chart_rows.seasons}
