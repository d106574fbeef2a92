"""Thermal constants of pests: how many degree-days above which threshold a stretch of life takes, as one study found.

A threshold and a constant belong to the study they were fitted in: an entry holds both with their one source, and
nothing here joins the threshold of one with the constant of another.
"""

from __future__ import annotations

from dataclasses import dataclass
from enum import StrEnum

from greenhouse_desk.domain.datafile import Fields, by_word
from greenhouse_desk.domain.figures import Span

MOST_DEGREE_DAYS = 2000
COLDEST_C, HOTTEST_C = -10, 50


class Covers(StrEnum):
    """The stretch of life an entry covers."""

    EGG = "egg"
    YOUNG = "hatch to adult"
    BEFORE_EGGS = "adult to first egg"
    WHOLE = "egg to adult"


@dataclass(frozen=True, slots=True)
class Thermal:
    """One constant: `degree_days` above `above_c` (deg C) complete `stage`, found at steady temperatures `measured`.

    Several entries of one source that cover the same stretch follow each other in the order of the file. `species` is
    the one that was reared, "" where it is the pest itself.
    """

    stage: str
    covers: Covers
    degree_days: float
    above_c: float
    measured: Span
    source: str
    species: str = ""


def read_thermal(fields: Fields) -> Thermal:
    """One [[thermal]] table; faults are gathered in `fields`."""
    measured = fields.span("measured_c", COLDEST_C, HOTTEST_C)
    if measured is None and fields.sound("measured_c"):
        fields.fault("measured_c", "missing: the lowest and the highest temperature of the study were expected")
    found = Thermal(
        stage=fields.text("stage", required=True, most=60, lines=1),
        covers=fields.word("covers", by_word(Covers), Covers.EGG, required=True),
        degree_days=fields.number("degree_days", 1.0, 1, MOST_DEGREE_DAYS, required=True),
        above_c=fields.number("above_c", 0.0, COLDEST_C, HOTTEST_C, required=True),
        measured=Span(*(measured or (0.0, 0.0))), source=fields.marked(required=True),
        species=fields.text("species", most=40, lines=1))
    if measured is not None and fields.sound("measured_c", "above_c") and found.above_c >= measured[0]:
        fields.fault("above_c", f"a threshold below the coldest measured {measured[0]:g} C was expected")
    return found


def studies(thermal: tuple[Thermal, ...], covers: Covers) -> tuple[tuple[Thermal, ...], ...]:
    """The entries that cover one stretch, one tuple for each study, its stages in order."""
    found: dict[str, list[Thermal]] = {}
    for entry in thermal:
        if entry.covers is covers:
            found.setdefault(entry.source, []).append(entry)
    return tuple(tuple(stages) for stages in found.values())
