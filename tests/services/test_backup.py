"""Backups hold everything, count only when checked, are thinned only by name, and replace whole when put back."""

from __future__ import annotations

import json
import shutil
import sqlite3
from collections.abc import Callable
from contextlib import closing
from datetime import UTC, timedelta
from pathlib import Path

import pytest

from greenhouse_desk.domain.care_day import moment_words
from greenhouse_desk.domain.faults import Damaged, Held, Refused
from greenhouse_desk.domain.journal import Answer, Arrived, Note, Photo, Placed, Reply
from greenhouse_desk.services import backup, photos
from greenhouse_desk.services.desk import Desk, Done
from greenhouse_desk.store import journal
from greenhouse_desk.store import restore as restoring
from greenhouse_desk.store.engine import Session, Store, open_store
from greenhouse_desk.store.folder import DATABASE, SCHEMA
from tests.builders import NOW
from tests.store.test_undo import dump, note

HOUR = timedelta(hours=1)


def made(store: Store, after: timedelta = timedelta(), before: str = "") -> str:
    one = backup.make(store, NOW + after, before)
    assert one is not None
    return one.name


def test_a_backup_is_listed_with_its_photos_and_found_whole(desk: Desk, photo: str) -> None:
    name = made(desk.store)
    folder = desk.store.folder
    (one,) = backup.list(folder)
    assert (one.name, one.made, one.before) == (name, NOW, "")
    assert (folder / "backups" / "photos" / photo[:2] / photo).is_file()
    assert backup.faults(folder, name) == ()
    assert sorted(path.name for path in (folder / "backups" / name).iterdir()) == [DATABASE, "manifest.json"]


def test_a_backup_holds_what_still_lies_in_the_log(desk: Desk, photo: str) -> None:
    """The database file alone would miss the write-ahead log."""
    name = made(desk.store)
    with closing(sqlite3.connect(desk.store.folder / "backups" / name / DATABASE)) as copy:
        assert copy.execute("SELECT kind FROM entry").fetchall() == [("photo",)]
        assert copy.execute("PRAGMA journal_mode").fetchone() == ("delete",)


def test_nothing_new_makes_no_backup_but_a_risky_deed_does(desk: Desk, photo: str) -> None:
    made(desk.store)
    assert backup.make(desk.store, NOW + HOUR) is None
    assert made(desk.store, 2 * HOUR, "import").endswith("-before-import")
    desk.run(note, "new")
    assert made(desk.store, 3 * HOUR)
    assert len(backup.list(desk.store.folder)) == 3
    assert list((desk.store.folder / "backups").glob(".making*")) == []


def test_two_before_risky_deeds_at_one_instant_are_two(desk: Desk) -> None:
    names = {made(desk.store, before="import") for _ in range(3)}
    assert len(names) == 3
    assert {one.name for one in backup.list(desk.store.folder)} == names


def test_backups_are_half_an_hour_apart(desk: Desk) -> None:
    folder = desk.store.folder
    assert backup.due(folder, NOW)
    made(desk.store)
    assert not backup.due(folder, NOW + timedelta(minutes=29))
    assert backup.due(folder, NOW + timedelta(minutes=30))
    assert backup.due(folder, NOW - HOUR), "a clock set back must not stop backups"


def test_thinning_touches_only_its_own_and_never_those_before_a_risky_deed(desk: Desk, photo: str) -> None:
    folder = desk.store.folder / "backups"
    old = [made(desk.store, -timedelta(days=3, minutes=n), before) for n, before in ((0, ""), (40, "import"))]
    for other in ("my own copy", "20260101T000000000000Z-copy", "20260101T000000000000Z"):
        (folder / other).mkdir()
    desk.run(note, "x")
    older = made(desk.store, -timedelta(days=3, minutes=90))
    desk.run(note, "y")
    made(desk.store)
    names = {path.name for path in folder.iterdir()}
    assert older not in names
    assert {*old, "my own copy", "20260101T000000000000Z-copy", "20260101T000000000000Z", "photos"} <= names


