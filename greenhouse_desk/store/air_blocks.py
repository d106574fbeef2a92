"""A day of a logger's readings packed into one text: columns of differences, compressed, so that a year is small and
undo keeps one image a day. Text, because row images are JSON."""

from __future__ import annotations

import sys
import zlib
from array import array
from base64 import b85decode, b85encode
from collections.abc import Iterable, Sequence
from functools import lru_cache
from itertools import accumulate, chain, pairwise

from greenhouse_desk.domain.air_log import Log
from greenhouse_desk.domain.air_slots import DAY_S, SLOT_S, Slot, slots

KIND = "i"
WIDTH = 4
MARK = "1:"
"""Begins every packed text, so that a later way of packing can be told from this one."""
SLOTS_MOST = DAY_S // SLOT_S
LARGEST = 16 * 1024 * 1024
"""Bytes a packed day may unpack to: a reading a second is a tenth of it."""


def packed(day_s: int, log: Log) -> str:
    """The readings of the day that begins at `day_s` (seconds since 1970, UTC)."""
    return _packed(([at - day_s for at in log.at], log.temp, log.rh, log.speed))


@lru_cache(maxsize=64)
def unpacked(day_s: int, text: str) -> Log:
    """What `packed` was given. Raises ValueError where the text is damaged. Kept, because the newest day is asked for
    at every change."""
    at, temp, rh, speed = _unpacked(text, 4)
    if list(at) != sorted(set(at)) or not at or not 0 <= at[0] <= at[-1] < DAY_S:
        raise ValueError("its times do not lie in order in its day")
    return Log([day_s + one for one in at], temp, rh, speed)


def halves(log: Log) -> str:
    """The half hours of a day's readings, packed."""
    return _packed(list(zip(*(_figures(one) for one in slots(log)), strict=True)))


@lru_cache(maxsize=4096)
def halves_of(text: str) -> tuple[Slot, ...]:
    """What `halves` packed. Raises ValueError where the text is damaged."""
    columns = _unpacked(text, 8)
    if not 0 < len(columns[0]) <= SLOTS_MOST:
        raise ValueError("it has no or too many half hours")
    return tuple(Slot(SLOT_S * start, *figures) for start, *figures in zip(*columns, strict=True))


def _figures(one: Slot) -> tuple[int, ...]:
    return (one.start // SLOT_S, one.readings, one.low, one.mean, one.high, one.rh, one.vpd, one.vapour)


def _packed(columns: Sequence[Sequence[int]]) -> str:
    steps = array(KIND, chain.from_iterable(_steps(column) for column in columns))
    if sys.byteorder == "big":
        steps.byteswap()
    return MARK + b85encode(zlib.compress(steps.tobytes(), 6)).decode("ascii")


def _steps(column: Sequence[int]) -> Iterable[int]:
    return chain(column[:1], (later - one for one, later in pairwise(column)))


def _unpacked(text: str, columns: int) -> list[list[int]]:
    if not text.startswith(MARK):
        raise ValueError("it is packed in a way this program does not know")
    try:
        opened = zlib.decompressobj()
        data = opened.decompress(b85decode(text[len(MARK):]), LARGEST)
        if not opened.eof:
            raise ValueError("it is cut off")
    except zlib.error as error:
        raise ValueError(f"it cannot be unpacked ({error})") from None
    size, rest = divmod(len(data), WIDTH * columns)
    if rest:
        raise ValueError("its columns are not of one length")
    steps = array(KIND, data)
    if sys.byteorder == "big":
        steps.byteswap()
    return [list(accumulate(steps[nth * size:(nth + 1) * size])) for nth in range(columns)]
