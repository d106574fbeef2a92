"""Habits: how plants of each form grow, leaf by leaf, and how they carry their flowers."""

from __future__ import annotations

import math
import random
from collections.abc import Callable
from dataclasses import dataclass

from .flowers import Bloom, flower
from .paint import Canvas, Colour, Point, Skin, bezier, blade, lance, lit, mix, paddle, stem, strap, veins
from .pots import CENTRE, ROOT

LEAF: Colour = (78, 128, 66)
DEEP: Colour = (46, 96, 62)
FRESH: Colour = (128, 168, 78)
TIRED: Colour = (176, 162, 84)
SPIKE: Colour = (92, 112, 62)


@dataclass(frozen=True, slots=True)
class Growth:
    """A plant to paint: where its base is, how grown (0 to 1), its bloom's colour, whether it flowers, its vigour.

    `slim` and `long` are its own leaf width and length beside others of its form, `shade` how dark its green is.
    """

    y: float
    rim: float
    grown: float
    tone: Colour
    flowering: bool
    vigour: float
    slim: float = 1.0
    long: float = 1.0
    shade: float = 0.0

    def green(self, base: Colour, dice: random.Random) -> Colour:
        """A leaf colour near `base`, yellowed where the plant fails."""
        tired = (1 - self.vigour) * dice.uniform(0.25, 0.85)
        own = mix(base, FRESH, self.shade * 2) if self.shade > 0 else mix(base, (34, 82, 72), -self.shade * 2)
        return mix(mix(own, FRESH, dice.uniform(0, 0.2)), TIRED, tired)


SHAPES = {"strap": strap, "lance": lance, "paddle": paddle}


def grow(on: Canvas, form: str, growth: Growth, dice: random.Random) -> None:
    """Paint the plant of this form."""
    HABITS.get(form, _phal)(on, growth, dice)


def leaf(on: Canvas, base: Point, angle: float, length: float, width: float, skin: Skin, droop: float,
         kind: str = "strap", dim: float = 0.0, net: Colour | None = None) -> None:
    """A leaf from `base` at `angle` (90 up), bending down by `droop` of its length; `net` draws bright veins on it."""
    turn = math.radians(angle)
    cos, sin = math.cos(turn), -math.sin(turn)
    down = droop * length
    spine = bezier(base, (base[0] + cos * length * 0.38, base[1] + sin * length * 0.42),
                   (base[0] + cos * length * 0.76, base[1] + sin * length * 0.72 + down * 0.35),
                   (base[0] + cos * length * 1.0, base[1] + sin * length * 0.78 + down), 30 if skin.pattern else 16)
    shape = SHAPES[kind](width)
    blade(on, spine, shape, skin, dim)
    if net is not None:
        veins(on, spine, shape, mix(net, (10, 20, 18), dim * 1.6))


def spray(on: Canvas, kind: str, path: list[Point], count: int, size: float, tone: Colour, dice: random.Random,
          both: bool = True, buds: int = 2, first: float = 0.42) -> None:
    """A spike along `path` carrying flowers on its outer part and buds at its tip."""
    stem(on, path, 3.6, 1.9, SPIKE)
    places = [first + (1 - first) * n / max(1, count + buds - 1) for n in range(count + buds)]
    for nth, share in reversed(list(enumerate(places))):
        x, y = path[min(len(path) - 1, round(share * (len(path) - 1)))]
        side = (-1 if nth % 2 else 1) if both else 1
        dx, dy = side * size * 0.62 + dice.uniform(-3, 3), dice.uniform(-0.1, 0.25) * size
        stem(on, [(x, y), (x + dx * 0.5, y + dy * 0.2), (x + dx, y + dy)], 1.7, 1.3, SPIKE)
        if nth >= count:
            on.ellipse(x + dx, y + dy, size * 0.2, size * 0.26, lit(mix(tone, SPIKE, 0.35), -0.15))
            on.ellipse(x + dx + on.light[0] * 2, y + dy + on.light[1] * 2, size * 0.12, size * 0.16, lit(tone, 0.2))
            continue
        flower(on, kind, Bloom(x + dx, y + dy, size * dice.uniform(0.92, 1.08), tone,
                               dice.uniform(0.72, 1.0), dice.uniform(-0.2, 0.2)), dice)


def bulb(on: Canvas, x: float, foot: float, width: float, tall: float, tone: Colour, lean: float = 0.0) -> Point:
    """A pseudobulb; returns its top."""
    top = (x + lean, foot - tall)
    spine = bezier((x, foot + 4), (x + lean * 0.2, foot - tall * 0.35), (x + lean * 0.7, foot - tall * 0.7), top, 12)
    skin = Skin(tone, fold=0.4, gloss=0.3, rib=0.0, root=-0.35, bands=8,
                pattern=lambda t, side: (lit(tone, -0.5), 0.22) if round((side + 1) * 4) % 3 == 0 else None)
    blade(on, spine, lambda t: width * (0.24 + 0.76 * math.sin(math.pi * min(1.0, 0.14 + t * 0.82)) ** 0.8), skin)
    return top


