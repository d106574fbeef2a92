"""An evening on the timeline: dusk, and the lamps of each plant's place, as tint and word; not in longer views."""

from __future__ import annotations

from datetime import UTC, datetime, time, timedelta

from greenhouse_desk import app
from greenhouse_desk.domain.journal import Placed
from greenhouse_desk.domain.plants import Place
from greenhouse_desk.services import collection, records
from greenhouse_desk.ui import style
from tests.ui.house import pressed
from tests.ui.timeline_hands import said

LAMPS = time(19, 30)


def test_an_evening_shows_dusk_and_the_lamps_of_its_places_and_a_month_does_not(running: app.Program) -> None:
    lit = running.desk.run(collection.save_place, Place(0, "Lamp rack", lights_out=LAMPS))
    running.desk.run(records.add, 102, Placed(lit, 1.0))
    running.window.show_titled("Timeline")
    screen, tint = running.timeline, style.palette(False).dusk_fill
    chart = screen.chart
    screen.head.plants.setText("101, 102")
    pressed(screen, "Evening")
    assert "Dusk 16:" in said(screen)
    assert [head.lights_out for head in chart.lanes.heads if head.number == 102] == [LAMPS]

    def tinted(plant: int, hour: float) -> bool:
        lane, at = chart.lanes.place_of(plant), datetime(2026, 11, 18, tzinfo=UTC) + timedelta(hours=hour)
        assert lane is not None
        x, y = chart.space.left + chart.room.view.x(at.timestamp()), chart.space.top(lane, 0) + 7
        image = chart.grab().toImage()
        return any(image.pixelColor(round(x) + px, round(y)) == tint for px in range(9))

    assert [tinted(101, 15), tinted(101, 17), tinted(102, 17), tinted(102, 20)] == [False, True, False, True]
    pressed(screen, "Month")
    assert "usk" not in said(screen)
    assert not tinted(101, 17)
