"""Findings: pests and diseases by month and by source, what plants were lost to, and what wet crowns led to."""

from __future__ import annotations

from collections import Counter, defaultdict
from collections.abc import Iterable, Mapping, Sequence
from dataclasses import dataclass, replace
from datetime import date, datetime, timedelta, tzinfo

from greenhouse_desk.domain.care_air import CROWN_PARTS
from greenhouse_desk.domain.care_day import month_name
from greenhouse_desk.domain.dealings import SourceRecord
from greenhouse_desk.domain.figures import Constant
from greenhouse_desk.domain.findings import (
    FEWEST_PLANTS,
    MOST_GROUPS,
    Amounts,
    Cell,
    Chart,
    Finding,
    Months,
    Share,
    Shares,
    Table,
    plants_words,
    too_few,
)
from greenhouse_desk.domain.journal import Dry, Entry, Left, Sighted, Wetted
from greenhouse_desk.domain.journal_words import Leaving
from greenhouse_desk.domain.plants import History
from greenhouse_desk.domain.sampling import wilson
from greenhouse_desk.domain.sentences import capital

MONTHS_BACK = 24
LOST_DAYS = Constant(60, "days", "a rot or a death so soon after a wetted crown is counted with it", "house rule")
ONE_SITTING = Constant(12, "h", "a crown wetted again so soon counts as wet since the first time", "house rule")
WET_BOUNDS = (4.0, 8.0, 16.0)
"""Hours that part the wet crowns: a choice of ours to have groups, no threshold of harm; none is published."""
NOT_TOLD = "never said dry"
NO_LOT = "These plants were not chosen by lot: those wet longest may have been the weakest. No threshold is published."


def by_month(histories: Iterable[History], names: Mapping[str, str], today: date, zone: tzinfo) -> Finding:
    """On how many plants each pest or disease was seen in each of the last months; a plant counts once a month.

    `names` gives a pest's name by its key; months are those of `zone`.
    """
    months = tuple(_month(today, back) for back in reversed(range(MONTHS_BACK)))
    seen: dict[str, set[tuple[date, int]]] = defaultdict(set)
    for one in histories:
        for entry in one.entries:
            day = entry.at.astimezone(zone).date()
            if isinstance(entry.facts, Sighted) and months[0] <= day <= today:
                seen[names.get(entry.facts.what, entry.facts.what)].add((day.replace(day=1), one.plant.number))
    series = sorted(((what, tuple(sum(month == day for day, _ in found) for month in months))
                     for what, found in seen.items()), key=lambda row: (-sum(row[1]), row[0]))
    plants = len({number for found in seen.values() for _, number in found})
    chart = Months(months, tuple(_folded(series))) if plants >= FEWEST_PLANTS.value else None
    rows = tuple((month.isoformat()[:7], what, count) for what, counts in series
                 for month, count in zip(months, counts, strict=True) if count)
    return Finding("Pests and diseases by month",
                   f"sightings on {plants_words(plants)} in the last {MONTHS_BACK} months",
                   _most(series, months) if chart else too_few(plants, "with a sighting"), chart,
                   Table(("month", "what", "plants"), rows))


