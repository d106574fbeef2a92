"""What belongs to this window on this computer, not to the collection: look, text size, density, where it stood."""

from __future__ import annotations

import os
import tomllib
from dataclasses import asdict, dataclass, fields, replace
from pathlib import Path

import tomli_w

from greenhouse_desk.services import files

LOOKS = ("system", "light", "dark")
TEXT_SIZES = (100, 125, 150, 175, 200)
SCREEN_MM = (100, 2000)
SCALE_VARIABLE = "QT_SCALE_FACTOR"


@dataclass(frozen=True, slots=True)
class WindowSettings:
    """`look` is one of LOOKS, `text_percent` one of TEXT_SIZES; width and height in pixels, 0 for "as it fits".

    `screen_mm` is how wide the grower measured the screen to be, 0 where the screen's own word is taken.
    """

    look: str = "system"
    text_percent: int = 100
    dense: bool = False
    width: int = 0
    height: int = 0
    maximised: bool = False
    screen_mm: int = 0


def read(path: Path) -> WindowSettings:
    """The settings kept at `path`; whatever is missing, odd or unreadable there stands at its default."""
    try:
        data = tomllib.loads(path.read_text("utf-8"))
    except (OSError, ValueError):
        return WindowSettings()
    default = WindowSettings()
    kept = {field.name: data[field.name] for field in fields(WindowSettings)
            if type(data.get(field.name)) is type(getattr(default, field.name))}
    given = WindowSettings(**kept)
    look = given.look if given.look in LOOKS else default.look
    size = given.text_percent if given.text_percent in TEXT_SIZES else default.text_percent
    wide = given.screen_mm if SCREEN_MM[0] <= given.screen_mm <= SCREEN_MM[1] else default.screen_mm
    return replace(given, look=look, text_percent=size, screen_mm=wide)


def write(path: Path, settings: WindowSettings) -> None:
    """Keep the settings, whole or not at all. OSError where nothing can be written."""
    files.put(path, tomli_w.dumps(asdict(settings)).encode())


def scale(text_percent: int) -> None:
    """Make every pixel of the look larger by this much. Only before Qt starts; a scale set from outside is kept."""
    if text_percent != 100:
        os.environ.setdefault(SCALE_VARIABLE, f"{text_percent / 100:g}")
