"""What is coming in the next six weeks, week by week, and the hands' time at the bench it means."""

from __future__ import annotations

from collections import Counter
from collections.abc import Iterable
from dataclasses import dataclass
from datetime import date, timedelta, tzinfo

from greenhouse_desk.domain.care_day import day_of
from greenhouse_desk.domain.care_values import Care, CareKind
from greenhouse_desk.domain.figures import Constant
from greenhouse_desk.domain.settings import HouseRules

WEEKS_AHEAD = Constant(6, "weeks", "how far ahead what is coming is shown", "house rule")
LOOK_MIN = Constant(5, "min", "work with the hands for a look at a crown, a cut or a protocol's own look", "house rule")
ROOTS_MIN = Constant(10, "min", "work with the hands for a look at the roots of a potted plant", "house rule")
WASH_MIN = Constant(25, "min", "work with the hands for a wash against pests, drying apart", "house rule")
STEP_IN_MIN = Constant(45, "min", "work with the hands to unpot, trim and repot one plant", "house rule")
POT_MIN = Constant(20, "min", "work with the hands to pot up a bare plant", "house rule")
FEED_MIN = Constant(3, "min", "work with the hands for a feed, a rinse, a blotting or a cut to dress", "house rule")
MINUTES: dict[CareKind, Constant] = {
    CareKind.ROOT_CHECK: ROOTS_MIN, CareKind.LOOK_AGAIN: ROOTS_MIN, CareKind.CROWN_CHECK: LOOK_MIN,
    CareKind.CUT_CHECK: LOOK_MIN, CareKind.CHECK: LOOK_MIN, CareKind.FIRST_WASH: WASH_MIN,
    CareKind.WASH_REPEAT: WASH_MIN, CareKind.STEP_IN: STEP_IN_MIN, CareKind.POT_UP: POT_MIN,
    CareKind.PEST_LOOK: LOOK_MIN, CareKind.HALF_FEED: FEED_MIN, CareKind.AIR: FEED_MIN, CareKind.DRESS_CUT: FEED_MIN,
    CareKind.RINSE: FEED_MIN,
}
NAMES: dict[CareKind, tuple[str, str]] = {
    CareKind.ROOT_CHECK: ("root check", "root checks"), CareKind.LOOK_AGAIN: ("second look", "second looks"),
    CareKind.CROWN_CHECK: ("crown check", "crown checks"), CareKind.CUT_CHECK: ("cut check", "cut checks"),
    CareKind.CHECK: ("other look", "other looks"), CareKind.FIRST_WASH: ("first wash", "first washes"),
    CareKind.WASH_REPEAT: ("wash", "washes"), CareKind.STEP_IN: ("rescue at the bench", "rescues at the bench"),
    CareKind.PEST_LOOK: ("look for a pest", "looks for pests"),
    CareKind.POT_UP: ("potting", "pottings"), CareKind.HALF_FEED: ("half feed", "half feeds"),
    CareKind.RINSE: ("rinse", "rinses"),
    CareKind.AIR: ("crown to dry", "crowns to dry"), CareKind.DRESS_CUT: ("cut to dress", "cuts to dress"),
}


@dataclass(frozen=True, slots=True)
class Week:
    """Seven care days from `start` (the first week: from today on, with what is late): what comes, and minutes."""

    start: date
    end: date
    kinds: tuple[tuple[CareKind, int], ...]
    minutes: float

    @property
    def words(self) -> str:
        """"3 root checks, 1 wash"."""
        return ", ".join(f"{count} {NAMES[kind][count != 1]}" for kind, count in self.kinds) or "nothing"

    @property
    def time_words(self) -> str:
        """"1 h 10", "25 min", "" for none."""
        whole = round(self.minutes)
        return f"{whole // 60} h {whole % 60:02d}" if whole >= 60 else f"{whole} min" if whole else ""


def coming(cares: Iterable[Care], today: date, zone: tzinfo, rules: HouseRules) -> tuple[Week, ...]:
    """The weeks from `today` on; holds ask for no hands and are left out."""
    weeks = round(WEEKS_AHEAD.value)
    found: list[Counter[CareKind]] = [Counter() for _ in range(weeks)]
    for care in cares:
        place = max(0, (day_of(care.due, zone, rules) - today).days // 7)
        if not care.hold and care.kind in MINUTES and place < weeks:
            found[place][care.kind] += 1
    return tuple(_week(today + timedelta(days=7 * place), counted) for place, counted in enumerate(found))


def _week(start: date, counted: Counter[CareKind]) -> Week:
    kinds = tuple(sorted(counted.items(), key=lambda item: (-item[1], item[0].value)))
    return Week(start, start + timedelta(days=6), kinds, sum(MINUTES[kind].value * count for kind, count in kinds))
