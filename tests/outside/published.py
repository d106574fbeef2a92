"""One published value with its source, and the count of those that tests really check."""

from __future__ import annotations

import importlib
import math
import pkgutil
from collections.abc import Iterator
from dataclasses import dataclass
from enum import StrEnum
from types import ModuleType

import tests.outside


class How(StrEnum):
    """How a value came here. Only what was read there, or on a page that quotes it, counts as published."""

    READ = "read"
    """As printed; at most its unit was changed."""
    WORKED_OUT = "worked out"
    """By us, from what is printed: a sum, a formula with its numbers, an example of ours for a printed rule."""
    FROM_MEMORY = "from memory"
    """It stands in the work as far as we remember, and was not looked up."""


@dataclass(frozen=True)
class Published:
    """A value from a work outside this project.

    Put rows into `@pytest.mark.parametrize("row", ROWS, ids=str)`: only rows that stand in such a list are counted.
    """

    what: str
    """The quantity with its unit, and what it was given for: "saturation vapour pressure at 20 C, kPa"."""
    value: object
    source: str
    """The work, written the same way in every row that comes from it: distinct works are counted by this."""
    given: tuple[object, ...] = ()
    """The arguments to call with."""
    within: float = 0.0
    """How far off is still the same value, in the value's unit; say beside the rows why."""
    where: str = ""
    """Table, page or equation in the work."""
    how: How = How.READ

    def __str__(self) -> str:
        return f"{self.what} [{self.source}]"

    def agrees(self, found: float) -> bool:
        """Whether `found` is the published number, within its tolerance; infinities agree with themselves."""
        value = self.value
        assert isinstance(value, int | float)
        return found == value or math.isclose(found, value, rel_tol=0.0, abs_tol=self.within)


def _inside(values: object) -> Iterator[Published]:
    """Rows in a parametrize list: bare, in `pytest.param`, or among a row's other values."""
    if isinstance(values, Published):
        yield values
    elif isinstance(values, list | tuple):
        for value in values:
            yield from _inside(value)


def checked(module: ModuleType) -> Iterator[Published]:
    """The rows that the module's test functions are parametrized with."""
    for name, test in vars(module).items():
        if name.startswith("test_"):
            for mark in getattr(test, "pytestmark", []):
                if mark.name == "parametrize":
                    yield from _inside(list(mark.args[1]))


def everywhere() -> set[Published]:
    """Every row checked by a module of this folder."""
    names = [found.name for found in pkgutil.iter_modules(tests.outside.__path__) if found.name.startswith("test_")]
    return {row for name in names for row in checked(importlib.import_module(f"tests.outside.{name}"))}
