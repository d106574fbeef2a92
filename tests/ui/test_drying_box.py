"""The drying box: what to do with its gain, the doubt about an unset home, and all of it read aloud."""

from __future__ import annotations

import math
from dataclasses import replace
from datetime import timedelta
from zoneinfo import ZoneInfo

import pytest
from pytestqt.qtbot import QtBot

from greenhouse_desk.domain.care import Care, CareKind, Drying, Reason
from greenhouse_desk.domain.names import parse
from greenhouse_desk.ui import drawing, fonts
from greenhouse_desk.ui.collection.drying import BAR_TOP, DryingBox, _beside, said
from greenhouse_desk.ui.style import palette, sans
from tests.builders import NOW

UTC_ZONE = ZoneInfo("UTC")


def drying(pool: bool = False, aired: bool = False, gain: float = 0.0, name: str = "dusk") -> Drying:
    """Wet since an hour before NOW, the limit an hour after it."""
    return Drying(NOW - timedelta(hours=1), NOW + timedelta(hours=1), NOW + timedelta(hours=3),
                  NOW + timedelta(hours=1), name, pool, aired, gain)


@pytest.mark.parametrize(("state", "told"), [
    (drying(gain=2.74), "put the fan on: 2.7 h sooner"),
    (drying(pool=True, gain=68.2), "blot first: 68 h sooner"),
    (drying(gain=0.04), "put the fan on"),
    (drying(gain=math.inf), "put the fan on"),
    (drying(aired=True, gain=1.0), "air is on: feel the crown"),
])
def test_what_to_do_is_told_with_the_hours_it_gains(state: Drying, told: str) -> None:
    assert said(state, NOW, UTC_ZONE).now_do == told


def test_an_assumed_dusk_is_called_one_and_read_aloud(qtbot: QtBot) -> None:
    box = DryingBox(palette(False), UTC_ZONE)
    qtbot.addWidget(box)
    owed = Care(101, CareKind.AIR, "Moving air on it", "crown dry", NOW, NOW, NOW, (Reason("because", "here"),), 1,
                drying=drying(gain=2.7, name="assumed dusk"))
    box.show_care(owed, parse("Cattleya"), NOW, UTC_ZONE)
    assert "assumed dusk 16:30" in box.accessibleName()
    assert "2.7 h sooner" in box.accessibleName()


def shown(qtbot: QtBot, passed: float, name: str = "dusk") -> DryingBox:
    """A box 288 pixels wide whose limit passed so many hours ago."""
    assert fonts.load() == ()
    box = DryingBox(palette(False), UTC_ZONE)
    qtbot.addWidget(box)
    box.resize(288, box.sizeHint().height())
    wet = NOW - timedelta(hours=passed + 2)
    of = replace(drying(), wet_since=wet, limit=NOW - timedelta(hours=passed), limit_name=name)
    owed = Care(101, CareKind.AIR, "Moving air on it", "crown dry", wet, wet, wet, (Reason("because", "here"),), 1,
                drying=of)
    box.show_care(owed, parse("Cattleya"), NOW, UTC_ZONE)
    return box


@pytest.mark.parametrize("passed", [18.0, 44.0])
def test_past_a_dusk_of_another_day_its_moment_stands_whole(qapp: object, passed: float) -> None:
    assert fonts.load() == ()
    of = replace(drying(), limit=NOW - timedelta(hours=passed))
    told = said(of, NOW, UTC_ZONE)
    _, left = _beside(told, 288)
    whole = f"{told.until} {told.limit}"
    assert " ".join(drawing.wrapped(whole, sans(14, 600), 288 - left - 6, 2)) == whole


def test_no_night_is_drawn_where_the_dusk_lies_before_what_the_bar_shows(qtbot: QtBot) -> None:
    """Eighteen hours after dusk it is day again: the bar's ground above it is the box's own."""
    night = palette(False).dusk_fill.name()

    def ground(box: DryingBox) -> set[str]:
        drawn = box.grab().toImage()
        return {drawn.pixelColor(x, BAR_TOP - 3).name() for x in range(20, 260)}

    assert night in ground(shown(qtbot, 1.0)), "within what the bar shows, it is"
    assert night not in ground(shown(qtbot, 18.0))
