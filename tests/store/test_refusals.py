"""Expected failures while the program runs: each is said to the grower, and the deed is not half done."""

from __future__ import annotations

import sqlite3
from collections.abc import Iterator
from datetime import datetime
from pathlib import Path

import pytest

from greenhouse_desk.domain.care_day import moment_words
from greenhouse_desk.domain.faults import Damaged, Held, Refused
from greenhouse_desk.domain.journal import Note
from greenhouse_desk.services import backup
from greenhouse_desk.services.desk import Changed, Desk, Done
from greenhouse_desk.store import journal
from greenhouse_desk.store.engine import Session, Store, open_store
from greenhouse_desk.store.folder import DATABASE
from greenhouse_desk.store.refusals import refusal, refusals
from tests.builders import NOW
from tests.rights import public_folder, unprivileged


def write_notes(session: Session, now: datetime, count: int) -> Done[int]:
    for _ in range(count):
        journal.add(session, now, Note("x" * 1000))
    return Done(f"{count} notes", frozenset({"journal"}), count)


def notes(session: Session) -> int:
    return len(journal.everything(session))


def test_a_full_disk_is_said_and_the_deed_is_not_half_done(desk: Desk) -> None:
    desk.run(write_notes, 3)
    heard: list[Changed] = []
    desk.listeners.append(heard.append)
    pages = desk.store.raw.execute("PRAGMA page_count").fetchone()[0]
    desk.store.raw.execute(f"PRAGMA max_page_count={pages + 2}")
    with pytest.raises(Refused, match="The disk is full") as caught:
        desk.run(write_notes, 500)
    assert "not done" in caught.value.detail
    assert "room" in caught.value.next_step
    desk.store.raw.execute("PRAGMA max_page_count=100000")
    assert desk.read(notes) == 3
    assert heard == []
    deed = desk.next_undo()
    assert deed is not None
    assert deed.label == "3 notes"
    desk.run(write_notes, 500)
    assert desk.read(notes) == 503


@pytest.fixture
def public() -> Iterator[Path]:
    """A folder that another user can reach."""
    with public_folder() as folder:
        yield folder


def test_a_read_only_file_is_said(public: Path) -> None:
    open_store(public, create=True).close()
    (public / DATABASE).chmod(0o444)
    with unprivileged(), pytest.raises(Refused, match="cannot be written") as caught:
        open_store(public)
    assert str(public) in caught.value.detail
    assert "right to write" in caught.value.next_step


def test_a_read_only_folder_is_said(public: Path) -> None:
    open_store(public, create=True).close()
    public.chmod(0o555)
    (public / DATABASE).chmod(0o666)
    with unprivileged(), pytest.raises(Refused, match="cannot be written"):
        open_store(public)
    public.chmod(0o755)


def test_a_folder_that_cannot_be_made_is_said(public: Path) -> None:
    public.mkdir(mode=0o555)
    with unprivileged(), pytest.raises(Refused, match="cannot be used") as caught:
        open_store(public / "new", create=True)
    assert "new" in caught.value.detail
    assert not (public / "new").exists()


def test_damage_met_while_running_is_said(tmp_path: Path) -> None:
    with pytest.raises(Damaged), refusals(tmp_path):
        raise _error(sqlite3.SQLITE_CORRUPT)


def test_damage_is_said_in_plain_words_with_the_way_back(store: Store, tmp_path: Path) -> None:
    made = backup.make(store, NOW)
    assert made is not None
    store.close()
    refused = refusal(_error(sqlite3.SQLITE_CORRUPT), store.folder)
    assert isinstance(refused, Damaged)
    said = f"{refused.title} {refused.detail} {refused.next_step}"
    assert "words of the library" not in said
    assert str(store.folder) in refused.detail
    assert f"greenhouse-desk --store {store.folder} restore {made.name}" in refused.next_step
    assert f"Restore the latest good backup, of {moment_words(made.made, None)} by this computer's clock " \
        f"({made.name})." in refused.next_step
    assert "cannot be read whole" in refused.detail


@pytest.mark.parametrize(("code", "kind", "words"), [
    (sqlite3.SQLITE_BUSY, Held, "Another copy"), (sqlite3.SQLITE_IOERR_WRITE, Refused, "does not answer"),
    (sqlite3.SQLITE_READONLY_DBMOVED, Refused, "cannot be written"), (sqlite3.SQLITE_NOTADB, Damaged, "damaged")])
def test_extended_codes_are_understood(tmp_path: Path, code: int, kind: type[Refused], words: str) -> None:
    refused = refusal(_error(code), tmp_path)
    assert type(refused) is kind
    assert words in refused.title


def test_an_error_nobody_should_meet_stays_a_bug(store: Store) -> None:
    with pytest.raises(sqlite3.OperationalError, match="syntax"), refusals(store.folder):
        store.raw.execute("SELEKT")


def _error(code: int) -> sqlite3.Error:
    error = sqlite3.OperationalError("the words of the library")
    error.sqlite_errorcode = code
    return error
