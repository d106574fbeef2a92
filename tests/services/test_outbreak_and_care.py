"""What an outbreak plans and what care owes are one: a grower reads both, and may not be told two things."""

from __future__ import annotations

from datetime import date, datetime

import pytest

from greenhouse_desk.domain.care_values import CareKind
from greenhouse_desk.domain.journal import Reading, Sighted
from greenhouse_desk.domain.outbreak import Wash
from greenhouse_desk.services import care, outbreaks
from greenhouse_desk.services.desk import Desk, Done
from greenhouse_desk.store import journal
from greenhouse_desk.store.engine import Session
from tests.builders import NOW, ago
from tests.services.outbreak_house import BUG, CLEAN, WASH, add, furnished


def warm(session: Session, now: datetime, place: int) -> Done[int]:
    """A verb: 22 degrees C were read at a place."""
    return Done("Read the air", frozenset({"air"}), journal.add(session, now, Reading(22.0, 0.6), place=place))


def planned(desk: Desk) -> list[Wash]:
    """The washes the outbreak still wants of 104."""
    (one,) = desk.read(outbreaks.followed, NOW)
    return [wash for wash in one.concerned[0].washes if not wash.given]


def owed(desk: Desk) -> list[tuple[date, date | None]]:
    """The windows of the repeats that care owes 104."""
    return [(one.opens, one.latest) for one in desk.read(care.of_plant, 104, NOW)
            if one.kind is CareKind.WASH_REPEAT]


@pytest.mark.parametrize(("washed", "looked", "wanted"), [
    ((18,), None, 1), ((18, 6), None, 1), ((26, 14), 5, 0), ((30, 18, 6), None, 0)])
def test_a_plan_wants_the_wash_that_care_owes(desk: Desk, washed: tuple[int, ...], looked: int | None,
                                              wanted: int) -> None:
    furnished(desk)
    add(desk, 104, BUG, ago(days=max(washed)))
    for days in washed:
        add(desk, 104, WASH, ago(days=days, minutes=-5))
    if looked is not None:
        add(desk, 104, CLEAN, ago(days=looked))
    desk.run(outbreaks.open_outbreak, 104, "mealybug")
    assert [(one.opens, one.latest) for one in planned(desk)] == owed(desk)
    assert len(owed(desk)) == wanted
    (one,) = desk.read(outbreaks.followed, NOW)
    assert bool(one.owing) is bool(wanted), "the button to the bench urges what is owed"


@pytest.mark.parametrize(("what", "warmth", "said"), [
    ("bush-snail", True, "No wash is known to end it: what follows is looks."),
    ("aphid", False, "No number of washes is published for it, and no warmth was read here that tells their days."),
    ("aphid", True, "No number of washes is published for it: their days come from the warmth where it stands."),
    ("mealybug", False, "Crawlers walk over touching leaves and along benches; hands, tools, old pots.")])
def test_washes_are_denied_only_where_none_are_planned(desk: Desk, what: str, warmth: bool, said: str) -> None:
    places = furnished(desk)
    if warmth:
        desk.run(warm, places["Ledge"])
    add(desk, 104, Sighted(what, "adult", "axils", 2))
    told = desk.read(outbreaks.proposal, NOW, 104, what)
    assert told.advice[0] == said
    assert bool(told.concerned[0].washes) is (what == "mealybug" or (what == "aphid" and warmth))
