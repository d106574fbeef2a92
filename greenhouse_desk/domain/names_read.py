"""Reading a botanical name word by word: genus, epithets, ranks, hybrid signs, crosses, grex, clone, awards."""

from __future__ import annotations

import re
import unicodedata
from dataclasses import dataclass, field

SIGN = "×"
RANKS = frozenset(("subsp.", "ssp.", "var.", "subvar.", "f.", "fo.", "forma", "subf.", "nothovar.", "nothosubsp.",
                   "nothof.", "subsp", "ssp", "var"))
QUALIFIERS = frozenset(("aff.", "aff", "cf.", "cf", "sp.", "sp", "spp.", "spp", "nov.", "ined.", "hort.", "cv.", "cv",
                        "ex", "et", "in", "from", "of", "the", "and", "with", "de", "hybrid", "hyb.", "hyb", "unknown",
                        "unnamed", "seedling", "seedlings", "mericlone", "species", "no", "noid", "id", "grex", "gx",
                        "group", "type", "self", "sib", "selfing", "sibling", "not", "or", "my", "is", "a", "an"))
NO_GENUS = frozenset(("noid", "unknown", "unnamed", "unidentified", "no", "hybrid", "seedling", "the", "orchid", "my"))
QUOTED = re.compile(r"(?<!\S)(['‘’\"“‚„`])(\S(?:.*?\S)?)['’‘\"”“`](?=$|[\s,;)])")
LINKS = frozenset(("of", "the", "and", "with", "de", "in", "from", "et", "a", "an", "my", "is"))
AWARD = re.compile(r"\(?[A-Z]{1,5}(?:-[A-Z]+)*/[A-Z][A-Za-z]*(?:-[A-Z]+)*[),;]*|(?:FCC|AM|HCC|CCM|CCE|CBR|CHM|JC)[,;]?")
DOUBTS = frozenset(("aff.", "aff", "cf.", "cf", "sp.", "sp", "spp.", "spp", "nov.", "ined."))
DEEPEST = 6


@dataclass(frozen=True, slots=True)
class Piece:
    """A stretch of a name in one setting; `clone` marks a cultivar's name with its quotes."""

    text: str
    italic: bool = False
    clone: bool = False


@dataclass(slots=True)
class Read:
    """What has been read so far. `parts` are words and signs in order, set with one space between unless glued."""

    parts: list[tuple[Piece, bool]] = field(default_factory=list)
    genus: str = ""
    epithet: str = ""
    infraspecific: list[tuple[str, str]] = field(default_factory=list)
    grex: list[str] = field(default_factory=list)
    clone: str = ""
    awards: list[str] = field(default_factory=list)
    doubts: list[str] = field(default_factory=list)
    links: list[str] = field(default_factory=list)
    hybrid: bool = False
    formula: bool = False
    rank: str = ""
    author: bool = False

    def put(self, text: str, italic: bool = False, clone: bool = False, glued: bool = False) -> None:
        """Add a word; `glued` puts no space before it."""
        self.parts.append((Piece(text, italic, clone), glued))

    def pieces(self) -> tuple[Piece, ...]:
        """The parts with their spaces; neighbours in the same setting are one piece, a space between italics too."""
        found: list[Piece] = []
        for piece, glued in self.parts:
            if found and not glued:
                both = found[-1].italic and piece.italic
                _join(found, Piece(" ", both))
            _join(found, piece)
        return tuple(found)


def _join(found: list[Piece], piece: Piece) -> None:
    same = found and not piece.clone and not found[-1].clone and found[-1].italic == piece.italic
    if same:
        found[-1] = Piece(found[-1].text + piece.text, piece.italic)
    elif piece.text:
        found.append(piece)


def tidy(text: str) -> str:
    """The text in composed form, control characters and runs of blanks turned into single spaces."""
    composed = unicodedata.normalize("NFC", text)
    return " ".join("".join(" " if unicodedata.category(char) in ("Cc", "Cs", "Zl", "Zp") else char
                            for char in composed).split())


