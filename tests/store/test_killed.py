"""A killed writer: every confirmed deed is there, none is half there, and undo still knows the last one."""

from __future__ import annotations

import os
import signal
import subprocess
import sys
from collections.abc import Callable
from pathlib import Path
from types import NoneType

import pytest

from greenhouse_desk.domain.quarantine import Answer
from greenhouse_desk.services import collection, quarantine
from greenhouse_desk.services.desk import Desk
from greenhouse_desk.store import journal
from greenhouse_desk.store.engine import Store, open_store
from tests.builders import NOW

ROOT = Path(__file__).parents[2]
WRITER = """
import sys
from pathlib import Path
from greenhouse_desk.domain.journal import Note
from greenhouse_desk.services.desk import Desk, Done
from greenhouse_desk.store import journal
from greenhouse_desk.store.engine import open_store
from tests.builders import NOW

def pair(session, now, n):
    for half in "ab":
        journal.add(session, now, Note(f"{n}{half}"))
    return Done(f"Pair {n}", frozenset({"journal"}), None)

desk = Desk(open_store(Path(sys.argv[1])), lambda: NOW)
for n in range(100_000):
    desk.run(pair, n)
    print(n, flush=True)
"""


def kill_after(folder: Path, confirmed: int) -> int:
    """Kill the writer with SIGKILL once it has told of that many deeds; returns the last one it told of."""
    writer = subprocess.Popen([sys.executable, "-c", WRITER, str(folder)], stdout=subprocess.PIPE, cwd=ROOT, text=True,
                              env={**os.environ, "PYTHONPATH": str(ROOT)})
    assert writer.stdout is not None
    with writer.stdout as told:
        for line in told:
            if int(line) >= confirmed:
                writer.send_signal(signal.SIGKILL)
                break
        said = [int(rest) for rest in told.read().split("\n")[:-1]]
    assert writer.wait() == -signal.SIGKILL
    return said[-1] if said else confirmed


@pytest.mark.parametrize("confirmed", [0, 37, 211])
def test_nothing_confirmed_is_lost(store: Store, confirmed: int) -> None:
    store.close()
    last = kill_after(store.folder, confirmed)
    again = Desk(open_store(store.folder), lambda: NOW)
    texts = [getattr(entry.facts, "text", "") for entry in again.read(journal.everything)]
    pairs = len(texts) // 2
    assert texts == [f"{n}{half}" for n in range(pairs) for half in "ab"]
    assert pairs in (last + 1, last + 2), "at most the one deed that was committed but not yet told of"
    deed = again.undo()
    assert deed is not None
    assert deed.label == f"Pair {pairs - 1}"
    assert len(again.read(journal.everything)) == 2 * pairs - 2
    assert again.store.raw.execute("PRAGMA integrity_check").fetchone() == ("ok",)
    again.store.close()


def test_a_desk_keeps_nothing_that_a_new_one_would_miss(desk: Desk, reopened: Callable[[], Desk]) -> None:
    """The design that makes the above true: beside the store, its clock and who listens, a desk holds nothing but what
    it read of the journal and what it answered from that, and a new one reads and answers the same."""
    desk.run(collection.add_plant, collection.NewPlant("Laelia anceps", medium="LECA"))
    read = {plant: told.entries for plant, told in desk.read(journal.told).items()}
    answered = desk.read(quarantine.status, NOW)
    assert set(vars(desk)) == {"store", "clock", "listeners"}
    assert set(vars(desk.store)) == {"folder", "engine", "raw", "read_only", "_end", "_kept"}
    assert desk.store.read_only is None
    assert {type(kept) for kept in vars(desk.store._kept).values()} == {dict, bool, set, Answer, NoneType}
    assert desk.store._kept.virus_held is None, "asked for at the bench only"
    kept = desk.store.raw.execute("SELECT name FROM temp.sqlite_master WHERE type = 'table'").fetchall()
    assert kept == [("deed_now",)]
    assert desk.store.raw.execute("SELECT * FROM deed_now").fetchall() == []
    again = reopened()
    assert {plant: told.entries for plant, told in again.read(journal.told).items()} == read != {}
    assert again.read(quarantine.status, NOW) == answered != {}
