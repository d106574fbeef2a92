"""Readings of a hand and of a logger beside each other: which is the newest, and whose word on how the air moves."""

from __future__ import annotations

from dataclasses import replace
from datetime import timedelta

from greenhouse_desk.domain.air_log import Log, instant
from greenhouse_desk.domain.figures import Constant
from greenhouse_desk.domain.plants import Air

SPEED_HOURS = Constant(24, "h", "what a hand tells and a logger cannot stands beside its newer readings for so long",
                       "house rule")


def readings_of(log: Log) -> tuple[Air, ...]:
    """A logger's readings as the rules read them."""
    return tuple(Air(instant(at), temp / 100, rh / 10_000 if rh >= 0 else None, speed / 100 if speed >= 0 else None,
                     None, True) for at, temp, rh, speed in zip(log.at, log.temp, log.rh, log.speed, strict=True))


def thinned(log: Log, apart_s: int) -> Log:
    """Of the readings each that lies `apart_s` seconds or more after the one kept before it."""
    kept, next_s = [], log.at[0]
    for nth, at in enumerate(log.at):
        if at >= next_s:
            kept.append(nth)
            next_s = at + apart_s
    return Log(*([column[nth] for nth in kept] for column in (log.at, log.temp, log.rh, log.speed)))


def newest_of(hand: Air | None, logged: Air | None) -> Air:
    """The newer of two readings of one place; one there must be. A logger without humidity leaves that of a hand
    standing for SPEED_HOURS: what dries asks for it.

    A logger without an air speed knows nothing of the fan: what was told by hand of it shortly before still stands.
    """
    if hand is None or logged is None:
        found = hand or logged
        assert found is not None
        return found
    if hand.at >= logged.at:
        return hand
    if logged.rh is None and logged.at - hand.at <= timedelta(hours=SPEED_HOURS.value):
        return hand
    if logged.air_speed_m_s is None and logged.at - hand.at <= timedelta(hours=SPEED_HOURS.value):
        return replace(logged, air_speed_m_s=hand.air_speed_m_s, moving=hand.moving)
    return logged
