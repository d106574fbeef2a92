"""The demo's washes: against thrips they follow the temperatures of the place, against mites the constants fail."""

from __future__ import annotations

from datetime import date, timedelta

from greenhouse_desk.domain.care import Care, CareKind
from greenhouse_desk.services import care, collection
from greenhouse_desk.services.desk import Desk
from greenhouse_desk.store import plants
from greenhouse_desk.store.engine import Session
from tests.builders import NOW

THRIPS_ON, MITES_ON = 130, 134
"""Both stand on the east sill, at some 18 to 22 C."""


def again(desk: Desk, number: int) -> tuple[date, str]:
    """The day the next wash is due, and its whole reasoning."""
    (found,) = (one for one in desk.read(care.of_plant, number, NOW) if one.kind is CareKind.WASH_REPEAT)
    assert type(found.due) is date
    return found.due, " ".join(f"{reason.text} [{reason.source}]" for reason in found.why)


def place_of(session: Session, number: int) -> int:
    (found,) = plants.plants(session, collection.zone(session), [number])
    assert found.place is not None
    return found.place


def test_thrips_follow_the_place_and_mites_say_that_nothing_reaches_there(demo_desk: Desk) -> None:
    due, why = again(demo_desk, THRIPS_ON)
    assert "readings at East sill" in why
    assert "can lay after 4.8 days" in why
    assert due == NOW.date() + timedelta(days=1), "four days after the last wash"
    sill = demo_desk.read(place_of, THRIPS_ON)
    for hours in range(36, 0, -3):
        demo_desk.run(collection.record_air, sill, 27.5, 0.5, at=NOW - timedelta(hours=hours, minutes=1))
    warmer, _ = again(demo_desk, THRIPS_ON)
    assert warmer < due, "a day and a half of warmth brings it forward"
    _, mites = again(demo_desk, MITES_ON)
    assert "Outside the measured temperatures" in mites
    assert "egg measured at 26 to 30 C" in mites
    assert "For two-spotted mite the usual interval is used" in mites
    assert "three applications at four days" in mites


def test_no_first_wash_is_left_owing(demo_desk: Desk) -> None:
    owed: tuple[Care, ...] = demo_desk.read(care.due, NOW)
    assert not [one for one in owed if one.kind is CareKind.FIRST_WASH]
