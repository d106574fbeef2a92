"""Pests and diseases: where they hide, how to look, how long they take, and when a wash has to be repeated."""

from __future__ import annotations

from dataclasses import dataclass
from enum import StrEnum

from greenhouse_desk.domain.datafile import Fields, Gathered, by_word
from greenhouse_desk.domain.degree_days import CUTOFFS, Cutoff, days_to_complete, degree_days
from greenhouse_desk.domain.faults import Fault
from greenhouse_desk.domain.pests_thermal import Covers, Thermal, read_thermal

__all__ = ["CUTOFFS", "Covers", "Cutoff", "DayRange", "Pest", "PestKind", "Repeat", "Thermal", "days_to_complete",
           "degree_days", "read_pests"]

DAYS_MOST = 366
TIMES_MOST = 20


class PestKind(StrEnum):
    """Whether it is an animal that can be washed off, or a disease."""

    PEST = "pest"
    DISEASE = "disease"


@dataclass(frozen=True, slots=True)
class DayRange:
    """A published span of days for a stretch of life ("egg", "egg to adult"), with its source."""

    what: str
    low: float
    high: float
    source: str


@dataclass(frozen=True, slots=True)
class Repeat:
    """Repeat a wash after `low` to `high` days, `least_times` to `most_times` in all, with source; `why` in words."""

    low: int
    high: int
    least_times: int
    most_times: int
    source: str
    why: str = ""


@dataclass(frozen=True, slots=True)
class Pest:
    """A pest or disease. `stages` are the words a grower may pick for what was seen; `misses` what a wash misses.

    `repeat` is None where no published repeat of a wash is known, or a wash does not help. `thermal` holds constants
    from studies; `bears_young`: no eggs to wait for; `comes_out`: adults come out of the medium after a wash.
    """

    key: str
    name: str
    kind: PestKind
    stages: tuple[str, ...]
    hides: str
    looks: str
    spreads: str
    misses: str = ""
    repeat: Repeat | None = None
    days: tuple[DayRange, ...] = ()
    thermal: tuple[Thermal, ...] = ()
    bears_young: bool = False
    comes_out: bool = False
    note: str = ""
    source: str = ""


def read_pests(data: object, file: str) -> tuple[dict[str, Pest], tuple[Fault, ...]]:
    """The pests and diseases of a file's `data` by key, and all its faults. Those at fault are left out."""
    gathered = Gathered(file)
    top = Fields(data, "", gathered)
    pests = {str(key): top.table(table, str(key), _pest) for key, table in top.data.items()}
    good = {key: pest for key, pest in pests.items()
            if not any(path == key or path.startswith((f"{key}.", f"{key}[")) for path in gathered.paths)}
    return good, tuple(gathered.faults)


def _pest(fields: Fields) -> Pest:
    kind = fields.word("kind", by_word(PestKind), PestKind.PEST, required=True)
    repeats = fields.tables("repeat", _repeat)
    pest = Pest(
        key=fields.path, name=fields.text("name", required=True, most=40, lines=1), kind=kind,
        stages=fields.texts("stages", required=True), hides=fields.text("hides", required=True),
        looks=fields.text("looks", required=True), spreads=fields.text("spreads", required=True),
        misses=fields.text("misses"), repeat=repeats[0] if repeats else None,
        days=fields.tables("days", _days), thermal=fields.tables("thermal", read_thermal),
        bears_young=fields.flag("bears_young"), comes_out=fields.flag("comes_out"), note=fields.text("note"),
        source=fields.marked(required=True))
    if kind is PestKind.DISEASE and pest.repeat is not None:
        fields.fault("repeat", "no repeat was expected: a wash does not cure a disease")
    if kind is PestKind.DISEASE and pest.thermal:
        fields.fault("thermal", "no thermal constants were expected: they belong to animals")
    if len(repeats) > 1:
        fields.fault("repeat", "one [[repeat]] at most was expected")
    return pest


def _repeat(fields: Fields) -> Repeat:
    days = fields.span("days", 1, DAYS_MOST)
    times = fields.span("times", 1, TIMES_MOST)
    for key, span in (("days", days), ("times", times)):
        if span is None and fields.sound(key):
            fields.fault(key, "missing: two whole numbers, lowest first, were expected")
        elif span is not None and any(number != int(number) for number in span):
            fields.fault(key, "whole numbers were expected")
    low, high = days or (1, 1)
    least, most = times or (1, 1)
    return Repeat(int(low), int(high), int(least), int(most), fields.marked(required=True), fields.text("why"))


def _days(fields: Fields) -> DayRange:
    days = DayRange(what=fields.text("what", required=True, most=60, lines=1),
                    low=fields.number("low", 0.0, 0, DAYS_MOST, required=True),
                    high=fields.number("high", 0.0, 0, DAYS_MOST, required=True), source=fields.marked(required=True))
    if fields.sound("low", "high") and days.low > days.high:
        fields.fault("high", f"at least the low of {days.low:g} was expected, not {days.high:g}")
    return days
