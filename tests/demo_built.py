"""The demo's journal without its pictures: those take seconds, and nothing owed rests on them."""

from __future__ import annotations

from collections.abc import Callable, Iterator
from contextlib import AbstractContextManager, contextmanager
from datetime import datetime
from pathlib import Path

import pytest

from demo import build as building
from demo.album import Shot
from greenhouse_desk.services.desk import Desk
from greenhouse_desk.store.engine import open_store
from tests.builders import NOW

Built = Callable[[datetime], AbstractContextManager[Desk]]


@pytest.fixture
def unpictured(monkeypatch: pytest.MonkeyPatch) -> None:
    """Whatever builds the demo draws nothing."""
    @contextmanager
    def nothing(_wanted: object, _folder: object) -> Iterator[list[tuple[Shot, Path, None]]]:
        yield []

    monkeypatch.setattr(building, "drawing", nothing)


@pytest.fixture
def built(tmp_path: Path, unpictured: None) -> Built:
    """Builds the demo at an instant, and closes it again."""
    @contextmanager
    def make(now: datetime) -> Iterator[Desk]:
        building.build(tmp_path / "demo", now)
        store = open_store(tmp_path / "demo")
        try:
            yield Desk(store, lambda: now)
        finally:
            store.close()

    return make


@pytest.fixture
def demo_desk(built: Built) -> Iterator[Desk]:
    """The demo built at NOW."""
    with built(NOW) as desk:
        yield desk
