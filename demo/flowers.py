"""Flowers: petals set around a centre, a lip or pouch in front; one recipe for each kind of bloom."""

from __future__ import annotations

import math
import random
from collections.abc import Callable
from dataclasses import dataclass

from .paint import Canvas, Colour, Point, Skin, Width, bezier, blade, lance, lit, mix, paddle, stem, strap

YELLOW: Colour = (240, 196, 70)
WHITE: Colour = (250, 249, 244)
GREEN: Colour = (150, 172, 88)


@dataclass(frozen=True, slots=True)
class Bloom:
    """One open flower: where, how large (half its height), its colour, how far it is turned away (1 full face)."""

    x: float
    y: float
    size: float
    tone: Colour
    face: float
    tilt: float


def flower(on: Canvas, kind: str, bloom: Bloom, dice: random.Random) -> None:
    """Paint a flower of the kind that the plant's form bears."""
    RECIPES.get(kind, _phal)(on, bloom, dice)


def petal(on: Canvas, at: Bloom, angle: float, length: float, width: float, skin: Skin, shape: Callable[[float], Width],
          bend: float = 0.0, start: float = 0.04) -> None:
    """A petal from the centre at `angle` (0 right, 90 up), sizes in shares of the bloom's size."""
    turn = math.radians(angle) + at.tilt
    cos, sin = math.cos(turn), -math.sin(turn)
    flat = math.hypot(cos * at.face, sin)
    reach = length * at.size
    side = (-sin * bend * reach, cos * bend * reach)

    def point(share: float, off: float) -> Point:
        return at.x + (cos * share * reach + side[0] * off) * at.face, at.y + sin * share * reach + side[1] * off

    spine = bezier(point(start, 0), point(0.35, 0.5), point(0.7, 1), point(1, 0.7), 9)
    blade(on, spine, shape(width * at.size * (0.5 + 0.5 * math.hypot(sin * at.face, cos)) * (0.75 + 0.25 * flat)), skin)


def _skin(base: Colour, pattern: Callable[[float, float], tuple[Colour, float] | None] | None = None,
          tip: Colour | None = None) -> Skin:
    bands = 10 if pattern else 6
    return Skin(base, fold=0.16, gloss=0.16, rib=-0.12, root=-0.22, tip=tip, pattern=pattern, bands=bands)


def stripes(tone: Colour, share: float = 0.5) -> Callable[[float, float], tuple[Colour, float] | None]:
    """Veins along a petal, fading to its tip."""
    def at(t: float, side: float) -> tuple[Colour, float] | None:
        return (tone, share * (1 - 0.6 * t)) if round((side + 1) * 5 + 0.01) % 2 else None
    return at


def blotches(tone: Colour, share: float = 0.75) -> Callable[[float, float], tuple[Colour, float] | None]:
    """Blotches over the inner two thirds of a petal."""
    def at(t: float, side: float) -> tuple[Colour, float] | None:
        return (tone, share) if t < 0.8 and math.sin(t * 17 + side * 5) * math.cos(side * 6 - t * 5) > 0.15 else None
    return at


def _dot(on: Canvas, at: Bloom, dx: float, dy: float, r: float, tone: Colour, lift: float = 0.25) -> None:
    x, y, size = at.x + dx * at.size * at.face, at.y + dy * at.size, r * at.size
    on.ellipse(x, y, size * (0.5 + 0.5 * at.face), size, lit(tone, -0.2))
    on.ellipse(x + on.light[0] * size * 0.25, y + on.light[1] * size * 0.25, size * 0.65 * (0.5 + 0.5 * at.face),
               size * 0.65, lit(tone, lift))


def _phal(on: Canvas, at: Bloom, dice: random.Random) -> None:
    veins = stripes(mix(at.tone, (150, 40, 110), 0.6), 0.22)
    for angle in (90, 214, 326):
        petal(on, at, angle, 0.92, 0.3, _skin(lit(at.tone, -0.1), veins), paddle)
    for angle, bend in ((12, 0.06), (168, -0.06)):
        petal(on, at, angle, 1.0, 0.54, _skin(lit(at.tone, 0.12), veins), paddle, bend)
    lip = mix(at.tone, (170, 40, 90), 0.62)
    for angle in (236, 304):
        petal(on, at, angle, 0.34, 0.13, _skin(lip), paddle)
    petal(on, at, 270, 0.5, 0.13, _skin(lip, tip=mix(lip, YELLOW, 0.5)), lance)
    _dot(on, at, 0, -0.04, 0.09, mix(at.tone, WHITE, 0.6))
    _dot(on, at, 0, 0.09, 0.06, YELLOW)


