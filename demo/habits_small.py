"""Habits of the smaller and the odder forms: tufts, jewel leaves, fans with aerial roots, creeping bulbs."""

from __future__ import annotations

import math
import random
from collections.abc import Callable

from .flowers import Bloom, flower
from .habits import LEAF, SPIKE, Growth, aerial, bulb, leaf, row, spray
from .paint import Canvas, Colour, Skin, bezier, lit, mix, stem
from .pots import CENTRE


def masdevallia(on: Canvas, growth: Growth, dice: random.Random) -> None:
    """A dense tuft of upright paddles, each flower alone on its stem above them."""
    count = 13 + round(12 * growth.grown)
    for nth in range(count):
        if nth == count * 2 // 3 and growth.flowering:
            _singles(on, growth, dice, "masdevallia", 5, 232, 50)
        x = CENTRE + dice.uniform(-0.66, 0.66) * growth.rim
        skin = Skin(growth.green(LEAF, dice), fold=0.34, gloss=0.3, bands=6)
        leaf(on, (x, growth.y + 2), 90 - (x - CENTRE) * 0.5 + dice.uniform(-14, 14),
             growth.rim * (1.35 + 0.5 * growth.grown) * dice.uniform(0.72, 1.08), growth.rim * 0.13 * growth.slim,
             skin,
             0.1 + (1 - growth.vigour) * 0.5, "paddle", 0.26 - 0.26 * nth / count)


def pleuro(on: Canvas, growth: Growth, dice: random.Random) -> None:
    """A small tuft of round leaves on thin stems, small flowers among them."""
    count = 12 + round(10 * growth.grown)
    for nth in range(count):
        x = CENTRE + dice.uniform(-0.6, 0.6) * growth.rim
        lean = (x - CENTRE) * 0.75 + dice.uniform(-16, 16)
        tall = growth.rim * dice.uniform(0.6, 1.25) * (0.8 + 0.4 * growth.grown)
        path = bezier((x, growth.y), (x + lean * 0.2, growth.y - tall * 0.5), (x + lean * 0.7, growth.y - tall * 0.8),
                      (x + lean, growth.y - tall), 8)
        stem(on, path, 2.2, 1.7, SPIKE)
        skin = Skin(growth.green((72, 122, 70), dice), fold=0.34, gloss=0.34, bands=6)
        leaf(on, path[-1], 90 - lean * 0.6, growth.rim * dice.uniform(0.55, 0.8), growth.rim * 0.18, skin,
             0.06 + (1 - growth.vigour) * 0.4, "paddle", 0.24 - 0.24 * nth / count)
    if growth.flowering:
        _singles(on, growth, dice, "pleuro", 8, 196, 21)


def _singles(on: Canvas, growth: Growth, dice: random.Random, kind: str, count: int, high: float, size: float) -> None:
    for nth in range(count):
        x = CENTRE + (nth - (count - 1) / 2) * growth.rim * 2.3 / count + dice.uniform(-10, 10)
        y = growth.y - high * dice.uniform(0.86, 1.28)
        stem(on, bezier((CENTRE + (x - CENTRE) * 0.3, growth.y), (CENTRE + (x - CENTRE) * 0.4, growth.y - high * 0.5),
                        (x, y + 60), (x, y), 12), 2.1, 1.7, SPIKE)
        flower(on, kind, Bloom(x, y, size * dice.uniform(0.88, 1.1), growth.tone, dice.uniform(0.78, 1),
                               dice.uniform(-0.25, 0.25)), dice)


