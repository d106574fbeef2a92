"""A photo that was lost or has rotted costs that photo, never the backup."""

from __future__ import annotations

from pathlib import Path

import pytest

from greenhouse_desk.domain.faults import Refused
from greenhouse_desk.services import backup, photos
from greenhouse_desk.services.desk import Desk
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
    backup.restore(folder, name, NOW + HOUR)
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
