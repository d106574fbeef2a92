"""Volumes of pots: the whole pot, the pellets it takes, and the reservoir below its holes."""

from __future__ import annotations

from math import pi

from greenhouse_desk.domain.faults import within
from greenhouse_desk.domain.figures import Constant, Span

NARROWEST_MM, WIDEST_MM = 1.0, 10_000.0
MM3_IN_A_LITRE = 1e6

VOID_SHARE_SHAKEN = Constant(
    0.36, "share of the volume", "the water's room between round pellets shaken down tight",
    "published: random close packing of equal spheres, J. Mater. Sci. 38 (2003) 2019: filled share 0.635")
VOID_SHARE_LOOSE = Constant(
    0.40, "share of the volume", "the water's room between round pellets poured in loosely",
    "from memory: Scott 1960, Nature 188:908, about 0.60 filled by spheres; unmeasured for clay pellets")
HOLES_MM = Constant(25.0, "mm", "usual height of the side holes above the base",
                    "common practice: growing guides give 10 to 51 mm")

UNMEASURED = ("Worked out for equal balls. Clay pellets are uneven and soak up water, and nobody has measured the room "
              "between them: pour a measured amount once and trust that.")


def litres(top_mm: float, base_mm: float, height_mm: float) -> float:
    """Litres of a round tapered pot: inner diameters at top and base and inner height in mm.

    Volume of a cut cone, pi h (D2 + D d + d2) / 12. Raises OutOfRange below 1 mm or above 10 m.
    """
    within("top_mm", top_mm, NARROWEST_MM, WIDEST_MM)
    within("base_mm", base_mm, NARROWEST_MM, WIDEST_MM)
    within("height_mm", height_mm, NARROWEST_MM, WIDEST_MM)
    return _cut_cone(top_mm, base_mm, height_mm)


def _cut_cone(top_mm: float, base_mm: float, height_mm: float) -> float:
    return pi * height_mm * (top_mm**2 + top_mm * base_mm + base_mm**2) / 12 / MM3_IN_A_LITRE


def litres_below(top_mm: float, base_mm: float, height_mm: float, level_mm: float) -> float:
    """Litres of the pot below `level_mm` above its inner base. Raises OutOfRange for a level outside the pot."""
    litres(top_mm, base_mm, height_mm)
    within("level_mm", level_mm, 0.0, height_mm)
    across_mm = base_mm + (top_mm - base_mm) * level_mm / height_mm
    return _cut_cone(across_mm, base_mm, level_mm)


def pellets_litres(top_mm: float, base_mm: float, height_mm: float, below_rim_mm: float = 0.0,
                   roots_litres: float = 0.0) -> float:
    """Litres of pellets, as they are measured loose, that fill the pot to `below_rim_mm` under its rim.

    `roots_litres` is the room the roots take; it is 0 where it is not known, so that there are enough pellets.
    Raises OutOfRange for a rim or roots that do not fit into the pot.
    """
    litres(top_mm, base_mm, height_mm)
    within("below_rim_mm", below_rim_mm, 0.0, height_mm)
    filled = litres_below(top_mm, base_mm, height_mm, height_mm - below_rim_mm)
    return filled - within("roots_litres", roots_litres, 0.0, filled)


def reservoir_ml(top_mm: float, base_mm: float, height_mm: float, holes_mm: float = HOLES_MM.value) -> Span:
    """Millilitres of water that stand below the holes between round pellets; `holes_mm` is the holes' lower edge.

    A span from tight to loose packing of balls; unmeasured for clay (see UNMEASURED). The water soaked up inside the
    pellets is not counted. Raises OutOfRange for holes outside the pot.
    """
    litres(top_mm, base_mm, height_mm)
    within("holes_mm", holes_mm, 0.0, height_mm)
    below = 1000 * litres_below(top_mm, base_mm, height_mm, holes_mm)
    return Span(below * VOID_SHARE_SHAKEN.value, below * VOID_SHARE_LOOSE.value)
