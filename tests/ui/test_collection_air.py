"""The head of a bench tells how old its air is, and keeps a way to enter air once the last reading tells nothing."""

from __future__ import annotations

import pytest
from PySide6.QtWidgets import QPushButton

from greenhouse_desk import app
from greenhouse_desk.services.clock import SteppedClock
from greenhouse_desk.ui import drawing
from greenhouse_desk.ui.collection.screen import CollectionScreen
from tests.ui.house import fill

DAY_S = 24 * 3600.0


def painted(screen: CollectionScreen, patch: pytest.MonkeyPatch) -> list[str]:
    """All words painted on the benches."""
    said: list[str] = []
    whole = drawing.text

    def text(painter: object, rect: object, words: str, *rest: object) -> object:
        said.append(words)
        return whole(painter, rect, words, *rest)  # type: ignore[arg-type]

    with patch.context() as here:
        here.setattr(drawing, "text", text)
        screen.view.viewport().grab()
    return said


def entering(screen: CollectionScreen) -> dict[str, QPushButton]:
    """The buttons that enter air, by their names."""
    return {made.accessibleName(): made for made in screen.view.viewport().findChildren(QPushButton)
            if made.text() == "Enter air…" and made.isVisibleTo(screen)}


def later(running: app.Program, clock: SteppedClock, seconds: float) -> None:
    clock.advance(seconds)
    running.collection.show_now()


def test_fresh_air_tells_its_age_and_asks_for_none(running: app.Program, screen: CollectionScreen,
                                                   clock: SteppedClock, monkeypatch: pytest.MonkeyPatch) -> None:
    later(running, clock, 2 * 3600.0)
    assert "read 2 h 00 ago" in painted(screen, monkeypatch)
    assert not any("Long bench" in name for name in entering(screen))


def test_old_air_tells_its_age_and_can_be_entered_anew(running: app.Program, screen: CollectionScreen,
                                                       clock: SteppedClock, monkeypatch: pytest.MonkeyPatch) -> None:
    later(running, clock, 3 * DAY_S)
    assert "read 3 days ago" in painted(screen, monkeypatch)
    entering(screen)["Enter an air reading of Long bench: read 3 days ago"].click()
    fill(temp_c=19.5, rh=61, speed=0.2)
    said = painted(screen, monkeypatch)
    assert "19.5" in said
    assert "read 0 min ago" in said
    assert not any("Long bench" in name for name in entering(screen))


def test_the_button_stands_below_what_is_told_of_the_air(running: app.Program, screen: CollectionScreen,
                                                         clock: SteppedClock) -> None:
    later(running, clock, 3 * DAY_S)
    heads = {made.accessibleName(): made.geometry() for made in entering(screen).values()}
    old = next(rect for name, rect in heads.items() if "Long bench" in name)
    none = next(rect for name, rect in heads.items() if "North sill" in name)
    card = screen.view.visualRect(screen.view.cards.index(0))
    assert none.height() > 0
    assert card.top() + 100 < old.top() < old.bottom() < card.bottom()


def test_many_to_a_screen_say_how_old_the_air_is(running: app.Program, screen: CollectionScreen,
                                                 clock: SteppedClock, monkeypatch: pytest.MonkeyPatch) -> None:
    later(running, clock, 3 * DAY_S)
    screen.view.set_dense(True)
    assert "air 3 days old" in painted(screen, monkeypatch)
