"""What a grower writes down by hand: several facts as one deed, refused where they do not fit what came before."""

from __future__ import annotations

from collections.abc import Callable, Mapping, Sequence
from dataclasses import replace
from datetime import datetime
from functools import cache
from typing import Any

from greenhouse_desk.domain.agents import WATER, Agent, Percent
from greenhouse_desk.domain.care_air import LEAF_PARTS
from greenhouse_desk.domain.care_asked import in_time
from greenhouse_desk.domain.faults import Refused
from greenhouse_desk.domain.journal import (
    Aired,
    Blotted,
    Cut,
    Dressed,
    Dry,
    Entry,
    Facts,
    Kind,
    Part,
    Sighted,
    Treated,
    Unpotted,
    Wetted,
)
from greenhouse_desk.domain.own_words import OwnKind
from greenhouse_desk.services import own_words, records
from greenhouse_desk.services.desk import Done
from greenhouse_desk.services.shelf import shelf
from greenhouse_desk.store import journal
from greenhouse_desk.store.engine import Session


def write(session: Session, now: datetime, plant: int, facts: Sequence[Facts], at: datetime | None = None,
          note: str = "", label: str = "", own: OwnKind | None = None) -> Done[int]:
    """Write `facts`, the first of them the main one, as one deed at the aware instant `at` (now when None).

    `label` holds the words of a product's own label: they are kept with a treatment, and must be there for an agent
    that may only be used by its label; `own` tells what an own word for a pest or disease names. Returns the main
    entry's id. Raises Refused as `records.add` does, and when the
    facts do not fit the journal before that moment: dressing without an open cut, blotting what is not wet.
    """
    facts = [replace(one, what=own_words.learn(session, one.what, own)) if isinstance(one, Sighted) else one
             for one in facts]
    before = [entry for entry in journal.of_plant(session, plant) if entry.at <= (at or now)]
    for one in facts:
        check_fits(one, before)
        if isinstance(one, Treated):
            _check_label(one, label)
    told = "; ".join(filter(None, (f"label: {label.strip()}" if label.strip() else "", note.strip())))
    done = [records.add(session, now, plant, one, at, told if one is facts[0] else "") for one in facts]
    return done[0]


@cache
def agents() -> Mapping[str, Agent]:
    """The known agents by key, as shipped."""
    return shelf(None).agents


def by_label(key: str) -> bool:
    """Whether an agent may only be used as its own label says: an unknown one, or a pesticide without a strength."""
    agent = agents().get(key)
    if agent is None:
        return True
    return agent.percent is Percent.LABEL and agent.family != WATER and agent.use(Part.LEAVES) is not None


def check_fits(facts: Facts, before: Sequence[Entry]) -> None:
    """Raise Refused when `facts` cannot have happened after the entries `before`; the message says what is missing."""
    rule = FITS.get(type(facts))
    if rule is not None:
        rule(sorted(before, key=in_time))


def _check_label(facts: Treated, label: str) -> None:
    if facts.agent.strip() and by_label(facts.agent) and not label.strip():
        raise Refused("The label's words are missing", "This agent may only be used as its own label says.",
                      "Type what the label says of product, dose and plant, word for word.")


def _last(entries: Sequence[Entry], *kinds: Kind) -> Entry | None:
    return next((entry for entry in reversed(entries) if entry.kind in kinds), None)


def _dressed(before: Sequence[Entry]) -> None:
    last = _last(before, Kind.CUT, Kind.DRESSED)
    if last is None or not isinstance(last.facts, Cut):
        raise Refused("No cut is open", "No cut is written down on this plant since it was last dressed.",
                      "Write the cut down first, at an earlier time.")


def _unpotted(before: Sequence[Entry]) -> None:
    last = _last(before, Kind.POTTED, Kind.UNPOTTED)
    if last is not None and isinstance(last.facts, Unpotted):
        raise Refused("It is out of its pot already", "No potting is written down since.",
                      "Write the repot down when it is potted.")


def _wet(before: Sequence[Entry]) -> None:
    last = next((entry for entry in reversed(before) if isinstance(entry.facts, Dry) or _wets(entry.facts)), None)
    if last is None or isinstance(last.facts, Dry):
        raise Refused("It is not wet", "No water on its leaves or crown is written down since it was last dry.",
                      "Write the wetting down first, at an earlier time.")


def _wets(facts: Facts) -> bool:
    return isinstance(facts, Wetted) and bool(LEAF_PARTS & set(facts.parts))


FITS: Mapping[type[Any], Callable[[Sequence[Entry]], None]] = {
    Dressed: _dressed, Unpotted: _unpotted, Blotted: _wet, Aired: _wet, Dry: _wet,
}
