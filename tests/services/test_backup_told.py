"""The list of backups tells of each how large it is and whether it could be put back whole."""

from __future__ import annotations

from datetime import timedelta
from pathlib import Path

import pytest

from greenhouse_desk.services import backup
from greenhouse_desk.services.desk import Desk
from greenhouse_desk.store import photos as kept
from tests.builders import NOW
from tests.store.test_undo import note

HOUR = timedelta(hours=1)


def test_each_is_told_with_its_size_and_its_faults(desk: Desk, photo: str, monkeypatch: pytest.MonkeyPatch) -> None:
    folder = desk.store.folder
    backup.make(desk.store, NOW)
    desk.run(note, "x")
    newer = backup.make(desk.store, NOW + HOUR, "import")
    assert newer is not None
    (folder / "backups" / newer.name / "collection.db").write_bytes(b"spoilt")
    read: list[str] = []
    sound = kept.sound

    def counted(pool: Path, sha256: str) -> bool:
        read.append(sha256)
        return sound(pool, sha256)

    monkeypatch.setattr(kept, "sound", counted)
    bad, good = backup.told(folder)
    assert (bad.backup, good.backup.made, good.soundness) == (newer, NOW, backup.Soundness(()))
    assert "not the one that was backed up" in bad.soundness.grave[0]
    database = (folder / "backups" / good.backup.name / "collection.db").stat().st_size
    picture = (folder / "backups" / "photos" / photo[:2] / photo).stat().st_size
    assert database + picture < good.bytes < database + picture + 2_000
    assert len(read) == 1, "a photo that several need is read once"


def test_a_backup_that_cannot_be_read_is_told_all_the_same(desk: Desk) -> None:
    one = backup.make(desk.store, NOW)
    assert one is not None
    (desk.store.folder / "backups" / one.name / "manifest.json").write_text("[]", "utf-8")
    (told,) = backup.told(desk.store.folder)
    assert (told.backup, told.bytes) == (one, 0)
    assert "manifest is not one" in told.soundness.grave[0]
