"""What the naming code would say to a name of a grex or a clone. It reports and never refuses: what is typed stays."""

from __future__ import annotations

import re

from greenhouse_desk.domain.figures import Constant
from greenhouse_desk.domain.names import BotanicalName

SOURCE = "published: ICNCP, 9th edition 2016, as summed up for orchid hybrids in 2017"
LONGEST = Constant(30, "characters", "longest name of a grex or a clone", SOURCE)
MOST_EXCLAMATION = Constant(2, "marks", "exclamation marks in the name of a grex or a clone", SOURCE)
BANNED = frozenset(("cultivar", "form", "grex", "group", "hybrid", "maintenance", "mixture", "selection", "sport",
                    "series", "strain", "variety", "improved", "transformed"))
PUNCTUATION = frozenset(" '’,!.-/\\")


def remarks(name: BotanicalName) -> tuple[str, ...]:
    """What the code would say to the grex and the clone of a name, in a grower's words; empty where nothing."""
    return tuple(f"{what} {epithet!r}: {remark}" for what, epithet in (("Grex", name.grex), ("Clone", name.clone))
                 for remark in epithet_remarks(epithet, name.genus) if epithet)


def epithet_remarks(epithet: str, genus: str = "") -> tuple[str, ...]:
    """What the code would say to one name given to a grex or a clone.

    Not looked at, for want of a list: Latin words, praise, and the names of living people.
    """
    words = re.findall(r"[^\W_]+", epithet.casefold())
    banned = [word for word in words if word in BANNED]
    strange = sorted({char for char in epithet if not (char.isalpha() or char.isdecimal() or char in PUNCTUATION)})
    found = [
        (len(epithet) > LONGEST.value, f"longer than {LONGEST.value:g} characters"),
        (_small(epithet), "does not begin with a capital or a number"),
        (len(epithet.strip()) == 1, "a single character"),
        (bool(words) and all(word.isdecimal() for word in words), "only numbers"),
        (bool(banned), f"uses {', '.join(banned)}, which the code keeps for itself"),
        (bool(genus) and genus.casefold() in words, "repeats the genus"),
        (bool(strange), f"has {' '.join(strange)}, which the code does not allow"),
        (epithet.count("!") > MOST_EXCLAMATION.value or "!!" in epithet, "has too many exclamation marks"),
    ]
    return tuple(remark for wrong, remark in found if wrong)


def _small(epithet: str) -> bool:
    first = epithet.lstrip()[:1]
    return bool(first) and not (first.isupper() or first.isdecimal() or (first.isalpha() and not first.islower()))
