"""House rules: figures a grower may set, each with its label, help, unit, range and mark or source."""

from __future__ import annotations

from dataclasses import dataclass, field, fields
from datetime import time
from typing import Any

from greenhouse_desk.domain.faults import within


def rule(default: Any, label: str, help: str, unit: str, low: float, high: float, source: str) -> Any:
    """A dataclass field that describes itself: the form, the "why?" and the range check all read its metadata."""
    meta = {"label": label, "help": help, "unit": unit, "low": low, "high": high, "source": source}
    return field(default=default, metadata=meta)


@dataclass(frozen=True, slots=True)
class HouseRules:
    """The figures care rests on. They live in the store and travel with a backup."""

    plain_water_days: int = rule(
        14, "Plain water after a root disinfection", "Day 0 is the treatment; feed may resume on this day.", "days",
        0, 60, "common practice, house rule")
    crown_check_first: int = rule(
        2, "First look at a wetted crown", "Days after the crown was wet.", "days", 1, 14, "from memory, house rule")
    crown_check_second: int = rule(
        5, "Second look at a wetted crown", "Days after the crown was wet.", "days", 1, 30, "from memory, house rule")
    cut_check_first: int = rule(
        3, "First look at a cut", "Days after the cut.", "days", 1, 14, "common practice, house rule")
    cut_check_second: int = rule(
        7, "Second look at a cut", "Days after the cut.", "days", 1, 30, "common practice, house rule")
    day_ends_at_hour: int = rule(
        4, "The day ends at", "Work before this hour belongs to the evening before.", "o'clock", 0, 11, "house rule")
    missed_after_minutes: int = rule(
        10, "An alarm rings at most", "Then it falls silent and leaves a missed entry.", "min", 1, 60, "house rule")
    ahead_days: int = rule(14, "Look ahead", "How far ahead care is listed.", "days", 1, 60, "house rule")
    dusk_margin_minutes: int = rule(
        0, "Dry before dusk by", "How long before dusk or lights-out a crown should be dry.", "min",
        0, 240, "house rule")

    def __post_init__(self) -> None:
        for item in fields(self):
            within(item.name, getattr(self, item.name), item.metadata["low"], item.metadata["high"])

    @property
    def day_ends_at(self) -> time:
        return time(self.day_ends_at_hour)
