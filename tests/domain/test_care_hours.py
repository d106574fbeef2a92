"""Care in words at several hours and just after midnight: a time carries its day, days are counted as care days."""

from __future__ import annotations

import re
from datetime import UTC, date, datetime, time, timedelta

import pytest

from greenhouse_desk.domain import care
from greenhouse_desk.domain.care import CareKind, Turn
from greenhouse_desk.domain.care_day import hands_when, time_words
from greenhouse_desk.domain.care_values import Care, Drying, Reason
from greenhouse_desk.domain.journal import Part, Wetted
from greenhouse_desk.domain.settings import HouseRules
from tests.domain.care_asking import LONDON, owed, text, told

RULES = HouseRules(day_ends_at_hour=4)
DAY = date(2026, 11, 27)


def at(hour: int, minute: int = 0, day: int = 27) -> datetime:
    return datetime(2026, 11, day, hour, minute, tzinfo=UTC)


def wet(limit: datetime, pool: bool = False, short: str = "crown dry") -> Care:
    return Care(101, CareKind.AIR, "Moving air", short, at(9), limit, limit, (Reason("wet", ""),), 1,
                drying=Drying(at(9), None, None, limit, "dusk", pool, False, 0.0))


@pytest.mark.parametrize(("limit", "now", "said"), [
    (at(17, 59), at(12), "crown dry by 17:59"), (at(17, 59, 28), at(12), "dry by 28 Nov 17:59"),
    (at(1, 30, 28), at(23, 30), "dry by 28 Nov 01:30"), (at(1, 30, 28), at(0, 30, 28), "crown dry by 01:30"),
    (at(16, 6), at(23, 30), "wet past dusk 16:06"), (at(16, 6), at(0, 30, 28), "wet since 27 Nov"),
    (at(16, 6), at(12, 0, 29), "wet since 27 Nov")])
def test_a_time_carries_its_day_unless_it_is_today(limit: datetime, now: datetime, said: str) -> None:
    assert care.words(wet(limit), now, LONDON, RULES).text == said
    assert len(said) <= 24


def test_a_pool_and_leaves_too() -> None:
    assert care.words(wet(at(17, 59, 28), pool=True), at(12), LONDON).text == "blot by 28 Nov 17:59"
    assert care.words(wet(at(17, 59), pool=True), at(12), LONDON).text == "blot first, by 17:59"
    assert care.words(wet(at(17, 59, 28), short="leaves dry"), at(12), LONDON).text == "dry by 28 Nov 17:59"


def test_the_reasons_carry_it_too() -> None:
    """Wet at six in the evening, with lamps that go off at four in the morning."""
    (drying,) = owed(told((at(18), Wetted((Part.CROWN,)))), CareKind.AIR, now=at(19), lights_out=time(4), zone=LONDON)
    times = re.findall(r"(\S+ \S+) (04:00)", text(drying))
    assert times
    assert {before for before, _ in times} == {"28 Nov"}


@pytest.mark.parametrize(("now", "word"), [
    (at(0, 30), "tonight"), (at(3, 59), "tonight"), (at(4), "today"), (at(8), "today"), (at(12), "today"),
    (at(16, 59), "today"), (at(17), "tonight"), (at(23, 30), "tonight")])
def test_hands_are_needed_today_by_day_and_tonight_from_the_evening_until_the_day_ends(now: datetime,
                                                                                     word: str) -> None:
    assert hands_when(now, LONDON, RULES) == word
    assert hands_when(at(0, 30), LONDON, HouseRules(day_ends_at_hour=0)) == "today"


def test_a_time_in_words() -> None:
    assert time_words(at(17, 2), at(9), LONDON) == "17:02"
    assert time_words(at(17, 2), at(9, 0, 28), LONDON) == "27 Nov 17:02"


def test_every_kind_owed_on_a_day_is_told_by_care_days_at_any_hour() -> None:
    for kind in set(CareKind) - {CareKind.AIR}:
        one = Care(101, kind, "What", "check", DAY, DAY, DAY, (Reason("because", ""),), 1, hold=False)
        for now, said in ((at(12), "check today"), (at(23, 30), "check today"), (at(0, 30, 28), "check today"),
                          (at(4, 0, 28), "check since 27 Nov"), (at(23, 30, 26), "check tomorrow")):
            assert care.words(one, now, LONDON, RULES).text == said, (kind, now)
        assert care.turn_of(one, at(0, 30, 28), LONDON, RULES) in (Turn.TODAY, Turn.NOW)
        assert DAY + timedelta(days=1) == at(0, 30, 28).date(), "though the calendar turned"
