"""Painting with Pillow: a canvas in picture units, colours that take light and shade, curves, blades and stems."""

from __future__ import annotations

import math
from collections.abc import Callable, Sequence
from dataclasses import dataclass

from PIL import Image, ImageDraw

WIDTH, HEIGHT = 960, 720
OVERSAMPLING = 2
Point = tuple[float, float]
Colour = tuple[int, int, int]
SHADOW: Colour = (12, 30, 34)
GLOW: Colour = (255, 250, 220)


@dataclass(frozen=True, slots=True)
class Canvas:
    """A picture being painted, oversampled; `light` is the unit vector towards the light, y downwards."""

    image: Image.Image
    pen: ImageDraw.ImageDraw
    light: Point = (-0.5, -0.86)
    warmth: Colour = GLOW

    def polygon(self, points: Sequence[Point], colour: Colour, alpha: int = 255) -> None:
        self.pen.polygon([(x * OVERSAMPLING, y * OVERSAMPLING) for x, y in points], (*colour, alpha))

    def ellipse(self, x: float, y: float, rx: float, ry: float, colour: Colour, alpha: int = 255) -> None:
        s = OVERSAMPLING
        self.pen.ellipse(((x - rx) * s, (y - ry) * s, (x + rx) * s, (y + ry) * s), (*colour, alpha))

    def line(self, points: Sequence[Point], width: float, colour: Colour, alpha: int = 255) -> None:
        self.pen.line([(x * OVERSAMPLING, y * OVERSAMPLING) for x, y in points], (*colour, alpha),
                      max(1, round(width * OVERSAMPLING)), joint="curve")


def canvas(image: Image.Image, light: Point) -> Canvas:
    """A canvas on an oversampled RGB image."""
    size = math.hypot(*light)
    return Canvas(image, ImageDraw.Draw(image, "RGBA"), (light[0] / size, light[1] / size))


def colour(text: str) -> Colour:
    """ "#rrggbb" as numbers."""
    return int(text[1:3], 16), int(text[3:5], 16), int(text[5:7], 16)


def mix(a: Colour, b: Colour, share: float) -> Colour:
    """`share` 0 is `a`, 1 is `b`."""
    share = min(1.0, max(0.0, share))
    return (round(a[0] + (b[0] - a[0]) * share), round(a[1] + (b[1] - a[1]) * share),
            round(a[2] + (b[2] - a[2]) * share))


def lit(base: Colour, amount: float) -> Colour:
    """`base` in more light (amount above 0, 1 at most) or in shade (below 0, -1 at most)."""
    return mix(base, GLOW, amount * 0.62) if amount >= 0 else mix(base, SHADOW, -amount * 0.72)


def bezier(a: Point, b: Point, c: Point, d: Point, count: int = 16) -> list[Point]:
    """Points along a cubic curve, both ends included."""
    points = []
    for n in range(count + 1):
        t = n / count
        s = 1 - t
        wa, wb, wc, wd = s * s * s, 3 * s * s * t, 3 * s * t * t, t * t * t
        points.append((a[0] * wa + b[0] * wb + c[0] * wc + d[0] * wd, a[1] * wa + b[1] * wb + c[1] * wc + d[1] * wd))
    return points


def normals(points: Sequence[Point]) -> list[Point]:
    """The unit normal at each point of a curve."""
    found = []
    for n in range(len(points)):
        ax, ay = points[max(0, n - 1)]
        bx, by = points[min(len(points) - 1, n + 1)]
        dx, dy = bx - ax, by - ay
        size = math.hypot(dx, dy) or 1.0
        found.append((-dy / size, dx / size))
    return found


Width = Callable[[float], float]


