"""The verdict before a wetting in its own words: each of them once, and the figures at which they change."""

from __future__ import annotations

from datetime import UTC, datetime, time, timedelta

import pytest

from greenhouse_desk.domain import air as physics
from greenhouse_desk.domain.airflow import Around, Verdict, can_dry, helps
from greenhouse_desk.domain.faults import OutOfRange
from greenhouse_desk.domain.plants import Air, Home
from greenhouse_desk.domain.settings import HouseRules

HOME = Home(51.5, -0.12, "Europe/London")
LIGHTS_OUT = time(20, 0)
START = datetime(2026, 6, 18, 11, 0, tzinfo=UTC)  # noon by the clock there


def judged(hours: float, age: timedelta = timedelta(), rh: float = 0.55) -> Verdict:
    """A wetting so long after noon where the lamps go off at 20:00, with a reading of that age."""
    at = START + timedelta(hours=hours)
    return can_dry(Around(Air(at - age, 22.0, rh, 0.1), LIGHTS_OUT, HOME), at, HouseRules())


@pytest.mark.parametrize(("hours", "words"), [
    (3.0, "It can be dry by 20:00 (lights-out)."),
    (8 - 1 / 60, "It cannot be dry by 20:00 (lights-out)."),
    (8.0, "At 20:00 it is past lights-out: do not wet it then, or keep the fan on until it is dry. Another day, with "
          "the fan on, rinse by 17:46."),
    (9.5, "At 21:30 it is past lights-out: do not wet it then, or keep the fan on until it is dry. Another day, with "
          "the fan on, rinse by 17:46.")])
def test_before_and_from_the_limit_on(hours: float, words: str) -> None:
    found = judged(hours)
    assert found.words.startswith(words)
    assert found.ok is (hours == 3.0)
    assert (found.words == words) is (hours != 8 - 1 / 60), "advice only where there is time left and it is not enough"


@pytest.mark.parametrize(("minutes", "words"), [
    (-1, "read after that"), (0, "0 min old"), (1, "1 min old"), (89, "89 min old"), (90, "2 h old"), (150, "2 h old"),
    (151, "3 h old")])
def test_the_age_of_a_reading_is_said(minutes: int, words: str) -> None:
    told = [reason.text for reason in judged(1.0, timedelta(minutes=minutes)).why]
    assert any(f", {words}: 22 C" in text for text in told)


@pytest.mark.parametrize(("temp_c", "warmed"), [(26.0, "29"), (27.0, "30"), (27.1, None), (29.0, None)])
def test_no_room_is_warmed_beyond_thirty_degrees(temp_c: float, warmed: str | None) -> None:
    offered = [one.what for one in helps(Air(START, temp_c, 0.8, 0.1))]
    assert [what for what in offered if what.startswith("warm")] == ([f"warm the room to {warmed} C"] if warmed else [])


@pytest.mark.parametrize(("rh", "dried"), [(0.55, "45"), (0.5, "40"), (0.46, "40"), (0.40, None),
                                            (0.14, None)])
def test_no_room_is_dried_below_what_orchids_bear(rh: float, dried: str | None) -> None:
    offered = [one.what for one in helps(Air(START, 20.0, rh, 0.05))]
    assert [what for what in offered if what.startswith("dry")] == ([f"dry the room to {dried} % RH"] if dried else [])


def test_air_whose_vapour_alone_exceeds_the_pressure_names_the_boiling_point() -> None:
    with pytest.raises(OutOfRange) as told:
        physics.wet_bulb(101.0, 1.0)
    assert (told.value.low, told.value.high) == (-100.0, 100.0)
