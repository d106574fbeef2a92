"""The one connection: its pragmas, what it refuses to open, and that refusing changes nothing."""

from __future__ import annotations

import hashlib
import sqlite3
from collections.abc import Callable
from contextlib import closing
from pathlib import Path

import pytest
from sqlalchemy import text
from sqlalchemy.exc import IntegrityError

from greenhouse_desk.domain.faults import Damaged, Held, Refused
from greenhouse_desk.services.desk import Desk
from greenhouse_desk.store import engine, folder
from greenhouse_desk.store.engine import Store, open_store


def pragma(store: Store, name: str) -> object:
    with store.reading() as session:
        return session.execute(text(f"PRAGMA {name}")).scalar_one()


@pytest.mark.parametrize(("name", "value"), [
    ("journal_mode", "wal"), ("synchronous", 2), ("locking_mode", "exclusive"), ("foreign_keys", 1),
    ("application_id", folder.APPLICATION_ID), ("user_version", folder.SCHEMA), ("recursive_triggers", 1)])
def test_the_connection_has_its_pragmas_fresh_and_reopened(
        store: Store, reopened: Callable[[], Desk], name: str, value: object) -> None:
    assert pragma(store, name) == value
    assert pragma(reopened().store, name) == value


def test_every_session_is_on_the_one_connection(store: Store) -> None:
    with store.reading() as one:
        first = one.connection().connection.driver_connection
    with store.transaction() as other:
        assert other.connection().connection.driver_connection is first is store.raw


def test_a_reference_to_nothing_is_refused_by_the_database(store: Store) -> None:
    with store.reading() as session, pytest.raises(IntegrityError):
        session.execute(text("INSERT INTO entry (at, kind, plant, facts, note) VALUES ('', 'dry', 999, '{}', '')"))


def test_a_second_copy_is_told_that_the_first_holds_it(store: Store) -> None:
    with pytest.raises(Held) as caught:
        open_store(store.folder)
    assert str(store.folder) in caught.value.detail
    assert pragma(store, "quick_check") == "ok"


def test_after_closing_another_may_open_and_no_sidecar_is_left(store: Store) -> None:
    store.close()
    assert sorted(path.name for path in store.folder.iterdir()) == ["backups", "collection.db", "photos"]
    open_store(store.folder).close()


def test_a_folder_without_a_collection_is_not_made_one(tmp_path: Path) -> None:
    with pytest.raises(Refused, match="No collection here"):
        open_store(tmp_path / "nowhere")
    assert not (tmp_path / "nowhere").exists()


def test_an_empty_file_left_by_a_crash_becomes_a_collection(tmp_path: Path) -> None:
    (tmp_path / folder.DATABASE).touch()
    opened = open_store(tmp_path)
    assert pragma(opened, "user_version") == folder.SCHEMA
    opened.close()


@pytest.mark.parametrize("lose", [Path.unlink, lambda path: path.write_bytes(b"")])
@pytest.mark.parametrize("room", [folder.PHOTOS, folder.BACKUPS])
def test_a_lost_database_beside_its_photos_or_backups_is_damage_and_nothing_is_made(
        store: Store, room: str, lose: Callable[[Path], None]) -> None:
    store.close()
    (store.folder / room / "kept").write_bytes(b"something")
    lose(store.folder / folder.DATABASE)
    before = fingerprints(store.folder)
    for create in (False, True):
        with pytest.raises(Damaged):
            open_store(store.folder, create=create)
    assert fingerprints(store.folder) == before


def test_a_database_of_another_program_is_refused_and_left_alone(tmp_path: Path) -> None:
    with closing(sqlite3.connect(tmp_path / folder.DATABASE)) as foreign:
        foreign.execute("CREATE TABLE ledger (amount)")
        foreign.execute("PRAGMA user_version=1")
        foreign.commit()
    before = fingerprints(tmp_path)
    with pytest.raises(Refused, match="not a collection"):
        open_store(tmp_path, create=False)
    assert fingerprints(tmp_path) == before


def test_a_newer_collection_is_refused_and_left_alone(store: Store, monkeypatch: pytest.MonkeyPatch) -> None:
    store.close()
    with closing(sqlite3.connect(store.folder / folder.DATABASE)) as later:
        later.execute(f"PRAGMA user_version={folder.SCHEMA + 1}")
    before = fingerprints(store.folder)
    with pytest.raises(Refused, match="newer than the program") as caught:
        open_store(store.folder)
    assert str(folder.SCHEMA + 1) in caught.value.detail
    assert fingerprints(store.folder) == before


@pytest.mark.parametrize("spoil", [
    lambda data: b"not a database at all, by no means" * 200,
    lambda data: data[:4096] + bytes(4096) + data[8192:],
    lambda data: data[:len(data) // 2]], ids=["other bytes", "a page of zeros", "cut off"])
def test_a_damaged_file_is_refused_with_words_and_left_alone(store: Store, spoil: Callable[[bytes], bytes]) -> None:
    store.close()
    path = store.folder / folder.DATABASE
    path.write_bytes(spoil(path.read_bytes()))
    before = fingerprints(store.folder)
    with pytest.raises(Damaged) as caught:
        open_store(store.folder)
    assert caught.value.backup is None
    assert "No good backup" in caught.value.next_step
    assert fingerprints(store.folder) == before


def test_alembic_is_not_imported_for_a_collection_that_is_up_to_date() -> None:
    source = Path(engine.__file__).read_text(encoding="utf-8")
    assert "import alembic" not in source
    assert "\nfrom greenhouse_desk.store import migrate" not in source


def fingerprints(at: Path) -> dict[str, str]:
    return {str(path.relative_to(at)): hashlib.sha256(path.read_bytes()).hexdigest()
            for path in at.rglob("*") if path.is_file()}
