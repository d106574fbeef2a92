"""Genus names behind their abbreviations. Lists in use conflict: several short forms for one genus, or the reverse."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass
from typing import Any

from greenhouse_desk.domain.datafile import Fields, Gathered
from greenhouse_desk.domain.faults import Fault
from greenhouse_desk.domain.names import genus_of


@dataclass(frozen=True, slots=True)
class Genus:
    """A genus with its short forms as they are written, and where they were found."""

    name: str
    short: tuple[str, ...]
    source: str


@dataclass(frozen=True, slots=True)
class Genera:
    """The genera known by short form. The grower's own (`own`) come before what is shipped."""

    shipped: tuple[Genus, ...] = ()
    own: tuple[Genus, ...] = ()

    def behind(self, word: str) -> tuple[str, ...]:
        """The genera a short form may stand for, with or without its full stop; none where it is not known.

        A short form of the grower's own stands for what the grower says and nothing else.
        """
        wanted = _bare(word)
        for genera in (self.own, self.shipped):
            found = tuple(genus.name for genus in genera if wanted in map(_bare, genus.short))
            if found:
                return found
        return ()

    def full(self, genus: str) -> str:
        """The genus spelled out where its short form stands for one only; else as it was typed."""
        found = self.behind(genus) if genus else ()
        return found[0] if len(found) == 1 else genus

    def shorts(self, genus: str) -> tuple[str, ...]:
        """The short forms of a genus, the grower's own first."""
        return tuple(dict.fromkeys(short for known in (*self.own, *self.shipped)
                                   if known.name.casefold() == genus.casefold() for short in known.short))

    def known(self, word: str) -> str:
        """The genus that is written out in `word`, whatever its case; "" where none is known by that name."""
        names = (genus.name for genus in (*self.own, *self.shipped))
        return next((name for name in names if name.casefold() == word.casefold()), "")


def full_genus(name: str, genera: Genera) -> str:
    """The genus of a plant's name, spelled out where its short form stands for one only; "" where none is recognised.

    Whatever compares plants or judges them by their genus asks this, so that "Paph." is a Paphiopedilum everywhere.
    """
    typed = genus_of(name)
    return genera.full(typed) if typed else genera.known(name.partition(" ")[0])


def read_genera(data: Mapping[str, Any], file: str) -> tuple[tuple[Genus, ...], tuple[Fault, ...]]:
    """The genera of a data file, one table each, and every fault in it; a genus at fault is left out."""
    gathered = Gathered(file)
    fields = Fields(dict(data), "", gathered)
    found: list[Genus] = []
    for name in data:
        told = len(gathered.faults)
        genus = fields.table(data[name], name, _genus)
        if len(gathered.faults) == told:
            found.append(genus)
    return tuple(found), tuple(gathered.faults)


def _genus(fields: Fields) -> Genus:
    name = fields.path
    short = fields.texts("short", required=True)
    if not short and fields.sound("short"):
        fields.fault("short", "at least one short form was expected")
    if not (name.isalpha() and name[0].isupper() and name[1:].islower()):
        fields.gathered.add(name, "a genus in letters, with one capital, was expected")
    return Genus(name, short, fields.marked(required=True))


def _bare(word: str) -> str:
    return word.removesuffix(".").casefold()
