"""The plants that could go to the bench: their past, how they stand, and what is proposed for each and why."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass, replace
from datetime import datetime

from greenhouse_desk.domain import names
from greenhouse_desk.domain.bench_facts import in_pellets
from greenhouse_desk.domain.care import Care, Reason
from greenhouse_desk.domain.care_day import care_day
from greenhouse_desk.domain.care_values import WASHES
from greenhouse_desk.domain.courses_start import Answer
from greenhouse_desk.domain.names import BotanicalName
from greenhouse_desk.domain.quarantine import Standing
from greenhouse_desk.services import care, house, quarantine, records, transitions_start
from greenhouse_desk.services.treatments_proposal import (
    Asking,
    against,
    last_treatment,
    past,
    proposal,
    rotting,
    wash_words,
)
from greenhouse_desk.store import plants
from greenhouse_desk.store.engine import Session


@dataclass(frozen=True, slots=True)
class Candidate:
    """A plant that could come to the bench: its standing, pest past, last treatment, notes; and, once it is asked for,
    what is proposed ("" when nothing asks for anything) and what is said of its wash while none is owed."""

    plant: int
    name: BotanicalName
    standing: Standing
    past: str
    last_treatment: str
    notes: str
    proposed: str = ""
    proposed_why: str = ""
    wash_words: str = ""


def candidates(session: Session, now: datetime) -> tuple[Candidate, ...]:
    """All growing plants by number. What is proposed is asked for those that are chosen, by `proposed`."""
    everyone = records.histories(session)
    standing = quarantine.standings(session, everyone, now)
    zone, labels = house.zone(session), records.labels(session)
    return tuple(Candidate(one.plant.number, names.parse(one.plant.name), standing[one.plant.number],
                           past(one, zone, labels), last_treatment(one, zone, labels), one.plant.notes)
                 for one in everyone if one.plant.left is None)


def proposed(session: Session, now: datetime, some: Sequence[Candidate]) -> tuple[Candidate, ...]:
    """These candidates with what is proposed for each and why; only their journals are read."""
    around = care.surroundings(session)
    today, stands = care_day(now, around.zone, around.rules), {one.plant: one.standing for one in some}
    each = {one.plant.number: one for one in records.histories(session, sorted(stands))}
    owed = care.owed_each(session, now, sorted(stands))
    starts = transitions_start.asked_each(
        session, [one.plant for one in each.values() if rotting(one.plant.medium)],
        {number: (standing.word, standing.why) for number, standing in stands.items()}, now)
    return tuple(_with_proposal(one, Asking(each[one.plant], one.standing, _wash(owed[one.plant]), owed[one.plant],
                                            starts.get(one.plant), today)) for one in some)


def _wash(owed: Sequence[Care]) -> Care | None:
    return next((care for care in owed if care.kind in WASHES), None)


def _with_proposal(one: Candidate, asking: Asking) -> Candidate:
    protocol, why = proposal(asking)
    return replace(one, proposed=protocol, proposed_why=why,
                   wash_words=wash_words(asking.wash, asking.standing, asking.today))


@dataclass(frozen=True, slots=True)
class Move:
    """Whether the move of a plant may start, in words, with the reasons; `waits` when it should wait and nobody has
    overruled that yet."""

    words: str
    why: tuple[Reason, ...]
    waits: bool


MAY = {Answer.YES: "It may start", Answer.NO: "Better not yet", Answer.UNKNOWN: "Look first"}


def move(session: Session, now: datetime, number: int) -> Move:
    """May the move of this plant start? Raises Refused for a plant that does not grow here."""
    standing_in = next((one.medium for one in plants.plants(session, house.zone(session), [number])), "")
    if in_pellets(standing_in):
        return Move(f"It stands in {standing_in} already: this is no move.", (), False)
    said = transitions_start.asked(session, number, now)
    told = "" if said.answer is Answer.YES else f": {against(said)}"
    given = said.answer is not Answer.YES and transitions_start.overruled(session, number, now)
    return Move(f"{MAY[said.answer]}{told}{'. You said: start all the same' if given else ''}.", said.why,
                said.answer is Answer.NO and not given)
