"""A plant's name for a label: cut into words that stay whole, and shortened only by what the naming codes allow.

Of a name may go, in this order: awards, and the parents in brackets behind a grex; then genera are abbreviated.
Species, ranks, authors, grex and clone always stay, and epithets stay whole. Source of the setting: ICN and ICNCP;
that genera may be abbreviated, and that lists of short forms differ: common practice.
"""

from __future__ import annotations

import re
from collections import Counter
from collections.abc import Iterator, Mapping
from dataclasses import dataclass

from greenhouse_desk.domain.figures import Constant
from greenhouse_desk.domain.names import BotanicalName, Piece
from greenhouse_desk.domain.names_read import RANKS, SIGN

INITIAL = re.compile(r"(?:^|\W)\w\.$")  # a genus of one letter, which would hang alone at the end of a line
LONGEST_GREX = Constant(30, "characters", "the longest name a grex may have", "published: ICNCP 9th ed. 2016")


@dataclass(frozen=True, slots=True)
class Part:
    """A stretch that is never broken: its text in pieces of one setting; `sign` where it begins with a cross."""

    pieces: tuple[tuple[str, bool], ...]
    sign: bool = False

    @property
    def text(self) -> str:
        return "".join(text for text, _ in self.pieces)


@dataclass(frozen=True, slots=True)
class _Word:
    text: str
    italic: bool
    clone: bool = False
    glued: bool = False


def forms(name: BotanicalName, shorts: Mapping[str, str], parents: bool = True) -> tuple[tuple[Part, ...], ...]:
    """The name from its fullest to its shortest form, each in parts that stay whole; equal forms once.

    `shorts` are the short forms of genera. Without `parents` what stands in brackets behind a grex is left out of all.
    """
    if not name.genus and not name.grex:
        return (plain(name.plain),)
    words = _words(name) if parents else _without_parents(_words(name), name)
    steps = [words, bare := _without_awards(words, name), _without_parents(bare, name)]
    steps += [_abbreviated(step, shorts) for step in tuple(steps)]
    return tuple(dict.fromkeys(parts(step) for step in steps if step))


def parentage(name: BotanicalName) -> tuple[Part, ...]:
    """The parents of a plant: a whole formula, or the cross in brackets behind a grex; empty where none is told."""
    words = _words(name)
    if name.formula and _crosses_outside(words):
        return parts(words)
    span = _parents(words)
    if span is not None:
        first, last = span
        inner = [*words[first:last]]
        inner[0] = _Word(inner[0].text.removeprefix("("), inner[0].italic)
        inner[-1] = _Word(inner[-1].text.removesuffix(")"), inner[-1].italic, inner[-1].clone, inner[-1].glued)
        return parts([word for word in inner if word.text])
    return ()


def plain(text: str) -> tuple[Part, ...]:
    """Words that are no name, each a part of its own."""
    return tuple(Part(((word, False),)) for word in text.split())


def parts(words: list[_Word]) -> tuple[Part, ...]:
    """Words put together to what must not be broken: a sign with what follows it, a rank with its epithet, a grex."""
    found: list[list[_Word]] = []
    for word in words:
        if found and _holds(found[-1], word):
            found[-1].append(word)
        else:
            found.append([word])
    return tuple(_part(group) for group in found)


def _crosses_outside(words: list[_Word]) -> bool:
    """Whether a cross stands outside all brackets."""
    level = 0
    for place, word in enumerate(words):
        if word.text == SIGN and level == 0 and place and words[place - 1].text != SIGN:
            return True
        level += word.text.count("(") - word.text.count(")")
    return False


def _part(group: list[_Word]) -> Part:
    pieces: list[tuple[str, bool]] = []
    for place, word in enumerate(group):
        if place and not word.glued:
            pieces.append((" ", False))
        pieces.append((word.text, word.italic))
    return Part(tuple(pieces), group[0].text == SIGN)


def _holds(group: list[_Word], word: _Word) -> bool:
    """Whether `word` must stand on one line with what goes before it."""
    last = group[-1]
    if word.glued or last.text in (SIGN, "(") or last.text in RANKS or (last.italic and INITIAL.search(last.text)):
        return True
    roman = not (word.italic or word.clone or last.italic or last.clone)
    short = sum(len(one.text) + 1 for one in group) + len(word.text) <= LONGEST_GREX.value
    return roman and short and word.text != SIGN and last.text != SIGN and word.text[0] != "(" and last.text[-1] != ")"


def _words(name: BotanicalName) -> list[_Word]:
    found: list[_Word] = []
    glued = False
    for piece in name.pieces:
        if piece.clone:
            found.append(_Word(_quoted(piece.text), False, True, glued))
            glued = True
            continue
        found += _split(piece, glued and bool(piece.text) and piece.text[0] != " ")
        glued = bool(piece.text) and piece.text[-1] != " "
    return found


def _split(piece: Piece, glued: bool) -> Iterator[_Word]:
    for place, text in enumerate(piece.text.split()):
        yield _Word(text, piece.italic, glued=glued and place == 0)


def _quoted(clone: str) -> str:
    inner = clone.strip()
    return f"‘{inner[1:-1]}’" if len(inner) > 2 and inner[0] in "'‘" and inner[-1] in "'’" else inner


def _without_awards(words: list[_Word], name: BotanicalName) -> list[_Word]:
    """Taken away from the end on, each as often as it was given: a grex may have a word that looks like an award."""
    awards, left = Counter(name.awards.split()), list[_Word]()
    for word in reversed(words):
        if awards[word.text] and not word.italic and not word.clone:
            awards[word.text] -= 1
        else:
            left.insert(0, word)
    return left


def _without_parents(words: list[_Word], name: BotanicalName) -> list[_Word]:
    span = _parents(words)
    return words if span is None or not name.grex else words[:span[0]] + words[span[1]:]


def _parents(words: list[_Word]) -> tuple[int, int] | None:
    """From where to where the cross in brackets at the end of a name goes, which does not begin the name."""
    level, first = 0, None
    for place, word in enumerate(words):
        if "(" in word.text and level == 0:
            first = place
        level += word.text.count("(") - word.text.count(")")
        crossed = first is not None and any(inner.text == SIGN for inner in words[first:place])
        if level == 0 and first and crossed:
            return first, place + 1
    return None


def _abbreviated(words: list[_Word], shorts: Mapping[str, str]) -> list[_Word]:
    return [_Word(shorts.get(word.text, word.text), word.italic, word.clone, word.glued) if word.italic else word
            for word in words]
