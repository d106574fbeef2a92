"""Plain water after a root disinfection, and half feed when it ends."""

from __future__ import annotations

from datetime import UTC, date, datetime, timedelta
from zoneinfo import ZoneInfo

import pytest

from greenhouse_desk.domain import care
from greenhouse_desk.domain.care import CareKind
from greenhouse_desk.domain.journal import Poured, Reply
from greenhouse_desk.domain.settings import HouseRules
from tests.builders import NOW, ago
from tests.domain.care_asking import LONDON, PEROXIDE, WASH, answered, days, owed, text, told


def hold(*written: tuple[datetime, care.Moment | object], **asked: object) -> tuple[care.Care, ...]:
    return owed(told(*written), CareKind.PLAIN_WATER, **asked)  # type: ignore[arg-type]


def feed(*written: tuple[datetime, object], **asked: object) -> tuple[care.Care, ...]:
    return owed(told(*written), CareKind.HALF_FEED, **asked)  # type: ignore[arg-type]


@pytest.mark.parametrize(("days_ago", "running"), [(0, True), (1, True), (13, True), (14, False), (40, False)])
def test_the_hold_runs_from_day_0_and_feed_resumes_on_day_14(days_ago: int, running: bool) -> None:
    assert bool(hold((ago(days=days_ago), PEROXIDE))) is running


def test_the_hold_says_until_when_and_why() -> None:
    (plain,) = hold((ago(), PEROXIDE))
    assert plain.hold
    assert plain.opens == date(2026, 11, 18)
    assert plain.due == date(2026, 12, 2)
    assert "hydrogen peroxide 3 %" in text(plain)
    assert "common practice" in text(plain)
    assert care.words(plain, NOW, LONDON) == care.CareWords("hold", "plain water until 2 Dec")


def test_changing_the_house_rule_changes_the_day_and_the_reasoning() -> None:
    (plain,) = hold((ago(), PEROXIDE), rules=HouseRules(plain_water_days=21))
    assert plain.due == date(2026, 12, 9)
    assert "21 days" in text(plain)
    assert "program's own is 14" in text(plain)
    assert hold((ago(), PEROXIDE), rules=HouseRules(plain_water_days=0)) == ()


def test_a_second_disinfection_extends_the_hold_and_says_so() -> None:
    (plain,) = hold((ago(days=10), PEROXIDE), (ago(days=2), PEROXIDE))
    assert plain.due == date(2026, 11, 30)
    assert "extends the hold from 8 Nov" in text(plain)


def test_a_pest_wash_is_no_root_disinfection() -> None:
    assert hold((ago(), WASH)) == ()


def test_a_treatment_past_midnight_counts_for_the_evening_before() -> None:
    night = datetime(2026, 11, 18, 1, 30, tzinfo=UTC)
    (plain,) = hold((night, PEROXIDE))
    assert plain.opens == date(2026, 11, 17)
    assert plain.due == date(2026, 12, 1)
    assert "The day ends at 04:00" in text(plain)
    (other,) = hold((night, PEROXIDE), rules=HouseRules(day_ends_at_hour=1))
    assert other.due == date(2026, 12, 2)
    assert "The day ends" not in text(other)


@pytest.mark.parametrize("moment", ["2026-03-28T23:30+00:00", "2026-03-29T00:30+00:00", "2026-03-29T01:30+00:00"])
def test_the_night_the_clocks_change_is_one_day_like_any_other(moment: str) -> None:
    at = datetime.fromisoformat(moment)
    (plain,) = hold((at, PEROXIDE), now=at + timedelta(hours=9))
    assert plain.due == date(2026, 4, 11)


def test_the_zone_decides_the_day() -> None:
    at = datetime(2026, 11, 18, 15, 30, tzinfo=UTC)
    (tokyo,) = hold((at, PEROXIDE), zone=ZoneInfo("Asia/Tokyo"), rules=HouseRules(day_ends_at_hour=0))
    assert tokyo.opens == date(2026, 11, 19)


def test_a_hold_ends_early_only_when_declined() -> None:
    (plain,) = hold((ago(days=3), PEROXIDE))
    assert hold((ago(days=3), PEROXIDE), answered(plain, Reply.DECLINED, ago(), reason="it was tap water only")) == ()
    assert hold((ago(days=3), PEROXIDE), answered(plain, Reply.DONE, ago()))


def test_feed_poured_during_the_hold_ends_nothing_and_is_told() -> None:
    (plain,) = hold((ago(days=3), PEROXIDE), (ago(days=1), Poured(feed=True)))
    assert "Feed was poured on 17 Nov" in text(plain)
    assert feed((ago(days=20), PEROXIDE), (ago(days=15), Poured(feed=True)))


def test_half_feed_is_due_when_the_hold_ends_and_ends_with_the_first_feed() -> None:
    assert days(feed((ago(days=3), PEROXIDE))) == [11]
    assert days(feed((ago(days=14), PEROXIDE))) == [0]
    assert feed((ago(days=16), PEROXIDE), (ago(days=1), Poured(feed=True, half_strength=True))) == ()
    assert feed((ago(days=16), PEROXIDE), (ago(days=1), Poured(feed=False)))
    assert feed((ago(days=16), PEROXIDE), (ago(days=2), Poured(feed=True))) == ()
    assert feed((ago(days=16), PEROXIDE), (ago(days=3), Poured(feed=True)))


def test_half_feed_follows_a_hold_that_was_ended_early() -> None:
    (plain,) = hold((ago(days=3), PEROXIDE))
    said = answered(plain, Reply.DECLINED, ago(days=1), reason="roots are strong")
    (half,) = feed((ago(days=3), PEROXIDE), said)
    assert half.due == date(2026, 11, 17)
    assert "roots are strong" in text(half)


def test_half_feed_put_off_moves_and_lapses_in_the_end() -> None:
    (half,) = feed((ago(days=14), PEROXIDE))
    (moved,) = feed((ago(days=14), PEROXIDE), answered(half, Reply.PUT_OFF, ago(), days=6))
    assert moved.due == date(2026, 11, 24)
    assert "put off until 24 Nov" in text(moved)
    assert feed((ago(days=14 + 7 + 30), PEROXIDE))
    assert feed((ago(days=14 + 7 + 31), PEROXIDE)) == ()
