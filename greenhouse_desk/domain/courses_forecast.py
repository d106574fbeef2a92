"""When a plant under way will settle, from comparable courses: its genus, else its habit, else all, said openly."""

from __future__ import annotations

from collections.abc import Iterable, Mapping, Sequence
from dataclasses import dataclass
from math import ceil, inf, isfinite

from greenhouse_desk.domain.care_reasons import WORKED_OUT
from greenhouse_desk.domain.care_values import Reason
from greenhouse_desk.domain.courses_values import Course, End
from greenhouse_desk.domain.figures import Unknown
from greenhouse_desk.domain.plants import Habit
from greenhouse_desk.domain.sentences import capital
from greenhouse_desk.domain.transitions import (
    FEWEST_SETTLED,
    LATE_SHARE,
    ROUNDING,
    SOON_SHARE,
    Forecast,
    Settling,
    forecast,
)

KAPLAN_MEIER = "derived here: share not yet settled by Kaplan and Meier's method, among those still under watch"


@dataclass(frozen=True, slots=True)
class Outlook:
    """A forecast in days from the start of the course: early and late end, the middle half, and the likely day.

    `group` are the courses it rests on in words, `plants` how many of them still tell something, `why` the reasoning
    with every group that was too small. Infinite where the record does not reach so far.
    """

    early: float
    quarter: float
    likely: float
    three_quarters: float
    late: float
    group: str
    plants: int
    curve: tuple[Settling, ...]
    why: tuple[Reason, ...]


@dataclass(frozen=True, slots=True)
class NoOutlook:
    """No forecast: why not, group by group."""

    why: tuple[Reason, ...]


@dataclass(frozen=True, slots=True)
class Group:
    """Courses compared with: what they are in words, and the courses."""

    words: str
    courses: tuple[Course, ...]


def comparable(course: Course, past: Iterable[Course], habits: Mapping[int, Habit]) -> tuple[Group, ...]:
    """The groups in the order they are tried; the plant's own course under way is in none of them.

    `habits` are the growth habits by plant number.
    """
    others = [one for one in past if one.origin != course.origin]
    habit = habits.get(course.plant, Habit.UNKNOWN)
    genus = [one for one in others if one.genus.casefold() == course.genus.casefold()]
    groups = [Group(f"your {course.genus}", tuple(genus))] if course.genus else []
    if habit is not Habit.UNKNOWN:
        alike = tuple(one for one in others if habits.get(one.plant) is habit)
        groups.append(Group(f"your {habit.value} plants", alike))
    return (*groups, Group("all your plants", tuple(others)))


def watched(courses: Sequence[Course]) -> tuple[list[float], list[bool]]:
    """Days under watch and whether the plant settled then, as the survival functions take them."""
    return [float(max(one.days, 0)) for one in courses], [one.end is End.SETTLED for one in courses]


def outlook(course: Course, groups: Sequence[Group]) -> Outlook | NoOutlook:
    """The forecast from the first group that is large enough."""
    tried: list[Reason] = []
    for group in groups:
        days, settled = watched(group.courses)
        found = forecast(days, settled, float(course.days))
        if isinstance(found, Unknown):
            tried.append(Reason(f"{capital(group.words)}: {found.why}", FEWEST_SETTLED.source))
            continue
        return _outlook(course, group, found, tried)
    tried.append(Reason("Too few to tell: no forecast is drawn.", WORKED_OUT))
    return NoOutlook(tuple(tried))


def _outlook(course: Course, group: Group, found: Forecast, tried: Sequence[Reason]) -> Outlook:
    quarter, three = reached(found.curve, 0.75), reached(found.curve, 0.25)
    ended = sum(one.end is End.SETTLED and one.days > course.days for one in group.courses)
    widened = (Reason("So the comparison was widened.", WORKED_OUT),) if tried else ()
    why = (*tried, *widened,
           Reason(f"{capital(group.words)}: {found.plants} were still unsettled after {course.days} days, "
                  f"{ended} of them settled later.", KAPLAN_MEIER),
           Reason(f"Settled of 100, with the 95 % band: {by_week(found.curve)}.", KAPLAN_MEIER),
           Reason(f"{_share(SOON_SHARE.value)} of them had settled {_when(found.likely.low)}, half "
                  f"{_when(found.half.day)}, {_share(LATE_SHARE.value)} {_when(found.likely.high)}.", KAPLAN_MEIER))
    return Outlook(found.likely.low, quarter, found.half.day, three, found.likely.high, group.words, found.plants,
                   found.curve, why)


def reached(curve: Sequence[Settling], share: float) -> float:
    """The first day on which the share not yet settled is at or below `share`; infinite where it never is."""
    return next((step.day for step in curve if step.share <= share + ROUNDING), inf)


def by_week(curve: Sequence[Settling]) -> str:
    """The share settled by each week in which it grew, with its band: "by week 9 20 (3 to 62)"; weeks are whole ones.
    """
    last = {ceil(step.day / 7): step for step in curve}
    return ", ".join(f"by week {week} {100 * (1 - step.share):.0f} ({100 * (1 - step.high):.0f} to "
                     f"{100 * (1 - step.low):.0f})" for week, step in last.items())


def settled_by(curve: Sequence[Settling], day: float) -> float:
    """The share settled by `day`, 0 to 1."""
    return 1 - next((step.share for step in reversed(curve) if step.day <= day), 1.0)


def _share(of: float) -> str:
    return f"{of * 100:.0f} in 100"


def _when(day: float) -> str:
    return f"by week {day / 7:.0f}" if isfinite(day) else "later than the record reaches"
