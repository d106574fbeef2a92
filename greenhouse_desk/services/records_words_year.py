"""Entries of a plant's year in plain words: its flowering, its rest, and its moves to more shade or sun."""

from __future__ import annotations

from collections.abc import Callable
from typing import Any

from greenhouse_desk.domain.figures import counted
from greenhouse_desk.domain.journal_year import Flowering, Light, Lit, Phase, Resting, Stage

Said = tuple[str, str, str]
"""The name of a mark, a short title, and the rest."""
MARKS = {Stage.SPIKE: "spike", Stage.BUDS: "spike", Stage.OPEN: "flower", Stage.OVER: "flowers over"}
NOUNS = {Stage.SPIKE: "spike", Stage.BUDS: "bud", Stage.OPEN: "flower", Stage.OVER: "flower"}


def year_words(facts: Any) -> Said:
    """Facts of one of the kinds in `SAYINGS` in plain words."""
    return SAYINGS[type(facts)](facts)


def _flowering(facts: Flowering) -> Said:
    many = counted(facts.count, NOUNS[facts.stage]) if facts.count else ""
    return MARKS[facts.stage], facts.stage.value, many


def _resting(facts: Resting) -> Said:
    dry = "kept dry" if facts.dry and facts.phase is Phase.BEGINS else ""
    return "dry rest", facts.phase.value, dry


def _lit(facts: Lit) -> Said:
    return "light", f"back to {facts.to.value}" if facts.to is Light.USUAL else f"into {facts.to.value}", ""


SAYINGS: dict[type[Any], Callable[[Any], Said]] = {Flowering: _flowering, Resting: _resting, Lit: _lit}
