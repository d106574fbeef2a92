"""What belongs to this window on this computer, not to the collection: look, text size, density, where it stood."""

from __future__ import annotations

import os
import tomllib
from collections.abc import Mapping, Sequence
from dataclasses import asdict, dataclass, field, fields, replace
from pathlib import Path

import tomli_w

from greenhouse_desk.services import files

LOOKS = ("system", "light", "dark")
TEXT_SIZES = (100, 125, 150, 175, 200)
SCREEN_MM = (100, 2000)
PUT_RIGHT = ((0.9, 1.12), (0.9, 1.12), (-20, 20), (-20, 20))
SCALE_VARIABLE = "QT_SCALE_FACTOR"


@dataclass(frozen=True, slots=True)
class WindowSettings:
    """`look` is one of LOOKS, `text_percent` one of TEXT_SIZES; width and height in pixels, 0 for "as it fits".

    `screen_mm` is how wide the grower measured the screen to be, 0 where the screen's own word is taken. `printers` are
    the corrections of printers by name: stretch across and down, shift to the right and down in mm.
    """

    look: str = "system"
    text_percent: int = 100
    dense: bool = False
    width: int = 0
    height: int = 0
    maximised: bool = False
    screen_mm: int = 0
    printers: Mapping[str, Sequence[float]] = field(default_factory=dict)


def read(path: Path) -> WindowSettings:
    """The settings kept at `path`; whatever is missing, odd or unreadable there stands at its default."""
    try:
        data = tomllib.loads(path.read_text("utf-8"))
    except (OSError, ValueError):
        return WindowSettings()
    default = WindowSettings()
    kept = {one.name: data[one.name] for one in fields(WindowSettings)
            if type(data.get(one.name)) is type(getattr(default, one.name))}
    given = WindowSettings(**kept)
    look = given.look if given.look in LOOKS else default.look
    size = given.text_percent if given.text_percent in TEXT_SIZES else default.text_percent
    wide = given.screen_mm if SCREEN_MM[0] <= given.screen_mm <= SCREEN_MM[1] else default.screen_mm
    return replace(given, look=look, text_percent=size, screen_mm=wide, printers=_corrections(given.printers))


def _corrections(kept: Mapping[str, Sequence[float]]) -> dict[str, Sequence[float]]:
    """The corrections that can be ones."""
    return {name: row for name, row in kept.items() if isinstance(row, list) and len(row) == 4
            and all(isinstance(value, float | int) for value in row)
            and all(low <= value <= high for value, (low, high) in zip(row, PUT_RIGHT, strict=True))}


def write(path: Path, settings: WindowSettings) -> None:
    """Keep the settings, whole or not at all. OSError where nothing can be written."""
    files.put(path, tomli_w.dumps(asdict(settings)).encode())


def scale(text_percent: int) -> None:
    """Make every pixel of the look larger by this much. Only before Qt starts; a scale set from outside is kept."""
    if text_percent != 100:
        os.environ.setdefault(SCALE_VARIABLE, f"{text_percent / 100:g}")
