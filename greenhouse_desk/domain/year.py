"""A year for each genus: months of growth, rest, usual bloom and repotting, as they are read from a data file.

Months are written for the north; for a home south of the equator they are told half a year later. Kinds of one genus
differ, so each year is a place to start from and the grower's own outranks it.
"""

from __future__ import annotations

import re
from collections.abc import Iterator, Mapping, Sequence
from dataclasses import dataclass, field
from datetime import date, timedelta
from typing import Any

from greenhouse_desk.domain.care_day import MONTHS
from greenhouse_desk.domain.datafile import Fields, Gathered, shown
from greenhouse_desk.domain.faults import Fault
from greenhouse_desk.domain.names import parse
from greenhouse_desk.domain.names_genera import Genera, full_genus

HALF_YEAR = 6
KEY = re.compile(r"[A-Z][a-z]+( [a-z][a-z-]+)?|[1-9][0-9]*")
OWN = "house rule"


@dataclass(frozen=True, slots=True)
class Stretch:
    """Whole months from `first` to `last` (1 to 12, of the north), both included; it may run over New Year."""

    first: int
    last: int

    def local(self, south: bool) -> Stretch:
        """The same stretch as the seasons fall in the south, half a year later."""
        return Stretch(_turned(self.first), _turned(self.last)) if south else self

    @property
    def months(self) -> tuple[int, ...]:
        """Its months in their order."""
        length = (self.last - self.first) % len(MONTHS) + 1
        return tuple((self.first - 1 + nth) % len(MONTHS) + 1 for nth in range(length))

    @property
    def words(self) -> str:
        """"Nov to Jan", "Mar", "all year"."""
        if len(self.months) == len(MONTHS):
            return "all year"
        first, last = MONTHS[self.first - 1], MONTHS[self.last - 1]
        return first if self.first == self.last else f"{first} to {last}"

    def holds(self, day: date) -> bool:
        """Whether `day` lies in it."""
        return day.month in self.months

    def around(self, day: date) -> tuple[date, date]:
        """First and last day of the stretch that holds `day`, or of the next to come."""
        year = day.year if day.month <= self.last or self.first > self.last else day.year + 1
        if self.first > self.last and day.month <= self.last:
            year -= 1
        start = date(year, self.first, 1)
        after = date(year + (self.first > self.last) + (self.last == len(MONTHS)), self.last % len(MONTHS) + 1, 1)
        return start, after - timedelta(days=1)


def _turned(month: int) -> int:
    return (month - 1 + HALF_YEAR) % len(MONTHS) + 1


@dataclass(frozen=True, slots=True)
class GenusYear:
    """The year of a genus, or, where kinds of one differ, of a species or of one plant: `genus` is then "Dendrobium
    nobile" or the plant's number. A stretch is None where there is none, or where it is not known.

    `dry` tells that its rest is a dry one; `note` is said beside it, `source` begins with its mark.
    """

    genus: str
    growth: Stretch | None = None
    rest: Stretch | None = None
    dry: bool = False
    bloom: Stretch | None = None
    repot: Stretch | None = None
    note: str = ""
    source: str = OWN

    @property
    def who(self) -> str:
        """"a Cattleya", "a Dendrobium nobile", "plant 109"."""
        return whose(self.genus) if self.genus.isdecimal() else f"a {self.genus}"

    @property
    def finer(self) -> bool:
        """Whether it is told of less than a genus."""
        return not self.genus.isalpha()

    @property
    def words(self) -> str:
        """"growth Mar to Oct, dry rest Nov to Jan, bloom Dec to Feb, repot Mar", in months of the north."""
        told = (("growth", self.growth), ("dry rest" if self.dry else "rest", self.rest), ("bloom", self.bloom),
                ("repot", self.repot))
        return ", ".join(f"{name} {one.words}" for name, one in told if one is not None) or "nothing said"


PARTS = ("growth", "rest", "bloom", "repot")
"""The stretches of a year, by the field that holds each."""


