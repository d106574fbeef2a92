"""The trace on contacts: what its days, window and paths mean."""

from __future__ import annotations

from dataclasses import replace
from datetime import date, timedelta

import pytest
from hypothesis import given
from hypothesis import strategies as st

from greenhouse_desk.domain.faults import OutOfRange
from greenhouse_desk.domain.quarantine import Contact, trace

DAY = date(2026, 3, 29)  # the night before it the clocks go forward in Europe: days are days


def met(a: int, b: int, start: int, end: int | None = None) -> Contact:
    """A contact from `start` to `end` days after DAY (negative before)."""
    return Contact(a, b, DAY + timedelta(days=start), DAY + timedelta(days=start if end is None else end), "met")


def back(*contacts: Contact, window: int = 30) -> dict[int, int]:
    return {one.plant: (one.day - DAY).days for one in trace(contacts, 101, DAY, window).back}


def forward(*contacts: Contact, window: int = 30) -> dict[int, int]:
    return {one.plant: (one.day - DAY).days for one in trace(contacts, 101, DAY, window).forward}


def test_a_contact_is_passed_on_its_last_day_back_and_on_its_first_forward() -> None:
    assert back(met(101, 102, -9, -4)) == {102: -4}
    assert forward(met(101, 102, -9, -4)) == {102: -9}
    assert back(met(102, 101, -9, 5)) == {102: 0}, "not after the find"
    assert forward(met(101, 102, -40, 5)) == {102: -30}, "not before the window"


def test_both_ends_of_the_window_count_and_nothing_beyond() -> None:
    assert back(met(101, 102, -30)) == {102: -30}
    assert back(met(101, 102, -31)) == {}
    assert back(met(101, 102, 0), window=0) == {102: 0}
    assert back(met(101, 102, 1)) == {}
    assert forward(met(101, 102, -31)) == {}
    assert forward(met(101, 102, 400)) == {102: 400}, "forward goes on without an end"


def test_only_in_time_order() -> None:
    chain = (met(103, 102, -5), met(102, 101, -9))
    assert back(*chain) == {102: -9}, "103 met 102 only after that had met 101"
    assert forward(*chain) == {102: -9, 103: -5}
    assert back(met(103, 102, -9), met(102, 101, -5)) == {102: -5, 103: -9}


def test_several_contacts_may_be_passed_in_one_day() -> None:
    assert back(met(103, 102, -5), met(102, 101, -5)) == {102: -5, 103: -5}


def test_what_passes_one_way_is_walked_one_way() -> None:
    snips = Contact(102, 101, DAY - timedelta(days=5), DAY, "snips", one_way=True)
    assert (back(snips), forward(snips)) == ({102: 0}, {})
    turned = replace(snips, a=101, b=102)
    assert (back(turned), forward(turned)) == ({}, {102: -5})


def test_the_path_is_told_in_the_order_it_was_walked() -> None:
    first, second = met(103, 102, -9), met(101, 102, -5)
    found = trace([second, first], 101, DAY, 30)
    assert [one.path for one in found.back] == [(second,), (first, second)]
    ahead = trace([met(103, 102, -2), second], 101, DAY, 30)
    assert [one.path for one in ahead.forward] == [(second,), (second, met(103, 102, -2))]


def test_a_later_way_back_is_found_though_longer() -> None:
    direct, long_way = met(101, 103, -20), (met(103, 102, -3), met(102, 101, -2))
    found = {one.plant: one for one in trace([direct, *long_way], 101, DAY, 30).back}
    assert found[103].day == DAY - timedelta(days=3)
    assert found[103].path == long_way


def test_the_plant_itself_and_contacts_that_end_before_they_start_are_nothing() -> None:
    assert back(met(101, 102, -5), met(102, 101, -8), met(101, 101, -3), met(101, 104, -3, -4)) == {102: -5}
    assert trace([], 101, DAY, 30).forward == ()


@pytest.mark.parametrize("days", [-1, 40_000, float("nan"), float("inf")])
def test_a_window_out_of_range_is_refused(days: float) -> None:
    with pytest.raises(OutOfRange, match="window_days"):
        trace([], 101, DAY, days)  # type: ignore[arg-type]


def test_a_window_before_the_first_day_of_all_is_cut() -> None:
    assert trace([Contact(1, 2, date.min, date.min)], 1, date(1, 1, 5), 30).back[0].day == date.min


contacts_drawn = st.lists(st.builds(
    lambda a, b, start, long, one_way: replace(met(a, b, start, start + long), one_way=one_way),
    st.integers(101, 108), st.integers(101, 108), st.integers(-60, 20), st.integers(0, 15), st.booleans()),
    max_size=25)


@given(contacts_drawn, st.integers(0, 50))
def test_no_path_runs_back_in_time(contacts: list[Contact], window: int) -> None:
    found, first = trace(contacts, 101, DAY, window), DAY - timedelta(days=window)
    for one in (*found.back, *found.forward):
        day = first
        for contact in one.path:
            assert contact.end >= day
            day = max(day, contact.start)
    assert all(first <= one.day <= DAY for one in found.back)
    assert all(one.day >= first for one in found.forward)


@given(contacts_drawn, st.integers(0, 40), st.integers(0, 10))
def test_a_wider_window_loses_nobody_and_delays_nobody(contacts: list[Contact], window: int, more: int) -> None:
    near, far = trace(contacts, 101, DAY, window), trace(contacts, 101, DAY, window + more)
    later = {one.plant: one.day for one in far.back}
    earlier = {one.plant: one.day for one in far.forward}
    assert all(later[one.plant] >= one.day for one in near.back)
    assert all(earlier[one.plant] <= one.day for one in near.forward)


@given(contacts_drawn, st.integers(0, 40))
def test_back_from_one_is_forward_from_the_other(contacts: list[Contact], window: int) -> None:
    for one in trace(contacts, 101, DAY, window).back:
        reached = {other.plant: other.day for other in trace(contacts, one.plant, DAY, window).forward}
        assert reached[101] <= DAY