def jewel(on: Canvas, growth: Growth, dice: random.Random) -> None:
    """Velvet leaves with a bright net, in rosettes on creeping stems; small white spikes."""
    dark = mix((34, 48, 40), (86, 26, 34), 0.5 if growth.tone[0] > growth.tone[1] * 1.3 else 0.0)
    net = mix(growth.tone, (236, 220, 150), 0.3)
    rosettes = 3 + round(2 * growth.grown)
    for nth, x in enumerate(row(growth, rosettes, 0.5, dice)):
        if growth.flowering and nth == rosettes // 2:
            spray(on, "jewel", bezier((x, growth.y - 30), (x + 4, growth.y - 120), (x - 10, growth.y - 210),
                                      (x + 8, growth.y - 290), 26), 9, 15, (240, 236, 222), dice, first=0.45)
        rise = growth.rim * dice.uniform(0.2, 0.6)
        rising = [(x, growth.y + 2 - (rise + 2) * step / 6) for step in range(7)]
        stem(on, rising, 5, 4, mix(SPIKE, (112, 62, 54), 0.5))
        for at in range(7):
            angle = (at * 137.5 + dice.uniform(-12, 12)) % 360
            spread = math.cos(math.radians(angle))
            up = 90 - spread * 78
            skin = Skin(growth.green(dark, dice) if growth.vigour < 0.6 else dark, fold=0.3, gloss=0.2, rib=0.0,
                        root=-0.2, bands=8)
            leaf(on, (x, growth.y - rise + 4), up, growth.rim * dice.uniform(0.7, 0.98) * (0.85 + 0.25 * growth.grown),
                 growth.rim * 0.31, skin, 0.12 + 0.4 * abs(spread), "paddle", 0.22 - 0.03 * at, net)


def vanda(on: Canvas, growth: Growth, dice: random.Random) -> None:
    """Two ranks of stiff straps up one stem, long aerial roots, an upright spike."""
    aerial(on, growth, dice, 5 + round(4 * growth.grown), 96)
    ranks = 6 + round(4 * growth.grown)
    tall = growth.rim * (1.5 + 1.1 * growth.grown)
    axis = [(CENTRE, growth.y + 4), (CENTRE, growth.y - tall * 0.5), (CENTRE + 3, growth.y - tall)]
    stem(on, axis, 9, 7, (96, 104, 66))
    for nth in range(ranks):
        y = growth.y - 14 - tall * nth / ranks
        if nth == ranks // 2 and growth.flowering:
            side = dice.choice((-1, 1))
            path = bezier((CENTRE + side * 6, y), (CENTRE + side * 90, y - 40), (CENTRE + side * 120, y - 150),
                          (CENTRE + side * 150, y - 250), 26)
            spray(on, "vanda", path, 7, 40, growth.tone, dice, first=0.35)
        for side in (-1, 1):
            up = 26 + 34 * nth / ranks + dice.uniform(-4, 4)
            skin = Skin(growth.green(LEAF, dice), fold=0.42, gloss=0.16, bands=6)
            leaf(on, (CENTRE + side * 4, y), up if side > 0 else 180 - up, growth.rim * (1.55 - 0.05 * nth),
                 growth.rim * 0.09, skin, 0.3 + (1 - growth.vigour) * 0.3, "strap", 0.16 - 0.16 * nth / ranks)


def angraecum(on: Canvas, growth: Growth, dice: random.Random) -> None:
    """A low fan of leathery leaves; white stars with long spurs along hanging sprays."""
    aerial(on, growth, dice, 3, 60)
    if growth.flowering:
        for side in (-1, 1):
            path = bezier((CENTRE + side * 14, growth.y - 36), (CENTRE + side * 70, growth.y - 240),
                          (CENTRE + side * 160, growth.y - 260), (CENTRE + side * 238, growth.y - 120), 30)
            spray(on, "angraecum", path, 6, 31, growth.tone, dice, first=0.36, buds=1)
    pairs = 4 + round(2 * growth.grown)
    for nth in range(pairs):
        for side in (-1, 1):
            up = 10 + 58 * nth / pairs + dice.uniform(-5, 5)
            skin = Skin(growth.green((58, 106, 66), dice), fold=0.34, gloss=0.36, bands=8)
            leaf(on, (CENTRE + side * 4, growth.y - 8 - 11 * nth), up if side > 0 else 180 - up,
                 growth.rim * (1.35 + 0.5 * growth.grown) * growth.long * dice.uniform(0.85, 1.05),
                 growth.rim * 0.15 * growth.slim, skin,
                 0.22 + (1 - growth.vigour) * 0.4, "strap", 0.14 - 0.14 * nth / pairs)


