"""The door to the demo: the invented collection lies outside the package in a checkout, inside it in a wheel."""

from __future__ import annotations

import importlib
import sys
from datetime import datetime
from pathlib import Path
from typing import Protocol, cast

from greenhouse_desk.domain.faults import Refused
from greenhouse_desk.shipped import PACKAGE
from greenhouse_desk.store.folder import DATABASE


class Built(Protocol):
    """What was built: how many plants, benches, journal entries and pictures."""

    plants: int
    benches: int
    entries: int
    pictures: int


class _Builder(Protocol):
    def build(self, folder: Path, now: datetime) -> Built: ...


def build(folder: Path, now: datetime) -> Built:
    """Build the demo in `folder`, made when missing, for the aware instant `now`; Raises Refused unless it is empty."""
    return _builder().build(folder, now)


def is_built(folder: Path) -> bool:
    """Whether `folder` holds a collection already."""
    return (folder / DATABASE).exists()


def _builder() -> _Builder:
    if (PACKAGE / "demo").is_dir():
        return cast(_Builder, importlib.import_module("greenhouse_desk.demo.build"))
    if not (PACKAGE.parent / "demo").is_dir():
        raise Refused("The demo is not here", f"Neither {PACKAGE} nor the folder around it holds it.",
                      "Install the program whole.")
    if str(PACKAGE.parent) not in sys.path:
        sys.path.insert(0, str(PACKAGE.parent))
    return cast(_Builder, importlib.import_module("demo.build"))
