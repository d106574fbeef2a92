"""Pots seen from the front: clear ones with pellets, roots and the water line, clay, baskets; what fills them."""

from __future__ import annotations

import math
import random
import re
from dataclasses import dataclass

from .paint import Canvas, Colour, Point, bezier, lit, mix, stem
from .scenes import BENCH_Y

CENTRE = 480.0
CLAY: Colour = (176, 92, 54)
ROOT: Colour = (196, 206, 178)
WET_ROOT: Colour = (112, 158, 82)
GLASS: Colour = (222, 236, 236)
TERRACOTTA: Colour = (190, 112, 76)
WOOD: Colour = (122, 86, 58)


@dataclass(frozen=True, slots=True)
class Grain:
    """What a medium is made of: size of a piece, how much it varies, colours, and round or ragged."""

    size: float
    tones: tuple[Colour, ...]
    ragged: bool = False


GRAINS = {
    "pellets": Grain(10.5, (CLAY, (160, 80, 48), (196, 112, 68), (146, 78, 52))),
    "fine": Grain(7.0, (CLAY, (166, 86, 52), (200, 118, 76), (150, 80, 54))),
    "pumice": Grain(9.0, ((214, 210, 200), (196, 192, 184), (230, 226, 218), (180, 176, 168))),
    "bark": Grain(11.0, ((112, 74, 48), (88, 58, 40), (136, 94, 62), (70, 48, 36)), ragged=True),
    "moss": Grain(8.0, ((150, 148, 92), (176, 166, 112), (124, 132, 78), (190, 180, 132)), ragged=True),
}


@dataclass(frozen=True, slots=True)
class Pot:
    """A pot standing on the ledge: half widths at rim and base, the heights of rim and base, its kind."""

    rim: float
    base: float
    top: float
    foot: float
    kind: str

    @property
    def surface(self) -> float:
        """Height of the medium's surface."""
        return self.top + self.rim * 0.1

    def half(self, y: float) -> float:
        return self.base + (self.rim - self.base) * (self.foot - y) / (self.foot - self.top)


def pot_for(text: str) -> Pot:
    """The pot that `text` ("12 cm clear pot") tells of."""
    size = re.search(r"\d+", text)
    rim = 66 + 3.9 * min(20, int(size.group()) if size else 11)
    kinds = {"basket": "basket", "pan": "pan", "clay": "clay", "clear": "clear", "net": "clear"}
    kind = next((kind for word, kind in kinds.items() if word in text), "clay")
    tall = rim * {"pan": 0.85, "basket": 0.95}.get(kind, 1.52)
    foot = float(BENCH_Y + 14)
    return Pot(rim, rim * (0.9 if kind == "basket" else 0.76), foot - tall, foot, kind)


def grain_of(medium: str) -> Grain:
    """The grain of a medium named in words."""
    key = next((key for key in ("moss", "bark", "pumice", "fine", "pellets") if key in medium), "pellets")
    return GRAINS[key]


def draw_pot(on: Canvas, pot: Pot, medium: str, dice: random.Random, roots: int) -> None:
    """The pot with what is in it; the plant is painted over it afterwards."""
    _shadow(on, pot)
    grain = grain_of(medium)
    if pot.kind == "clear":
        _clear(on, pot, grain, dice, roots, water="pellets" in medium or "pumice" in medium)
    elif pot.kind == "basket":
        _basket(on, pot, grain, dice, roots)
    else:
        _opaque(on, pot)
    _surface(on, pot, grain, dice)


def _shadow(on: Canvas, pot: Pot) -> None:
    lean = -on.light[0] * 60
    for step in range(12):
        grow = 1.0 + step * 0.055
        on.ellipse(CENTRE + lean * (0.35 + step * 0.05), pot.foot - 4, pot.base * grow + 16, pot.base * 0.16 * grow + 5,
                   (8, 16, 18), 15)


def _body(pot: Pot, inset: float = 0.0, above: float = 0.0) -> list[Point]:
    arc = [(CENTRE + (pot.base - inset) * math.cos(a), pot.foot + pot.base * 0.11 * math.sin(a))
           for a in (math.pi * n / 14 for n in range(15))]
    top = pot.top + above
    return [(CENTRE - pot.half(top) + inset, top), *reversed(arc), (CENTRE + pot.half(top) - inset, top)]


