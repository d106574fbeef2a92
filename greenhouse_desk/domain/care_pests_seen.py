"""What a plant's journal tells of pests: which were seen, which washes were given, which clean looks a wash masked."""

from __future__ import annotations

from greenhouse_desk.domain.care_asked import Asked, pairs
from greenhouse_desk.domain.journal import Entry, Looked, Purpose, Sighted, Treated
from greenhouse_desk.domain.pests import PestKind


def seen(ask: Asked) -> dict[str, list[Entry]]:
    """The sightings of each known pest or disease by its key, oldest first."""
    return {what: entries for what, entries in _sightings(ask).items() if what in ask.pests}


def seen_pests(ask: Asked) -> dict[str, list[Entry]]:
    """The sightings of each pest by its key or by the grower's own word for it, oldest first; diseases left out."""
    return {what: entries for what, entries in _sightings(ask).items()
            if what not in ask.pests or ask.pests[what].kind is PestKind.PEST}


def _sightings(ask: Asked) -> dict[str, list[Entry]]:
    found: dict[str, list[Entry]] = {}
    for entry, facts in pairs(ask.of(Sighted), Sighted):
        found.setdefault(facts.what, []).append(entry)
    return found


def pest_washes(ask: Asked) -> list[Entry]:
    """The washes against pests, oldest first."""
    return [entry for entry, facts in pairs(ask.of(Treated), Treated) if facts.purpose is Purpose.PEST_WASH]


def masked(ask: Asked, wash: Entry, look: Entry) -> bool:
    """Whether a clean look came so soon after a wash that signs may have been hidden."""
    clean = isinstance(facts := look.facts, Looked) and facts.clean
    return clean and (ask.day(look.at) - ask.day(wash.at)).days < ask.rules.masked_days