def aerial(on: Canvas, growth: Growth, dice: random.Random, count: int, reach: float) -> None:
    for nth in range(count):
        side = -1 if nth % 2 else 1
        x = CENTRE + side * dice.uniform(6, 26)
        end = (x + side * dice.uniform(0.7, 1.1) * growth.rim, growth.y + dice.uniform(-6, reach))
        path = bezier((x, growth.y - dice.uniform(8, 30)), (x + side * 50, growth.y - 46), (end[0], growth.y - 30),
                      end, 14)
        stem(on, path, 4.4, 3.6, mix(ROOT, (224, 228, 216), 0.35))
        stem(on, path[-3:], 3.6, 2.6, (146, 186, 92))


def _phal(on: Canvas, growth: Growth, dice: random.Random) -> None:
    aerial(on, growth, dice, 2 + round(3 * growth.grown), 70)
    pairs = 2 + round(1.6 * growth.grown)
    long = growth.rim * (1.15 + 0.85 * growth.grown) * growth.long
    spike_side = dice.choice((-1, 1))
    if growth.flowering:
        _arch(on, growth, dice, spike_side, long)
    mottled = dice.random() < 0.3
    for nth in range(pairs):
        for side in (-1, 1):
            size = long * (1.05 - 0.13 * nth) * dice.uniform(0.92, 1.06)
            up = 6 + 19 * nth + dice.uniform(-4, 4) if growth.vigour > 0.5 else -16 + 12 * nth
            tone = growth.green(DEEP, dice)
            skin = Skin(tone, fold=0.3, gloss=0.32, tip=lit(tone, 0.08),
                        pattern=_marbled((170, 186, 150)) if mottled else None, bands=12)
            leaf(on, (CENTRE + side * 4, growth.y - 4 - 13 * nth), up if side > 0 else 180 - up, size,
                 long * 0.25 * growth.slim, skin,
                 0.2 + 0.06 * nth + (1 - growth.vigour) * 0.34, "paddle", 0.12 - 0.04 * nth)
    leaf(on, (CENTRE, growth.y - 12 * pairs), 82 + 18 * spike_side, long * 0.44, long * 0.13,
         Skin(growth.green(FRESH, dice), fold=0.3), 0.05, "paddle")


def _arch(on: Canvas, growth: Growth, dice: random.Random, side: int, long: float) -> None:
    high = growth.y - 300 - 70 * growth.grown
    path = bezier((CENTRE + side * 10, growth.y - 20), (CENTRE + side * 30, high + 40), (CENTRE + side * 90, high - 66),
                  (CENTRE + side * dice.uniform(225, 268), high + 66), 40)
    stem(on, path, 4.2, 2.2, SPIKE)
    spray(on, "phal", path[14:], 4 + round(3 * growth.grown), 53, growth.tone, dice, first=0.3)


def _marbled(tone: Colour) -> Callable[[float, float], tuple[Colour, float] | None]:
    def at(t: float, side: float) -> tuple[Colour, float] | None:
        wave = math.sin(t * 26 + side * 3.1) * math.cos(side * 6.5 + t * 11) + 0.5 * math.sin(t * 51 - side * 9)
        return (tone, min(0.34, wave * 0.5)) if wave > 0.15 else None
    return at


def row(growth: Growth, count: int, wide: float, dice: random.Random) -> list[float]:
    start = CENTRE - wide * growth.rim
    return [start + 2 * wide * growth.rim * (n + 0.5) / count + dice.uniform(-5, 5) for n in range(count)]


def _cattleya(on: Canvas, growth: Growth, dice: random.Random) -> None:
    count = 3 + round(3 * growth.grown)
    top: Point = (CENTRE, growth.y - 200)
    for nth, x in enumerate(row(growth, count, 0.7, dice)):
        tall = growth.rim * (0.75 + 0.55 * growth.grown) * (0.7 + 0.3 * nth / count) * dice.uniform(0.9, 1.1)
        tone = growth.green((120, 152, 82), dice)
        lean = (x - CENTRE) * 0.35
        top = bulb(on, x, growth.y, growth.rim * 0.13, tall, tone, lean)
        angle = 90 - (x - CENTRE) * 0.34 + dice.uniform(-9, 9)
        skin = Skin(growth.green(LEAF, dice), fold=0.34, gloss=0.28, bands=8)
        leaf(on, top, angle, growth.rim * (1.25 + 0.35 * growth.grown) * growth.long,
             growth.rim * 0.2 * growth.slim, skin,
             0.12 + (1 - growth.vigour) * 0.4, "strap", 0.1 - 0.1 * nth / count)
    if growth.flowering:
        for dx, dy, size in ((-46, -96, 74), (52, -128, 82)):
            x, y = top[0] - 60 + dx, top[1] + dy + 10
            path = bezier((top[0] - 16, top[1]), (top[0] - 20, top[1] - 60), (x, y + 70), (x, y), 10)
            stem(on, path, 3.4, 2.6, SPIKE)
            bloom = Bloom(x, y, size, growth.tone, dice.uniform(0.86, 1), dice.uniform(-0.12, 0.12))
            flower(on, "cattleya", bloom, dice)


