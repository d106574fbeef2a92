"""What belongs to this window on this computer, not to the collection: look, text size, density, where it stood."""

from __future__ import annotations

import os
import tomllib
from dataclasses import asdict, dataclass, fields
from pathlib import Path

import tomli_w

from greenhouse_desk.services import files

LOOKS = ("system", "light", "dark")
TEXT_SIZES = (100, 125, 150, 175, 200)
SCALE_VARIABLE = "QT_SCALE_FACTOR"


@dataclass(frozen=True, slots=True)
class WindowSettings:
    """`look` is one of LOOKS, `text_percent` one of TEXT_SIZES; width and height in pixels, 0 for "as it fits"."""

    look: str = "system"
    text_percent: int = 100
    dense: bool = False
    width: int = 0
    height: int = 0
    maximised: bool = False


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
    return WindowSettings(look, size, given.dense, given.width, given.height, given.maximised)


def write(path: Path, settings: WindowSettings) -> None:
    """Keep the settings, whole or not at all. OSError where nothing can be written."""
    files.put(path, tomli_w.dumps(asdict(settings)).encode())


def scale(text_percent: int) -> None:
    """Make every pixel of the look larger by this much. Only before Qt starts; a scale set from outside is kept."""
    if text_percent != 100:
        os.environ.setdefault(SCALE_VARIABLE, f"{text_percent / 100:g}")
