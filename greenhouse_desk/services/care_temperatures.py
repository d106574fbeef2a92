"""The temperatures read around a plant, fetched only when a pest's dates ask for them."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass, field
from datetime import datetime, timedelta, tzinfo

from greenhouse_desk.domain.pests_climate import RECORD_DAYS, Climate, climate
from greenhouse_desk.domain.plants import Place
from greenhouse_desk.store import air
from greenhouse_desk.store.engine import Session


@dataclass
class Temperatures:
    """The climates of the places, as of `now` (aware), for one answer: a place is read when it is first asked for."""

    session: Session
    places: Mapping[int, Place]
    now: datetime
    zone: tzinfo
    _known: dict[int, Climate | None] = field(default_factory=dict)

    def around(self, place: int | None) -> Climate | None:
        """The climate of a place, or of the nearest place around it that was read lately; None where none was."""
        if place is None or place not in self.places:
            return None
        if place not in self._known:
            self._known[place] = self._climate(place)
        return self._known[place]

    def _climate(self, place: int) -> Climate | None:
        asked, today = self.places[place], self.now.astimezone(self.zone).date()
        since = self.now - timedelta(days=RECORD_DAYS.value)
        for one in chain(place, self.places):
            by_hand = [(read.at, read.temp_c) for read in air.by_hand(self.session, one.id, since, self.now)]
            found = climate(by_hand, today, self.zone, one.name, "" if one.id == place else asked.name,
                            air.logged(self.session, one.id, since, self.now))
            if found is not None:
                return found
        return None


def chain(place: int | None, places: Mapping[int, Place]) -> tuple[Place, ...]:
    """A place and those around it, the innermost first."""
    found: list[Place] = []
    while place is not None and place in places and len(found) < len(places):
        found.append(places[place])
        place = places[place].parent
    return tuple(found)
