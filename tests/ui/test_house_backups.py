"""The backups on the House screen: size, soundness, and one put back after a plain confirmation."""

from __future__ import annotations

from collections.abc import Iterator
from datetime import timedelta
from pathlib import Path

import pytest
from pytestqt.qtbot import QtBot

from greenhouse_desk.services import backup, collection, photos
from greenhouse_desk.services.collection import NewPlant
from greenhouse_desk.services.desk import Desk
from greenhouse_desk.ui.house.backups import BackupPanel, size_words
from greenhouse_desk.ui.signals import Signals
from tests.builders import NOW
from tests.store.test_undo import note
from tests.ui.house import form, picture, pressed, words_of

HOUR = timedelta(hours=1)


@pytest.fixture
def made(desk: Desk) -> tuple[str, str]:
    """Two backups, the newer made before an import; their names, newest first."""
    older = backup.make(desk.store, NOW)
    desk.run(note, "x")
    newer = backup.make(desk.store, NOW + HOUR, "import")
    assert older is not None
    assert newer is not None
    return newer.name, older.name


@pytest.fixture
def panel(desk: Desk, made: tuple[str, str], qtbot: QtBot) -> Iterator[BackupPanel]:
    """The panel, shown."""
    shown = BackupPanel(desk, Signals(), None)
    qtbot.addWidget(shown.frame)
    shown.frame.show()
    yield shown
    shown.close_tasks()


def read(panel: BackupPanel, qtbot: QtBot) -> None:
    """Show the list and wait until each was read."""
    panel.show_now()
    qtbot.waitUntil(lambda: not any("being looked at" in row.words.text() for row in panel.rows.values()),
                    timeout=10_000)


def test_each_stands_with_day_reason_size_and_soundness(panel: BackupPanel, qtbot: QtBot) -> None:
    panel.show_now()
    assert {row.words.text() for row in panel.rows.values()} == {"before an import; being looked at",
                                                                 "as it stood; being looked at"}
    assert not any(row.restore.isEnabled() for row in panel.rows.values())
    read(panel, qtbot)
    lines = [line for line in words_of(panel.frame).splitlines() if line]
    at = lines.index("Wed 18 Nov 2026, 16:30")
    assert lines[at + 1].startswith("before an import; ")
    assert lines[at + 1].endswith("; sound")
    assert "Wed 18 Nov 2026, 15:30" in lines[at:]
    assert any(line.startswith("as it stood; ") for line in lines)
    assert all(row.restore.isEnabled() for row in panel.rows.values())


def test_one_that_is_not_sound_says_so_and_cannot_be_put_back(
        panel: BackupPanel, desk: Desk, made: tuple[str, str], qtbot: QtBot) -> None:
    (desk.store.folder / "backups" / made[1] / "collection.db").write_bytes(b"spoilt")
    read(panel, qtbot)
    assert "; not sound: the database is not the one" in panel.rows[made[1]].words.text()
    assert not panel.rows[made[1]].restore.isEnabled()
    assert panel.rows[made[0]].restore.isEnabled()


def test_one_that_lacks_a_photo_says_so_and_can_be_put_back(
        panel: BackupPanel, desk: Desk, tmp_path: Path, qtbot: QtBot) -> None:
    desk.run(collection.add_plant, NewPlant("Disa uniflora"))
    desk.run(photos.add, 101, picture(tmp_path / "a.png"))
    newest = backup.make(desk.store, NOW + 2 * HOUR)
    assert newest is not None
    for place in ("photos", "backups/photos"):
        (lost,) = (path for path in (desk.store.folder / place).rglob("*") if path.is_file())
        lost.unlink()
    read(panel, qtbot)
    row = panel.rows[newest.name]
    assert row.words.text().endswith("; 1 photo will not come back")
    row.restore.click()
    assert "Of this backup: 1 photo will not come back." in words_of(form())
    pressed(form(), "Cancel")
    assert latest_offered(panel) == backup.latest_good(desk.store.folder)


def latest_offered(panel: BackupPanel) -> backup.Backup:
    """The first backup in the list that can be put back."""
    return next(row.backup for row in panel.rows.values() if row.restore.isEnabled())


def test_putting_one_back_is_confirmed_once_in_plain_words(panel: BackupPanel, made: tuple[str, str],
                                                           qtbot: QtBot) -> None:
    read(panel, qtbot)
    wanted: list[str] = []
    panel.restore_wanted.connect(wanted.append)
    panel.rows[made[1]].restore.click()
    told = words_of(form())
    assert "Put back the collection of Wed 18 Nov 2026, 15:30?" in told
    assert "It takes the place of all you see now" in told
    assert "kept as a backup first" in told
    pressed(form(), "Cancel")
    assert wanted == []
    panel.rows[made[1]].restore.click()
    pressed(form(), "Restore this one")
    assert wanted == [made[1]]


@pytest.mark.parametrize(("size", "words"), [(400, "1 kB"), (53_400, "53 kB"), (8_260_000, "8.3 MB")])
def test_sizes_as_a_grower_reads_them(size: int, words: str) -> None:
    assert size_words(size) == words