def _cattleya(on: Canvas, at: Bloom, dice: random.Random) -> None:
    for angle in (90, 222, 318):
        petal(on, at, angle, 1.02, 0.2, _skin(lit(at.tone, -0.14)), lance)
    for angle, bend in ((22, 0.12), (158, -0.12)):
        petal(on, at, angle, 1.02, 0.46, _skin(at.tone, stripes(lit(at.tone, -0.4), 0.25)), paddle, bend)
    lip = mix(at.tone, (120, 16, 84), 0.62)
    for angle, long in ((252, 0.66), (288, 0.66), (270, 0.82)):
        petal(on, at, angle, long, 0.3, _skin(lip, stripes(lit(lip, -0.5), 0.3), tip=mix(lip, WHITE, 0.25)), paddle)
    petal(on, at, 270, 0.46, 0.17, _skin(YELLOW, tip=lip), paddle)
    _dot(on, at, 0, -0.02, 0.11, mix(at.tone, WHITE, 0.55))


def _oncidium(on: Canvas, at: Bloom, dice: random.Random) -> None:
    brown = mix(at.tone, (110, 52, 24), 0.7)
    for angle in (90, 35, 145, 205, 335):
        petal(on, at, angle, 0.62, 0.17, _skin(lit(at.tone, -0.1), blotches(brown, 0.8)), paddle)
    for angle in (238, 302):
        petal(on, at, angle, 0.92, 0.44, _skin(lit(at.tone, 0.1)), paddle)
    petal(on, at, 270, 0.8, 0.3, _skin(lit(at.tone, 0.16)), paddle)
    _dot(on, at, 0, 0.06, 0.13, brown)


def _spider(on: Canvas, at: Bloom, dice: random.Random) -> None:
    brown = (96, 52, 30)
    for angle, long, bend in ((90, 1.7, 0.05), (215, 1.65, -0.1), (325, 1.65, 0.1), (50, 1.1, 0.2), (130, 1.1, -0.2)):
        petal(on, at, angle, long, 0.1, _skin(at.tone, blotches(brown, 0.7)), lance, bend)
    petal(on, at, 270, 0.86, 0.27, _skin(mix(WHITE, at.tone, 0.25), tip=at.tone), lance)
    _dot(on, at, 0, 0.12, 0.08, (90, 110, 50))


def _pansy(on: Canvas, at: Bloom, dice: random.Random) -> None:
    back = mix(GREEN, at.tone, 0.25)
    for angle in (90, 30, 150, 205, 335):
        petal(on, at, angle, 0.78, 0.22, _skin(back, blotches(mix(at.tone, (84, 40, 30), 0.6), 0.7)), paddle)
    pale = mix(WHITE, at.tone, 0.3)
    for angle in (235, 305, 270):
        petal(on, at, angle, 1.0, 0.42, _skin(pale, stripes(at.tone, 0.9)), paddle)
    _dot(on, at, 0, 0.1, 0.13, at.tone)
    _dot(on, at, 0, -0.06, 0.08, WHITE)


def _dendrobium(on: Canvas, at: Bloom, dice: random.Random) -> None:
    pale = mix(WHITE, at.tone, 0.45)
    for angle in (90, 205, 335):
        petal(on, at, angle, 0.9, 0.24, _skin(pale, tip=at.tone), lance)
    for angle in (25, 155):
        petal(on, at, angle, 0.92, 0.32, _skin(pale, tip=lit(at.tone, -0.1)), paddle)
    petal(on, at, 270, 0.72, 0.34, _skin(mix(WHITE, YELLOW, 0.25), tip=at.tone), paddle)
    _dot(on, at, 0, 0.24, 0.19, mix(at.tone, (70, 10, 50), 0.75), 0.05)
    _dot(on, at, 0, -0.02, 0.07, WHITE)


def _paph(on: Canvas, at: Bloom, dice: random.Random) -> None:
    white = mix(WHITE, GREEN, 0.2)
    petal(on, at, 90, 1.05, 0.56, _skin(white, stripes(at.tone, 0.75), tip=WHITE), paddle)
    petal(on, at, 270, 0.8, 0.26, _skin(mix(white, GREEN, 0.4)), lance)
    for angle, bend in ((346, 0.14), (194, -0.14)):
        petal(on, at, angle, 1.22, 0.2, _skin(mix(at.tone, GREEN, 0.35), stripes(lit(at.tone, -0.4), 0.5), tip=at.tone),
              strap, bend)
    _pouch(on, at, mix(at.tone, (120, 70, 40), 0.35))


def _pouch(on: Canvas, at: Bloom, tone: Colour) -> None:
    petal(on, at, 270, 0.94, 0.34, Skin(tone, fold=0.35, gloss=0.35, rib=0, root=-0.1, tip=lit(tone, -0.2)), paddle)
    x, y, s = at.x, at.y + at.size * 0.2, at.size
    on.ellipse(x, y, 0.26 * s * at.face, 0.11 * s, lit(tone, -0.7))
    on.ellipse(x, y - 0.03 * s, 0.24 * s * at.face, 0.07 * s, lit(tone, 0.3), 120)
    _dot(on, at, 0, -0.02, 0.13, mix(tone, (222, 214, 120), 0.6))