def _flat_bulbs(on: Canvas, growth: Growth, dice: random.Random, leaves: int, slim: float) -> Point:
    count = 3 + round(2 * growth.grown)
    top: Point = (CENTRE, growth.y - 90)
    for nth, x in enumerate(row(growth, count, 0.62, dice)):
        tone = growth.green((112, 150, 76), dice)
        tall = growth.rim * (0.55 + 0.3 * growth.grown) * dice.uniform(0.85, 1.1)
        for _ in range(leaves):
            angle = 90 - (x - CENTRE) * 0.5 + dice.uniform(-26, 26)
            skin = Skin(growth.green(LEAF, dice), fold=0.36, gloss=0.2, bands=6)
            leaf(on, (x, growth.y - tall * 0.8), angle,
                 growth.rim * (1.7 + 0.6 * growth.grown) * dice.uniform(0.8, 1.1), growth.rim * slim * growth.slim,
                 skin, 0.3 + (1 - growth.vigour) * 0.4, "strap", 0.12 - 0.12 * nth / count)
        top = bulb(on, x, growth.y, growth.rim * 0.19, tall, tone, (x - CENTRE) * 0.12)
    return top


def _oncidium(on: Canvas, growth: Growth, dice: random.Random) -> None:
    top = _flat_bulbs(on, growth, dice, 2, 0.1)
    if not growth.flowering:
        return
    for side, high in ((-1, 330), (1, 386)):
        path = bezier((top[0] - 20, growth.y - 30), (CENTRE + side * 30, growth.y - high * 0.7),
                      (CENTRE + side * 60, growth.y - high - 30), (CENTRE + side * 210, growth.y - high + 60), 34)
        spray(on, "oncidium", path, 11, 25, growth.tone, dice, first=0.34, buds=3)


def _spider(on: Canvas, growth: Growth, dice: random.Random) -> None:
    top = _flat_bulbs(on, growth, dice, 2, 0.13)
    if growth.flowering:
        path = bezier((top[0], growth.y - 30), (CENTRE + 60, growth.y - 300), (CENTRE - 60, growth.y - 430),
                      (CENTRE - 250, growth.y - 330), 34)
        spray(on, "spider", path, 6, 46, growth.tone, dice, buds=1)


def _pansy(on: Canvas, growth: Growth, dice: random.Random) -> None:
    _flat_bulbs(on, growth, dice, 3, 0.11)
    if growth.flowering:
        for side in (-1, 1):
            path = bezier((CENTRE + side * 20, growth.y - 20), (CENTRE + side * 40, growth.y - 150),
                          (CENTRE + side * 60, growth.y - 270), (CENTRE + side * 120, growth.y - 330), 26)
            spray(on, "pansy", path, 3, 50, growth.tone, dice, first=0.62, buds=1)


def _cymbidium(on: Canvas, growth: Growth, dice: random.Random) -> None:
    blades = 16 + round(12 * growth.grown)
    for nth in range(blades):
        if nth == blades // 2 and growth.flowering:
            _cymbidium_spikes(on, growth, dice)
        angle = 90 + (58 * math.sin(nth * 2.4)) + dice.uniform(-8, 8)
        skin = Skin(growth.green(LEAF, dice), fold=0.34, gloss=0.12, bands=4)
        leaf(on, (CENTRE + dice.uniform(-0.45, 0.45) * growth.rim, growth.y), angle,
             growth.rim * (2.2 + 0.7 * growth.grown) * dice.uniform(0.75, 1.08), growth.rim * 0.062, skin,
             0.42 + (1 - growth.vigour) * 0.3, "strap", 0.2 - 0.2 * nth / blades)
    for x in row(growth, 4, 0.4, dice):
        bulb(on, x, growth.y + 3, growth.rim * 0.17, growth.rim * 0.34, growth.green((118, 146, 76), dice))


