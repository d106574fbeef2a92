"""The lanes that are shown: read when they first come into sight, with the kinds that are wanted, laid out for a view.
"""

from __future__ import annotations

from collections.abc import Callable, Iterable, Mapping, Sequence
from datetime import UTC, datetime
from zoneinfo import ZoneInfo

from greenhouse_desk.domain.plants import Home
from greenhouse_desk.domain.timeline import laid_out, strips
from greenhouse_desk.domain.timeline_sorts import Sort
from greenhouse_desk.domain.timeline_values import Item, Lane, Room, Row, Strip, lane
from greenhouse_desk.services.timeline import Head
from greenhouse_desk.ui.timeline import lettering

Read = Callable[[Sequence[int]], Mapping[int, Lane]]
UTC_ZONE = ZoneInfo("UTC")


class Lanes:
    """The plants shown, one lane each. `now` is the now-line in seconds, `zone` and `home` are the house's."""

    def __init__(self) -> None:
        self.heads: tuple[Head, ...] = ()
        self.sorts = frozenset(Sort)
        self.now = 0.0
        self.zone = UTC_ZONE
        self.home: Home | None = None
        self.home_set = False
        self._read: Read = lambda _numbers: {}
        self._whole: dict[int, Lane] = {}
        self._wanted: dict[int, Lane] = {}

    def show(self, heads: Iterable[Head], read: Read, now: datetime, zone: ZoneInfo) -> None:
        """These lanes as they are `now` (aware); `read` gives what lies on some of them."""
        self.heads, self._read, self.now, self.zone = tuple(heads), read, now.timestamp(), zone
        self._whole, self._wanted = {}, {}

    def live_at(self, home: Home, home_set: bool) -> None:
        """Where the sun sets on them; `home_set` is False where that is only assumed."""
        self.home, self.home_set = home, home_set

    def choose(self, heads: Iterable[Head]) -> None:
        """Show the lanes of these plants; what was read of them is kept."""
        self.heads = tuple(heads)

    def want(self, sorts: frozenset[Sort]) -> None:
        """Show what is about these sorts alone."""
        self.sorts, self._wanted = sorts, {}

    def fetch(self, places: Iterable[int]) -> None:
        """Read the lanes at these places that were not read yet, all in one question."""
        missing = [number for place in places if (number := self.heads[place].number) not in self._whole]
        if missing:
            self._whole.update(self._read(missing))

    def __len__(self) -> int:
        return len(self.heads)

    def lane(self, place: int) -> Lane:
        """The lane at this place, with what is wanted."""
        number = self.heads[place].number
        if number not in self._wanted:
            self.fetch((place,))
            self._wanted[number] = self._whole.get(number, lane(number)).only(self.sorts)
        return self._wanted[number]

    def row(self, place: int, room: Room) -> Row:
        """That lane laid out."""
        return laid_out(self.lane(place), room, lettering.width)

    def strips(self, place: int, room: Room) -> tuple[tuple[Strip, ...], ...]:
        """Its bands."""
        return strips(self.lane(place).bands, room, lettering.width)

    def place_of(self, number: int) -> int | None:
        """Where the lane of this plant is."""
        return next((place for place, head in enumerate(self.heads) if head.number == number), None)

    def where(self, place: int, entry: int) -> tuple[bool, int] | None:
        """The side and the place there of what happened as this entry."""
        items = self.lane(place).past.items
        return next(((False, nth) for nth, item in enumerate(items) if item.entry == entry), None)

    def item(self, place: int, ahead: bool, nth: int) -> Item | None:
        """What lies there."""
        side = self.lane(place).ahead if ahead else self.lane(place).past
        return side.items[nth] if nth < len(side.items) else None

    def local(self, at: float) -> datetime:
        """That moment by the clock of the house."""
        return datetime.fromtimestamp(at, UTC).astimezone(self.zone)
