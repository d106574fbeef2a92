"""The temperatures read around a plant, fetched only when a pest's dates ask for them."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass, field
from datetime import date, datetime, timedelta, tzinfo

from greenhouse_desk.domain.pests_climate import RECORD_DAYS, Climate, climate
from greenhouse_desk.domain.plants import Place
from greenhouse_desk.store import journal
from greenhouse_desk.store.engine import Session

Readings = Mapping[int, list[tuple[datetime, float]]]


@dataclass
class Temperatures:
    """The climates of the places, as of `now` (aware), for one answer: readings are fetched once, when first asked."""

    session: Session
    places: Mapping[int, Place]
    now: datetime
    zone: tzinfo
    _readings: Readings | None = None
    _known: dict[int, Climate | None] = field(default_factory=dict)

    def around(self, place: int | None) -> Climate | None:
        """The climate of a place, or of the nearest place around it that has readings; None where none has."""
        if place is None or place not in self.places:
            return None
        if place not in self._known:
            self._known[place] = self._climate(place)
        return self._known[place]

    def _climate(self, place: int) -> Climate | None:
        if self._readings is None:
            since = self.now - timedelta(days=RECORD_DAYS.value)
            self._readings = journal.temperatures(self.session, since, self.now)
        asked, today = self.places[place], self._today()
        for one in chain(place, self.places):
            if one.id in self._readings:
                own = one.id == place
                found = climate(self._readings[one.id], today, self.zone, one.name, "" if own else asked.name)
                if found is not None:
                    return found
        return None

    def _today(self) -> date:
        return self.now.astimezone(self.zone).date()


def chain(place: int | None, places: Mapping[int, Place]) -> tuple[Place, ...]:
    """A place and those around it, the innermost first."""
    found: list[Place] = []
    while place is not None and place in places and len(found) < len(places):
        found.append(places[place])
        place = places[place].parent
    return tuple(found)
