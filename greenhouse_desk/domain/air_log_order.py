"""Whether day and month of a logger's file stand the other way round than chosen: told by all its days together."""

from __future__ import annotations

from collections.abc import Iterable, Sequence
from dataclasses import dataclass
from datetime import date
from itertools import pairwise
from statistics import median

from greenhouse_desk.domain.air_log import DateOrder
from greenhouse_desk.domain.air_log_time import Unread, day_read
from greenhouse_desk.domain.figures import Constant

OTHER = {DateOrder.DAY: DateOrder.MONTH, DateOrder.MONTH: DateOrder.DAY}
MONTHLY = Constant(20, "days", "days of a file usually this far apart are turned round: a month apart",
                   "house rule")
DAILY = Constant(2, "days", "days of a logger's file usually follow one another this closely", "house rule")
SPEAKING = Constant(3, "days", "fewer days tell nothing by how far apart they are", "house rule")


@dataclass(frozen=True, slots=True)
class _Fit:
    """Days that are none, or still to come; the usual step between the others."""

    lost: int
    step: float
    days: int


def turned(texts: Iterable[str], order: DateOrder, today: date) -> DateOrder | None:
    """The other order of day and month where the days of a file, as written there, fit it better than `order`."""
    other = OTHER.get(order)
    if other is None:
        return None
    written = tuple(texts)
    chosen, turned_round = _fit(written, order, today), _fit(written, other, today)
    if chosen.lost > turned_round.lost:
        return other if turned_round.step <= chosen.step else None
    apart = min(chosen.days, turned_round.days) >= SPEAKING.value and chosen.step >= MONTHLY.value \
        and turned_round.step <= DAILY.value
    return other if apart and chosen.lost == turned_round.lost else None


def _fit(texts: Sequence[str], order: DateOrder, today: date) -> _Fit:
    read = [day for text in texts if (day := _day(text, order)) is not None and day <= today]
    steps = [abs((later - one).days) for one, later in pairwise(read)]
    return _Fit(len(texts) - len(read), median(steps) if steps else MONTHLY.value, len(read))


def _day(text: str, order: DateOrder) -> date | None:
    try:
        return day_read(text, order)
    except Unread:
        return None
