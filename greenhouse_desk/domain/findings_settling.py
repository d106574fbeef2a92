"""Findings: how plants settle, in groups by genus, medium, season or source, with numbers at risk."""

from __future__ import annotations

from collections import defaultdict
from collections.abc import Callable, Iterable, Mapping, Sequence
from dataclasses import dataclass
from datetime import date
from enum import StrEnum
from math import ceil, isfinite

from greenhouse_desk.domain.courses_forecast import settled_by, watched
from greenhouse_desk.domain.courses_outcomes import stepped_in
from greenhouse_desk.domain.courses_values import Course, End
from greenhouse_desk.domain.figures import Unknown
from greenhouse_desk.domain.findings import (
    FEWEST_PLANTS,
    MOST_GROUPS,
    Cell,
    Curves,
    Finding,
    Settled,
    Table,
    plants_words,
    too_few,
)
from greenhouse_desk.domain.sampling import wilson
from greenhouse_desk.domain.sentences import capital
from greenhouse_desk.domain.transitions import SETTLED_WEEKS, compared, halfway, settling_curve

MARKS = (0, 28, 56, 84, 112)
TITLE = "How plants settle"
HEAD = ("group", "plants", "settled", "days in", "still unsettled and watched", "share settled", "low", "high")
ALIVE_HEAD = ("alive at the end", "of settled or died", "alive, low", "alive, high")
NO_DOUBT = "no look left a doubt"
HANDS = {True: "stepped in", False: "left alone", None: NO_DOUBT}
SEASONS = ("winter", "spring", "summer", "autumn")


class By(StrEnum):
    """What the plants are grouped by."""

    ALL = "all together"
    GENUS = "genus"
    MEDIUM = "medium"
    SEASON = "season"
    SOURCE = "source"
    HANDS = "hands after a doubt"


@dataclass(frozen=True, slots=True)
class Alive:
    """How many of a group were `alive` at the end of their course, `of` those whose end is known: settled or died."""

    alive: int
    of: int

    @classmethod
    def of_courses(cls, courses: Iterable[Course]) -> Alive:
        """Counted over these courses."""
        ends = [one.end for one in courses]
        settled = ends.count(End.SETTLED)
        return cls(settled, settled + ends.count(End.DIED))

    @property
    def words(self) -> str:
        """"9 of 10 (95 % interval: 60 to 98 %)"; of fewer than a chart needs only the counts."""
        if self.of < FEWEST_PLANTS.value:
            return f"{self.alive} of {self.of} (too few to tell a share)"
        span = wilson(self.alive, self.of)
        return f"{self.alive} of {self.of} (95 % interval: {100 * span.low:.0f} to {100 * span.high:.0f} %)"

    @property
    def cells(self) -> tuple[Cell, ...]:
        """For the table: counts, and the interval where they are enough for one."""
        span = wilson(self.alive, self.of) if self.of >= FEWEST_PLANTS.value else None
        return self.alive, self.of, *((round(span.low, 4), round(span.high, 4)) if span else (None, None))


def season(day: date, latitude: float) -> str:
    """The meteorological season (three whole months) of a day at that latitude; the south has it half a year later."""
    nth = (day.month % 12) // 3
    return SEASONS[(nth + 2) % 4 if latitude < 0 else nth]


def settling(courses: Sequence[Course], by: By, sources: Mapping[int, str], latitude: float) -> Finding:
    """The settling curves of these courses; `sources` names a plant's source by its number, where it is known."""
    asked: dict[By, Callable[[Course], str]] = {
        By.ALL: lambda _one: "all plants", By.GENUS: lambda one: one.genus or "genus not known",
        By.MEDIUM: lambda one: one.medium or "medium not written down",
        By.SEASON: lambda one: season(one.start, latitude),
        By.SOURCE: lambda one: sources.get(one.plant, "source not written down"),
        By.HANDS: lambda one: HANDS[stepped_in(one)]}
    kept: dict[str, list[Course]] = defaultdict(list)
    for one in courses:
        kept[asked[by](one)].append(one)
    kept.pop(NO_DOUBT, None)
    groups = sorted((_settled(words, own) for words, own in kept.items()), key=lambda one: (-one.settled, one.words))
    drawn = tuple(one for one in groups if one.settled >= FEWEST_PLANTS.value)[:MOST_GROUPS]
    left_out = [one for one in groups if one not in drawn]
    ended = sum(one.settled for one in groups)
    doubt = ", all with a look that left a doubt" if by is By.HANDS else ""
    rests = f"{plants_words(sum(map(len, kept.values())))} moved to another medium{doubt}, of which {ended} settled"
    title = TITLE if by is By.ALL else f"{TITLE}, by {by.value}"
    alive = {words: Alive.of_courses(own) for words, own in kept.items()} if by is By.HANDS else {}
    said = [_summary(drawn, left_out, kept, ended), *_survival(alive)]
    return Finding(title, rests, " ".join(said), Curves(drawn, MARKS) if drawn else None, _table(groups, alive))


