"""A session that was not ended, told where it can be taken up again: since when, how it stands, what is left of it."""

from __future__ import annotations

from datetime import datetime, timedelta, tzinfo

from greenhouse_desk.services import collection, treatments
from greenhouse_desk.services.desk import Desk
from greenhouse_desk.services.treatments import OpenSitting
from greenhouse_desk.ui import words


def opened(desk: Desk) -> list[tuple[OpenSitting, str]]:
    """Every session not ended, each with its words."""
    return [(one, told(desk, one)) for one in desk.read(treatments.open_sittings, desk.clock())]


def told(desk: Desk, one: OpenSitting) -> str:
    """The session in words, as it stands now."""
    zone, now = desk.read(collection.zone), desk.clock()
    began = words.moment(one.started_at, now, zone)
    how = f"left {words.moment(one.left_at, now, zone)}" if one.left_at is not None else "broken off"
    return f"Session of {began}, {how}: {one.words}.{_left(desk, one.id, now, zone)}"


def _left(desk: Desk, session: int, now: datetime, zone: tzinfo) -> str:
    """How long what is left of a session takes, planned anew from now; "" where only its end is left."""
    left = timedelta(minutes=desk.read(treatments.plan_left, session, now).makespan_minutes)
    if left < timedelta(minutes=1):
        return ""
    return f" What is left takes about {words.stretch(left)}, to {words.clock(now + left, zone)}."