def test_photos_no_backup_needs_leave_the_pool(desk: Desk, photo: str) -> None:
    made(desk.store, -timedelta(days=3, hours=1))
    desk.undo()
    made(desk.store, -timedelta(days=3))
    assert backup.make(desk.store, NOW) is None, "unchanged, but time to thin"
    pool = desk.store.folder / "backups" / "photos"
    assert not (pool / photo[:2] / photo).exists()
    assert photos.path(desk.store, photo).is_file(), "the collection's own copy stays"


def test_what_a_crash_left_of_a_backup_is_swept_away_later(desk: Desk) -> None:
    left = backup.snapshot(desk.store, NOW)
    desk.run(note, "x")
    made(desk.store, timedelta(minutes=30))
    assert left.exists(), "it may still be in the making"
    desk.run(note, "y")
    made(desk.store, timedelta(days=1, minutes=1))
    assert not left.exists()


def test_a_copy_that_fails_its_check_does_not_count(desk: Desk, photo: str) -> None:
    making = backup.snapshot(desk.store, NOW)
    path = making / DATABASE
    path.write_bytes(path.read_bytes()[:8192] + bytes(8192) + path.read_bytes()[16384:])
    with pytest.raises(Damaged, match="does not count"):
        backup.complete(desk.store.folder, making, NOW)
    assert backup.list(desk.store.folder) == ()
    assert not making.exists()


def test_restoring_replaces_and_keeps_what_it_replaced(desk: Desk, photo: str, reopened: Callable[[], Desk]) -> None:
    name = made(desk.store)
    then = dump(desk.store)
    desk.run(note, "later")
    later = dump(desk.store)
    desk.store.close()
    photos.path(desk.store, photo).unlink()
    replaced = backup.restore(desk.store.folder, name, NOW + HOUR).replaced
    again = reopened()
    assert dump(again.store) == then
    assert backup.check(again.store) == (), "its photo is back too"
    assert replaced.endswith("-before-restore")
    again.store.close()
    backup.restore(desk.store.folder, replaced, NOW + 2 * HOUR)
    back = reopened()
    assert dump(back.store) == later
    deed = back.next_undo()
    assert deed is not None
    assert deed.label == "Note later"


@pytest.mark.parametrize("lost", [False, True])
def test_a_stale_log_is_not_replayed_onto_the_restored_file(desk: Desk, lost: bool) -> None:
    desk.run(note, "one")
    name = made(desk.store)
    then = dump(desk.store)
    desk.run(note, "two")
    folder = desk.store.folder
    log = folder / f"{DATABASE}-wal"
    assert log.stat().st_size
    killed = folder.with_name("killed")
    shutil.copytree(folder, killed)  # as a crash leaves it: the log beside the file
    if lost:
        (killed / DATABASE).unlink()
    replaced = backup.restore(killed, name, NOW + HOUR).replaced
    assert (killed / "backups" / replaced / f"{DATABASE}-wal").exists() == lost
    assert not (killed / f"{DATABASE}-wal").exists()
    restored = open_store(killed)
    assert dump(restored) == then
    restored.close()


def test_an_open_collection_is_not_replaced(desk: Desk) -> None:
    name = made(desk.store)
    with pytest.raises(Held):
        backup.restore(desk.store.folder, name, NOW + HOUR)


def test_a_damaged_collection_offers_its_latest_good_backup_and_takes_it(desk: Desk, photo: str) -> None:
    folder = desk.store.folder
    good = made(desk.store)
    then = dump(desk.store)
    desk.run(note, "lost")
    bad = made(desk.store, HOUR)
    (folder / "backups" / bad / DATABASE).write_bytes(b"spoilt")
    desk.store.close()
    (folder / DATABASE).write_bytes(b"this is not a database" * 500)
    with pytest.raises(Damaged) as caught:
        open_store(folder)
    assert caught.value.backup == good
    assert good in caught.value.next_step
    assert f"of {moment_words(NOW, None)}" in caught.value.next_step
    done = backup.restore(folder, good, NOW + 2 * HOUR)
    replaced = done.replaced
    assert f"kept as the damaged files of 18 Nov 2026, 17:30 ({replaced})" in backup.restored_words(done, UTC)
    assert (folder / "backups" / replaced / DATABASE).read_bytes().startswith(b"this is not")
    again = open_store(folder)
    assert dump(again) == then
    again.close()


def spoil_manifest(folder: Path) -> None:
    (folder / "manifest.json").write_text("[]", encoding="utf-8")


