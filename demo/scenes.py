"""Soft backgrounds: a lean-to glasshouse, a window, a cellar under lamps, a whitewashed room."""

from __future__ import annotations

import random
from collections.abc import Callable
from dataclasses import dataclass
from functools import cache

from PIL import Image, ImageDraw, ImageFilter

from .paint import HEIGHT, OVERSAMPLING, WIDTH, Colour, Point, mix

SMALL = (240, 180)
BENCH_Y = 656  # where pots stand, of 720
VARIANTS = 5


@dataclass(frozen=True, slots=True)
class Scene:
    """A kind of background: how it is painted small, where its light comes from, and the ledge the pots stand on."""

    paint: Callable[[ImageDraw.ImageDraw, random.Random], None]
    light: Point
    ledge: Colour
    edge: Colour
    blur: float
    slats: int = 0


def backdrop(name: str, seed: int) -> Image.Image:
    """The background of scene `name` with its ledge, oversampled; a few variants of each."""
    return _backdrop(name, seed % VARIANTS).copy()


def light_of(name: str) -> Point:
    """Where the light comes from in scene `name`."""
    return SCENES[name].light


@cache
def _backdrop(name: str, variant: int) -> Image.Image:
    scene, dice = SCENES[name], random.Random(f"{name} {variant}")
    small = Image.new("RGB", SMALL, (128, 128, 128))
    scene.paint(ImageDraw.Draw(small, "RGBA"), dice)
    small = small.filter(ImageFilter.GaussianBlur(scene.blur))
    _ledge(small, scene)
    small = small.filter(ImageFilter.GaussianBlur(1.1))
    full = small.resize((WIDTH * OVERSAMPLING, HEIGHT * OVERSAMPLING), Image.Resampling.BICUBIC)
    return _with_grain(full, dice)


def _ledge(small: Image.Image, scene: Scene) -> None:
    pen = ImageDraw.Draw(small, "RGBA")
    top = round(BENCH_Y / 4) - 11
    for y in range(top, SMALL[1]):
        t = (y - top) / (SMALL[1] - top)
        pen.line((0, y, SMALL[0], y), mix(scene.edge, scene.ledge, min(1.0, t * 1.7)))
    for n in range(-8, 9):
        pen.line((120 + n * 19, top, 120 + n * 31, SMALL[1]), (*mix(scene.ledge, (20, 24, 22), 0.45), scene.slats), 1)
    pen.line((0, top, SMALL[0], top), (*mix(scene.edge, (255, 255, 255), 0.35), 150))