def veins(on: Canvas, spine: Sequence[Point], width: Width, tone: Colour, alpha: int = 200) -> None:
    """The net of a jewel leaf: midrib, ribs along the leaf, cross veins between them."""
    across = normals(spine)
    count = len(spine) - 1
    half = [width(n / count) for n in range(count + 1)]
    for side in (-0.66, -0.33, 0.0, 0.33, 0.66):
        on.line([_off(spine, across, half, n, side) for n in range(1, count)], 2.2 if side == 0 else 1.3, tone, alpha)
    for n in range(2, count - 1, 2):
        for side in (-1, 1):
            rib = (spine[n], _off(spine, across, half, n + 1, side * 0.5), _off(spine, across, half, n, side * 0.9))
            on.line(rib, 1.0, tone, alpha * 3 // 4)


def strap(width: float, blunt: float = 0.16) -> Width:
    """A strap leaf: even along its length, rounded at the tip, narrowed at the base."""
    def at(t: float) -> float:
        tip = math.sqrt(max(0.0, 1 - ((t - 1 + blunt) / blunt) ** 2)) if t > 1 - blunt else 1.0
        return width * (0.5 + 0.5 * min(1.0, t / 0.3)) * tip
    return at


def lance(width: float, widest: float = 0.4) -> Width:
    """A leaf or petal widest at `widest` of its length, drawn out to a point."""
    power = math.log(0.5) / math.log(widest)
    def at(t: float) -> float:
        return width * math.pow(max(0.0, math.sin(math.pi * min(1.0, max(0.0, t)) ** power)), 0.85)
    return at


def paddle(width: float) -> Width:
    """A broad leaf or petal with a narrow base and a rounded end."""
    def at(t: float) -> float:
        return width * math.pow(max(0.0, math.sin(math.pi * min(1.0, 0.06 + t * 0.94) ** 1.25)), 0.62)
    return at


@dataclass(frozen=True, slots=True)
class Skin:
    """How a blade looks: its colour, how hard the fold takes the light, midrib, rim and a pattern over it."""

    base: Colour
    fold: float = 0.3
    gloss: float = 0.25
    rib: float = -0.25
    root: float = -0.45
    tip: Colour | None = None
    pattern: Callable[[float, float], tuple[Colour, float] | None] | None = None
    bands: int = 6


def blade(on: Canvas, spine: Sequence[Point], width: Width, skin: Skin, dim: float = 0.0) -> None:
    """A leaf or petal along `spine`: bands across, segments along, each in its own light. `dim` darkens the whole."""
    across = normals(spine)
    count = len(spine) - 1
    half = [max(0.4, width(n / count)) for n in range(count + 1)]
    for n in range(count):
        facing = across[n][0] * on.light[0] + across[n][1] * on.light[1]
        for band in range(skin.bands):
            low, high = -1 + 2 * band / skin.bands, -1 + 2 * (band + 1) / skin.bands
            corners = ((n, low), (n, high), (n + 1, high), (n + 1, low))
            quad = [_off(spine, across, half, at, side) for at, side in corners]
            on.polygon(quad, _tone(skin, (n + 0.5) / count, (low + high) / 2, facing, dim))
    if skin.rib:
        on.line(spine[:-1], max(0.8, half[count // 2] * 0.06), lit(skin.base, skin.rib - dim), 170)


def _off(spine: Sequence[Point], across: Sequence[Point], half: Sequence[float], n: int, side: float) -> Point:
    return spine[n][0] + across[n][0] * half[n] * side, spine[n][1] + across[n][1] * half[n] * side


def _tone(skin: Skin, t: float, side: float, facing: float, dim: float) -> Colour:
    base = mix(skin.base, skin.tip, max(0.0, t - 0.45) * 1.6) if skin.tip else skin.base
    if skin.pattern is not None:
        over = skin.pattern(t, side)
        if over is not None:
            base = mix(base, over[0], over[1])
    fold = skin.fold * facing * (1 if side > 0 else -1)
    gloss = skin.gloss * math.exp(-((abs(side) - 0.5) / 0.25) ** 2) * (0.6 + 0.4 * math.sin(math.pi * t))
    return lit(base, fold + gloss * (1 if fold > -0.05 else 0.25) + skin.root * math.exp(-t * 5.5) - dim)


def stem(on: Canvas, points: Sequence[Point], thick: float, thin: float, base: Colour, dim: float = 0.0) -> None:
    """A round stem, root or spike from `thick` to `thin` (half widths), lit from the side of the light."""
    count = len(points) - 1
    skin = Skin(base, fold=0.42, gloss=0.0, rib=0.0, root=-0.2, bands=3)
    blade(on, points, lambda t: thick + (thin - thick) * t, skin, dim)
    if thin > 1.2 and count:
        x, y = points[-1]
        on.ellipse(x, y, thin, thin, lit(base, 0.1 - dim))