def _cymbidium_spikes(on: Canvas, growth: Growth, dice: random.Random) -> None:
    for side in (-1, 1):
        path = bezier((CENTRE + side * 26, growth.y - 20), (CENTRE + side * 50, growth.y - 230),
                      (CENTRE + side * 110, growth.y - 390), (CENTRE + side * 215, growth.y - 330), 32)
        spray(on, "cymbidium", path, 6, 38, growth.tone, dice, buds=1)


def _dendrobium(on: Canvas, growth: Growth, dice: random.Random) -> None:
    canes = 4 + round(4 * growth.grown)
    for nth in range(canes):
        spread = (nth / max(1, canes - 1) - 0.5) * 2
        tall = growth.rim * (1.9 + 1.1 * growth.grown) * dice.uniform(0.75, 1.08)
        end = (CENTRE + spread * growth.rim * 1.5, growth.y - tall)
        path = bezier((CENTRE + spread * growth.rim * 0.4, growth.y + 4), (CENTRE + spread * growth.rim * 0.5,
                      growth.y - tall * 0.4), (end[0] - spread * 14, end[1] + tall * 0.3), end, 18)
        leafy = nth % 2 == 0 or not growth.flowering
        tone = growth.green((142, 160, 84), dice)
        for at in range(4, 19, 2):
            if leafy:
                side = 1 if at % 4 else -1
                skin = Skin(growth.green(LEAF, dice), fold=0.34, bands=5)
                leaf(on, path[min(18, at)], 90 - side * 58 - spread * 16, growth.rim * 0.62, growth.rim * 0.11, skin,
                     0.16, "lance")
        stem(on, path, growth.rim * 0.075, growth.rim * 0.045, tone)
        for at in range(2, 18, 2):
            x, y = path[at]
            on.line(((x - growth.rim * 0.06, y + 1), (x + growth.rim * 0.06, y - 1)), 1.2, lit(tone, -0.5), 150)
        if not leafy:
            for at in range(7, 19, 3):
                x, y = path[min(18, at)]
                flower(on, "dendrobium", Bloom(x + (16 if at % 2 else -16), y, 33, growth.tone, dice.uniform(0.75, 1),
                                               dice.uniform(-0.5, 0.5)), dice)


def _paph(on: Canvas, growth: Growth, dice: random.Random) -> None:
    _slipper(on, growth, dice, "paph", dice.random() < 0.6, 0.2, (352, 86))


def _phrag(on: Canvas, growth: Growth, dice: random.Random) -> None:
    _slipper(on, growth, dice, "phrag", False, 0.14, (370, 66))


def _slipper(on: Canvas, growth: Growth, dice: random.Random, kind: str, mottled: bool, wide: float,
             bloom: tuple[float, float]) -> None:
    fans = 2 + round(2 * growth.grown)
    for fan, x in enumerate(row(growth, fans, 0.42, dice)):
        if fan == fans - 1 and growth.flowering:
            _slipper_bloom(on, growth, dice, kind, x, bloom)
        for nth in range(5):
            side = -1 if nth % 2 else 1
            up = 18 + 13 * nth + dice.uniform(-5, 5)
            tone = growth.green((96, 136, 84) if mottled else LEAF, dice)
            skin = Skin(tone, fold=0.36, gloss=0.2, pattern=_marbled(lit(tone, -0.7)) if mottled else None, bands=10)
            leaf(on, (x + side * 3, growth.y - 3 * nth), up if side > 0 else 180 - up,
                 growth.rim * (1.3 + 0.45 * growth.grown) * growth.long * dice.uniform(0.86, 1.06),
                 growth.rim * wide * growth.slim, skin,
                 0.3 + (1 - growth.vigour) * 0.4, "strap", 0.14 - 0.12 * fan / fans)


def _slipper_bloom(on: Canvas, growth: Growth, dice: random.Random, kind: str, x: float,
                   bloom: tuple[float, float]) -> None:
    high, size = bloom
    end = (CENTRE + dice.uniform(-24, 24), growth.y - high * (0.8 + 0.2 * growth.grown))
    path = bezier((x, growth.y - 10), (x, growth.y - high * 0.4), (end[0] + 8, end[1] + 120), end, 18)
    stem(on, path, 4.4, 3.4, mix(SPIKE, (96, 54, 52), 0.5))
    flower(on, kind, Bloom(end[0], end[1], size, growth.tone, dice.uniform(0.88, 1), dice.uniform(-0.08, 0.08)), dice)


HABITS: dict[str, Callable[[Canvas, Growth, random.Random], None]] = {
    "phal": _phal, "cattleya": _cattleya, "oncidium": _oncidium, "spider": _spider, "pansy": _pansy,
    "cymbidium": _cymbidium, "dendrobium": _dendrobium, "paph": _paph, "phrag": _phrag,
}
