"""The Timeline screen at its evening zoom: dusk by the sun, lights-out where lamps burn."""

from __future__ import annotations

from datetime import UTC, datetime, time, timedelta

from pytestqt.qtbot import QtBot

from greenhouse_desk import app
from greenhouse_desk.domain.journal import Placed
from greenhouse_desk.domain.plants import Place
from greenhouse_desk.services import collection, records
from greenhouse_desk.services.clock import SteppedClock
from greenhouse_desk.services.desk import Desk
from greenhouse_desk.store.engine import Store
from greenhouse_desk.ui import style
from tests.ui.house import furnish, pressed, program
from tests.ui.timeline_hands import said


def opened(store: Store, clock: SteppedClock, qtbot: QtBot) -> app.Program:
    """The furnished house's window on its timeline."""
    furnish(Desk(store, clock.now))
    made = program(store, clock)
    qtbot.addWidget(made.window)
    with qtbot.waitExposed(made.window):
        made.window.show()
    made.window.show_titled("Timeline")
    return made


def test_an_evening_shows_dusk_and_the_lamps_of_its_places_and_a_month_does_not(
        store: Store, clock: SteppedClock, qtbot: QtBot) -> None:
    running = opened(store, clock, qtbot)
    screen = running.timeline
    lit = running.desk.run(collection.save_place, Place(0, "Lamp rack", lights_out=time(19, 30)))
    running.desk.run(records.add, 102, Placed(lit, 1.0))
    screen.head.plants.setText("101, 102")
    pressed(screen, "Evening")
    chart, tint = screen.chart, style.palette(False).dusk_fill
    assert "Dusk 16:" in said(screen)
    assert [head.lights_out for head in chart.lanes.heads if head.number == 102] == [time(19, 30)]

    def tinted(lane: int, hour: float) -> bool:
        at = datetime(2026, 11, 18, tzinfo=UTC) + timedelta(hours=hour)
        x, y = chart.space.left + chart.room.view.x(at.timestamp()), chart.space.top(lane, 0) + 7
        image = chart.grab().toImage()
        return any(image.pixelColor(round(x) + px, round(y)) == tint for px in range(9))

    sun, lamps = chart.lanes.place_of(101), chart.lanes.place_of(102)
    assert sun is not None
    assert lamps is not None
    assert [tinted(sun, 15), tinted(sun, 17), tinted(lamps, 17), tinted(lamps, 20)] == [False, True, False, True]
    pressed(screen, "Month")
    assert "usk" not in said(screen)
    assert not tinted(sun, 17)
    running.close()
