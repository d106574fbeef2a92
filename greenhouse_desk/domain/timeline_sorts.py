"""What the timeline's entries are about: their sorts, which can be shown alone, and several of one mark in a word."""

from __future__ import annotations

from enum import StrEnum

from greenhouse_desk.domain.journal_words import Kind


class Sort(StrEnum):
    """What an entry is about; the timeline can show some of these only."""

    WATER = "water and feed"
    POTTING = "potting and roots"
    TREATMENT = "treatments"
    PEST = "looks and pests"
    YEAR = "flowering and rest"
    PLACE = "places"
    PHOTO = "photos"
    NOTE = "notes"
    CARE = "care ahead"


SORTS: dict[Kind, Sort] = {
    Kind.POURED: Sort.WATER, Kind.WETTED: Sort.WATER, Kind.BLOTTED: Sort.WATER, Kind.AIRED: Sort.WATER,
    Kind.DRY: Sort.WATER, Kind.POTTED: Sort.POTTING, Kind.UNPOTTED: Sort.POTTING, Kind.ROOTS: Sort.POTTING,
    Kind.CUT: Sort.POTTING, Kind.DRESSED: Sort.POTTING, Kind.SIGNS: Sort.POTTING, Kind.OVERRULED: Sort.POTTING,
    Kind.SETTLED: Sort.POTTING, Kind.TREATED: Sort.TREATMENT, Kind.STEP: Sort.TREATMENT, Kind.LOOKED: Sort.PEST,
    Kind.SIGHTED: Sort.PEST, Kind.RELEASED: Sort.PEST, Kind.OUTBREAK: Sort.PEST, Kind.FLOWERING: Sort.YEAR,
    Kind.RESTING: Sort.YEAR, Kind.LIGHT: Sort.YEAR, Kind.PLACED: Sort.PLACE, Kind.ARRIVED: Sort.PLACE,
    Kind.LEFT: Sort.PLACE, Kind.PHOTO: Sort.PHOTO,
}
"""Kinds that are not named here are notes."""


NOUNS = {
    "pour": "pours", "plain water": "pours", "soak": "soaks", "inspection": "looks", "sighting": "sightings",
    "potting": "pottings", "place": "moves", "photo": "photos", "note": "notes", "cut": "cuts",
    "roots": "root counts", "step": "steps", "answer": "answers", "spike": "spikes", "flower": "flowerings",
    "light": "changes of light",
}
"""Several entries of one mark in a word."""