def _with_grain(full: Image.Image, dice: random.Random) -> Image.Image:
    noise = Image.effect_noise((WIDTH // 2, HEIGHT // 2), 9).resize(full.size)
    return Image.blend(full, Image.merge("RGB", (noise, noise, noise)), 0.03)


def _fall(pen: ImageDraw.ImageDraw, top: Colour, middle: Colour, bottom: Colour) -> None:
    for y in range(SMALL[1]):
        t = y / SMALL[1]
        tone = mix(top, middle, t * 2) if t < 0.5 else mix(middle, bottom, t * 2 - 1)
        pen.line((0, y, SMALL[0], y), tone)


def _leaf_blobs(pen: ImageDraw.ImageDraw, dice: random.Random, count: int, low: int, tones: tuple[Colour, ...]) -> None:
    for _ in range(count):
        x, y, r = dice.uniform(-10, 250), dice.gauss(low, 20), dice.uniform(7, 24)
        pen.ellipse((x - r, y - r * 0.8, x + r, y + r * 0.8), (*dice.choice(tones), dice.randint(70, 160)))


def _pots_behind(pen: ImageDraw.ImageDraw, dice: random.Random, count: int, tones: tuple[Colour, ...],
                 leaf: Colour) -> None:
    """Out of focus behind the plant: other pots on the same ledge, a few leaves above each."""
    for n in range(count):
        x = 240 * (n + dice.uniform(0.2, 0.8)) / count
        wide, foot = dice.uniform(9, 15), BENCH_Y / 4 - 9
        tall = wide * 1.5
        low = wide * 0.75
        pen.polygon(((x - wide, foot - tall), (x + wide, foot - tall), (x + low, foot), (x - low, foot)),
                    (*dice.choice(tones), 190))
        for _ in range(7):
            reach, rise = dice.uniform(-26, 26), dice.uniform(10, 42)
            pen.line((x, foot - tall, x + reach * 0.5, foot - tall - rise, x + reach, foot - tall - rise * 0.7),
                     (*mix(leaf, (200, 214, 170), dice.uniform(0, 0.35)), 200), 5)


def _glasshouse(pen: ImageDraw.ImageDraw, dice: random.Random) -> None:
    _fall(pen, (240, 246, 236), (188, 214, 186), (98, 134, 98))
    shift = dice.uniform(-20, 20)
    for n in range(7):
        x = n * 46 + shift - 20
        pen.line((x, 0, x + 26, 118), (247, 251, 246, 190), 3)
        pen.polygon(((x + 4, 0), (x + 30, 0), (x + 58, 118), (x + 30, 118)), (255, 255, 246, dice.randint(8, 46)))
    pen.line((0, 62 + shift / 4, 240, 54 + shift / 4), (240, 246, 240, 120), 3)
    _leaf_blobs(pen, dice, 26, 118, ((72, 108, 74), (110, 144, 92), (52, 88, 70), (150, 170, 108)))
    _pots_behind(pen, dice, 4, ((176, 112, 82), (150, 128, 104), (120, 140, 128)), (74, 118, 70))
    petals = ((236, 196, 214), (246, 234, 170), (232, 236, 244))
    for _ in range(7):
        x, y, r = dice.uniform(10, 230), dice.uniform(80, 130), dice.uniform(2, 5)
        pen.ellipse((x - r, y - r, x + r, y + r), (*dice.choice(petals), 190))


def _window(pen: ImageDraw.ImageDraw, dice: random.Random) -> None:
    _fall(pen, (206, 226, 242), (238, 240, 232), (178, 192, 176))
    _leaf_blobs(pen, dice, 20, 118, ((132, 166, 130), (108, 146, 120), (176, 190, 150), (150, 176, 168)))
    for y in range(104, 150):
        pen.line((0, y, 240, y), (176, 188, 186, 60))
    side = dice.choice((0, 1))
    frame = dice.uniform(70, 120) + side * 40
    for x, wide in ((frame, 9), (frame + dice.uniform(96, 116), 9), (frame - 104, 9)):
        pen.rectangle((x, 0, x + wide, 160), (246, 246, 242, 235))
        pen.line((x + wide, 0, x + wide, 160), (168, 176, 178, 200), 2)
    pen.rectangle((0, 30, 240, 36), (244, 244, 240, 220))
    curtain = 0 if side else 206
    for n in range(7):
        pen.line((curtain + n * 6, 0, curtain + n * 6 + 2, 150), (252, 250, 244, 120 - 40 * (n % 2)), 4)


def _cellar(pen: ImageDraw.ImageDraw, dice: random.Random) -> None:
    _fall(pen, (74, 92, 84), (44, 60, 57), (20, 30, 30))
    lamp = dice.uniform(70, 170)
    for r in range(150, 10, -8):
        pen.ellipse((lamp - r * 1.2, -30 - r * 0.7, lamp + r * 1.2, -20 + r * 0.95), (252, 238, 204, 9))
    for n in range(7):
        y = n * 24 + dice.uniform(-2, 2)
        pen.line((0, y, 240, y), (14, 22, 22, 46), 2)
        for x in range(-20 + (n % 2) * 22, 250, 44):
            pen.line((x, y, x, y + 24), (14, 22, 22, 40), 2)
    _leaf_blobs(pen, dice, 9, 128, ((36, 66, 52), (58, 88, 62), (30, 52, 48)))
    _pots_behind(pen, dice, 4, ((92, 66, 52), (60, 72, 70), (78, 84, 70)), (52, 92, 58))
    pen.rectangle((lamp - 58, 0, lamp + 58, 3), (255, 250, 230, 255))


def _whitewash(pen: ImageDraw.ImageDraw, dice: random.Random) -> None:
    _fall(pen, (232, 229, 221), (221, 217, 207), (178, 174, 164))
    for _ in range(30):
        x, y, r = dice.uniform(0, 240), dice.uniform(0, 140), dice.uniform(8, 30)
        pen.ellipse((x - r, y - r / 2, x + r, y + r / 2), (*dice.choice(((244, 242, 236), (206, 200, 188))), 40))
    x = dice.uniform(20, 140)
    pen.polygon(((x, 8), (x + 70, 4), (x + 96, 104), (x + 26, 112)), (255, 252, 238, 120))
    pen.line((x + 34, 6, x + 60, 108), (206, 200, 188, 130), 3)
    _pots_behind(pen, dice, 3, ((190, 176, 160), (206, 206, 200)), (140, 158, 120))


SCENES = {
    "glasshouse": Scene(_glasshouse, (-0.55, -0.83), (104, 88, 68), (168, 150, 120), 4.6, 90),
    "window": Scene(_window, (0.62, -0.78), (206, 206, 200), (240, 239, 233), 3.4),
    "cellar": Scene(_cellar, (-0.12, -0.99), (26, 32, 32), (70, 80, 76), 4.0),
    "whitewash": Scene(_whitewash, (-0.66, -0.75), (122, 130, 134), (178, 186, 188), 5.0),
}
