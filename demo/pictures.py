"""Synthesised photographs of plants: a scene, a pot, what fills it, and a plant of its own form in it."""

from __future__ import annotations

import random
from dataclasses import dataclass
from functools import cache
from pathlib import Path

from PIL import Image, ImageChops, ImageEnhance

from .habits import HABITS, Growth
from .habits_small import SMALL_HABITS
from .paint import HEIGHT, OVERSAMPLING, WIDTH, canvas, colour
from .pots import draw_pot, pot_for
from .scenes import BENCH_Y, backdrop, light_of

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
    growth = Growth(pot.surface - 4, pot.rim, subject.grown, colour(subject.bloom), subject.flowering, subject.vigour,
                    dice.uniform(0.74, 1.24), dice.uniform(0.84, 1.14), dice.uniform(-0.16, 0.2))
    ALL_HABITS[subject.form](on, growth, dice)
    return _developed(on.image, backdrop(subject.scene, subject.number), subject.close)


def _developed(painted: Image.Image, empty: Image.Image, close: bool) -> Image.Image:
    """The picture as it was taken: framed around the plant, darkened softly to its corners."""
    framed = painted.resize((WIDTH, HEIGHT), Image.Resampling.HAMMING, box=_frame(painted, empty, close))
    framed = ImageEnhance.Color(ImageEnhance.Contrast(framed).enhance(1.07)).enhance(1.16)
    return Image.composite(framed, Image.blend(framed, Image.new("RGB", framed.size, (6, 16, 18)), 0.3), _vignette())


def _frame(painted: Image.Image, empty: Image.Image, close: bool) -> tuple[float, float, float, float]:
    """The part of the painting to show: the plant with air around it, the pot's foot near the lower edge."""
    there = ImageChops.difference(painted.reduce(8), empty.reduce(8)).convert("L").point(lambda tone: 255 * (tone > 12))
    left, top, right, _ = there.getbbox() or (0, 0, WIDTH // 4, HEIGHT // 4)
    middle = WIDTH * OVERSAMPLING / 2
    foot = (BENCH_Y + 44) * OVERSAMPLING
    reach = max(middle - left * 8, right * 8 - middle) * (1.06 if close else 1.2)
    tall = max((foot - top * 8) * (1.06 if close else 1.14), reach * 2 * HEIGHT / WIDTH, HEIGHT * OVERSAMPLING * 0.46)
    tall = min(tall, float(foot))
    wide = tall * WIDTH / HEIGHT
    return middle - wide / 2, foot - tall, middle + wide / 2, float(foot)


@cache
def _vignette() -> Image.Image:
    """White where the picture stays as it is, darker to the corners."""
    return Image.radial_gradient("L").point(lambda tone: 255 - max(0, tone - 150) * 2).resize((WIDTH, HEIGHT))


def save(subject: Subject, path: Path) -> None:
    """Paint a subject and keep it at `path` as JPEG."""
    picture(subject).save(path, "JPEG", quality=QUALITY)