@dataclass(frozen=True, slots=True)
class Years:
    """The years known by genus; the grower's own (`own`) come before what is shipped."""

    shipped: Mapping[str, GenusYear] = field(default_factory=dict)
    own: Mapping[str, GenusYear] = field(default_factory=dict)

    def of(self, genus: str) -> GenusYear | None:
        """The year of a genus spelled out, None where nobody wrote one down."""
        return self.own.get(genus) or self.shipped.get(genus)

    def of_plant(self, number: int, name: str, genera: Genera) -> GenusYear | None:
        """The year that holds for one plant: its own, else that of its species, else that of its genus."""
        genus = full_genus(name, genera)
        if (own := self.own.get(str(number))) is not None:
            return own
        if genus and any(key.startswith(f"{genus} ") for key in self.own):  # few have one: a name is read only then
            species = self.own.get(species_of(name, genus))
            if species is not None:
                return species
        return self.of(genus)


def species_of(name: str, genus: str) -> str:
    """"Dendrobium nobile" of a plant's name, `genus` being its genus spelled out; "" where no species is certain."""
    read = parse(name)
    certain = read.epithet and not (read.hybrid or read.formula or read.grex or read.doubt)
    return f"{genus} {read.epithet}" if certain else ""


def whose(key: str) -> str:
    """What a year is of, as it is shown: "Cattleya", "Dendrobium nobile", "plant 109"."""
    return f"plant {key}" if key.isdecimal() else key


NO_YEARS = Years()


def read_years(data: Mapping[str, Any], file: str) -> tuple[dict[str, GenusYear], tuple[Fault, ...]]:
    """The years of a data file by genus, one table each, and every fault in it; a genus at fault is left out."""
    gathered = Gathered(file)
    fields = Fields(dict(data), "", gathered)
    found: dict[str, GenusYear] = {}
    for name in data:
        told = len(gathered.faults)
        year = fields.table(data[name], name, _year)
        if len(gathered.faults) == told:
            found[name] = year
    return found, tuple(gathered.faults)


def written_year(year: GenusYear) -> dict[str, Any]:
    """A year as the table of a data file that `read_years` takes."""
    stretches = {part: [MONTHS[one.first - 1], MONTHS[one.last - 1]] for part in PARTS
                 if (one := getattr(year, part)) is not None}
    return {**stretches, **({"dry_rest": True} if year.dry else {}), **({"note": year.note} if year.note else {}),
            "source": year.source}


def _year(fields: Fields) -> GenusYear:
    name = fields.path
    if not KEY.fullmatch(name):
        fields.gathered.add(name, "a genus with one capital, one with its species, or a plant's number was expected")
    parts = {part: _stretch(fields, part) for part in PARTS}
    dry = fields.flag("dry_rest")
    if dry and parts["rest"] is None and fields.sound("rest"):
        fields.fault("dry_rest", "the months of the rest were expected beside it")
    note = fields.text("note", most=300, lines=3)
    return GenusYear(name, **parts, dry=dry, note=note, source=fields.marked(required=True))


def _stretch(fields: Fields, key: str) -> Stretch | None:
    """The first and last month of a stretch, None where it is left out or at fault."""
    words = fields.items(key)
    if not words:
        return None
    numbers = tuple(_numbers(words))
    if len(words) != 2 or len(numbers) != 2:
        fields.fault(key, f"the first and last month were expected, such as [\"Nov\", \"Jan\"], not {said(words)}")
        return None
    return Stretch(*numbers)


def _numbers(words: Sequence[object]) -> Iterator[int]:
    return (MONTHS.index(word) + 1 for word in words if isinstance(word, str) and word in MONTHS)


def said(words: Sequence[object]) -> str:
    """What stands there instead, each item short."""
    return f"[{', '.join(shown(word) for word in words[:3])}{', ...' if len(words) > 3 else ''}]"
