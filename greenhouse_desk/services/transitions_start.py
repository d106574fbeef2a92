"""May this plant's transition start? The questions answered from the record, and the grower's word against them."""

from __future__ import annotations

from collections.abc import Iterable, Mapping
from dataclasses import dataclass
from datetime import date, datetime, timedelta

from greenhouse_desk.domain import names
from greenhouse_desk.domain.courses_start import AIR_DAYS, SEEN_WITHIN, Answer, Start, Surely, may_start
from greenhouse_desk.domain.courses_values import Look
from greenhouse_desk.domain.faults import Refused
from greenhouse_desk.domain.journal import Entry, Overruled, Potted, Roots, Signs
from greenhouse_desk.domain.names import BotanicalName
from greenhouse_desk.domain.plants import Plant
from greenhouse_desk.domain.year_state import standing
from greenhouse_desk.services import care, records, transitions
from greenhouse_desk.services.care_temperatures import chain
from greenhouse_desk.services.desk import Done
from greenhouse_desk.services.treatments_proposal import rotting
from greenhouse_desk.store import air, journal, plants
from greenhouse_desk.store.engine import Session

OF_START = "start"


@dataclass(frozen=True, slots=True)
class Waiting:
    """A plant that stands in a medium that rots: it has its move before it."""

    plant: int
    name: BotanicalName
    medium: str


def waiting(session: Session) -> tuple[Waiting, ...]:
    """Growing plants in bark, moss and the like, by number."""
    growing = plants.plants(session, care.surroundings(session).zone)
    return tuple(Waiting(one.number, names.parse(one.name), one.medium) for one in growing
                 if one.left is None and rotting(one.medium))


def asked(session: Session, plant: int, now: datetime) -> Start:
    """May the transition of `plant` start at `now`? Raises Refused for a plant that does not grow here."""
    known = _plant(session, plant)
    return asked_each(session, (known,), {plant: transitions.standing_of(session, plant, now)}, now)[plant]


def asked_each(session: Session, growing: Iterable[Plant], standings: Mapping[int, tuple[str, str]],
               now: datetime) -> dict[int, Start]:
    """The same of several growing plants, by number; `standings` are their words in quarantine, and why."""
    asking = list(growing)
    if not asking:
        return {}
    around, under_way = care.surroundings(session), transitions.under_way(session, now)
    today = transitions.rules_of_day(around, now)
    return {one.number: may_start(Surely(
        today, _newest(session, one.number, now, around), *standings[one.number], _temps(session, one, now),
        around.around(one.place).lights_out is not None, under_way, around.south,
        standing(journal.of_plant(session, one.number), now), _usual_rest(one, around, today))) for one in asking}


def overruled(session: Session, plant: int, now: datetime) -> bool:
    """Whether the grower's word against the answers still holds: given lately, and the plant not moved since."""
    since = now - timedelta(days=SEEN_WITHIN.value)
    entries = [entry for entry in journal.of_plant(session, plant) if since <= entry.at <= now]
    given = [entry.id for entry in entries if isinstance(entry.facts, Overruled) and entry.facts.of == OF_START]
    moved = [entry.id for entry in entries if isinstance(entry.facts, Potted) and entry.facts.transition]
    return bool(given) and max(given) > max(moved, default=0)


def start_anyway(session: Session, now: datetime, plant: int, reason: str) -> Done[int]:
    """Write down that the move of `plant` is started against the answers. Raises Refused without a reason, or where
    nothing speaks against it."""
    said = asked(session, plant, now)
    if said.answer is Answer.YES:
        raise Refused(f"Nothing speaks against moving {plant}", "", "Take it to the bench.")
    against = "; ".join(one.question for one in said.asked if one.answer is not Answer.YES)
    rule = "better not yet" if said.answer is Answer.NO else "look first"
    facts = Overruled(OF_START, f"{rule} ({against})", "start", reason.strip())
    return Done(f"{plant}: start all the same", transitions.KINDS, records.add(session, now, plant, facts).value)


def _plant(session: Session, number: int) -> Plant:
    found = [one for one in plants.plants(session, care.surroundings(session).zone, [number]) if one.left is None]
    if not found:
        raise Refused(f"Plant {number} is not growing here", "", "Check the number.")
    return found[0]


def _newest(session: Session, plant: int, now: datetime, around: care.Surroundings) -> Look | None:
    """The newest count and signs of the last weeks as one look, None when there were none."""
    since = now - timedelta(days=SEEN_WITHIN.value)
    told: list[Entry] = [entry for entry in journal.of_plant(session, plant)
                         if since <= entry.at <= now and isinstance(entry.facts, (Roots, Signs))]
    if not told:
        return None
    counts = [entry.facts for entry in told if isinstance(entry.facts, Roots)]
    seen = [entry.facts for entry in told if isinstance(entry.facts, Signs)]
    last = told[-1]
    count = counts[-1] if counts else None
    return Look(transitions.rules_of_day(around, last.at), last.at, last.id, count.living if count else None,
                count.dead if count else None, count.new_tips if count else None, seen[-1] if seen else Signs())


def _usual_rest(plant: Plant, around: care.Surroundings, today: date) -> tuple[str, str]:
    """That the genus of `plant` usually rests now, and by whose word; "" twice where it does not."""
    year = around.years.of_plant(plant.number, plant.name, around.genera)
    if year is None or year.rest is None or not year.rest.local(around.south).holds(today):
        return "", ""
    return f"{year.who} usually rests now, {year.rest.local(around.south).words}", year.source


def _temps(session: Session, plant: Plant, now: datetime) -> list[float]:
    """Temperatures read lately at the nearest place around the plant that has any, deg C."""
    around = care.surroundings(session)
    since = now - timedelta(days=AIR_DAYS.value)
    for place in chain(plant.place, around.places):
        found = [one.temp_c for one in air.by_hand(session, place.id, since, now)]
        logged = [one.mean / 100 for one in air.logged(session, place.id, since, now)]
        if logged or found:
            return logged or found  # a logger tells the whole day, a hand only when it was there
    return []