def _month(today: date, back: int) -> date:
    whole = today.year * 12 + today.month - 1 - back
    return date(whole // 12, whole % 12 + 1, 1)


def _folded(series: Sequence[tuple[str, tuple[int, ...]]]) -> list[tuple[str, tuple[int, ...]]]:
    """The most frequent apart, the rest added up."""
    if len(series) <= MOST_GROUPS:
        return list(series)
    kept, rest = list(series[:MOST_GROUPS - 1]), series[MOST_GROUPS - 1:]
    return [*kept, (f"{len(rest)} others", tuple(map(sum, zip(*(counts for _, counts in rest), strict=True))))]


def _most(series: Sequence[tuple[str, tuple[int, ...]]], months: Sequence[date]) -> str:
    said = []
    for what, counts in series[:MOST_GROUPS]:
        top = max(range(len(months)), key=lambda nth: counts[nth])
        most = f"{month_name(months[top])} {months[top].year}"
        said.append(f"{capital(what)}: {sum(counts)} in all, most in {most} ({counts[top]}).")
    return " ".join(said)


def by_source(records: Mapping[str, SourceRecord]) -> Finding:
    """Of how many plants of each source something showed while they stood apart, with Wilson's interval."""
    rows = sorted((Share(name, len(one.found), one.had, wilson(len(one.found), one.had))
                   for name, one in records.items() if one.had), key=lambda row: (-row.span.low, row.words))
    drawn = tuple(row for row in rows if row.of >= FEWEST_PLANTS.value)
    few = [f"{row.words} ({row.hits} of {row.of})" for row in rows if row not in drawn]
    said = [f"{row.words}: {row.hits} of {row.of}, so {_percent(row.span.low)} to {_percent(row.span.high)} of its "
            "plants." for row in drawn]
    if few:
        said.append(f"Too few plants to draw: {', '.join(few)}.")
    rests = f"{plants_words(sum(row.of for row in rows))} of {len(rows)} sources; shown while they stood apart"
    return Finding("Pests by source", rests, " ".join(said) or "No plant's source is written down.",
                   Shares(drawn) if drawn else None, _shares_table("source", rows))


def _percent(share: float) -> str:
    return f"{100 * share:.0f} %"


def _shares_table(first: str, rows: Iterable[Share]) -> Table:
    return Table((first, "with", "of", "low", "high"),
                 tuple((row.words, row.hits, row.of, round(row.span.low, 4), round(row.span.high, 4)) for row in rows))


def losses(histories: Iterable[History], zone: tzinfo) -> Finding:
    """What plants died of, in the grower's own words."""
    causes: Counter[str] = Counter()
    rows: list[tuple[Cell, ...]] = []
    everyone = list(histories)
    for one in everyone:
        left = next((entry for entry in reversed(one.entries) if isinstance(entry.facts, Left)), None)
        if left is not None and isinstance(left.facts, Left) and left.facts.how is Leaving.DEAD:
            cause = " ".join(left.facts.reason.split()) or "cause not written down"
            causes[cause.casefold()] += 1
            rows.append((one.plant.number, one.plant.name, left.at.astimezone(zone).date().isoformat(), cause))
    dead = len(rows)
    ranked = tuple(sorted(causes.items(), key=lambda row: (-row[1], row[0])))
    chart = Amounts(ranked) if dead >= FEWEST_PLANTS.value else None
    said = "; ".join(f"{cause}: {count}" for cause, count in ranked)
    few = too_few(dead, "was lost" if dead <= 1 else "were lost")
    return Finding("What plants were lost to", f"{plants_words(dead)} lost of {len(everyone)} that ever stood here",
                   f"{said}." if chart else " ".join(filter(None, (few, f"{said}." if said else ""))), chart,
                   Table(("plant", "name", "day", "cause as written"), tuple(rows)))


def wet_crowns(histories: Iterable[History], rots: frozenset[str], now: datetime) -> Finding:
    """After how many wetted crowns a rot or a death followed, by the hours they were wet.

    `rots` are keys of the diseases that count. A wetting of the last days, whose end cannot be known yet, is left out.
    """
    counts: dict[str, list[bool]] = {words: [] for words in _wet_words()}
    plants, unplaced = set[int](), 0
    for one in histories:
        spells = _wet_spells(one)
        unplaced += _died_unplaced(one, spells)
        for wet in spells:
            if wet.since <= now - timedelta(days=LOST_DAYS.value):
                counts[_how_long(wet)].append(_lost_after(one, wet.since, rots))
                plants.add(one.plant.number)
    rows = tuple(Share(words, sum(ends), len(ends), wilson(sum(ends), len(ends))) for words, ends in counts.items()
                 if ends)
    chart: Chart | None = Shares(rows) if len(plants) >= FEWEST_PLANTS.value else None
    wettings = sum(row.of for row in rows)
    said = " ".join(f"{capital(row.words)}: {row.hits} of {row.of}." for row in rows)
    return Finding("Losses after wet crowns, by hours wet",
                   f"{wettings} wetted crowns of {plants_words(len(plants))}; counted: rot or death within "
                   f"{LOST_DAYS.value:g} days",
                   " ".join(filter(None, (f"{said} {NO_LOT}" if chart else too_few(len(plants), "with a wetted crown"),
                                          _unplaced_words(unplaced)))), chart,
                   _shares_table("hours wet", rows))


def _died_unplaced(one: History, spells: Sequence[_Wet]) -> bool:
    """Whether the plant died and no wetted crown stands in its journal in the days before."""
    died = next((entry.at for entry in one.entries if isinstance(entry.facts, Left)
                 and entry.facts.how is Leaving.DEAD), None)
    return died is not None and not any(wet.since <= died <= wet.since + timedelta(days=LOST_DAYS.value)
                                        for wet in spells)


def _unplaced_words(count: int) -> str:
    return "" if not count else (f"{plants_words(count)} died with no wetted crown written down in the "
                                 f"{LOST_DAYS.value:g} days before; whatever they died of, it is not counted here.")


def _wet_words() -> tuple[str, ...]:
    low = ("under", *(f"{bound:g} to" for bound in WET_BOUNDS[:-1]))
    return (*(f"{start} {end:g} hours" for start, end in zip(low, WET_BOUNDS, strict=True)),
            f"{WET_BOUNDS[-1]:g} hours and more", NOT_TOLD)


@dataclass(frozen=True, slots=True)
class _Wet:
    """A crown wet `since`, wetted again at most until `last`, and `dry` when it was said so (None: never)."""

    since: datetime
    last: datetime
    dry: datetime | None = None


def _wet_spells(one: History) -> list[_Wet]:
    """The times a crown was wet, oldest first: a wash and the rinse after it are one."""
    found: list[_Wet] = []
    for entry in one.entries:
        running = found[-1] if found and found[-1].dry is None else None
        if _wets_crown(entry):
            if running is not None and entry.at - running.last <= timedelta(hours=ONE_SITTING.value):
                found[-1] = replace(running, last=entry.at)
            else:
                found.append(_Wet(entry.at, entry.at))
        elif isinstance(entry.facts, Dry) and running is not None:
            found[-1] = replace(running, dry=entry.at)
    return found


def _wets_crown(entry: Entry) -> bool:
    return isinstance(entry.facts, Wetted) and bool(CROWN_PARTS & set(entry.facts.parts) or entry.facts.pool)


def _how_long(wet: _Wet) -> str:
    """The group of a wetting, from the first water to "dry"."""
    if wet.dry is None:
        return NOT_TOLD
    return _wet_words()[sum((wet.dry - wet.since).total_seconds() / 3600 >= bound for bound in WET_BOUNDS)]


def _lost_after(one: History, since: datetime, rots: frozenset[str]) -> bool:
    until = since + timedelta(days=LOST_DAYS.value)
    return any(since < entry.at <= until and (
        (isinstance(entry.facts, Sighted) and entry.facts.what in rots)
        or (isinstance(entry.facts, Left) and entry.facts.how is Leaving.DEAD)) for entry in one.entries)
