"""Synthesised photographs of plants: a scene, a pot, what fills it, and a plant of its own form in it."""

from __future__ import annotations

import random
from dataclasses import dataclass
from pathlib import Path

from PIL import Image

from .habits import HABITS, Growth
from .habits_small import SMALL_HABITS
from .paint import canvas, colour
from .pots import draw_pot, pot_for
from .scenes import backdrop, light_of

QUALITY = 86
ALL_HABITS = {**HABITS, **SMALL_HABITS}


@dataclass(frozen=True, slots=True)
class Subject:
    """What a picture shows. `grown` and `vigour` run from 0 to 1; `number` decides all that is left to chance."""

    number: int
    form: str
    bloom: str
    scene: str
    medium: str
    pot: str
    grown: float
    flowering: bool
    vigour: float
    close: bool = False


def picture(subject: Subject) -> Image.Image:
    """The picture of a subject, 960 by 720; the same subject gives the same picture."""
    dice = random.Random(f"{subject.number} {subject.form}")
    on = canvas(backdrop(subject.scene, subject.number), light_of(subject.scene))
    pot = pot_for(subject.pot)
    draw_pot(on, pot, subject.medium, dice, round((4 + 6 * subject.grown) * (0.4 + 0.6 * subject.vigour)))
    growth = Growth(pot.surface - 4, pot.rim, subject.grown, colour(subject.bloom), subject.flowering, subject.vigour)
    ALL_HABITS[subject.form](on, growth, dice)
    whole = on.image.reduce(2)
    if not subject.close:
        return whole
    return whole.crop((96, 72, 864, 648)).resize(whole.size, Image.Resampling.LANCZOS)


def save(subject: Subject, path: Path) -> None:
    """Paint a subject and keep it at `path` as JPEG."""
    picture(subject).save(path, "JPEG", quality=QUALITY)
