"""Plant numbers as they are typed for a print: "101-140, 150"."""

from __future__ import annotations

import re
from collections.abc import Iterable

from greenhouse_desk.domain.faults import Refused

RANGE = re.compile(r"([0-9]{1,6})(?:\s*[-–]\s*([0-9]{1,6}))?")


def numbers(text: str) -> tuple[tuple[int, int], ...]:
    """Spans of numbers, both ends meant, in the order typed. Raises Refused for what is no list of numbers."""
    spans = []
    for part in filter(None, (part.strip() for part in re.split(r"[,;\s]+(?![-–])(?<![-–]\s)", text.strip()))):
        found = RANGE.fullmatch(part)
        if found is None:
            raise Refused(f"{part!r} is no plant number", "", "Write numbers such as 101-140, 150.")
        first, last = int(found.group(1)), int(found.group(2) or found.group(1))
        if last < first:
            raise Refused(f"{part} runs backwards", "", f"Write {last}-{first}.")
        spans.append((first, last))
    return tuple(spans)


def chosen(spans: Iterable[tuple[int, int]], known: Iterable[int], growing: Iterable[int]) -> tuple[int, ...]:
    """The plants that spans name, each once: a number named by itself may have left; of a span only the growing ones.

    Raises Refused for a single number that nobody has, or a span without any plant in it.
    """
    every, alive = set(known), sorted(growing)
    found: list[int] = []
    for first, last in spans:
        inside = [first] if first == last and first in every else [n for n in alive if first <= n <= last]
        if not inside:
            what = f"plant {first}" if first == last else f"growing plant from {first} to {last}"
            raise Refused(f"There is no {what}", "Nothing was printed.", "Check the numbers.")
        found += inside
    return tuple(dict.fromkeys(found))
