"""The demo's wet crown: the estimate follows a reading, says what would help, and a late rinse is warned of first."""

from __future__ import annotations

from datetime import datetime, timedelta

from greenhouse_desk.domain.care import Care, CareKind
from greenhouse_desk.services import care, collection, treatments
from greenhouse_desk.services.desk import Desk
from greenhouse_desk.services.shelf import shelf
from greenhouse_desk.services.treatments import Choice
from tests.builders import NOW


def airings(desk: Desk) -> list[Care]:
    """The airings owed, those not aired yet first."""
    return [one for one in desk.read(care.due, NOW) if one.kind is CareKind.AIR and one.drying is not None]


def latest(owed: Care) -> datetime:
    assert owed.drying is not None
    assert owed.drying.latest is not None
    return owed.drying.latest


def test_a_reading_changes_the_estimate_and_what_helps_is_told_with_its_gain(demo_desk: Desk) -> None:
    before = next(one for one in airings(demo_desk) if one.drying is not None and not one.drying.pool)
    assert before.place is not None
    said = " ".join(reason.text for reason in before.why)
    for way in ("put a fan on: ", "blot it: ", "warm the room to ", "dry the room to "):
        assert way in said
    assert said.count("h sooner at the slow end") == 4
    demo_desk.run(collection.record_air, before.place, 17.0, 0.88, 0.1)
    damp = next(one for one in airings(demo_desk) if one.plant == before.plant)
    assert latest(damp) > latest(before)
    assert "17 C, 88 % RH" in " ".join(reason.text for reason in damp.why)


def test_a_pool_is_blotted_first_and_the_gain_of_it_told(demo_desk: Desk) -> None:
    pool = next(one for one in airings(demo_desk) if one.drying is not None and one.drying.pool)
    assert pool.drying is not None
    assert pool.drying.gain_hours > 24
    assert latest(pool) - pool.drying.wet_since > timedelta(days=1)


def test_a_session_that_ends_too_late_for_its_wetting_is_warned_of_before_it_starts(demo_desk: Desk) -> None:
    washes = [Choice(101, "pest-wash")]
    morning = demo_desk.read(treatments.preparation, NOW - timedelta(hours=6), washes, shelf(None))
    assert morning.drying.ok is True
    evening = demo_desk.read(treatments.preparation, NOW + timedelta(hours=1), washes, shelf(None))
    assert evening.drying.ok is not True
    assert evening.drying.words.startswith("101: ")
    assert "fan" in evening.drying.words
    assert evening.drying.why
