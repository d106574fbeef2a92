"""House rules: figures a grower may set, each with its label, help, unit, range and mark or source."""

from __future__ import annotations

from dataclasses import Field, dataclass, field, fields
from datetime import time
from typing import Any

from greenhouse_desk.domain.faults import within


def rule(default: Any, label: str, help: str, unit: str, low: float, high: float, source: str) -> Any:
    """A dataclass field that describes itself: the form, the "why?" and the range check all read its metadata."""
    meta = {"label": label, "help": help, "unit": unit, "low": low, "high": high, "source": source}
    return field(default=default, metadata=meta)


def said(value: Any, unit: str) -> str:
    """A rule's value in words: "14 days", "on" or "off"."""
    return ("on" if value else "off") if isinstance(value, bool) else f"{value} {unit}".strip()


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
    day_rings_at_hour: int = rule(
        9, "Care of a day rings at", "So that nobody is woken by it; what has its own minute rings then.", "o'clock",
        0, 23, "house rule")
    ahead_days: int = rule(14, "Look ahead", "How far ahead care is listed.", "days", 1, 60, "house rule")
    dusk_margin_minutes: int = rule(
        0, "Dry before dusk by", "How long before dusk or lights-out a crown should be dry.", "min",
        0, 240, "house rule")
    dry_within_hours: int = rule(
        6, "Dry within", "The limit for a wet crown where no lamp goes off and the sun does not set.", "h",
        1, 24, "house rule")
    air_reading_hours: int = rule(
        12, "An air reading holds for", "An older one is not used to say how long a crown takes to dry.", "h",
        1, 72, "house rule")
    wet_night_percent: int = rule(
        90, "Night air is too moist from", "Mean humidity of half an hour; leaves stay wet in it, and rots like it.",
        "% RH", 50, 100, "from memory, house rule")
    wet_night_hours: int = rule(
        4, "A night is too wet from", "So many hours of it with air that moist.", "h", 1, 12, "from memory, house rule")
    root_check_first: int = rule(
        2, "First look at the roots", "Weeks after a repot or a move to another medium.", "weeks",
        1, 52, "common practice, house rule")
    root_check_second: int = rule(
        4, "Second look at the roots", "Weeks after a repot or a move to another medium.", "weeks",
        1, 52, "common practice, house rule")
    root_check_third: int = rule(
        8, "Third look at the roots", "Weeks after a repot or a move to another medium.", "weeks",
        1, 52, "common practice, house rule")
    root_check_fourth: int = rule(
        12, "Fourth look at the roots", "Weeks after a repot or a move to another medium.", "weeks",
        1, 52, "common practice, house rule")
    root_check_last: int = rule(
        16, "Last look at the roots", "Weeks after a repot or a move; a plant takes about so long to settle.", "weeks",
        1, 52, "common practice, house rule")
    root_check_early_days: int = rule(
        3, "Roots may be looked at early by", "A root count so many days before it is due still answers it.", "days",
        0, 14, "house rule")
    sighting_days: int = rule(
        90, "A pest seen before a wash counts for", "Seen longer ago, the wash was not against it.", "days",
        1, 365, "house rule")
    first_wash_days: int = rule(
        2, "First wash after a pest is seen", "Time to try a drop of the wash on one leaf before it.", "days",
        0, 14, "house rule; the 48 hours for the drop are from memory")
    pest_look_days: int = rule(
        7, "A pest is looked for after", "Days after it was seen, or after the last wash against it.", "days",
        1, 60, "house rule; weekly looks are common advice in quarantine")
    lapse_days: int = rule(
        30, "A look not taken lapses after", "So long after its last day a look tells little.", "days",
        1, 365, "house rule")
    isolation_days: int = rule(
        42, "Newcomers stand apart for", "Also the least time from a find to a last clean look.", "days",
        7, 180, "from memory, house rule; advice seen runs from 3 to 6 weeks")
    isolation_days_found: int = rule(
        56, "Newcomers of a source that sent pests before", "Apart so long when others from it showed something.",
        "days", 7, 180, "from memory, house rule; flat mites can take longer than 60 days to show")
    isolation_days_clean: int = rule(
        42, "Newcomers of a source with a clean record", "Apart so long when enough others from it showed nothing.",
        "days", 7, 180, "from memory, house rule; advice seen runs from 3 to 6 weeks")
    clean_source_plants: int = rule(
        10, "A source's record is clean from", "So many others from it, looked at, their days over, nothing found.",
        "plants", 1, 200, "house rule; of none in 10 the true share can be 28 % (Wilson 95 %)")
    looks_apart_days: int = rule(
        5, "Looks count when apart by", "Closer looks are no second opinion.", "days",
        1, 30, "from memory, house rule")
    masked_days: int = rule(
        7, "A spray masks looks for", "Signs are hidden so long after a spray.", "days",
        0, 30, "from memory, house rule")
    clean_looks: int = rule(
        2, "Clean looks until under watch", "Counted since the last find and the last spray.", "looks",
        1, 10, "house rule")
    trace_days: int = rule(
        180, "Contacts are followed back", "A pest may have sat unseen so long before it was found.", "days",
        7, 730, "from memory, house rule")
    look_finds_percent: int = rule(
        60, "One careful look finds", "How many of a hundred infested plants you would spot with a lens.", "%",
        5, 99, "from memory, house rule; no published share was found for homes")
    virus_test_days: int = rule(
        30, "A virus test counts from", "So long after the last contact: sooner it can miss a fresh infection.", "days",
        0, 180, "from memory, house rule")
    isolation_spots: int = rule(
        6, "An isolation place holds", "Plants that can stand there without touching each other.", "plants",
        1, 200, "house rule")

    dry_rest_told: bool = rule(
        True, "Tell of dry rests", "Water is held back in the months a genus rests dry; its year stands on this page.",
        "", 0, 1, "house rule")
    repot_after_months: int = rule(
        24, "A repotting window is told after", "Months in one medium before it; 0 tells of none.", "months",
        0, 120, "from memory, house rule; every two to three years is common practice")

    def __post_init__(self) -> None:
        for item in fields(self):
            value = getattr(self, item.name)
            if not (isinstance(value, bool) and isinstance(item.default, bool)):
                within(item.name, value, item.metadata["low"], item.metadata["high"])

    @property
    def day_ends_at(self) -> time:
        """The local time at which a care day gives way to the next."""
        return time(self.day_ends_at_hour)

    @property
    def day_rings_at(self) -> time:
        """The local time at which care owed on a day, not at an instant, rings."""
        return time(self.day_rings_at_hour)

    @property
    def root_check_days(self) -> tuple[int, ...]:
        """Days after a repot on which roots are looked at, ascending, each once."""
        weeks = (self.root_check_first, self.root_check_second, self.root_check_third, self.root_check_fourth,
                 self.root_check_last)
        return tuple(sorted({7 * week for week in weeks}))

    @property
    def crown_check_days(self) -> tuple[int, ...]:
        """Days after a crown was wet on which it is looked at, ascending, each once."""
        return tuple(sorted({self.crown_check_first, self.crown_check_second}))

    @property
    def cut_check_days(self) -> tuple[int, ...]:
        """Days after a cut on which it is looked at, ascending, each once."""
        return tuple(sorted({self.cut_check_first, self.cut_check_second}))


RULES: dict[str, Field[Any]] = {item.name: item for item in fields(HouseRules)}
"""Each house rule's field by name: its metadata is read by the form and by the reasons of care."""

TOPICS = {"plain_water_days": "After work on a plant", "day_ends_at_hour": "The day, alarms and what is ahead",
          "dusk_margin_minutes": "Wet crowns and air", "root_check_first": "Roots after a move",
          "sighting_days": "Pests and washes", "isolation_days": "Standing apart, looks and contacts",
          "dry_rest_told": "The year of a genus"}
"""The headings the rules stand under where all are shown: the first rule of each topic, with its words."""
