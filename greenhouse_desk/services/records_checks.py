"""What an entry of the journal may hold: every figure that cannot be is refused before it is written."""

from __future__ import annotations

from collections.abc import Callable
from typing import Any

from greenhouse_desk.domain.contacts import is_virus
from greenhouse_desk.domain.faults import Refused
from greenhouse_desk.domain.journal import (
    Cut,
    Facts,
    Flowering,
    Note,
    Overruled,
    Potted,
    Poured,
    Reading,
    Roots,
    Shared,
    Sighted,
    Treated,
    VirusTested,
)
from greenhouse_desk.domain.own_words import NO_WORDS, OwnWords

COLDEST_C, HOTTEST_C = -30.0, 60.0
MOST_AIR_M_S = 10.0
MOST_COUNTED = 999
MOST_ML = 20_000
LONGEST_MINUTES = 48 * 60
MOST_DAYS = 60
MOST_SHARED_DAYS = 366


def check(facts: Facts, own: OwnWords = NO_WORDS) -> None:
    """Raise Refused when `facts` hold a figure that cannot be; the message names it and its range. Of the house's `own`
    words a virus is known by its kind."""
    rule = RULES.get(type(facts))
    if rule is not None:
        rule(facts)
    if isinstance(facts, VirusTested) and not is_virus(facts.what, own):
        raise Refused(f"{facts.what} is not known as a virus", "A test ends the suspicion of what was written down.",
                      "Choose from the list, and say under the test for which viruses it was.")


def within(what: str, value: float | None, low: float, high: float, unit: str = "") -> None:
    """Raise Refused unless `value` (None: not measured) lies from `low` to `high`, both in `unit`."""
    if value is None or low <= value <= high:
        return
    tail = f" {unit}" if unit else ""
    raise Refused(f"The {what} cannot be {value:g}{tail}", f"It must lie from {low:g} to {high:g}{tail}.",
                  "Correct the figure and try again.")


def filled(what: str, text: str) -> None:
    """Raise Refused when `text` is empty."""
    if not text.strip():
        raise Refused(f"The {what} is empty", "Nothing was written.", f"Type the {what}.")


def _roots(facts: Roots) -> None:
    within("number of living roots", facts.living, 0, MOST_COUNTED)
    within("number of dead roots", facts.dead, 0, MOST_COUNTED)
    within("number of new tips", facts.new_tips, 0, MOST_COUNTED)
    within("share removed", facts.removed_percent, 0, 100, "%")


def _sighted(facts: Sighted) -> None:
    filled("pest or disease", facts.what)
    within("number seen", facts.count, 0, 100_000)


def _treated(facts: Treated) -> None:
    filled("agent", facts.agent)
    within("strength", facts.strength, 0, 100, "%")
    within("contact time", facts.minutes, 0, LONGEST_MINUTES, "min")


def _reading(facts: Reading) -> None:
    within("temperature", facts.temp_c, COLDEST_C, HOTTEST_C, "C")
    within("relative humidity", facts.rh, 0, 1)
    within("air speed", facts.air_speed_m_s, 0, MOST_AIR_M_S, "m/s")


def _cut(facts: Cut) -> None:
    within("number of cuts", facts.count, 1, MOST_COUNTED)


def _poured(facts: Poured) -> None:
    within("amount poured", facts.ml, 0, MOST_ML, "ml")


def _potted(facts: Potted) -> None:
    filled("medium", facts.medium)


def _note(facts: Note) -> None:
    filled("note", facts.text)


def _overruled(facts: Overruled) -> None:
    filled("reason", facts.reason)
    within("days to the next look", facts.days, 0, MOST_DAYS)


def _shared(facts: Shared) -> None:
    if not facts.plants:
        raise Refused("No other plant is named", "Nothing was written.", "Type the numbers of the others.")
    within("number of days", facts.days, 1, MOST_SHARED_DAYS, "days")


def _tested(facts: VirusTested) -> None:
    filled("virus", facts.what)
    filled("name of who tested it", facts.by)


def _flowering(facts: Flowering) -> None:
    within("number of spikes or flowers", facts.count, 0, MOST_COUNTED)


RULES: dict[type[Any], Callable[[Any], None]] = {
    Roots: _roots, Sighted: _sighted, Treated: _treated, Reading: _reading, Cut: _cut, Poured: _poured,
    Potted: _potted, Note: _note, Overruled: _overruled, Shared: _shared, VirusTested: _tested,
    Flowering: _flowering,
}
