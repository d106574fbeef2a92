"""How many backups stay: all of two days, 12 daily, 10 weekly, 9 monthly."""

from __future__ import annotations

from datetime import UTC, datetime, timedelta

from hypothesis import given
from hypothesis import strategies as st

from greenhouse_desk.store.thinning import too_many
from tests.builders import NOW


def every(step: timedelta, number: int) -> list[datetime]:
    return [NOW - step * n for n in range(number)]


def kept(made: list[datetime], now: datetime = NOW) -> list[datetime]:
    return sorted(set(made) - too_many(made, now), reverse=True)


def test_all_of_two_days_stay() -> None:
    made = every(timedelta(minutes=30), 97)
    assert kept(made) == made


def test_two_years_of_half_hours_leave_the_promised_numbers() -> None:
    made = every(timedelta(minutes=30), 2 * 365 * 48)
    older = [one for one in kept(made) if NOW - one > timedelta(days=2)]
    assert len(older) == 12 + 10 + 9
    daily, weekly, monthly = older[:12], older[12:22], older[22:]
    assert len({one.date() for one in daily}) == 12
    assert daily[0].date() - daily[-1].date() == timedelta(days=11)
    assert len({one.isocalendar()[:2] for one in weekly}) == 10
    assert weekly[0] - weekly[-1] <= timedelta(weeks=10)
    assert len({(one.year, one.month) for one in monthly}) == 9
    assert max(made) == kept(made)[0]
    assert weekly[0].date() < daily[-1].date(), "a stage hands on whole days"
    assert monthly[0].isocalendar()[:2] < weekly[-1].isocalendar()[:2], "and whole weeks"


def test_the_newest_of_a_day_stays() -> None:
    day = datetime(2026, 11, 10, tzinfo=UTC)
    made = [day + timedelta(hours=h) for h in (1, 9, 23)]
    assert kept(made) == [made[-1]]


def test_thinning_day_by_day_keeps_as_much_as_thinning_once() -> None:
    """What is thinned each day must still reach back over the months."""
    made: list[datetime] = []
    for day in range(500):
        now = NOW + timedelta(days=day)
        made = [*kept(made, now), now]
    assert len(made) >= 3 + 12 + 10 + 8
    assert made[-1] - min(made) > timedelta(days=300)


def test_a_program_opened_once_a_month_keeps_31_backups() -> None:
    made = every(timedelta(days=30), 60)
    assert len(kept(made)) == 1 + 31


@given(st.sets(st.integers(-20, 3_000_000)).map(lambda ages: [NOW - timedelta(minutes=age) for age in sorted(ages)]))
def test_the_newest_always_stays_and_nothing_young_goes(made: list[datetime]) -> None:
    going = too_many(made, NOW)
    assert going <= set(made)
    assert all(NOW - one > timedelta(days=2) for one in going)
    assert not made or max(made) not in going
    assert len(set(made) - going) <= sum(NOW - one <= timedelta(days=2) for one in made) + 31
    assert too_many(set(made) - going, NOW) == set()