@dataclass(frozen=True, slots=True)
class Within:
    """What stands around a side of a cross: its genus, which a side may leave out, how deep, and in brackets or not."""

    genus: str = ""
    depth: int = 0
    bracket: bool = False

    def deeper(self, genus: str, bracket: bool) -> Within:
        return Within(self.genus or genus, self.depth + 1, self.bracket or bracket)


def read(text: str, around: Within = Within()) -> Read:
    """Read a whole name or one side of a cross."""
    found = Read()
    sides = _sides(text, around) if around.depth < DEEPEST else [text]
    if len(sides) > 1:
        _read_cross(found, sides, around)
    else:
        _read_name(found, text, around)
    return found


def _read_cross(found: Read, sides: list[str], around: Within) -> None:
    """Seed parent x pollen parent, and further parents after them."""
    found.formula = found.hybrid = True
    for side in sides:
        if found.parts:
            found.put(SIGN)
        parent = read(side, around.deeper(found.genus, False))
        found.genus = found.genus or parent.genus
        found.parts.append((parent.parts[0][0], False))
        found.parts.extend(parent.parts[1:])


def _sides(text: str, around: Within) -> list[str]:
    """The text cut at the signs of a cross: those outside quotes and brackets that do not belong to one name."""
    tokens = _tokens(text)
    sides: list[list[str]] = [[]]
    level = 0
    for place, token in enumerate(tokens):
        level = max(0, level + token.count("(") - token.count(")"))
        following = tokens[place + 1] if place + 1 < len(tokens) else ""
        if level == 0 and _is_sign(token) and following and _crosses(sides[-1], following, around):
            sides.append([])
        else:
            sides[-1].append(token)
    return [" ".join(side) for side in sides] if all(sides) else [text]


def _crosses(before: list[str], following: str, around: Within) -> bool:
    """Whether a sign between these words is a cross: not at a name's beginning, nor between genus and epithet. In a
    bracket after its genus a capital word is a grex: Paph. (Maudiae x callosum)."""
    names = [token for token in before if not _is_sign(token)]
    if not names:
        return False
    if len(names) > 1 or names[0][0].islower() or not following[0].islower() or following in QUALIFIERS:
        return True
    return around.bracket and not _names_genus(names[0], around)


def _tokens(text: str) -> list[str]:
    """Words, with a quoted clone as one word."""
    tokens: list[str] = []
    at = 0
    for match in QUOTED.finditer(text):
        tokens += text[at:match.start()].split()
        tokens.append(f"'{match.group(2)}'")
        at = match.end()
    return tokens + text[at:].split()


def _is_sign(token: str) -> bool:
    return token in (SIGN, "x", "X", "✕", "✖", "⨯")


def _read_name(found: Read, text: str, around: Within) -> None:
    bracket = re.match(r"^\((.+)\)$", text)
    if bracket and around.depth < DEEPEST and _balanced(bracket.group(1)):
        _read_bracket(found, bracket.group(1), around)
        return
    tokens = _grouped(_tokens(text))
    for token, following in zip(tokens, [*tokens[1:], ""], strict=False):
        sign, word = _split_sign(token, following, found)
        if sign:
            found.hybrid = True
            found.put(SIGN)
        if word:
            _read_word(found, word, following, around, glued=sign)


def _grouped(tokens: list[str]) -> list[str]:
    """Tokens with everything inside one pair of brackets joined to one."""
    grouped: list[str] = []
    level = 0
    for token in tokens:
        if level and grouped:
            grouped[-1] += f" {token}"
        else:
            grouped.append(token)
        level = max(0, level + token.count("(") - token.count(")"))
    return grouped


def _balanced(text: str) -> bool:
    level = 0
    for char in text:
        level += (char == "(") - (char == ")")
        if level < 0:
            return False
    return level == 0


