"""Who has a collection open: a note beside the database, by whoever has it, for whoever finds it held."""

from __future__ import annotations

import json
import os
import platform
from contextlib import suppress
from pathlib import Path

from greenhouse_desk.domain.faults import Held
from greenhouse_desk.store import disk

NOTE = "held-by.json"
WINDOW = "the window"
UNKNOWN = ("another copy of the program", "Use that copy, or close it, then try again.")


def note(folder: Path, who: str) -> None:
    """Write down that `who`, a few words, has it open; without a word when that fails, as it only helps a message."""
    told = {"who": who, "process": os.getpid(), "computer": platform.node()}
    with suppress(OSError):
        disk.put(folder / NOTE, json.dumps(told).encode(), lasting=False)


def let_go(folder: Path) -> None:
    """Take the note away. One that a killed program left says nothing: it is read only while somebody has the lock."""
    with suppress(OSError):
        (folder / NOTE).unlink(missing_ok=True)


def held(folder: Path) -> Held:
    """The refusal where another copy of the program has it open."""
    who, step = told(folder)
    return Held("Another copy holds this collection", f"{folder} is open in {who}. One at a time may have it, so that "
                "nothing gets lost.", step)


def told(folder: Path) -> tuple[str, str]:
    """Who has the collection open, and what to do about that, in words."""
    try:
        noted = json.loads((folder / NOTE).read_bytes())
        who, process, computer = noted["who"], noted["process"], noted["computer"]
    except (OSError, ValueError, KeyError, TypeError):
        return UNKNOWN
    where = "" if computer == platform.node() else f" on the computer {computer}"
    step = "Use that window, or close it" if who == WINDOW else "Wait until that has ended"
    return f"{who} (process {process}{where})", f"{step}, then try again."
