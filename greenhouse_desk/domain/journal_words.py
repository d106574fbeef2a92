"""The words of the journal: kinds of entry, parts of a plant, purposes, ways to leave, replies to a care."""

from __future__ import annotations

from enum import StrEnum


class Kind(StrEnum):
    """What an entry tells."""

    ARRIVED = "arrived"
    PLACED = "placed"
    POTTED = "potted"
    UNPOTTED = "unpotted"
    LEFT = "left"
    LOOKED = "looked"
    SIGHTED = "sighted"
    RELEASED = "released"
    ROOTS = "roots"
    CUT = "cut"
    DRESSED = "dressed"
    TREATED = "treated"
    WETTED = "wetted"
    BLOTTED = "blotted"
    AIRED = "aired"
    DRY = "dry"
    POURED = "poured"
    READING = "reading"
    PHOTO = "photo"
    NOTE = "note"
    STEP = "step"
    ANSWER = "answer"
    CLOCK = "clock"
    SIGNS = "signs"
    OVERRULED = "overruled"
    SETTLED = "settled"
    OUTBREAK = "outbreak"
    LABELLED = "labelled"
    SHARED = "shared"
    TESTED = "tested"
    FLOWERING = "flowering"
    RESTING = "resting"
    LIGHT = "light"


class Part(StrEnum):
    """A part of a plant, or a thing at the bench, that a step acts on."""

    ROOTS = "roots"
    LEAVES = "leaves"
    CROWN = "crown"
    SPIKE = "spike"
    CUTS = "cuts"
    PLANT = "plant"
    POT = "pot"
    MEDIUM = "medium"
    TOOLS = "tools"
    BENCH = "bench"
    HANDS = "hands"


class Purpose(StrEnum):
    """Why an agent was put on a plant or thing."""

    ROOT_DISINFECTION = "root disinfection"
    PEST_WASH = "pest wash"
    DISINFECTION = "disinfection"


class Leaving(StrEnum):
    """How a plant left the collection."""

    TRADED = "traded"
    GIVEN_AWAY = "given away"
    DEAD = "dead"


class Moving(StrEnum):
    """How the air moves at a place, where it was not measured."""

    STILL = "still"
    LIGHT = "light"
    FAN = "fan"


class Reply(StrEnum):
    """What the grower answered to a care."""

    DONE = "done"
    PUT_OFF = "put off"
    DECLINED = "declined"
    MISSED = "missed"


STOPPED = "Stopped with this plant"
"""How the entry begins that tells that the work on a plant was stopped at the bench."""

FOR_NOW = "for now: the work on it was stopped"
"""What the entry of a potting says that only covers bare roots until the work is taken up again."""

NOT_TRIED = "no leaf was tried: a drop is on now"
"""Why a wash was left out at the bench, as its entry says it: the first wash counts from that drop."""