def spoil_photo_name(folder: Path) -> None:
    told = json.loads((folder / "manifest.json").read_text(encoding="utf-8"))
    told["photos"].append("../../../escaped")
    (folder / "manifest.json").write_text(json.dumps(told), encoding="utf-8")


def spoil_database(folder: Path) -> None:
    with (folder / DATABASE).open("ab") as file:
        file.write(b"x")


def lose_database(folder: Path) -> None:
    (folder / DATABASE).unlink()


@pytest.mark.parametrize("spoil", [spoil_manifest, spoil_photo_name, spoil_database, lose_database])
def test_a_backup_that_is_not_whole_replaces_nothing(desk: Desk, photo: str, spoil: Callable[[Path], None]) -> None:
    folder = desk.store.folder
    name = made(desk.store)
    desk.store.close()
    spoil(folder / "backups" / name)
    before = (folder / DATABASE).read_bytes()
    with pytest.raises(Refused, match="not whole") as caught:
        backup.restore(folder, name, NOW + HOUR)
    assert name in caught.value.detail
    assert (folder / DATABASE).read_bytes() == before
    assert [one.name for one in backup.list(folder)] == [name]


@pytest.mark.parametrize("name", ["..", "../elsewhere", "", "20261118T153000000000Z/../..", "photos",
                                  "20261399T153000000000Z", "20261118T153000000000Z\n"])
def test_odd_names_are_refused(desk: Desk, name: str) -> None:
    made(desk.store)
    desk.store.close()
    with pytest.raises(Refused):
        backup.restore(desk.store.folder, name, NOW)


def test_a_newer_backup_is_refused(desk: Desk, monkeypatch: pytest.MonkeyPatch) -> None:
    name = made(desk.store)
    desk.store.close()
    monkeypatch.setattr(restoring, "SCHEMA", SCHEMA - 1)
    with pytest.raises(Refused, match="newer than the program"):
        backup.restore(desk.store.folder, name, NOW + HOUR)


def test_the_check_finds_a_whole_collection_whole(desk: Desk, photo: str) -> None:
    assert backup.check(desk.store) == ()


def test_the_check_finds_everything_that_is_wrong(desk: Desk, photo: str) -> None:
    def wrong(session: Session, now: object) -> Done[None]:
        journal.add(session, NOW, Placed(77, 1.0), 101)
        journal.add(session, NOW, Arrived(55), 101)
        journal.add(session, NOW, Answer("check", 4711, 0, Reply.DONE), 101)
        journal.add(session, NOW, Photo("../../x"), 101)
        journal.add(session, NOW, Photo("0" * 64), 101)
        journal.add(session, NOW, Note("fine"), 101)
        return Done("Wrong", frozenset(), None)

    desk.run(wrong)
    raw = desk.store.raw
    raw.execute("INSERT INTO entry (at, kind, facts, note) VALUES ('2026-01-01T00:00:00.000000Z', 'cut', '{}', '')")
    raw.execute("INSERT INTO entry (at, kind, facts, note) VALUES ('2026-01-01T00:00:00.000000Z', 'sung', '{}', '')")
    raw.execute("PRAGMA foreign_keys=OFF")
    raw.execute("UPDATE entry SET place = 99 WHERE kind = 'note'")
    photos.path(desk.store, photo).write_bytes(b"rotten")
    faults = "\n".join(backup.check(desk.store))
    for words in ("place 77 is not there", "source 55 is not there",
                  "'../../x' names no photo", f"photo {'0' * 64} is not there", f"photo {photo} is damaged",
                  "refers to a place that is not there", "(cut): ", "'sung' is not a valid Kind"):
        assert words in faults, faults
    assert faults.count("\n") == 7


def test_the_check_tells_of_a_damaged_database(desk: Desk, photo: str) -> None:
    raw = desk.store.raw
    raw.execute("PRAGMA writable_schema=ON")
    raw.execute("UPDATE sqlite_master SET sql = replace(sql, '(kind, at)', '(at, kind)') "
                "WHERE name = 'ix_entry_kind_at'")
    raw.execute("PRAGMA writable_schema=RESET")
    assert any("ix_entry_kind_at" in fault for fault in backup.check(desk.store))
