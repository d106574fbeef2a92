"""The grower's own words for pests and diseases: what each names is asked once, kept with the house, and set right."""

from __future__ import annotations

from collections.abc import Mapping
from datetime import datetime

from greenhouse_desk.domain.contacts import is_virus
from greenhouse_desk.domain.faults import Refused
from greenhouse_desk.domain.journal import Kind, found_in
from greenhouse_desk.domain.own_words import OwnKind, OwnWords, by_kind, small
from greenhouse_desk.services import shelf
from greenhouse_desk.services.desk import Done
from greenhouse_desk.store import house, journal
from greenhouse_desk.store.engine import Session

KINDS = frozenset({"house", "journal"})


def kinds(session: Session) -> dict[str, OwnKind]:
    """What each own word names, by the word as it was first written; one kept with no known kind is left out."""
    known = {kind.value: kind for kind in OwnKind}
    return {word: known[kind] for word, kind in house.own_words(session).items() if kind in known}


def known(session: Session) -> OwnWords:
    """The own words by kind, for the rules of quarantine."""
    return by_kind(kinds(session))


def used(session: Session) -> Mapping[str, OwnKind | None]:
    """Every own word that was ever written down as found, in alphabetical order, and what it names (None: not told;
    the rules take it for a pest). A word that says itself that it is a virus is not among them."""
    told = {small(word): kind for word, kind in kinds(session).items()}
    found: dict[str, str] = {}
    for entry in journal.of_kinds(session, (Kind.SIGHTED, Kind.TESTED)):
        word = found_in(entry.facts)
        if word and _own(word):
            found.setdefault(small(word), word)
    return {found[key]: told.get(key) for key in sorted(found)}


def learn(session: Session, word: str, kind: OwnKind | None) -> str:
    """Keep what an own word names where that is told. Returns the word as it was first written.

    Raises Refused for an own word of which nobody ever told it. Known pests and diseases keep their kind.
    """
    if not word.strip() or not _own(word):
        return word
    every = kinds(session)
    first = next((one for one in every if small(one) == small(word)), word.strip())
    if kind is None and first not in every:
        raise Refused(f"Is {word.strip()} a pest, a virus or another disease?",
                      "A virus goes by tests and by blades, a pest by looks and washes.",
                      "Say below what your own word names, or choose a name from the list.")
    if kind is not None and every.get(first) is not kind:
        house.save_own_word(session, first, kind.value)
    return first


def set_right(session: Session, now: datetime, told: Mapping[str, OwnKind | None]) -> Done[None]:
    """Keep what each of these own words names; all that was ever written down under them is worked out anew. None
    leaves a word as it is."""
    named = {word: kind for word, kind in told.items() if kind is not None}
    for word, kind in named.items():
        learn(session, word, kind)
    words = ", ".join(f"{word} is {kind.value}" for word, kind in named.items())
    return Done(f"Own words: {words}" if words else "", KINDS, None)


def _own(word: str) -> bool:
    return word not in shelf.shelf(None).pests and not is_virus(word)
