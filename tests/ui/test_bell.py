"""The bell: what falls due rings, what was owed does not, an answer or a limit ends it, a sleep gives one list."""

from __future__ import annotations

from collections.abc import Collection
from datetime import UTC, date, datetime, time, timedelta
from zoneinfo import ZoneInfo

import pytest
from pytestqt.qtbot import QtBot

from greenhouse_desk.domain.bench_values import Ring
from greenhouse_desk.domain.care import Care, CareKind, Moment, Reason
from greenhouse_desk.domain.settings import HouseRules
from greenhouse_desk.ui.bell import SLICE, Bell, Owed, rings_at
from tests.builders import NOW

BERLIN = ZoneInfo("Europe/Berlin")


def care(due: Moment, plant: int = 101, hold: bool = False) -> Care:
    return Care(plant, CareKind.CROWN_CHECK, "look into the crown", "crown check", due, due, None,
                (Reason("the crown was wet", "entry 1"),), origin=1, hold=hold)


def after(seconds: float) -> datetime:
    return NOW + timedelta(seconds=seconds)


class Kitchen:
    """A bell with what is owed, and everything it said."""

    def __init__(self) -> None:
        self.owed: tuple[Care, ...] = ()
        self.growing = {101, 102, 103}
        self.asked: list[set[int] | None] = []
        self.rings: list[Ring] = []
        self.rules = HouseRules()
        self.rang: list[tuple[Care, ...]] = []
        self.listed: list[tuple[Care, ...]] = []
        self.missed: list[Care] = []
        self.bell = Bell(self._read, self.rings.append, lambda: BERLIN, lambda: self.rules)
        self.bell.rang.connect(self.rang.append)
        self.bell.listed.connect(self.listed.append)
        self.bell.missed.connect(self.missed.append)

    @property
    def reads(self) -> int:
        return len(self.asked)

    def _read(self, plants: Collection[int] | None) -> Owed:
        self.asked.append(None if plants is None else set(plants))
        wanted = self.growing if plants is None else self.growing & set(plants)
        return {plant: tuple(care for care in self.owed if care.plant == plant) for plant in sorted(wanted)}

    def run(self, first: int, last: int, step: int = 1) -> None:
        for second in range(first, last + 1, step):
            self.bell.on_second(after(second))


@pytest.fixture
def kitchen(qtbot: QtBot) -> Kitchen:
    return Kitchen()


def test_what_falls_due_rings_once_until_it_is_dismissed(kitchen: Kitchen) -> None:
    kitchen.owed = (care(after(5)),)
    kitchen.run(0, 30)
    assert kitchen.rings == [Ring.CHIME]
    assert kitchen.rang == [kitchen.owed]
    kitchen.bell.dismiss()
    kitchen.run(31, 90)
    assert kitchen.rings == [Ring.CHIME, Ring.SILENT]
    assert kitchen.rang[-1] == ()
    assert kitchen.missed == []


def test_what_was_owed_before_the_program_started_does_not_ring(kitchen: Kitchen) -> None:
    kitchen.owed = (care(after(-60)), care(after(0)))
    kitchen.run(0, 60)
    assert kitchen.rings == []


def test_a_hold_never_rings(kitchen: Kitchen) -> None:
    kitchen.owed = (care(after(5), hold=True),)
    kitchen.run(0, 60)
    assert kitchen.rings == []


def test_an_answer_ends_the_ringing(kitchen: Kitchen) -> None:
    kitchen.owed = (care(after(5)),)
    kitchen.run(0, 10)
    kitchen.owed = ()
    kitchen.bell.on_changed()
    kitchen.run(11, 12)
    assert kitchen.rings == [Ring.CHIME, Ring.SILENT]
    assert kitchen.bell.ringing == ()


def test_the_limit_ends_it_and_each_care_is_missed_once(kitchen: Kitchen) -> None:
    kitchen.owed = (care(after(5)), care(after(5), plant=102))
    kitchen.run(0, 700)
    assert kitchen.rings == [Ring.CHIME, Ring.SILENT]
    assert kitchen.missed == list(kitchen.owed)


def test_a_second_care_joins_without_a_second_limit_for_the_first(kitchen: Kitchen) -> None:
    first, second = care(after(5)), care(after(300), plant=102)
    kitchen.owed = (first, second)
    kitchen.run(0, 610)
    assert kitchen.missed == [first]
    assert kitchen.bell.ringing == (second,)


def test_after_a_long_sleep_there_is_one_quiet_list_and_no_sound(kitchen: Kitchen) -> None:
    kitchen.owed = (care(after(3600)), care(after(7200), plant=102), care(after(50_000), plant=103))
    kitchen.run(0, 10)
    kitchen.run(36_000, 36_010)
    assert kitchen.rings == []
    assert kitchen.listed == [kitchen.owed[:2]]


def test_what_rang_before_a_sleep_does_not_hide_the_quiet_list(kitchen: Kitchen) -> None:
    said: list[str] = []
    kitchen.bell.rang.connect(lambda cares: said.append("rang" if cares else "nothing rings"))
    kitchen.bell.listed.connect(lambda _cares: said.append("listed"))
    kitchen.owed = (care(after(5)), care(after(7200), plant=102))
    kitchen.run(0, 10)
    kitchen.run(36_000, 36_010)
    assert said == ["rang", "nothing rings", "listed"]


