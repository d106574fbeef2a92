"""Takes the fields out of a data file's tables and gathers every fault met on the way, never stopping at the first.

Paths count from 1, as a grower counts: `step[3].most_min` is the third step's most.
"""

from __future__ import annotations

import math
from collections.abc import Callable, Iterable
from dataclasses import dataclass, field
from typing import Any, TypeVar

from greenhouse_desk.domain.faults import Fault

MARKS = ("published: ", "common practice", "from memory", "derived here", "house rule")
T = TypeVar("T")


def shown(value: object) -> str:
    """A value as a fault names it: short, on one line."""
    if isinstance(value, dict):
        return "a table"
    if isinstance(value, list):
        return f"a list of {len(value)}"
    if isinstance(value, int) and value.bit_length() > 64:
        return "a number of very many digits"
    text = repr(value) if isinstance(value, str | int | float) else str(value)
    return text if len(text) <= 40 else text[:37] + "..."


@dataclass
class Gathered:
    """The faults of one file so far, and the paths they stand at."""

    file: str
    faults: list[Fault] = field(default_factory=list)

    def add(self, path: str, message: str, grave: bool = False) -> None:
        self.faults.append(Fault(self.file, path, message, grave))

    @property
    def paths(self) -> frozenset[str]:
        return frozenset(fault.path for fault in self.faults)


