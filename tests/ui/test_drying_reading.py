"""Air entered in a word where it was not measured, and the question what a rinse now would come to."""

from __future__ import annotations

from collections.abc import Iterator
from datetime import datetime, timedelta

import pytest
from pytestqt.qtbot import QtBot

from greenhouse_desk import app
from greenhouse_desk.domain.airflow import drying_span
from greenhouse_desk.domain.care import CareKind
from greenhouse_desk.domain.journal import Moving
from greenhouse_desk.domain.plants import Air
from greenhouse_desk.services import care
from greenhouse_desk.services.clock import SteppedClock
from greenhouse_desk.services.desk import Desk
from greenhouse_desk.store.engine import Store
from greenhouse_desk.ui.collection.screen import CollectionScreen
from tests.ui.house import fill, furnish, shown, wet, words_of


@pytest.fixture
def running(store: Store, clock: SteppedClock, qtbot: QtBot) -> Iterator[app.Program]:
    """The whole program on a furnished house with plant 101 wet, at noon."""
    clock.advance(-3.5 * 3600)
    desk = Desk(store, clock.now)
    furnish(desk)
    wet(desk, 101)
    with shown(store, clock, qtbot) as made:
        yield made


def latest(running: app.Program) -> timedelta:
    """How long after its wetting plant 101 is likely dry at the latest, as owed now."""
    (found,) = (one.drying for one in running.desk.read(care.of_plant, 101, running.desk.clock())
                if one.kind is CareKind.AIR)
    assert found is not None
    assert found.latest is not None
    return found.latest - found.wet_since


def screen_of(running: app.Program) -> CollectionScreen:
    screen = running.collection
    assert isinstance(screen, CollectionScreen)
    return screen


def test_air_named_in_a_word_changes_the_estimate_on_the_strip(running: app.Program) -> None:
    screen = screen_of(running)
    place = next(one.id for one in screen.places.places() if one.name == "Long bench")
    at: datetime = running.desk.clock()
    for moving in (Moving.STILL, Moving.FAN):
        screen.places.air(place)
        fill(temp_c=20.0, rh=70, moving=moving)
        expected = drying_span(Air(at, 20.0, 0.70, None, moving)).high
        assert latest(running).total_seconds() / 3600 == pytest.approx(expected, abs=1e-3)
    screen.places.air(place)
    fill(temp_c=20.0, rh=70, moving=Moving.FAN, speed=0.1)
    assert latest(running).total_seconds() / 3600 == pytest.approx(drying_span(Air(at, 20.0, 0.70, 0.1)).high, abs=1e-3)


def test_what_a_rinse_now_would_come_to_is_told_with_each_gain(running: app.Program) -> None:
    screen = screen_of(running)
    place = next(one.id for one in screen.places.places() if one.name == "Long bench")
    box = screen.places.outlook(place)
    told = words_of(box)
    assert "21.4 C, 58 % RH" in told
    assert "put a fan on" in told
    assert "h sooner at the slow end" in told
    assert "rinse no later than" in told
    box.close()


