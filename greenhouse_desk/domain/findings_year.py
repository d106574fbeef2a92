"""When your own plants flowered: the months each genus was seen in flower, beside the months it usually blooms in."""

from __future__ import annotations

from collections import defaultdict
from collections.abc import Iterable, Iterator, Mapping
from datetime import date, datetime, timedelta, tzinfo

from greenhouse_desk.domain.care_day import MONTHS
from greenhouse_desk.domain.figures import Constant
from greenhouse_desk.domain.findings import FEWEST_PLANTS, Bloomed, Cell, Finding, Seasons, Table, plants_words, too_few
from greenhouse_desk.domain.journal import Entry
from greenhouse_desk.domain.journal_year import Flowering, Stage
from greenhouse_desk.domain.names_genera import Genera, full_genus
from greenhouse_desk.domain.plants import History
from greenhouse_desk.domain.year import Years

UNNAMED = "genus not told"
NOT_WRITTEN = "In a month without a number no flower was written down, which need not mean that there was none."
OPEN_FOR = Constant(60, "days", "flowers seen open whose end is not written down count for at most", "from memory")


def flowering(histories: Iterable[History], years: Years, genera: Genera, south: bool, now: datetime,
              zone: tzinfo) -> Finding:
    """Of each genus, in which months of the year how many of its plants were seen in flower."""
    months: dict[str, dict[int, set[int]]] = defaultdict(dict)
    seen = 0
    for one in histories:
        genus = full_genus(one.plant.name, genera) or UNNAMED
        open_ = list(in_flower(one.entries, now, zone))
        seen += len(open_)
        if open_:
            months[genus][one.plant.number] = {day.month for first, last in open_ for day in _firsts(first, last)}
    rows = sorted((_row(genus, told, years, south) for genus, told in months.items()),
                  key=lambda row: (-row.plants, row.words))
    drawn = tuple(row for row in rows if row.plants >= FEWEST_PLANTS.value)
    plants = sum(row.plants for row in rows)
    return Finding("When yours flowered", f"{seen} flowerings of {plants_words(plants)} of {len(rows)} genera",
                   _summary(drawn, rows), Seasons(drawn) if drawn else None, _table(rows))


def in_flower(entries: Iterable[Entry], now: datetime, zone: tzinfo) -> Iterator[tuple[date, date]]:
    """First and last day of each flowering seen open; where its end is not written down, the last day it was seen so;
    where nothing followed at all, some weeks after it at the most."""
    open_: tuple[datetime, datetime] | None = None
    for entry in sorted(entries, key=lambda entry: (entry.at, entry.id)):
        if not isinstance(entry.facts, Flowering) or entry.at > now:
            continue
        if entry.facts.stage is Stage.OPEN:
            open_ = (open_[0] if open_ else entry.at, entry.at)
        elif open_ is not None:
            end = entry.at if entry.facts.stage is Stage.OVER else open_[1]
            yield _day(open_[0], zone), _day(end, zone)
            open_ = None
    if open_ is not None:
        yield _day(open_[0], zone), _day(min(now, open_[1] + timedelta(days=OPEN_FOR.value)), zone)


def _day(at: datetime, zone: tzinfo) -> date:
    return at.astimezone(zone).date()


def _firsts(first: date, last: date) -> Iterator[date]:
    """The first day of each month from `first` to `last`."""
    for nth in range(first.year * len(MONTHS) + first.month - 1, last.year * len(MONTHS) + last.month):
        yield date(nth // len(MONTHS), nth % len(MONTHS) + 1, 1)


def _row(genus: str, told: Mapping[int, set[int]], years: Years, south: bool) -> Bloomed:
    year = years.of(genus)
    usual = year.bloom.local(south).months if year is not None and year.bloom is not None else ()
    counts = tuple(sum(month in seen for seen in told.values()) for month in range(1, len(MONTHS) + 1))
    return Bloomed(genus, len(told), counts, usual)


def _summary(drawn: Iterable[Bloomed], rows: Iterable[Bloomed]) -> str:
    said = [f"{row.words}, {plants_words(row.plants)}: {_most(row)}." for row in drawn]
    few = [f"{row.words} ({row.plants})" for row in rows if row.plants < FEWEST_PLANTS.value]
    if not said:
        most = max((row.plants for row in rows), default=0)
        return " ".join(filter(None, (too_few(most, "of any one genus were seen in flower"), _few(few))))
    return " ".join(filter(None, (*said, _few(few), NOT_WRITTEN)))


def _few(few: Iterable[str]) -> str:
    told = ", ".join(few)
    return f"Too few of a genus to draw, told in the figures: {told}." if told else ""


def _most(row: Bloomed) -> str:
    """The months with most plants, and how many."""
    top = max(row.counts)
    months = [MONTHS[nth] for nth, count in enumerate(row.counts) if count == top]
    return f"most in flower in {' and '.join((', '.join(months[:-1]), months[-1]) if months[1:] else months)} ({top})"


def _table(rows: Iterable[Bloomed]) -> Table:
    made: list[tuple[Cell, ...]] = [(row.words, row.plants, *row.counts) for row in rows]
    return Table(("genus", "plants", *MONTHS), tuple(made))