def terete(on: Canvas, growth: Growth, dice: random.Random) -> None:
    """Round pencils of leaves; white hearts on thin stems."""
    count = 11 + round(9 * growth.grown)
    for nth in range(count):
        if nth == count // 2 and growth.flowering:
            _singles(on, growth, dice, "terete", 4, 300, 56)
        x = CENTRE + dice.uniform(-0.6, 0.6) * growth.rim
        lean = (x - CENTRE) * 1.3 + dice.uniform(-30, 30)
        tall = growth.rim * (1.8 + 0.7 * growth.grown) * dice.uniform(0.65, 1.08)
        path = bezier((x, growth.y + 2), (x + lean * 0.1, growth.y - tall * 0.5),
                      (x + lean * 0.5, growth.y - tall * 0.85), (x + lean, growth.y - tall), 14)
        stem(on, path, 6.4, 2.0, growth.green((94, 132, 76), dice), 0.2 - 0.2 * nth / count)


def _pleated(fold: Colour) -> Callable[[float, float], tuple[Colour, float] | None]:
    return lambda _along, side: (fold, 0.32) if round((side + 1) * 5) % 2 else None


def plicate(on: Canvas, growth: Growth, dice: random.Random) -> None:
    """Broad pleated leaves from round bulbs; flowers low, beside them."""
    count = 3 + round(growth.grown)
    for nth, x in enumerate(row(growth, count, 0.5, dice)):
        for _ in range(2):
            tone = growth.green((98, 146, 70), dice)
            skin = Skin(tone, fold=0.3, gloss=0.1, bands=10, pattern=_pleated(lit(tone, -0.45)))
            leaf(on, (x, growth.y - growth.rim * 0.45), 90 - (x - CENTRE) * 0.5 + dice.uniform(-30, 30),
                 growth.rim * (1.75 + 0.6 * growth.grown) * growth.long * dice.uniform(0.85, 1.1),
                 growth.rim * 0.27 * growth.slim, skin,
                 0.2 + (1 - growth.vigour) * 0.4, "lance", 0.14 - 0.14 * nth / count)
        bulb(on, x, growth.y + 3, growth.rim * 0.21, growth.rim * 0.62, growth.green((116, 142, 84), dice),
             (x - CENTRE) * 0.1)
    if growth.flowering:
        for nth in range(4):
            x = CENTRE + (nth - 1.5) * growth.rim * 0.72
            y = growth.y - dice.uniform(60, 120)
            path = bezier((CENTRE + (x - CENTRE) * 0.5, growth.y + 4), (x - 4, growth.y - 20), (x, y + 30), (x, y), 8)
            stem(on, path, 3, 2.4, SPIKE)
            flower(on, "plicate", Bloom(x, y, 46 * dice.uniform(0.9, 1.1), growth.tone, dice.uniform(0.8, 1),
                                        dice.uniform(-0.3, 0.3)), dice)


def creeping(on: Canvas, growth: Growth, dice: random.Random) -> None:
    """Small egg-shaped bulbs along a rhizome, one leaf each; small flowers close to them."""
    count = 4 + round(5 * growth.grown * growth.slim)
    for nth, x in enumerate(row(growth, count, 0.84, dice)):
        y = growth.y + dice.uniform(-4, 8)
        top = bulb(on, x, y, growth.rim * 0.12, growth.rim * dice.uniform(0.34, 0.5),
                   growth.green((140, 160, 84), dice))
        skin = Skin(growth.green(LEAF, dice), fold=0.34, gloss=0.36, bands=8)
        leaf(on, top, 90 - (x - CENTRE) * 0.55 + dice.uniform(-12, 12),
             growth.rim * (1.0 + 0.4 * growth.grown) * growth.long ** 2 * dice.uniform(0.8, 1.1),
             growth.rim * 0.15 * growth.slim, skin,
             0.14 + (1 - growth.vigour) * 0.4, "strap", 0.16 - 0.16 * nth / count)
    if growth.flowering:
        for nth in range(3):
            side = (-1, 0.2, 1.1)[nth]
            path = bezier((CENTRE + side * 40, growth.y), (CENTRE + side * 70, growth.y - 120),
                          (CENTRE + side * 90, growth.y - 200), (CENTRE + side * 170, growth.y - 170 - nth * 24), 22)
            spray(on, "bulb", path, 5, 20, growth.tone, dice, buds=1)


SMALL_HABITS: dict[str, Callable[[Canvas, Growth, random.Random], None]] = {
    "masdevallia": masdevallia, "pleuro": pleuro, "jewel": jewel, "vanda": vanda, "angraecum": angraecum,
    "terete": terete, "plicate": plicate, "bulb": creeping,
}
