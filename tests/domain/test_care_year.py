"""A dry rest holds water back and a repotting window is told calmly: by genus, hemisphere, entries and house rules."""

from __future__ import annotations

from dataclasses import replace
from datetime import UTC, date, datetime, time, timedelta

import pytest

from greenhouse_desk.domain.care import Care, CareKind, Turn, turn_of
from greenhouse_desk.domain.journal import Arrived, Facts, Potted, Reply
from greenhouse_desk.domain.journal_year import Flowering, Phase, Resting, Stage
from greenhouse_desk.domain.plants import Home
from greenhouse_desk.domain.settings import HouseRules
from greenhouse_desk.domain.year import GenusYear, Stretch, Years
from greenhouse_desk.ui.bell import fell_due
from tests.builders import NOW, ago
from tests.domain.care_asking import HOME, LONDON, answered, owed, text, told

DRY = GenusYear("Phalaenopsis", rest=Stretch(11, 1), dry=True, repot=Stretch(3, 4), note="Kinds differ.",
                source="from memory")
YEARS = Years({"Phalaenopsis": DRY})
SOUTH = Home(-33.9, 18.4, "Africa/Johannesburg")
CAME: tuple[datetime, Facts] = (ago(1500), Arrived())
MARCH = datetime(2027, 3, 10, 12, tzinfo=UTC)


def rests(*written: tuple[datetime, Facts], now: datetime = NOW, years: Years = YEARS, home: Home = HOME,
          rules: HouseRules | None = None) -> tuple[Care, ...]:
    """The dry rest that is owed."""
    return owed(told(CAME, *written), CareKind.DRY_REST, now, rules, years=years, home=home)


def windows(*written: tuple[datetime, Facts], now: datetime = MARCH, years: Years = YEARS,
            rules: HouseRules | None = None) -> tuple[Care, ...]:
    """The repotting window that is told."""
    return owed(told(CAME, *written), CareKind.REPOT_WINDOW, now, rules, years=years)


def test_a_genus_that_rests_dry_is_held_through_its_months_with_its_mark() -> None:
    (one,) = rests()
    assert one.hold
    assert (one.opens, one.due) == (date(2026, 11, 1), date(2027, 1, 31))
    assert "A Phalaenopsis usually rests dry Nov to Jan. [from memory]" in text(one)
    assert "Kinds differ. [from memory]" in text(one)
    assert turn_of(one, NOW, LONDON, HouseRules()) is Turn.HOLD
    assert rests(now=datetime(2027, 2, 1, 12, tzinfo=UTC)) == rests(now=ago(30)) == ()


def test_it_falls_half_a_year_later_in_the_south() -> None:
    assert rests(home=SOUTH) == ()
    (one,) = rests(now=datetime(2027, 6, 1, 12, tzinfo=UTC), home=SOUTH)
    assert (one.opens, one.due) == (date(2027, 5, 1), date(2027, 7, 31))
    assert "south of the equator" in text(one)


@pytest.mark.parametrize("written", [
    (ago(5), Resting(Phase.ENDS)), (ago(10), Flowering(Stage.BUDS)), (ago(100), Potted("bark")),
    (ago(3), Resting(Phase.BEGINS))])
def test_none_is_asked_once_it_ended_nor_in_spike_nor_after_a_repot_nor_in_a_moist_rest(
        written: tuple[datetime, Facts]) -> None:
    assert rests(written) == ()


def test_a_rest_that_ended_last_year_or_a_spike_long_over_says_nothing_of_this_one() -> None:
    assert rests((ago(300), Resting(Phase.ENDS)), (ago(100), Flowering(Stage.OVER)), (ago(113), Potted("bark")))


def test_a_house_rule_or_a_reason_ends_it() -> None:
    assert rests(rules=HouseRules(dry_rest_told=False)) == ()
    begins = (ago(3), Resting(Phase.BEGINS, dry=True))
    assert rests(begins, rules=HouseRules(dry_rest_told=False)) == rests(begins) != (), "what the grower wrote is held"
    (one,) = rests()
    assert rests(answered(one, Reply.DECLINED, ago(1), reason="it grows on")) == ()
    assert rests(years=Years({"Phalaenopsis": replace(DRY, dry=False)})) == rests(years=Years()) == ()


