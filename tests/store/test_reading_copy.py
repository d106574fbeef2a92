"""A collection that cannot be written is opened for reading: as it stands, its log included, and nothing is left there.
"""

from __future__ import annotations

import shutil
import subprocess
import sys
from collections.abc import Iterator
from pathlib import Path

import pytest

from greenhouse_desk.domain.faults import Held, Refused
from greenhouse_desk.domain.journal import Note
from greenhouse_desk.services import backup, collection, records
from greenhouse_desk.services.collection import NewPlant
from greenhouse_desk.services.desk import Desk
from greenhouse_desk.store import journal
from greenhouse_desk.store.engine import Store, open_store
from greenhouse_desk.store.folder import DATABASE
from tests.builders import NOW
from tests.rights import opened, public_folder, shut, unprivileged

HOLD = """import sys
from pathlib import Path
from greenhouse_desk.store.engine import open_store
store = open_store(Path(sys.argv[1]), who="the one that waters")
print("held", flush=True)
sys.stdin.read()
"""


@pytest.fixture
def folder() -> Iterator[Path]:
    """A closed collection with 101 and a note on it, that others may only read."""
    with public_folder() as folder:
        store = open_store(folder, create=True)
        _noted(store, "first")
        store.close()
        shut(folder)
        yield folder
        opened(folder)


def _noted(store: Store, words: str) -> None:
    desk = Desk(store, lambda: NOW)
    if not desk.read(journal.everything):
        desk.run(collection.add_plant, NewPlant("Stelis gelida", 101))
    desk.run(records.add, 101, Note(words), NOW)


def _notes(store: Store) -> list[str]:
    with store.reading() as session:
        return [entry.facts.text for entry in journal.everything(session) if isinstance(entry.facts, Note)]


def test_it_is_read_and_nothing_is_left_there(folder: Path) -> None:
    before = {path: path.stat().st_mtime_ns for path in (folder, *folder.rglob("*"))}
    with unprivileged():
        store = open_store(folder, reading=True)
        assert store.read_only == folder / DATABASE
        assert _notes(store) == ["first"]
        assert backup.check(store) == ()
        copy = Path(store.raw.execute("PRAGMA database_list").fetchone()[2])
        store.close()
    assert not copy.parent.exists(), "the copy goes with the store"
    assert {path: path.stat().st_mtime_ns for path in (folder, *folder.rglob("*"))} == before


def test_a_folder_alone_that_is_read_only_is_enough(folder: Path) -> None:
    (folder / DATABASE).chmod(0o666)
    with unprivileged():
        store = open_store(folder, reading=True)
        assert store.read_only == folder
        assert _notes(store) == ["first"]
        store.close()


def test_every_deed_is_refused_with_what_to_do(folder: Path) -> None:
    with unprivileged():
        store = open_store(folder, reading=True)
        for deed in (lambda: _noted(store, "second"), lambda: store.snapshot(NOW)):
            with pytest.raises(Refused, match="cannot be written") as caught:
                deed()
            assert str(folder / DATABASE) in caught.value.detail
            assert "right to write" in caught.value.next_step
        assert _notes(store) == ["first"]
        store.close()


def test_what_a_killed_program_left_in_its_log_is_read_too(folder: Path) -> None:
    opened(folder)
    store = open_store(folder)
    _noted(store, "in the log only")
    left = folder.parent / "left"
    shutil.copytree(folder, left)
    store.close()
    assert (left / f"{DATABASE}-wal").stat().st_size
    shut(left)
    log = (left / f"{DATABASE}-wal").read_bytes()
    with unprivileged():
        found = open_store(left, reading=True)
        assert _notes(found) == ["first", "in the log only"]
        found.close()
    assert (left / f"{DATABASE}-wal").read_bytes() == log
    opened(left)


def test_one_that_somebody_writes_in_is_held(folder: Path) -> None:
    opened(folder)
    with subprocess.Popen([sys.executable, "-c", HOLD, str(folder)], stdin=subprocess.PIPE, stdout=subprocess.PIPE,
                          text=True) as other:
        assert other.stdout is not None
        assert other.stdin is not None
        assert other.stdout.readline() == "held\n"
        with unprivileged(), pytest.raises(Held, match="the one that waters"):
            open_store(folder, reading=True)
        other.stdin.close()


def test_a_backup_is_not_put_back_there(folder: Path) -> None:
    opened(folder)
    store = open_store(folder)
    made = backup.make(store, NOW)
    store.close()
    assert made is not None
    shut(folder)
    before = (folder / DATABASE).read_bytes()
    with unprivileged(), pytest.raises(Refused, match="cannot be written"):
        backup.restore(folder, made.name, NOW)
    assert (folder / DATABASE).read_bytes() == before