def piece(on: Canvas, x: float, y: float, size: float, tone: Colour, dice: random.Random, ragged: bool,
          dim: float = 0.0) -> None:
    """One piece of a medium."""
    lx, ly = on.light
    if ragged:
        turn = dice.uniform(0, math.pi)
        points = [(x + size * (1.25 if n % 2 else 0.75) * math.cos(turn + n * 1.26) * dice.uniform(0.8, 1.2),
                   y + size * 0.7 * math.sin(turn + n * 1.26)) for n in range(5)]
        on.polygon(points, lit(tone, -0.2 - dim))
        on.polygon([(px + lx * 1.5, py + ly * 1.5) for px, py in points[:4]], lit(tone, 0.06 - dim))
        return
    on.ellipse(x, y, size, size * 0.96, lit(tone, -0.42 - dim))
    on.ellipse(x + lx * size * 0.16, y + ly * size * 0.16, size * 0.82, size * 0.8, lit(tone, -0.06 - dim))
    on.ellipse(x + lx * size * 0.34, y + ly * size * 0.34, size * 0.46, size * 0.44, lit(tone, 0.2 - dim))


def _fill(on: Canvas, pot: Pot, grain: Grain, dice: random.Random, top: float) -> None:
    on.polygon(_body(pot, 5, top - pot.top), (48, 38, 32))
    y = pot.foot - grain.size * 0.75
    while y > top - grain.size * 0.2:
        half = pot.half(y) - grain.size * 0.9 - 3
        x = CENTRE - half + dice.uniform(0, grain.size)
        while x < CENTRE + half:
            side = abs(x - CENTRE) / pot.half(y)
            sag = (1 - side * side) * pot.base * 0.1
            piece(on, x, y + sag * (y - top) / (pot.foot - top), grain.size * dice.uniform(0.82, 1.1),
                  dice.choice(grain.tones), dice, grain.ragged, 0.05 + 0.42 * side ** 3)
            x += grain.size * dice.uniform(1.55, 1.95)
        y -= grain.size * 1.5


def _clear(on: Canvas, pot: Pot, grain: Grain, dice: random.Random, roots: int, water: bool) -> None:
    on.polygon(_body(pot), GLASS, 84)
    _fill(on, pot, grain, dice, pot.surface + 3)
    line = pot.foot - (pot.foot - pot.top) * 0.3
    _roots_within(on, pot, dice, roots, line if water else pot.foot)
    if water:
        half = pot.half(line) - 5
        wet = [(CENTRE - half, line), *[p for p in _body(pot, 5) if p[1] > line], (CENTRE + half, line)]
        on.polygon(wet, (64, 116, 122), 74)
        for wide, tone, alpha in ((3.4, (18, 52, 58), 120), (1.6, (232, 248, 246), 210)):
            on.line(_arc(half, line + (1.5 if wide > 2 else 0), pot.base * 0.055), wide, tone, alpha)
    _shine(on, pot, line if water else None)


def _arc(half: float, y: float, sag: float) -> list[Point]:
    return [(CENTRE + half * u, y + sag * (1 - u * u)) for u in (n / 8 - 1 for n in range(17))]


def _roots_within(on: Canvas, pot: Pot, dice: random.Random, roots: int, line: float) -> None:
    for nth in range(roots):
        side = -1 if nth % 2 else 1
        x = CENTRE + side * dice.uniform(0.1, 0.7) * pot.half(pot.surface)
        low = dice.uniform(0.45, 1.02)
        end = (CENTRE + side * dice.uniform(-0.6, 0.88) * pot.base, pot.surface + (pot.foot - pot.surface) * low)
        bend = dice.uniform(-46, 46)
        path = bezier((x, pot.surface + 2), (x + bend, pot.surface + 40), (end[0] - bend * 1.5, end[1] - 46), end, 18)
        thick = dice.uniform(3.3, 4.9)
        stem(on, [(px + 1.6, py + 2.2) for px, py in path], thick, thick * 0.85, (36, 26, 22), 0.25)
        wet = end[1] > line - 20
        stem(on, path, thick, thick * 0.8, mix(ROOT, WET_ROOT, 0.55 if wet else 0.12))
        stem(on, path[-4:], thick * 0.84, thick * 0.62, (178, 196, 96) if nth % 3 else (196, 190, 150))


def _shine(on: Canvas, pot: Pot, line: float | None) -> None:
    side = 1 if on.light[0] > 0 else -1
    for at, wide, alpha in ((0.78, 0.1, 92), (0.6, 0.03, 60), (-0.88, 0.05, 70)):
        def x(y: float, share: float, at: float = at) -> float:
            return CENTRE + side * pot.half(y) * (at + share)
        top, low = pot.top + 14, pot.foot - 10
        on.polygon(((x(top, -wide), top), (x(top, wide), top), (x(low, wide * 0.7), low), (x(low, -wide * 0.7), low)),
                   (250, 255, 252), alpha)
    edge = _body(pot)
    on.line(edge, 2.2, (236, 246, 244), 170)
    on.line([(px + (1.6 if px < CENTRE else -1.6), py) for px, py in edge], 1.2, (40, 60, 60), 90)
    if line is not None:
        for at in (-0.5, 0.08, 0.62):
            hole = (CENTRE + at * pot.half(line - 13), line - 13 + 4 * (1 - at * at))
            on.ellipse(*hole, 5.0, 4.6, (24, 30, 30), 225)
            on.ellipse(hole[0], hole[1] + 1.4, 4.4, 3.6, (8, 14, 14), 200)
            on.line(((hole[0] - 4, hole[1] + 4.6), (hole[0] + 4, hole[1] + 4.6)), 1.1, (240, 250, 248), 150)


