"""Where on a plant each pest or disease hides: the spots a guided look goes through, most likely first."""

from __future__ import annotations

from collections.abc import Iterable, Mapping
from dataclasses import dataclass
from enum import StrEnum


class Spot(StrEnum):
    """A part of a plant or its pot that is looked at by itself; the value is what the grower reads."""

    LEAF_BACKS = "leaf backs and midribs"
    AXILS = "leaf axils"
    SHEATHS = "under dry sheaths"
    CROWN = "crown"
    NEW_GROWTH = "newest growth"
    BUDS = "spike, buds and flowers"
    RHIZOME = "rhizome and growths"
    ROOTS = "roots through the pot"
    MEDIUM = "surface of the medium"
    RIM = "rim and drainage holes"


HIDES: Mapping[str, tuple[Spot, ...]] = {
    "two-spotted-mite": (Spot.LEAF_BACKS,),
    "flat-mite": (Spot.LEAF_BACKS, Spot.SHEATHS, Spot.BUDS),
    "thrips": (Spot.BUDS, Spot.NEW_GROWTH, Spot.MEDIUM),
    "mealybug": (Spot.AXILS, Spot.SHEATHS, Spot.LEAF_BACKS, Spot.ROOTS, Spot.RIM),
    "long-tailed-mealybug": (Spot.AXILS, Spot.SHEATHS),
    "soft-brown-scale": (Spot.LEAF_BACKS, Spot.BUDS),
    "boisduval-scale": (Spot.SHEATHS, Spot.AXILS, Spot.RHIZOME),
    "aphid": (Spot.BUDS, Spot.NEW_GROWTH),
    "fungus-gnat": (Spot.MEDIUM,),
    "bush-snail": (Spot.RIM, Spot.MEDIUM, Spot.ROOTS),
    "soft-rot": (Spot.CROWN, Spot.AXILS, Spot.NEW_GROWTH),
    "brown-rot": (Spot.CROWN, Spot.LEAF_BACKS),
    "black-rot": (Spot.ROOTS, Spot.RHIZOME, Spot.NEW_GROWTH),
    "leaf-spot": (Spot.LEAF_BACKS,),
    "virus-signs": (Spot.NEW_GROWTH, Spot.LEAF_BACKS, Spot.BUDS),
}
"""The spots of each pest or disease in the order they are searched; from the hiding places told in pests.toml."""

USUAL = (Spot.LEAF_BACKS, Spot.AXILS, Spot.SHEATHS, Spot.NEW_GROWTH, Spot.ROOTS)
"""What every look goes through where nothing in particular is expected."""


@dataclass(frozen=True, slots=True)
class Search:
    """One spot of a guided look and the pests or diseases expected there, the likeliest first."""

    spot: Spot
    pests: tuple[str, ...] = ()


def searched(expected: Iterable[str]) -> tuple[Search, ...]:
    """The spots to look at: those of what is expected first (`expected`: keys, likeliest first), then the usual ones.

    A key that nobody mapped adds no spot of its own: the usual ones hold for it.
    """
    found: dict[Spot, list[str]] = {}
    for key in dict.fromkeys(expected):
        for spot in HIDES.get(key, ()):
            found.setdefault(spot, []).append(key)
    for spot in USUAL:
        found.setdefault(spot, [])
    return tuple(Search(spot, tuple(pests)) for spot, pests in found.items())
