"""What is owed as a plain list: for the command line, one row for each care, soonest first."""

from __future__ import annotations

from dataclasses import dataclass
from datetime import UTC, datetime

from greenhouse_desk.domain import care as rules_of_care
from greenhouse_desk.domain.care import Care, CareWords, Moment
from greenhouse_desk.services import care as services_care
from greenhouse_desk.services import collection
from greenhouse_desk.store import house, plants
from greenhouse_desk.store.engine import Session


@dataclass(frozen=True, slots=True)
class Owed:
    """One care of one plant with its name as typed, the way to its place ("" when it stands nowhere) and its words."""

    care: Care
    name: str
    place: str
    words: CareWords

    def plain(self) -> dict[str, str | int | None]:
        """The row in JSON's types: care days as dates, instants in UTC; `why` is the reasoning, step by step."""
        care = self.care
        return {"plant": care.plant, "name": self.name, "place": self.place or None, "kind": care.kind.value,
                "from": written(care.opens), "due": written(care.due),
                "latest": written(care.latest) if care.latest is not None else None,
                "what": care.what, "why": why(care)}


def owed(session: Session, now: datetime) -> tuple[Owed, ...]:
    """Everything owed at the aware instant `now` as far ahead as the house rules look, holds included."""
    local = collection.zone(session)
    rules = house.rules(session)
    where = {place.id: place for place in plants.places(session)}
    known = {plant.number: plant for plant in plants.plants(session, local)}
    return tuple(Owed(care, known[care.plant].name, collection.path_of(known[care.plant].place, where),
                      rules_of_care.words(care, now, local, rules)) for care in services_care.due(session, now))


def written(moment: Moment) -> str:
    """A care day as an ISO date, an instant as ISO in UTC."""
    return moment.astimezone(UTC).isoformat(timespec="seconds") if isinstance(moment, datetime) else moment.isoformat()


def why(care: Care) -> str:
    """The reasoning in one string: each step with its source or mark in brackets."""
    return " ".join(f"{reason.text} [{reason.shown}]" if reason.source else reason.text for reason in care.why)
