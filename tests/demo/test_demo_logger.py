"""The demo's loggers: files that were really taken in, with a gap, and nights too wet in the cellar."""

from __future__ import annotations

from demo.logger import LOGGED
from greenhouse_desk.services import air_import, backup, findings
from greenhouse_desk.services.desk import Desk
from greenhouse_desk.services.findings import Question, Topic
from tests.builders import NOW


def test_two_benches_have_three_weeks_of_a_logger_and_the_cellar_some_nights_too_wet(demo_desk: Desk) -> None:
    places = {place.name: place.id for place in demo_desk.read(findings.choices).places}
    wet = {}
    for name in LOGGED:
        (taken,) = demo_desk.read(air_import.imported, places[name])
        assert taken.added > 3000
        assert (NOW - taken.last).total_seconds() < 6 * 3600
        found = demo_desk.read(findings.answer, NOW, Question(Topic.AIR, place=places[name]))
        assert "readings of a logger and " in found.rests_on
        wet[name] = sum(row[-1] == "too wet" for row in found.table.rows)
    assert 2 <= wet["Lamp rack, lower"] <= 8
    assert wet["Hanging bar"] == 0
    assert backup.check(demo_desk.store) == ()


def test_the_grower_told_what_the_loggers_clock_shows(demo_desk: Desk) -> None:
    (columns,) = demo_desk.read(air_import.remembered).values()
    assert (columns.offset_minutes, columns.day, columns.head) == (60, 0, 0)
