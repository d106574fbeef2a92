"""A file of the grower's own in the collection folder, and the backups that carry it, for their tests."""

from __future__ import annotations

from datetime import timedelta
from pathlib import Path

from greenhouse_desk.services import backup
from greenhouse_desk.services.desk import Desk
from greenhouse_desk.shipped import folder as shipped
from tests.builders import NOW

HOUR = timedelta(hours=1)


def text_of(room: str, name: str) -> str:
    """What a shipped file of this room holds."""
    return (shipped(room) / name).read_text("utf-8")


def kept(desk: Desk, room: str, text: str) -> Path:
    """A file of the grower's own in this room of the collection."""
    path = desk.store.folder / room / "mine.toml"
    path.parent.mkdir()
    path.write_text(text, "utf-8")
    return path


def made(desk: Desk, after: timedelta = timedelta()) -> str:
    """The name of a backup made so long after NOW; there must have been something to back up."""
    one = backup.make(desk.store, NOW + after)
    assert one is not None
    return one.name
