"""The day's panel about drying: until when a rinse dries in time, and a dusk that is only assumed."""

from __future__ import annotations

from datetime import UTC, datetime, timedelta
from zoneinfo import ZoneInfo

from greenhouse_desk.domain.plants import Home, Place
from greenhouse_desk.services import airflow, collection, house
from greenhouse_desk.services.clock import SteppedClock
from greenhouse_desk.services.collection import NewPlant
from greenhouse_desk.services.desk import Desk
from greenhouse_desk.store.engine import Store
from greenhouse_desk.ui.daypanel import Day, day_at, day_why
from tests.builders import NOW
from tests.ui.house import program

LONDON = ZoneInfo("Europe/London")
HOME = Home(51.5, 0.0, "Europe/London")


def at(hours: float, rinse_by: datetime | None, known: bool = True, held: float | None = 12) -> Day:
    """The day so long after NOW, 15:30 in November; a reading of the air holds for `held` hours from NOW on."""
    until = None if held is None else NOW + timedelta(hours=held)
    return day_at(NOW + timedelta(hours=hours), HOME, LONDON, known, rinse_by, until)


def test_until_when_a_rinse_dries_in_time() -> None:
    by = datetime(2026, 11, 18, 16, 20, tzinfo=UTC)
    assert at(0, by).rinse == "rinse by 16:20"
    assert at(0, by).left == "50 min left for work that must dry", "to the last rinse, not to dusk"
    late = day_at(by + timedelta(minutes=1), Home(48.0, -5.0, "Europe/London"), LONDON, True, by,
                  by + timedelta(hours=9))
    assert late.rinse == "too late to rinse"
    assert late.left == "Roots only: a wet crown would not dry in time."
    assert at(24, by).rinse == "", "yesterday's moment says nothing of today"
    assert at(0, None).rinse == ""


def test_an_unset_home_is_said_where_dusk_stands() -> None:
    assert at(0, None, known=False).left == "Home not set: dusk is only assumed."
    assert "to dusk" in at(0, None).left


def test_without_a_reading_that_holds_nobody_promises_time_for_work_that_must_dry() -> None:
    """A day old, the reading no longer tells how long drying takes; the hours to dusk alone are no leave to rinse."""
    by = NOW + timedelta(minutes=50)
    for day in (at(0, None, held=None), at(0, None, held=-1), at(0, by, held=-1)):
        assert day.left == "36 min to dusk. Read the air before you rinse."
        assert day.rinse == ""
    assert at(0, None).left == "36 min to dusk. Not every bench dries by then.", "read, and too moist"


def test_the_window_tells_it_and_follows_a_reading(store: Store, clock: SteppedClock, qtbot: object) -> None:
    desk = Desk(store, clock.now)
    shelf = desk.run(collection.save_place, Place(0, "Shelf", position=1))
    desk.run(collection.add_plant, NewPlant("Cattleya walkeriana", place=shelf, medium="clay pellets"))
    clock.advance(-5 * 3600)
    opened = program(store, clock)
    told = opened.window.day.accessibleName()
    assert "Home not set" in told
    opened.desk.run(house.save_home, HOME)
    opened.desk.run(collection.record_air, shelf, 24.0, 0.40, 0.8)
    by = opened.desk.read(airflow.rinse_by, clock.now())
    assert by is not None
    told = opened.window.day.accessibleName()
    assert "Home not set" not in told
    assert f"rinse by {by.astimezone(LONDON):%H:%M}" in told
    opened.desk.run(collection.record_air, shelf, 18.0, 0.90, 0.05)
    assert f"rinse by {by.astimezone(LONDON):%H:%M}" not in opened.window.day.accessibleName()
    clock.advance(23 * 3600)
    opened.window.tick(clock.now())
    assert "Read the air before you rinse" in opened.window.day.accessibleName(), "by the clock alone"
    opened.window.close()


def test_the_why_of_the_day_tells_the_rinse_and_the_assumed_home() -> None:
    by = datetime(2026, 11, 18, 16, 20, tzinfo=UTC)
    told = [f"{reason.text} [{reason.source}]" for reason in day_why(at(0, by), HOME)]
    assert any("rinsed by 16:20 is dry in time" in reason for reason in told)
    assert told[0].startswith("The collection stands at 51.50 N")
    assumed = [f"{reason.text} [{reason.source}]" for reason in day_why(at(0, None, known=False), HOME)]
    assert assumed[0].startswith("The collection is taken to stand at 51.50 N")
    assert "nobody set the home" in assumed[0]
    assert not any("rinsed by" in reason for reason in assumed)
