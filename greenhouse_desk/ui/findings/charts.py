"""Charts drawn by matplotlib in the window's look: told apart by line and word, never by colour alone.

Loaded only when a chart is first shown: matplotlib is slow to come.
"""

from __future__ import annotations

from collections.abc import Callable
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
from matplotlib.patches import Rectangle
from matplotlib.ticker import MaxNLocator
from PySide6.QtGui import QImage

from greenhouse_desk.domain.care_day import MONTHS
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
from greenhouse_desk.ui.style import Palette

POINT = 0.75  # points in a pixel at 96 dpi
SMALL, BODY = 13 * POINT, 14 * POINT
LINES: tuple[tuple[Any, str], ...] = (("-", "o"), ((0, (6, 2)), "s"), ((0, (1, 1.4)), "^"), ((0, (6, 2, 1, 2)), "D"),
                                      ((0, (3, 1)), "v"), ((0, (10, 3)), "P"))
AT_RISK, ROW = -46.0, 12.0  # points under the axis to the first row of numbers at risk, and between rows
LONGEST = 24
FEWEST_ROWS = 5
LEGEND_ROOM = 0.16  # of what the lines need, above them for their words, and so much again for each panel more
HIGHEST = 0.66  # of a row's height, where all plants of a genus flowered in a month
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
    for nth, one in enumerate(chart.groups):
        _curve(axes, one, nth, look, weeks, banded=len(chart.groups) <= 2)
    axes.set_ylim(0, 100 + 8 * len(chart.groups))
    axes.set_yticks(range(0, 101, 20))
    axes.set_xlim(0, weeks * 1.02)
    axes.set_ylabel("settled, % of plants")
    axes.set_xticks([mark / 7 for mark in chart.marks if mark / 7 <= weeks])
    axes.set_xlabel("weeks since the move; beneath: plants still unsettled and watched")
    for nth, one in enumerate(chart.groups):
        _at_risk(axes, one, chart, AT_RISK - ROW * nth, weeks)
    _legend(axes)


def _at_risk(axes: Axes, one: Settled, chart: Curves, down: float, weeks: float) -> None:
    """The group's numbers at risk, each under its week."""
    where: dict[str, Any] = {"xycoords": ("data", "axes fraction"), "textcoords": "offset points"}
    words = one.words if len(one.words) <= LONGEST else f"{one.words[:LONGEST - 1]}…"
    axes.annotate(words, (0, 0), (-14, down), ha="right", **where)
    for mark, count in zip(chart.marks, one.at_risk, strict=True):
        if mark / 7 <= weeks:
            axes.annotate(str(count), (mark / 7, 0), (0, down), ha="center", **where)


def _legend(axes: Axes, columns: int = 1) -> None:
    """Words for the lines, on a plate of the sheet so that no line runs through them."""
    drawn = axes.legend(loc="upper left", fontsize=SMALL, handlelength=4, ncols=columns, framealpha=1, edgecolor="none",
                        borderaxespad=0.2)
    drawn.set_zorder(5)


def _curve(axes: Axes, one: Settled, nth: int, look: Palette, weeks: float, banded: bool) -> None:
    days = [0.0, *(step.day / 7 for step in one.steps), weeks]
    shares = [0.0, *(100 * (1 - step.share) for step in one.steps)]
    ink = _ink(look, nth)
    axes.step(days, [*shares, shares[-1]], where="post", color=ink, linewidth=2.2, linestyle=LINES[nth][0],
              label=f"{one.words} (n = {one.plants}, {one.settled} settled)")
    if banded:
        low = [0.0, *(100 * (1 - step.high) for step in one.steps)]
        high = [0.0, *(100 * (1 - step.low) for step in one.steps)]
        axes.fill_between(days, [*low, low[-1]], [*high, high[-1]], step="post", color=ink, alpha=0.16, linewidth=0)


def _months(made: Figure, chart: Months, look: Palette) -> None:
    axes = made.add_subplot()
    under = [0] * len(chart.months)
    for nth, (words, counts) in enumerate(chart.series):
        axes.bar(range(len(counts)), counts, bottom=under, width=0.82, color=_ink(look, nth), hatch=HATCHES[nth],
                 edgecolor=look.sheet.name(), linewidth=0.6, label=f"{words} ({sum(counts)})")
        under = [low + count for low, count in zip(under, counts, strict=True)]
    axes.set_xticks(range(len(chart.months)), [_month_words(month, nth) for nth, month in enumerate(chart.months)])
    axes.set_ylabel("plants")
    axes.set_ylim(0, 1.35 * max(under) + 1)
    axes.yaxis.set_major_locator(MaxNLocator(integer=True))
    _legend(axes, 2)


def _month_words(month: date, nth: int) -> str:
    year = f"\n{month.year}" if nth == 0 or month.month == 1 else ""
    return f"{month:%b}"[0] + year