def test_a_clock_set_back_rings_nothing_twice(kitchen: Kitchen) -> None:
    kitchen.owed = (care(after(5)),)
    kitchen.run(0, 10)
    kitchen.bell.dismiss()
    kitchen.bell.on_second(after(-3600))
    kitchen.bell.on_second(after(10))
    assert kitchen.rings == [Ring.CHIME, Ring.SILENT]


def test_it_reads_again_only_when_told_or_after_ten_minutes(kitchen: Kitchen) -> None:
    kitchen.run(0, 599)
    assert kitchen.reads == 1
    kitchen.run(600, 601)
    assert kitchen.reads == 2
    kitchen.bell.on_changed()
    kitchen.run(602, 603)
    assert kitchen.reads == 3


def test_only_the_plants_that_changed_are_read_again(kitchen: Kitchen) -> None:
    kitchen.run(0, 5)
    kitchen.owed = (care(after(20), plant=102), care(after(20), plant=103))
    kitchen.bell.on_changed(frozenset({102}))
    kitchen.run(6, 30)
    assert kitchen.asked == [None, {102}]
    assert kitchen.rang == [kitchen.owed[:1]]
    kitchen.owed = ()
    kitchen.bell.on_changed(frozenset({103}))
    kitchen.run(31, 32)
    assert kitchen.bell.ringing == (care(after(20), plant=102),), "its own entries did not change"
    kitchen.bell.on_changed(frozenset({102}))
    kitchen.run(33, 34)
    assert kitchen.asked[2:] == [{103}, {102}]
    assert not kitchen.bell.ringing


def test_what_may_concern_any_plant_has_all_read_again(kitchen: Kitchen) -> None:
    kitchen.run(0, 5)
    kitchen.bell.on_changed(frozenset({102}))
    kitchen.bell.on_changed(None)
    kitchen.run(6, 30)
    assert kitchen.asked == [None, None]


def test_plants_that_came_and_went_are_known(kitchen: Kitchen) -> None:
    kitchen.owed = (care(after(100)), care(after(100), plant=104))
    kitchen.run(0, 5)
    kitchen.growing = {102, 103, 104}
    kitchen.bell.on_changed(frozenset({101, 104}))
    kitchen.run(6, 120)
    assert kitchen.rang == [kitchen.owed[1:]]
    kitchen.growing = {102, 103}
    kitchen.bell.on_changed(frozenset({104}))
    kitchen.run(121, 122)
    assert kitchen.bell.ringing == ()


def test_what_rings_at_once_is_told_soonest_first(kitchen: Kitchen) -> None:
    kitchen.owed = (care(after(15)), care(after(12), plant=102), care(after(11), plant=103))
    kitchen.run(0, 20, step=10)
    assert kitchen.rang == [kitchen.owed[::-1]]


def test_as_time_passes_a_large_collection_is_read_in_slices_and_each_plant_within_ten_minutes(
        kitchen: Kitchen) -> None:
    kitchen.growing = set(range(1, 1001))
    kitchen.run(0, 1300)
    first, *slices = kitchen.asked
    assert first is None
    assert all(part is not None and SLICE <= len(part) <= SLICE + 4 for part in slices)
    parts = [part for part in slices if part is not None]
    halves = [set().union(*part) for part in (parts[:len(parts) // 2], parts[len(parts) // 2:])]
    assert halves == [kitchen.growing, kitchen.growing]


def test_care_that_comes_with_time_alone_rings(kitchen: Kitchen) -> None:
    """Nothing is written down, but at a later reading something is owed that was not before."""
    kitchen.growing = set(range(1, 1001))
    kitchen.run(0, 5)
    kitchen.owed = tuple(care(after(650), plant=plant) for plant in (1, 500, 1000))
    kitchen.run(6, 660)
    assert kitchen.rang == [kitchen.owed]


def test_care_owed_on_a_day_rings_in_the_morning_of_the_house() -> None:
    at = HouseRules().day_rings_at
    assert rings_at(date(2026, 11, 19), BERLIN, at) == datetime(2026, 11, 19, 8, 0, tzinfo=UTC)
    assert rings_at(date(2026, 7, 19), BERLIN, at) == datetime(2026, 7, 19, 7, 0, tzinfo=UTC)
    assert rings_at(NOW, BERLIN, at) == NOW


def test_the_hour_a_day_rings_at_and_the_limit_are_house_rules(kitchen: Kitchen) -> None:
    kitchen.owed = (care(NOW.date()),)
    kitchen.rules = HouseRules(day_rings_at_hour=17, missed_after_minutes=2)
    seconds = int((datetime.combine(NOW.date(), time(17), BERLIN) - NOW).total_seconds())
    kitchen.run(seconds - 1, seconds + 119)
    assert kitchen.rings == [Ring.CHIME]
    kitchen.run(seconds + 120, seconds + 121)
    assert kitchen.rings == [Ring.CHIME, Ring.SILENT]
    assert kitchen.missed == list(kitchen.owed)