def _settled(words: str, own: Sequence[Course]) -> Settled:
    days, ended = watched(own)
    return Settled(words, tuple(settling_curve(days, ended)), len(own), sum(one.end is End.SETTLED for one in own),
                   tuple(sum(day >= mark for day in days) for mark in MARKS), max(days, default=0.0))


def _summary(drawn: Sequence[Settled], left_out: Sequence[Settled], kept: Mapping[str, Sequence[Course]],
             ended: int) -> str:
    said = [_told(one) for one in drawn] or [too_few(ended, "settled in any one group" if ended else "settled so far")]
    small = [f"{one.words} {one.settled}" for one in left_out if one.settled < FEWEST_PLANTS.value]
    if drawn and small:
        said.append(f"Too few settled to draw: {', '.join(small)}.")
    more = [one.words for one in left_out if one.settled >= FEWEST_PLANTS.value]
    if more:
        said.append(f"Not drawn, to keep the lines apart: {', '.join(more)}; the table has them.")
    return " ".join([*said, *_difference(drawn, kept)])


def _told(one: Settled) -> str:
    half = halfway(one.steps)
    when = f"half settled by week {ceil(half.day / 7)}" if isfinite(half.day) else "half of them not settled yet"
    if isfinite(half.day) and isfinite(half.low) and isfinite(half.high):
        when += f" (95 % interval: week {ceil(half.low / 7)} to {ceil(half.high / 7)})"
    weeks = int(SETTLED_WEEKS.value)
    share = round(100 * settled_by(one.steps, 7 * weeks))
    return f"{capital(one.words)}: n = {one.plants}, {when}, {share} % by week {weeks}."


def _difference(drawn: Sequence[Settled], kept: Mapping[str, Sequence[Course]]) -> list[str]:
    """Two groups are tested against each other; more are not, since one of many differences comes by chance."""
    if len(drawn) > 2:
        return ["More than two groups are not tested against each other: among many, some differ by chance."]
    if len(drawn) < 2:
        return []
    found = compared(*watched(kept[drawn[0].words]), *watched(kept[drawn[1].words]))
    if isinstance(found, Unknown):
        return [f"No test of the difference: {found.why}"]
    return [f"Were both alike, a difference this large or larger would come by chance {found.p * 100:.0f} times in 100 "
            "(log-rank); the groups may differ in more than this."]


def _survival(alive: Mapping[str, Alive]) -> list[str]:
    """How many came through alive, beside how fast they settled: a hand that quickens may also kill."""
    if not alive:
        return []
    told = "; ".join(f"{words}, {one.words}" for words, one in sorted(alive.items()))
    return [f"Alive at the end, of those that settled or died: {told}."]


def _table(groups: Sequence[Settled], alive: Mapping[str, Alive]) -> Table:
    rows: list[tuple[Cell, ...]] = []
    for one in groups:
        lived = alive[one.words].cells if alive else ()
        rows += [(one.words, one.plants, one.settled, mark, risk, *_share(one, mark), *lived)
                 for mark, risk in zip(MARKS, one.at_risk, strict=True)]
    return Table((*HEAD, *ALIVE_HEAD) if alive else HEAD, tuple(rows))


def _share(one: Settled, day: int) -> tuple[float, float, float]:
    step = next((step for step in reversed(one.steps) if step.day <= day), None)
    if step is None:
        return 0.0, 0.0, 0.0
    return round(1 - step.share, 4), round(1 - step.high, 4), round(1 - step.low, 4)