def _shares(made: Figure, chart: Shares, look: Palette) -> None:
    axes = made.add_subplot()
    rows = list(reversed(chart.rows))
    for at, row in enumerate(rows):
        axes.plot([100 * row.span.low, 100 * row.span.high], [at, at], color=look.rule2.name(), linewidth=6,
                  solid_capstyle="butt")
        axes.plot([100 * row.hits / row.of], [at], "o", color=look.ink.name(), markersize=8, clip_on=False,
                  zorder=3)
        axes.annotate(f"{row.hits} of {row.of}", (100 * row.span.high, at), (8, 0), textcoords="offset points",
                      va="center", color=look.ink.name())
    axes.set_yticks(range(len(rows)), [row.words for row in rows])
    axes.set_ylim(min(len(rows) - FEWEST_ROWS, 0) - 0.7, len(rows) - 0.3)
    axes.set_xlim(0, min(115, max(100 * row.span.high for row in rows) * 1.25 + 5))
    axes.set_xlabel("% of plants; dot: in the record, bar: 95 % interval")
    axes.grid(True, axis="x")
    axes.grid(False, axis="y")


def _amounts(made: Figure, chart: Amounts, look: Palette) -> None:
    axes = made.add_subplot()
    rows = list(reversed(chart.rows))
    axes.barh([words for words, _ in rows], [count for _, count in rows], color=look.rule2.name(), height=0.6)
    for at, (_, count) in enumerate(rows):
        axes.annotate(str(count), (count, at), (6, 0), textcoords="offset points", va="center", color=look.ink.name())
    axes.set_xlabel("plants")
    axes.set_ylim(min(len(rows) - FEWEST_ROWS, 0) - 0.7, len(rows) - 0.3)
    axes.xaxis.set_major_locator(MaxNLocator(integer=True))
    axes.grid(False)


def _tracks(made: Figure, chart: Tracks, look: Palette) -> None:
    units = list(dict.fromkeys(line.unit for line in chart.lines))
    panels: list[Axes] = list(made.subplots(len(units), 1, sharex=True, squeeze=False)[:, 0])
    for panel, unit in zip(panels, units, strict=True):
        kinds = cycle(enumerate(LINES))
        for line in chart.lines:
            if line.unit == unit and line.points:
                nth, (style, mark) = next(kinds)
                _track(panel, line, style, mark, _ink(look, nth))
        panel.set_ylabel(unit)
        low, high = panel.get_ylim()
        panel.set_ylim(low - 0.2 * (high - low), high + LEGEND_ROOM * len(units) * (high - low))
        if unit == "roots":
            panel.set_ylim(bottom=0)
            panel.yaxis.set_major_locator(MaxNLocator(integer=True))
        _legend(panel, 4)
    known: Any = axis_dates
    finder = known.AutoDateLocator(minticks=3, maxticks=8)
    panels[-1].xaxis.set_major_locator(finder)
    panels[-1].xaxis.set_major_formatter(known.ConciseDateFormatter(finder))


def _track(panel: Axes, line: Track, style: Any, mark: str, ink: str) -> None:
    when: Any = [at for at, _ in line.points]
    if line.apart:  # along the foot, where no line runs
        panel.plot(when, [0.07] * len(when), linestyle="none", marker="v", markersize=7, color=ink, label=line.words,
                   transform=panel.get_xaxis_transform())
        return
    few = len(line.points) <= 40
    panel.plot(when, [value for _, value in line.points], linestyle=style, marker=mark if few else None, markersize=5,
               color=ink, linewidth=1.8, label=line.words)


def _seasons(made: Figure, chart: Seasons, look: Palette) -> None:
    """A bar a month for the share of a genus's plants seen in flower, its number on it; outlined: the usual months."""
    axes = made.add_subplot()
    rows = list(reversed(chart.rows))
    for at, row in enumerate(rows):
        for first, last in _runs(row.usual):
            axes.add_patch(Rectangle((first - 1.46, at - 0.44), last - first + 0.92, 0.88, fill=False, linewidth=1.4,
                                     edgecolor=look.rule2.name(), linestyle=(0, (4, 2))))
        for month, count in enumerate(row.counts):
            if count:
                high = HIGHEST * count / row.plants
                axes.add_patch(Rectangle((month - 0.34, at - 0.4), 0.68, high, linewidth=1.2,
                                         facecolor=look.water_fill.name(), edgecolor=look.water.name()))
                axes.annotate(str(count), (month, at - 0.4 + high), (0, 3), textcoords="offset points", ha="center",
                              color=look.ink.name(), fontsize=BODY)
    axes.set_yticks(range(len(rows)), [f"{row.words}\nn = {row.plants}" for row in rows])
    axes.set_xticks(range(len(MONTHS)), MONTHS)
    axes.set_xlim(-0.6, len(MONTHS) - 0.4)
    axes.set_ylim(min(len(rows) - 3, 0) - 0.6, len(rows) - 0.4)
    axes.set_xlabel("on each bar: plants seen in flower that month; dashed: when the genus usually blooms")
    axes.tick_params(axis="y", length=0)
    axes.grid(False)


def _runs(months: tuple[int, ...]) -> list[tuple[int, int]]:
    """Months that follow each other, as first and last; what runs over New Year is two."""
    found: list[tuple[int, int]] = []
    for month in sorted(months):
        if found and month == found[-1][1] + 1:
            found[-1] = (found[-1][0], month)
        else:
            found.append((month, month))
    return found


DRAWN: dict[type[Chart], Callable[[Figure, Any, Palette], None]] = {
    Curves: _curves, Months: _months, Shares: _shares, Amounts: _amounts, Tracks: _tracks,
    Seasons: _seasons}
