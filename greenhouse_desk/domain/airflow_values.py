"""The values of drying: what surrounds a plant, what would help it dry, and the verdict before it is made wet."""

from __future__ import annotations

from dataclasses import dataclass
from datetime import datetime, time

from greenhouse_desk.domain.care_values import Reason
from greenhouse_desk.domain.figures import Span
from greenhouse_desk.domain.plants import Air, Home


@dataclass(frozen=True, slots=True)
class Around:
    """What surrounds a plant: the newest air reading, the local time its lamps go off (None: daylight), the home.

    `home_set` is False while the grower has not said where the home is, so that its sun and clock are only assumed.
    """

    air: Air | None
    lights_out: time | None
    home: Home
    home_set: bool = True


@dataclass(frozen=True, slots=True)
class Help:
    """One thing that would help: what to do, the hours it then takes, and the hours gained at the slow end.

    `gain_hours` is infinite where without it the plant does not dry at all.
    """

    what: str
    span: Span
    gain_hours: float


@dataclass(frozen=True, slots=True)
class Verdict:
    """Whether a plant wetted then is dry in time: yes, no, or None when it cannot be told; in words, with reasons.

    `hours` it takes as the air is, `with_fan` with one on at once; `start_by` (aware UTC) the latest wetting that is
    dry in time with the fan, None when none is; `helps` the greatest gain first.
    """

    ok: bool | None
    words: str
    why: tuple[Reason, ...]
    hours: Span | None = None
    with_fan: Span | None = None
    start_by: datetime | None = None
    helps: tuple[Help, ...] = ()
