"""How far ahead care is listed: by care days, the last one included, and holds however long they run."""

from __future__ import annotations

from datetime import UTC, datetime, timedelta

import pytest

from greenhouse_desk.domain.care import CareKind
from greenhouse_desk.domain.journal import Cut, Part, Purpose, Treated, Wetted
from greenhouse_desk.domain.plants import Habit
from greenhouse_desk.domain.settings import HouseRules
from greenhouse_desk.services import care, house, owed
from greenhouse_desk.services.desk import Desk, Done
from greenhouse_desk.store import journal, plants
from greenhouse_desk.store.engine import Session
from tests.builders import NOW, ago


def cut_and_treated(session: Session, _now: datetime, at: datetime) -> Done[None]:
    """A cut, to be looked at three and seven days after, and a root disinfection that owes plain water."""
    plants.add_plant(session, 101, "Vanda tricolor", Habit.MONOPODIAL)
    journal.add(session, at, Cut(Part.SPIKE), plant=101)
    journal.add(session, at, Treated("hydrogen-peroxide", Purpose.ROOT_DISINFECTION, (Part.ROOTS,), 3.0), plant=101)
    return Done("cut", frozenset({"journal"}), None)


@pytest.mark.parametrize(("ahead", "looks"), [(1, 0), (2, 0), (3, 1), (6, 1), (7, 2), (8, 2)])
def test_what_falls_due_on_the_last_day_ahead_is_listed_and_the_day_after_is_not(desk: Desk, ahead: int,
                                                                                looks: int) -> None:
    desk.run(cut_and_treated, ago(hours=1))
    desk.run(house.save_rules, HouseRules(ahead_days=ahead))
    for found in (desk.read(care.due, NOW), desk.read(care.ahead, NOW, ahead)):
        assert sum(one.kind is CareKind.CUT_CHECK for one in found) == looks
        assert sum(one.hold for one in found) == 1, "a hold that runs is told, whenever it ends"
    assert len([one for one in desk.read(care.of_plant, 101, NOW) if one.kind is CareKind.CUT_CHECK]) == 2


def test_past_midnight_the_days_ahead_count_from_the_evening_before(desk: Desk) -> None:
    """The day ends at four: at half past three it is still the 18th, at four the 19th."""
    desk.run(cut_and_treated, ago(hours=1))
    for now, looks in ((datetime(2026, 11, 19, 3, 59, tzinfo=UTC), 1), (datetime(2026, 11, 19, 4, 0, tzinfo=UTC), 2)):
        found = desk.read(care.ahead, now, 6)
        assert sum(one.kind is CareKind.CUT_CHECK for one in found) == looks


def test_half_feed_is_listed_from_the_day_its_hold_ends_within_reach(desk: Desk) -> None:
    desk.run(cut_and_treated, ago(days=7))
    for ahead, listed in ((6, 0), (7, 1)):
        found = desk.read(care.ahead, NOW, ahead)
        assert sum(one.kind is CareKind.HALF_FEED for one in found) == listed
    assert [one.due for one in found if one.kind is CareKind.HALF_FEED] == [(NOW + timedelta(days=7)).date()]


def test_a_figure_from_memory_says_in_plain_words_that_nobody_checked_it(desk: Desk) -> None:
    def wet(session: Session, _now: datetime) -> Done[None]:
        plants.add_plant(session, 101, "Vanda tricolor", Habit.MONOPODIAL)
        journal.add(session, ago(hours=1), Wetted((Part.CROWN,)), plant=101)
        return Done("wet", frozenset({"journal"}), None)

    desk.run(wet)
    look = next(row for row in desk.read(owed.owed, NOW) if row.care.kind is CareKind.CROWN_CHECK)
    assert "from memory, not checked against a source" in str(look.plain()["why"])
    assert "from memory" not in str(look.plain()["why"]).replace("from memory, not checked against a source", "")
