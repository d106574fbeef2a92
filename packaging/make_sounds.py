"""Makes the three alarm sounds in resources/sounds: chime (a least is reached), warn (near a most), loud (at it).

Run from the checkout: python packaging/make_sounds.py. Plain synthesis, so that the files need no licence of others.
The pitches lie between 1 and 3 kHz, where hearing is keenest, with partials for ears that miss the high ones.
"""

from __future__ import annotations

import math
import struct
import wave
from collections.abc import Iterable
from pathlib import Path

RATE = 22050
SOUNDS = Path(__file__).parents[1] / "resources" / "sounds"

Tone = tuple[float, float, float, float]
"""Start s, length s, pitch Hz, loudness 0 to 1."""

CHIME: tuple[Tone, ...] = ((0.0, 0.9, 1046.5, 0.45), (0.25, 1.1, 1318.5, 0.45))
WARN: tuple[Tone, ...] = tuple((0.32 * n, 0.26, 1480.0, 0.7) for n in range(3))
LOUD: tuple[Tone, ...] = tuple((0.15 * n, 0.14, 1174.7 if n % 2 else 1760.0, 0.95) for n in range(8))


def tone(start: float, length: float, pitch: float, loudness: float, ring: bool, at: float) -> float:
    """The sound pressure (-1 to 1) of one tone at the time `at`; `ring` lets it die away like a bell."""
    since = at - start
    if not 0 <= since < length:
        return 0.0
    edge = min(1.0, since / 0.008, (length - since) / 0.02)
    shape = edge * (math.exp(-4.0 * since / length) if ring else 1.0)
    turn = 2 * math.pi * pitch * since
    return loudness * shape * (0.7 * math.sin(turn) + 0.2 * math.sin(2 * turn) + 0.1 * math.sin(3 * turn))


def samples(tones: Iterable[Tone], ring: bool) -> bytes:
    """All tones together as 16-bit mono."""
    tones = tuple(tones)
    length = max(start + duration for start, duration, _, _ in tones)
    values = (sum(tone(*one, ring, n / RATE) for one in tones) for n in range(round(length * RATE)))
    return b"".join(struct.pack("<h", round(32767 * max(-1.0, min(1.0, value)))) for value in values)


def write(name: str, tones: Iterable[Tone], ring: bool = False) -> None:
    """Write one WAV file."""
    with wave.open(str(SOUNDS / f"{name}.wav"), "wb") as file:
        file.setnchannels(1)
        file.setsampwidth(2)
        file.setframerate(RATE)
        file.writeframes(samples(tones, ring))


if __name__ == "__main__":
    SOUNDS.mkdir(parents=True, exist_ok=True)
    write("chime", CHIME, ring=True)
    write("warn", WARN)
    write("loud", LOUD)
