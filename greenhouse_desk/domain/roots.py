"""What a root count tells: how many dead roots point at the culture, not at bad luck."""

from __future__ import annotations

from greenhouse_desk.domain.figures import Constant

DEAD_SHARE = Constant(1 / 3, "of the roots counted", "share of dead roots that points at the culture, not at bad luck",
                      "common practice: more than a third dead is taken as a sign of the culture")


def many_dead(living: int, dead: int) -> bool:
    """Whether so many of the roots counted are dead that the culture is to blame."""
    return dead > DEAD_SHARE.value * (living + dead)