def _phrag(on: Canvas, at: Bloom, dice: random.Random) -> None:
    petal(on, at, 90, 0.92, 0.3, _skin(mix(at.tone, GREEN, 0.35), stripes(at.tone, 0.5)), lance)
    petal(on, at, 270, 0.8, 0.3, _skin(mix(at.tone, GREEN, 0.5)), lance)
    for side in (-1, 1):
        x, y, s = at.x, at.y, at.size
        out = side * s * at.face
        spine = bezier((x, y), (x + out * 0.9, y + s * 0.05), (x + out * 1.3, y + s * 0.7),
                       (x + out * 0.95, y + s * 1.55), 14)
        blade(on, spine, strap(0.12 * s, 0.3), _skin(at.tone, stripes(lit(at.tone, -0.4), 0.4)))
    _pouch(on, at, mix(at.tone, YELLOW, 0.3))


def _masdevallia(on: Canvas, at: Bloom, dice: random.Random) -> None:
    for angle, bend in ((90, 0.1), (222, -0.08), (318, 0.08)):
        skin = _skin(at.tone, stripes(lit(at.tone, -0.35), 0.4), tip=lit(at.tone, 0.1))
        petal(on, at, angle, 0.98, 0.38, skin, lance, bend)
        turn = math.radians(angle) + at.tilt
        x, y = at.x + math.cos(turn) * at.size * 0.9 * at.face, at.y - math.sin(turn) * at.size * 0.9
        tail = bezier((x, y), (x + math.cos(turn) * at.size * 0.4, y - math.sin(turn) * at.size * 0.45),
                      (x + math.cos(turn + bend * 4) * at.size * 0.7, y - math.sin(turn + bend * 4) * at.size * 0.7),
                      (x + math.cos(turn + bend * 9) * at.size, y - math.sin(turn + bend * 9) * at.size), 8)
        stem(on, tail, at.size * 0.045, at.size * 0.016, mix(at.tone, YELLOW, 0.35))
    _dot(on, at, 0, 0.04, 0.14, mix(at.tone, WHITE, 0.5))
    _dot(on, at, 0, 0.12, 0.07, mix(at.tone, (110, 20, 30), 0.7))


def _vanda(on: Canvas, at: Bloom, dice: random.Random) -> None:
    net = blotches(lit(at.tone, -0.45), 0.45)
    for angle in (90, 18, 162, 228, 312):
        petal(on, at, angle, 0.95, 0.4, _skin(lit(at.tone, 0.06), net), paddle)
    petal(on, at, 270, 0.46, 0.14, _skin(mix(at.tone, (70, 20, 110), 0.7)), paddle)
    _dot(on, at, 0, 0, 0.1, WHITE)


def _star(on: Canvas, at: Bloom, dice: random.Random) -> None:
    x, y, s = at.x, at.y, at.size
    spur = bezier((x, y), (x + s * 0.3, y + s * 0.7), (x - s * 0.1, y + s * 1.3), (x + s * 0.35, y + s * 2.0), 10)
    stem(on, spur, s * 0.05, s * 0.03, mix(at.tone, GREEN, 0.4))
    for angle in (90, 20, 160, 222, 318):
        petal(on, at, angle, 0.98, 0.19, _skin(at.tone, tip=lit(at.tone, 0.3)), lance)
    petal(on, at, 270, 0.85, 0.28, _skin(lit(at.tone, 0.25)), lance)
    _dot(on, at, 0, 0.02, 0.1, mix(at.tone, GREEN, 0.35))


def _heart(on: Canvas, at: Bloom, dice: random.Random) -> None:
    for angle, bend in ((90, 0.08), (30, 0.15), (150, -0.15), (215, -0.1), (325, 0.1)):
        petal(on, at, angle, 1.15, 0.1, _skin(mix(at.tone, GREEN, 0.45)), lance, bend)
    for angle in (248, 292):
        petal(on, at, angle, 0.72, 0.34, _skin(lit(at.tone, 0.3)), paddle)
    petal(on, at, 270, 0.9, 0.22, _skin(lit(at.tone, 0.3)), lance)
    _dot(on, at, 0, 0.12, 0.08, GREEN)


def _trident(on: Canvas, at: Bloom, dice: random.Random) -> None:
    for angle in (90, 212, 328):
        petal(on, at, angle, 1.05, 0.36, _skin(mix(at.tone, GREEN, 0.2), tip=at.tone), lance)
    for angle in (64, 116):
        petal(on, at, angle, 0.62, 0.28, _skin(lit(at.tone, 0.16)), paddle)
    petal(on, at, 270, 0.56, 0.2, _skin(mix(at.tone, (150, 60, 30), 0.4)), paddle)
    _dot(on, at, 0, 0.05, 0.09, WHITE)


RECIPES: dict[str, Callable[[Canvas, Bloom, random.Random], None]] = {
    "phal": _phal, "cattleya": _cattleya, "oncidium": _oncidium, "spider": _spider, "pansy": _pansy,
    "dendrobium": _dendrobium, "paph": _paph, "phrag": _phrag, "masdevallia": _masdevallia, "vanda": _vanda,
    "angraecum": _star, "terete": _heart, "plicate": _trident, "cymbidium": _trident, "bulb": _trident,
    "pleuro": _trident, "jewel": _star,
}
