"""Botanical names as the naming codes set them: italic, roman, a clone in its quotes; as typed always kept."""

from __future__ import annotations

import html
import unicodedata
from dataclasses import dataclass
from functools import lru_cache

from greenhouse_desk.domain.names_read import SIGN, Piece, Read, read, tidy

__all__ = ["BotanicalName", "Piece", "genus_of", "parse"]


@dataclass(frozen=True, slots=True)
class BotanicalName:
    """A name read by the codes.

    `typed` is the grower's own text. `pieces` in order make up `plain`. The other fields are what was recognised, ""
    or empty where nothing was: `epithet` the species, `infraspecific` pairs of rank and epithet, `grex` the hybrid
    group's name, `clone` without its quotes, `awards` after it, never derived; `hybrid` for a hybrid sign, `formula`
    for a cross, `doubt` for what says that the species is not certain (aff., cf., sp.).
    """

    typed: str
    pieces: tuple[Piece, ...]
    genus: str = ""
    epithet: str = ""
    infraspecific: tuple[tuple[str, str], ...] = ()
    grex: str = ""
    clone: str = ""
    awards: str = ""
    hybrid: bool = False
    formula: bool = False
    doubt: str = ""

    @property
    def each_award(self) -> tuple[str, ...]:
        """The awards one by one, in the order they stand."""
        return tuple(award for award in (word.strip("(),;") for word in self.awards.split()) if award)

    @property
    def plain(self) -> str:
        """The name in one line of text, with straight single quotes and the multiplication sign."""
        return "".join(piece.text for piece in self.pieces)

    @property
    def html(self) -> str:
        """The name with its text escaped; the only tag is <i>."""
        return "".join(f"<i>{escaped}</i>" if piece.italic else escaped
                       for piece in self.pieces for escaped in (html.escape(piece.text, quote=False),))

    @property
    def sort_key(self) -> str:
        """For sorting: letters and digits only, without case or accents; the hybrid sign is ignored."""
        bare = unicodedata.normalize("NFKD", self.plain.replace(SIGN, " ")).casefold()
        kept = "".join(char if char.isalnum() else " " for char in bare
                       if not unicodedata.combining(char) and char not in "'’")
        return " ".join(kept.split())


@lru_cache(maxsize=4096)
def parse(text: str) -> BotanicalName:
    """Read a name. Never raises; text that is no botanical name is kept, roman, as typed."""
    found: Read = read(tidy(text))
    return BotanicalName(text, found.pieces(), found.genus, found.epithet, tuple(found.infraspecific),
                         " ".join(found.grex), found.clone, " ".join(found.awards), found.hybrid, found.formula,
                         " ".join(found.doubts))


def genus_of(text: str) -> str:
    """The genus (or its abbreviation, as typed) of a name; "" where none is recognised."""
    return parse(text).genus
