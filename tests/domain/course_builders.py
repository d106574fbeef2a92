"""Journals of transitions for tests: a move so many days ago, and looks after it, in few words."""

from __future__ import annotations

from datetime import UTC

from greenhouse_desk.domain.courses import Known, courses
from greenhouse_desk.domain.courses_values import Course
from greenhouse_desk.domain.journal import Facts, Potted, Roots
from greenhouse_desk.domain.plants import Plant
from greenhouse_desk.domain.settings import HouseRules
from tests.builders import NOW, PLANT, ago, history

ROTS = {"soft-rot": "soft rot", "black-rot": "black rot"}
KNOWN = Known(HouseRules(), UTC, NOW, ROTS, "Phalaenopsis")
Told = tuple[float, Facts]


def roots(living: int, dead: int, tips: int = 0) -> Roots:
    """A root count."""
    return Roots(living, dead, tips)


def course(days_in: float, *told: Told, genus: str = "Phalaenopsis", of: Plant = PLANT) -> Course:
    """The newest course of a plant moved `days_in` days ago; `told` are (days after the move, facts)."""
    start = ago(days_in)
    written = [(ago(days_in + 300), Potted("bark")), (start, Potted("clay pellets", "12 cm", transition=True)),
               *((ago(days_in - after), facts) for after, facts in told)]
    known = Known(KNOWN.rules, KNOWN.zone, KNOWN.now, ROTS, genus)
    return courses(history(*written, of=of), known)[-1]