def _read_bracket(found: Read, inside: str, around: Within) -> None:
    inner = read(inside, around.deeper(found.genus, bool(found.genus or around.genus)))
    found.put("(")
    for place, (piece, glued) in enumerate(inner.parts):
        found.parts.append((piece, glued or place == 0))
    found.put(")", glued=True)
    found.genus = found.genus or inner.genus
    found.hybrid = found.hybrid or inner.hybrid
    found.formula = found.formula or inner.formula


def _split_sign(token: str, following: str, found: Read) -> tuple[bool, str]:
    """Whether a hybrid sign heads this word, and the rest of it; a lone sign only where a name may follow."""
    if _is_sign(token):
        return (True, "") if following and not found.author and not found.grex else (False, token)
    if token[0] == SIGN and len(token) > 1 and token[1].isalpha():
        return True, token[1:]
    if token[0] == "x" and not found.parts and len(token) > 2 and token[1].isupper() and token[2].islower():
        return True, token[1:]
    return False, token


def _read_word(found: Read, word: str, following: str, around: Within, glued: bool) -> None:
    first = all(piece.text == SIGN for piece, _ in found.parts)
    if word[0] == "'" and word[-1] == "'" and len(word) > 2:
        found.clone = found.clone or word[1:-1]
        found.put(word, clone=True, glued=glued)
    elif _is_cross_in_brackets(word, around.deeper(found.genus, bool(found.genus))):
        _read_bracket(found, word[1:-1], around)
    elif first and _is_genus(word) and not _is_grex_alone(word, following, around):
        found.genus = word
        found.put(word, italic=True, glued=glued)
    else:
        if first:
            found.genus = around.genus
        _read_later(found, word, glued)


def _is_cross_in_brackets(word: str, around: Within) -> bool:
    return (word[0] == "(" and word[-1] == ")" and len(word) > 2 and around.depth < DEEPEST
            and len(_sides(word[1:-1], around)) > 1)


def _is_grex_alone(word: str, following: str, around: Within) -> bool:
    """Whether a capital word heads a grex whose genus stands before the bracket around it."""
    return around.bracket and not (_names_genus(word, around) or _is_epithet(following))


def _names_genus(word: str, around: Within) -> bool:
    """Whether a capital word inside a bracket is a genus all the same: an abbreviation, or the one before it again."""
    return word.endswith(".") or word == around.genus


def _read_later(found: Read, word: str, glued: bool) -> None:
    """A word after the genus, or of a text that has none."""
    italic = False
    if word in DOUBTS and found.genus:
        found.doubts.append(word)
    if found.clone:
        found.awards += [word] if AWARD.fullmatch(word) else []
    elif word in RANKS and found.genus:
        found.rank = word
    elif found.rank and _is_epithet(word):
        found.infraspecific.append((found.rank, word))
        found.rank, italic = "", True
    elif found.genus and not found.epithet and not found.grex and not found.author and _is_epithet(word):
        found.epithet, italic = word, True
    elif found.grex and word in LINKS:
        found.links.append(word)
    elif found.genus and word not in QUALIFIERS:
        _read_roman(found, word)
    found.put(word, italic=italic, glued=glued)


def _read_roman(found: Read, word: str) -> None:
    """A word that is no epithet: part of a grex where no species came before, else an author's name or a remark."""
    if not found.epithet and not found.author and (found.grex or word[0].isupper()):
        found.grex += [*found.links, word]
        found.links.clear()
    else:
        found.author, found.rank = True, ""


def _is_genus(word: str) -> bool:
    """A capital and small letters, or an abbreviation such as "Phal."."""
    bare = word.removesuffix(".").replace("-", "")
    return bare.isalpha() and bare[0].isupper() and bare.casefold() not in NO_GENUS and (
        len(bare) == 1 or bare[1:].islower() or word.endswith("."))


def _is_epithet(word: str) -> bool:
    """Small letters throughout, hyphens allowed, at least two, and no qualifying word."""
    bare = word.replace("-", "")
    return len(bare) > 1 and bare.isalpha() and bare.islower() and word not in QUALIFIERS and word[0] != "-"
