"""Charts of rows, one beneath the other: shares with their intervals, counts, and the months of flowering."""

from __future__ import annotations

from matplotlib.figure import Figure
from matplotlib.patches import Rectangle
from matplotlib.ticker import MaxNLocator

from greenhouse_desk.domain.care_day import MONTHS
from greenhouse_desk.domain.findings import Amounts, Seasons, Shares
from greenhouse_desk.ui.findings.line_ends import POINT
from greenhouse_desk.ui.style import Palette

BODY = 14 * POINT
FEWEST_ROWS = 5
HIGHEST = 0.66  # of a row's height, where all plants of a genus flowered in a month


def shares(made: Figure, chart: Shares, look: Palette) -> None:
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


def amounts(made: Figure, chart: Amounts, look: Palette) -> None:
    axes = made.add_subplot()
    rows = list(reversed(chart.rows))
    axes.barh([words for words, _ in rows], [count for _, count in rows], color=look.rule2.name(), height=0.6)
    for at, (_, count) in enumerate(rows):
        axes.annotate(str(count), (count, at), (6, 0), textcoords="offset points", va="center", color=look.ink.name())
    axes.set_xlabel("plants")
    axes.set_ylim(min(len(rows) - FEWEST_ROWS, 0) - 0.7, len(rows) - 0.3)
    axes.xaxis.set_major_locator(MaxNLocator(integer=True))
    axes.grid(False)


def seasons(made: Figure, chart: Seasons, look: Palette) -> None:
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