def test_what_only_a_genus_usually_does_is_told_apart_from_what_the_grower_wrote() -> None:
    (usual,) = rests()
    assert usual.usual
    assert "ask you before they water" in text(usual)
    (written,) = rests((ago(3), Resting(Phase.BEGINS, dry=True)))
    (own,) = rests(years=Years(own={"Phalaenopsis": DRY}))
    assert not written.usual
    assert not own.usual, "a year the grower wrote is the grower's word"


def test_a_dry_rest_written_down_is_held_whatever_the_genus() -> None:
    begins = (ago(3), Resting(Phase.BEGINS, dry=True))
    (known,) = rests(begins)
    assert (known.opens, known.due, known.origin) == (ago(3).date(), date(2027, 1, 31), 2)
    (unknown,) = rests(begins, years=Years())
    assert unknown.due == ago(3).date() + timedelta(days=180)
    assert "No rest of its genus is known" in text(unknown)


@pytest.mark.parametrize(("begins", "end", "said"), [
    ((2027, 2, 10), (2027, 8, 9), "held for 180 days"), ((2026, 9, 10), (2027, 1, 31), "usually rests Nov to Jan"),
    ((2026, 8, 20), (2027, 2, 16), "held for 180 days"), ((2027, 1, 31), (2027, 1, 31), "usually rests Nov to Jan")])
def test_a_rest_out_of_its_genus_months_ends_when_it_stops_to_count_never_a_year_later(
        begins: tuple[int, int, int], end: tuple[int, int, int], said: str) -> None:
    start = datetime(*begins, 12, tzinfo=UTC)
    (one,) = rests((start, Resting(Phase.BEGINS, dry=True)), now=start + timedelta(hours=2))
    assert one.due == date(*end)
    assert said in text(one)


def test_a_rest_is_never_told_for_longer_than_its_entry_counts() -> None:
    long = Years({"Phalaenopsis": replace(DRY, rest=Stretch(10, 6))})
    start = datetime(2026, 10, 1, 12, tzinfo=UTC)
    (one,) = rests((start, Resting(Phase.BEGINS, dry=True)), years=long)
    assert one.due == date(2027, 3, 30)
    assert "held for 180 days" in text(one)


def test_a_repotting_window_is_open_for_its_months_and_lies_under_later() -> None:
    (one,) = windows()
    assert (one.opens, one.due, one.latest) == (date(2027, 3, 1), date(2027, 3, 1), date(2027, 4, 30))
    assert [turn_of(one, datetime(2027, *day, 12, tzinfo=UTC), LONDON, HouseRules()) for day in (
        (3, 10), (4, 20), (4, 28), (4, 30))] == [Turn.LATER, Turn.LATER, Turn.WEEK, Turn.TODAY]
    assert windows(now=datetime(2027, 5, 2, 12, tzinfo=UTC)) == (), "never late, and next year's is far"
    assert windows(now=datetime(2027, 12, 30, 12, tzinfo=UTC)) == ()
    assert windows(now=datetime(2028, 1, 1, 12, tzinfo=UTC))[0].opens == date(2028, 3, 1)
    assert "24 months" in text(one)
    assert fell_due((one,), MARCH - timedelta(days=20), MARCH, LONDON, time(9)) == (), "no bell rings for it"


def test_it_waits_until_the_plant_stood_long_enough_and_its_flowers_are_over() -> None:
    assert windows((ago(300), Potted("bark"))) == ()
    assert windows((ago(300), Potted("bark")), rules=HouseRules(repot_after_months=12))
    assert windows(rules=HouseRules(repot_after_months=0)) == ()
    assert windows((ago(-100), Flowering(Stage.OPEN))) == ()
    assert windows(years=Years()) == ()
    assert windows((ago(900), Potted("bark")))[0].origin == 2, "the potting it stands in"


def test_an_answer_holds_for_this_years_window_only() -> None:
    (one,) = windows()
    (later,) = windows(answered(one, Reply.PUT_OFF, MARCH - timedelta(days=1), 20))
    assert (later.due, later.latest) == (date(2027, 3, 29), date(2027, 4, 30))
    said = answered(one, Reply.DECLINED, MARCH - timedelta(days=1), reason="next year")
    assert windows(said) == ()
    assert windows(said, now=datetime(2028, 3, 1, 12, tzinfo=UTC))