def _surface(on: Canvas, pot: Pot, grain: Grain, dice: random.Random) -> None:
    rim_y = pot.rim * 0.13
    front = pot.kind != "clear"
    tone = {"basket": WOOD, "clear": GLASS}.get(pot.kind, TERRACOTTA)
    on.ellipse(CENTRE, pot.top, pot.rim, rim_y, lit(tone, -0.35 if front else -0.05), 255 if front else 120)
    on.ellipse(CENTRE, pot.top + 4, pot.rim - 7, rim_y - 3, (40, 32, 28))
    spots = sorted(((dice.uniform(0, math.tau), math.sqrt(dice.random())) for _ in range(round(900 / grain.size))),
                   key=lambda spot: math.sin(spot[0]) * spot[1])
    for turn, reach in spots:
        piece(on, CENTRE + (pot.rim - 10 - grain.size * 0.6) * reach * math.cos(turn),
              pot.top + 5 + (rim_y - 4) * reach * math.sin(turn), grain.size * dice.uniform(0.85, 1.1),
              dice.choice(grain.tones), dice, grain.ragged, -0.05 - 0.1 * math.sin(turn))
    ring = [(CENTRE + pot.rim * math.cos(a), pot.top + rim_y * math.sin(a)) for a in
            (math.tau * n / 40 for n in range(41))]
    on.line(ring, 3.4 if front else 2.8, lit(tone, 0.25), 235 if front else 190)
    on.line([(x, y + 2.4) for x, y in ring[:21]], 1.6, lit(tone, -0.5), 110)


def _opaque(on: Canvas, pot: Pot) -> None:
    bands = 18
    for n in range(bands):
        low, high = -1 + 2 * n / bands, -1 + 2 * (n + 1) / bands
        middle = (low + high) / 2
        tone = lit(TERRACOTTA, 0.5 * middle * (1 if on.light[0] > 0 else -1) - 0.22 * middle * middle - 0.08)
        sag = pot.base * 0.11 * math.sqrt(max(0.0, 1 - middle * middle))
        on.polygon(((CENTRE + pot.rim * low, pot.top), (CENTRE + pot.rim * high + 0.6, pot.top),
                    (CENTRE + pot.base * high + 0.6, pot.foot + sag), (CENTRE + pot.base * low, pot.foot + sag)), tone)
        collar = pot.top + pot.rim * 0.3
        sag = pot.rim * 0.12 * math.sqrt(max(0.0, 1 - middle * middle))
        wide = pot.rim * 1.05
        on.polygon(((CENTRE + wide * low, pot.top), (CENTRE + wide * high + 0.6, pot.top),
                    (CENTRE + wide * high + 0.6, collar + sag), (CENTRE + wide * low, collar + sag)), lit(tone, 0.1))
    on.line(_arc(pot.rim * 1.02, pot.top + pot.rim * 0.3 + 2, pot.rim * 0.12), 3, lit(TERRACOTTA, -0.6), 120)


def _basket(on: Canvas, pot: Pot, grain: Grain, dice: random.Random, roots: int) -> None:
    _fill(on, pot, grain, dice, pot.top)
    slats = 5
    step = (pot.foot - pot.top) / slats
    for n in range(slats):
        y = pot.top + step * (n + 0.15)
        half = pot.half(y) + 6
        on.polygon(((CENTRE - half, y), (CENTRE + half, y), (CENTRE + half - 1, y + step * 0.55),
                    (CENTRE - half + 1, y + step * 0.55)), lit(WOOD, -0.05 if n % 2 else 0.1))
        on.line(((CENTRE - half, y + 1), (CENTRE + half, y + 1)), 2, lit(WOOD, 0.4), 170)
        on.line(((CENTRE - half, y + step * 0.55), (CENTRE + half, y + step * 0.55)), 3, lit(WOOD, -0.7), 160)
    for nth in range(roots):
        side = -1 if nth % 2 else 1
        x = CENTRE + side * dice.uniform(0.3, 0.95) * pot.rim
        end = (x + side * dice.uniform(-12, 46), min(700.0, pot.foot + dice.uniform(-60, 34)))
        path = bezier((x - side * 24, pot.top + 8), (x + side * 26, pot.top + 10), (x, end[1] - 60), end, 14)
        stem(on, path, 4.4, 3.6, mix(ROOT, (220, 224, 210), 0.4))
        stem(on, path[-3:], 3.8, 2.8, (150, 186, 96))
