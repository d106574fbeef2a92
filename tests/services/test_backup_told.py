"""The list of backups tells of each how large it is and whether it could be put back whole."""

from __future__ import annotations

from datetime import datetime, timedelta
from pathlib import Path

import pytest
from PIL import Image

from greenhouse_desk.domain.plants import Habit
from greenhouse_desk.services import backup, photos
from greenhouse_desk.services.desk import Desk, Done
from greenhouse_desk.store import photos as kept
from greenhouse_desk.store import plants
from greenhouse_desk.store.engine import Session
from tests.builders import NOW
from tests.store.test_undo import note

HOUR = timedelta(hours=1)


@pytest.fixture
def desk_with_photo(desk: Desk, tmp_path: Path) -> Desk:
    """Plant 101 with a photo."""
    def add(session: Session, now: datetime) -> Done[None]:
        plants.add_plant(session, 101, "Vanda tricolor", Habit.MONOPODIAL)
        return Done("Add 101", frozenset({"plants"}), None)

    Image.effect_noise((90, 90), 80).save(tmp_path / "a.png")
    desk.run(add)
    desk.run(photos.add, 101, tmp_path / "a.png")
    return desk


def test_each_is_told_with_its_size_and_its_faults(desk_with_photo: Desk, monkeypatch: pytest.MonkeyPatch) -> None:
    desk, folder = desk_with_photo, desk_with_photo.store.folder
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
    assert (bad.backup, good.backup.made, good.faults) == (newer, NOW, ())
    assert "not the one that was backed up" in bad.faults[0]
    database = (folder / "backups" / good.backup.name / "collection.db").stat().st_size
    photo = next(path for path in (folder / "backups" / "photos").rglob("*") if path.is_file()).stat().st_size
    assert database + photo < good.bytes < database + photo + 2_000
    assert len(read) == 1, "a photo that several need is read once"


def test_a_backup_that_cannot_be_read_is_told_all_the_same(desk: Desk) -> None:
    one = backup.make(desk.store, NOW)
    assert one is not None
    (desk.store.folder / "backups" / one.name / "manifest.json").write_text("[]", "utf-8")
    (told,) = backup.told(desk.store.folder)
    assert (told.backup, told.bytes) == (one, 0)
    assert "manifest is not one" in told.faults[0]
