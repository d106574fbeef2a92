"""The grower's own words for pests and diseases, and what each is: rules follow a word only where its kind is known."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass
from enum import StrEnum


class OwnKind(StrEnum):
    """What an own word names. A virus goes by tests, a disease by cuts and other agents, a pest by washes."""

    PEST = "a pest"
    VIRUS = "a virus disease"
    DISEASE = "another disease"


@dataclass(frozen=True, slots=True)
class OwnWords:
    """Words by their kind, each in small letters, as words are compared."""

    viruses: frozenset[str] = frozenset()
    diseases: frozenset[str] = frozenset()


NO_WORDS = OwnWords()


def small(word: str) -> str:
    """A word as it is compared: its case and the spaces around it tell nothing."""
    return word.strip().casefold()


def by_kind(kinds: Mapping[str, OwnKind]) -> OwnWords:
    """The words of a house, sorted. A virus disease is a disease too: no wash hides its signs."""
    viruses = frozenset(small(word) for word, kind in kinds.items() if kind is OwnKind.VIRUS)
    return OwnWords(viruses, viruses | {small(word) for word, kind in kinds.items() if kind is OwnKind.DISEASE})
