"""The measures of the evening plan: how high its lanes are and where they begin, in pixels at 96 dpi. No painting."""

from __future__ import annotations

from greenhouse_desk.ui.bench.evening import Evening, Lane

LABELS, HEAD, HANDS, LANE, ROW, TOOLS, TOOL, LEGEND, RIGHT = 206.0, 36.0, 100.0, 112.0, 38.0, 34.0, 34.0, 40.0, 14.0
FIRST, BAR = 14.0, 26.0


def x_of(minute: float, scale: float) -> float:
    """Where a minute from the start lies, `scale` pixels a minute."""
    return LABELS + minute * scale


def lane_height(lane: Lane) -> float:
    """How high a plant's lane is: its number, name and reason, and a row for each of the soaks beside each other."""
    return max(LANE, 2 * FIRST + ROW * (1 + max(lane.rows, default=0)) - (ROW - BAR))


def tops(plan: Evening) -> tuple[float, ...]:
    """Where each plant's lane begins, and last where they end."""
    found = [HEAD + HANDS]
    for lane in plan.lanes:
        found.append(found[-1] + lane_height(lane))
    return tuple(found)


def height(plan: Evening) -> float:
    """How high the whole chart is, legend included."""
    return tops(plan)[-1] + (TOOLS + len(plan.tools) * TOOL if plan.tools else 0.0) + LEGEND
