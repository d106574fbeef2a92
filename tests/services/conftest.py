"""What several tests of the services stand on."""

from __future__ import annotations

from pathlib import Path

import pytest
from PIL import Image

from greenhouse_desk.domain.journal import Photo
from greenhouse_desk.domain.plants import Habit
from greenhouse_desk.services import photos
from greenhouse_desk.services.desk import Desk, Done
from greenhouse_desk.store import journal, plants
from greenhouse_desk.store.engine import Session
from tests.demo_built import built as built
from tests.demo_built import demo_desk as demo_desk
from tests.demo_built import unpictured as unpictured


@pytest.fixture
def photo(desk: Desk, tmp_path: Path) -> str:
    """Plant 101 with a photo; its SHA-256."""
    def add(session: Session, now: object) -> Done[None]:
        plants.add_plant(session, 101, "Vanda tricolor", Habit.MONOPODIAL)
        return Done("Add 101", frozenset({"plants"}), None)

    Image.new("RGB", (9, 9), "olive").save(tmp_path / "a.png")
    desk.run(add)
    desk.run(photos.add, 101, tmp_path / "a.png")
    (entry,) = desk.read(journal.of_plant, 101)
    assert isinstance(entry.facts, Photo)
    return entry.facts.sha256