class Fields:
    """One table of a data file. Each reader takes a key, checks it, and returns its value or `default` with a fault."""

    def __init__(self, data: object, path: str, gathered: Gathered) -> None:
        self.path = path
        self.gathered = gathered
        self.taken: set[str] = set()
        self.data: dict[Any, Any] = data if isinstance(data, dict) else {}
        if not isinstance(data, dict):
            gathered.add(path or "file", f"a table was expected, not {shown(data)}")
            self.taken.add("")

    def at(self, key: str) -> str:
        return f"{self.path}.{key}" if self.path else key

    def sound(self, *keys: str) -> bool:
        """Whether none of these keys has a fault so far."""
        return self.gathered.paths.isdisjoint(self.at(key) for key in keys)

    def fault(self, key: str, message: str) -> None:
        self.gathered.add(self.at(key), message)

    def _take(self, key: str, required: str) -> Any:
        self.taken.add(key)
        value = self.data.get(key)
        if value is None and required and "" not in self.taken:
            self.fault(key, f"missing: {required} was expected")
        return value

    def text(self, key: str, default: str = "", required: bool = False, most: int = 2000, lines: int = 40) -> str:
        """Text of 1 to `most` characters on at most `lines` lines."""
        value = self._take(key, "text" if required else "")
        if value is None:
            return default
        if not isinstance(value, str):
            self.fault(key, f"text was expected, not {shown(value)}")
            return default
        text = value.strip()
        if not text:
            self.fault(key, "some text was expected, this is empty")
        elif len(text) > most:
            self.fault(key, f"at most {most} characters were expected, this has {len(text)}")
        elif len(text.splitlines()) > lines:
            self.fault(key, f"at most {lines} line{'s' if lines > 1 else ''} of text was expected")
        return text

    def marked(self, key: str = "source", required: bool = False) -> str:
        """A source that begins with its mark: published, common practice, from memory, derived here, house rule."""
        text = self.text(key, required=required)
        if text and not text.startswith(MARKS):
            marks = ", ".join(mark.strip(": ") for mark in MARKS)
            self.fault(key, f"a source begins with its mark ({marks}), not {shown(text)}")
        return text

    def number(self, key: str, default: float, low: float, high: float, required: bool = False) -> float:
        """A finite number from `low` to `high`."""
        wanted = f"a number from {low:g} to {high:g}"
        value = self._take(key, wanted if required else "")
        if value is None:
            return default
        if isinstance(value, bool) or not isinstance(value, int | float):
            self.fault(key, f"{wanted} was expected, not {shown(value)}")
            return default
        if not low <= value <= high:
            self.fault(key, f"{wanted} was expected, not {shown(value)}")
            return default
        return float(value)

    def optional_number(self, key: str, low: float, high: float) -> float | None:
        """A number from `low` to `high`, or None where the key is left out or at fault."""
        if self.data.get(key) is None:
            self.taken.add(key)
            return None
        value = self.number(key, math.nan, low, high)
        return None if math.isnan(value) else value

    def flag(self, key: str, default: bool = False) -> bool:
        """true or false."""
        value = self._take(key, "")
        if value is None:
            return default
        if not isinstance(value, bool):
            self.fault(key, f"true or false was expected, not {shown(value)}")
            return default
        return value

    def word(self, key: str, known: dict[str, T], default: T, required: bool = False) -> T:
        """One of the `known` words, as the value it stands for."""
        wanted = f"one of {', '.join(word or '(nothing)' for word in known)}"
        value = self._take(key, wanted if required else "")
        if value is None:
            return default
        if not isinstance(value, str) or value not in known:
            self.fault(key, f"{wanted} was expected, not {shown(value)}")
            return default
        return known[value]

    def items(self, key: str, required: str = "") -> list[Any]:
        """A list, of anything; [] where it is left out or at fault."""
        value = self._take(key, required)
        if value is None:
            return []
        if not isinstance(value, list):
            self.fault(key, f"a list was expected, not {shown(value)}")
            return []
        return value

    def words(self, key: str, known: dict[str, T]) -> tuple[T, ...]:
        """A list of `known` words, as the values they stand for."""
        found: list[T] = []
        for number, item in enumerate(self.items(key), 1):
            if isinstance(item, str) and item in known:
                found.append(known[item])
            else:
                self.fault(f"{key}[{number}]", f"one of {', '.join(known)} was expected, not {shown(item)}")
        return tuple(found)

    def texts(self, key: str, required: bool = False) -> tuple[str, ...]:
        """A list of texts, none of them empty."""
        found: list[str] = []
        for number, item in enumerate(self.items(key, "a list of texts" if required else ""), 1):
            if isinstance(item, str) and item.strip():
                found.append(item.strip())
            else:
                self.fault(f"{key}[{number}]", f"text was expected, not {shown(item)}")
        return tuple(found)

    def span(self, key: str, low: float, high: float) -> tuple[float, float] | None:
        """A list of two numbers, lowest first, or None where it is left out or at fault."""
        value = self._take(key, "")
        if value is None:
            return None
        numbers = [n for n in value if _is_number(n)] if isinstance(value, list) else []
        fits = len(numbers) == 2 and numbers == value and low <= numbers[0] <= numbers[1] <= high
        if not fits:
            self.fault(key, f"two numbers from {low:g} to {high:g}, lowest first, were expected, not {shown(value)}")
            return None
        return float(numbers[0]), float(numbers[1])

    def tables(self, key: str, read: Callable[[Fields], T], required: str = "") -> tuple[T, ...]:
        """A list of tables, each read by `read` and then checked for keys nobody asked for."""
        return tuple(self.table(item, f"{key}[{number}]", read)
                     for number, item in enumerate(self.items(key, required), 1))

    def table(self, data: object, key: str, read: Callable[[Fields], T]) -> T:
        fields = Fields(data, self.at(key), self.gathered)
        value = read(fields)
        fields.end()
        return value

    def end(self) -> None:
        """Faults for the keys that nobody asked for."""
        for key in self.data:
            if key not in self.taken:
                self.fault(str(key) or '""', f"unknown key; known are {', '.join(sorted(self.taken - {''}))}")


def _is_number(value: object) -> bool:
    return isinstance(value, int | float) and not isinstance(value, bool)


def by_word(words: Iterable[Any]) -> dict[str, Any]:
    """An enum's members by the word a file writes for them."""
    return {str(word.value): word for word in words}
