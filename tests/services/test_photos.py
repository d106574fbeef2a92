"""Photos of plants come into the journal, at the camera's time, and undo leaves the file."""

from __future__ import annotations

import io
from datetime import UTC, datetime, timedelta
from pathlib import Path

import pytest
from PIL import ExifTags, Image

from greenhouse_desk.domain.faults import Refused
from greenhouse_desk.domain.journal import Photo
from greenhouse_desk.domain.plants import Habit, Home
from greenhouse_desk.services import house, photos
from greenhouse_desk.services.desk import Desk, Done
from greenhouse_desk.store import journal, plants
from greenhouse_desk.store.engine import Session
from tests.builders import NOW


@pytest.fixture
def planted(desk: Desk) -> Desk:
    def add(session: Session, now: datetime) -> Done[None]:
        plants.add_plant(session, 101, "Vanda tricolor", Habit.MONOPODIAL)
        return Done("Add 101", frozenset({"plants"}), None)
    desk.run(add)
    return desk


def shot(folder: Path, name: str = "shot.jpg", taken: str = "") -> Path:
    exif = Image.Exif()
    exif.get_ifd(ExifTags.IFD.Exif)[ExifTags.Base.DateTimeOriginal] = taken
    out = io.BytesIO()
    Image.new("RGB", (8, 8), "green").save(out, "JPEG", exif=exif)
    (folder / name).write_bytes(out.getvalue())
    return folder / name


def test_a_photo_is_kept_and_written_down(planted: Desk, tmp_path: Path) -> None:
    source = shot(tmp_path)
    planted.run(photos.add, 101, source)
    (entry,) = planted.read(journal.of_plant, 101)
    assert isinstance(entry.facts, Photo)
    assert entry.facts.name == "shot.jpg"
    assert entry.at == NOW
    assert photos.path(planted.store, entry.facts.sha256).read_bytes() == source.read_bytes()
    (plant,) = planted.read(plants.plants, UTC)
    assert plant.photo == entry.facts.sha256
    deed = planted.next_undo()
    assert deed is not None
    assert deed.label == "Photo of 101"


def test_undo_takes_the_entry_back_but_never_the_file(planted: Desk, tmp_path: Path) -> None:
    planted.run(photos.add, 101, shot(tmp_path))
    planted.undo()
    assert planted.read(journal.of_plant, 101) == ()
    assert len([file for file in planted.store.photos.rglob("*") if file.is_file()]) == 1
    planted.redo()
    (entry,) = planted.read(journal.of_plant, 101)
    assert isinstance(entry.facts, Photo)
    assert photos.path(planted.store, entry.facts.sha256).is_file()


def test_the_cameras_time_is_read_in_the_homes_zone_and_never_lies_ahead(planted: Desk, tmp_path: Path) -> None:
    planted.run(house.save_home, Home(-33.9, 18.4, "Africa/Johannesburg"))
    planted.run(photos.add, 101, shot(tmp_path, "old.jpg", "2026:03:01 10:00:00"))
    planted.run(photos.add, 101, shot(tmp_path, "ahead.jpg", "2031:03:01 10:00:00"))
    planted.run(photos.add, 101, shot(tmp_path, "told.jpg", "2026:03:01 10:00:00"), NOW - timedelta(days=1))
    at = {getattr(entry.facts, "name", ""): entry.at for entry in planted.read(journal.of_plant, 101)}
    assert at == {"old.jpg": datetime(2026, 3, 1, 8, 0, tzinfo=UTC), "ahead.jpg": NOW,
                  "told.jpg": NOW - timedelta(days=1)}


def test_what_is_no_photo_changes_nothing(planted: Desk, tmp_path: Path) -> None:
    (tmp_path / "words.jpg").write_text("words", encoding="utf-8")
    before = planted.next_undo()
    with pytest.raises(Refused, match="not a photo"):
        planted.run(photos.add, 101, tmp_path / "words.jpg")
    with pytest.raises(Refused, match="No such plant"):
        planted.run(photos.add, 999, shot(tmp_path))
    assert planted.next_undo() == before
    assert planted.read(journal.everything) == ()


def test_many_files_are_taken_in_apart_and_written_as_one_deed(planted: Desk, tmp_path: Path) -> None:
    (tmp_path / "words.jpg").write_text("words", encoding="utf-8")
    sources = [shot(tmp_path, "a.jpg", "2026:03:01 10:00:00"), tmp_path / "words.jpg", shot(tmp_path, "b.jpg")]
    answers = photos.take_in(planted.store.photos, sources)
    taken = [answer for answer in answers if isinstance(answer, photos.Taken)]
    assert [isinstance(answer, Refused) for answer in answers] == [False, True, False]
    planted.run(photos.write, 101, taken)
    deed = planted.next_undo()
    assert deed is not None
    assert deed.label == "2 photos of 101"
    assert [getattr(entry.facts, "name", "") for entry in planted.read(journal.of_plant, 101)] == ["a.jpg", "b.jpg"]
