"""A photo that was lost or has rotted costs that photo, never the backup."""

from __future__ import annotations

from pathlib import Path

import pytest
from PIL import Image

from greenhouse_desk.domain.faults import Damaged, Refused
from greenhouse_desk.services import backup, photos
from greenhouse_desk.services.desk import Desk
from greenhouse_desk.store.engine import open_store
from tests.builders import NOW
from tests.services.test_backup import HOUR, made
from tests.store.test_undo import note


def pooled(folder: Path, photo: str) -> Path:
    return folder / "backups" / "photos" / photo[:2] / photo


@pytest.mark.parametrize("rotten", [b"rotten", None])
def test_a_lost_photo_does_not_keep_the_journal_from_coming_back(desk: Desk, photo: str, rotten: bytes | None) -> None:
    folder = desk.store.folder
    name = made(desk.store)
    desk.store.close()
    photos.path(desk.store, photo).unlink()
    pooled(folder, photo).unlink()
    if rotten is not None:
        pooled(folder, photo).write_bytes(rotten)
    assert backup.faults(folder, name) == (f"{name}: photo {photo} is missing or damaged",)
    (folder / "collection.db").write_bytes(b"no database any more")
    done = backup.restore(folder, name, NOW + HOUR)
    assert [(one.sha256, one.plant, one.name) for one in done.lost] == [(photo, 101, "a.png")]
    assert backup.lost_lines(done) == ("plant 101: a.png, 2026-11-18",)
    assert not photos.path(desk.store, photo).exists(), "a damaged copy is not put back as the photo"


def test_a_photo_whole_in_the_collection_is_not_missed_and_its_pool_copy_is_made_anew(desk: Desk, photo: str) -> None:
    folder = desk.store.folder
    name = made(desk.store)
    pooled(folder, photo).write_bytes(b"rotten")
    assert backup.faults(folder, name) == ()
    desk.run(note, "later")
    made(desk.store, HOUR)
    photos.path(desk.store, photo).write_bytes(b"rotten too")
    assert backup.faults(folder, name) == (), "the pool has a whole copy again"
    desk.store.close()
    backup.restore(folder, name, NOW + 2 * HOUR)
    assert photos.path(desk.store, photo).read_bytes() == pooled(folder, photo).read_bytes() != b"rotten too"


def test_a_manifest_that_cannot_be_read_does_not_stop_the_next_backup(desk: Desk, photo: str) -> None:
    folder = desk.store.folder
    name = made(desk.store)
    (folder / "backups" / name / "manifest.json").write_text("{", encoding="utf-8")
    with pytest.raises(Refused):
        backup.restore(folder, name, NOW + HOUR)
    later = made(desk.store, HOUR)
    assert backup.faults(folder, later) == ()


def test_a_photo_already_gone_is_not_demanded_of_a_backup_and_is_told(desk: Desk, photo: str) -> None:
    folder = desk.store.folder
    photos.path(desk.store, photo).unlink()
    name = made(desk.store)
    assert backup.faults(folder, name) == ()
    (told,) = backup.told(folder)
    assert told.soundness == backup.Soundness((), (), (photo,))
    assert told.lacks == "1 photo lost before it was made"
    desk.store.close()
    done = backup.restore(folder, name, NOW + HOUR)
    assert [one.sha256 for one in done.lost] == [photo], "it is not there, whoever lost it"


def test_a_photo_that_turns_up_again_comes_back_with_the_backup_that_lacked_it(desk: Desk, photo: str) -> None:
    folder, place = desk.store.folder, photos.path(desk.store, photo)
    data = place.read_bytes()
    place.unlink()
    name = made(desk.store)
    place.write_bytes(data)
    assert backup.make(desk.store, NOW + HOUR) is None, "nothing changed, but the pool is looked after"
    assert pooled(folder, photo).read_bytes() == data
    place.unlink()
    desk.store.close()
    assert backup.restore(folder, name, NOW + 2 * HOUR).lost == ()
    assert place.read_bytes() == data


def test_thinning_leaves_a_photo_that_turned_up_in_the_pool(desk: Desk, photo: str) -> None:
    place = photos.path(desk.store, photo)
    data = place.read_bytes()
    place.unlink()
    first = made(desk.store, -72 * HOUR)
    desk.run(note, "new")
    made(desk.store, -71 * HOUR)
    place.write_bytes(data)
    assert backup.make(desk.store, NOW) is None
    assert first not in {one.name for one in backup.list(desk.store.folder)}
    assert pooled(desk.store.folder, photo).is_file()


def test_the_newest_without_grave_fault_is_the_latest_good_one(desk: Desk, photo: str, tmp_path: Path) -> None:
    """An older backup has all its photos, and would take the journal since then back."""
    folder = desk.store.folder
    older = made(desk.store)
    Image.new("RGB", (9, 9), "navy").save(tmp_path / "b.png")
    desk.run(photos.add, 101, tmp_path / "b.png")
    newer = made(desk.store, HOUR)
    (since,) = {path.name for path in (folder / "backups" / "photos").rglob("??*") if path.is_file()} - {photo}
    photos.path(desk.store, since).unlink()
    pooled(folder, since).unlink()
    assert {one.backup.name: one.lacks for one in backup.told(folder)} == {
        newer: "1 photo will not come back", older: ""}
    good = backup.latest_good(folder)
    assert good is not None
    assert good.name == newer
    desk.store.close()
    (folder / "collection.db").write_bytes(b"no database any more" * 500)
    with pytest.raises(Damaged) as caught:
        open_store(folder)
    assert caught.value.backup == newer
