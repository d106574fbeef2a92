"""What the collection teaches: groups, counts and shares from journals, and no chart where there is too little."""

from __future__ import annotations

import csv
import io
import re
from dataclasses import replace
from datetime import UTC, date, datetime, timedelta
from zoneinfo import ZoneInfo

import pytest

from greenhouse_desk.domain.courses_values import Course, End
from greenhouse_desk.domain.dealings import Found, SourceRecord
from greenhouse_desk.domain.findings import Amounts, Curves, Months, Shares, Table, Tracks
from greenhouse_desk.domain.findings_air import WetNight, air
from greenhouse_desk.domain.findings_pests import by_month, by_source, losses, wet_crowns
from greenhouse_desk.domain.findings_settling import By, season, settling
from greenhouse_desk.domain.findings_tracks import roots
from greenhouse_desk.domain.journal import Dry, Left, Roots, Sighted, Signs, Wetted
from greenhouse_desk.domain.journal_course import Leaves
from greenhouse_desk.domain.journal_words import Leaving, Part
from greenhouse_desk.domain.plants import Air
from tests.builders import NOW, ago, history, plant
from tests.domain.course_builders import course

TODAY = NOW.date()
CROWN = Wetted((Part.CROWN,))


def moved(number: int, days: int, end: End = End.SETTLED, genus: str = "Vanda", medium: str = "pellets",
          start: date = date(2026, 3, 2)) -> Course:
    """A course that ended so after so many days."""
    return Course(number, genus, number, start, "bark", medium, (), end, start + timedelta(days=days))


FIVE = [moved(number, 10 * number) for number in range(1, 6)]


@pytest.mark.parametrize(("day", "latitude", "said"), [
    (date(2026, 12, 1), 51.0, "winter"), (date(2026, 2, 28), 51.0, "winter"), (date(2026, 3, 1), 51.0, "spring"),
    (date(2026, 8, 31), 51.0, "summer"), (date(2026, 9, 1), 51.0, "autumn"), (date(2026, 12, 1), -33.0, "summer"),
    (date(2026, 6, 1), -33.0, "winter"), (date(2026, 3, 1), 0.0, "spring")])
def test_a_season_is_three_whole_months_and_half_a_year_later_in_the_south(day: date, latitude: float,
                                                                           said: str) -> None:
    assert season(day, latitude) == said


def test_five_settled_plants_make_a_curve_with_numbers_at_risk() -> None:
    found = settling([*FIVE, moved(6, 30, End.DIED)], By.ALL, {}, 51.0)
    assert isinstance(found.chart, Curves)
    (one,) = found.chart.groups
    assert (one.plants, one.settled) == (6, 5)
    assert one.last == 50.0
    assert one.at_risk == (6, 4, 0, 0, 0)  # settled on 10, 20, 30, 40 and 50; one died on day 30
    assert found.rests_on == "6 plants moved to another medium, of which 5 settled"
    assert "half settled by week 5" in found.summary  # 3 of 6 by day 30: at a tie the settled come first


def test_stepping_in_and_leaving_alone_are_drawn_side_by_side_and_plants_without_a_doubt_left_out() -> None:
    doubt = course(40, (14, Signs(leaves=Leaves.LIMP)))
    alone = [replace(doubt, plant=n, end=End.SETTLED, last=doubt.start + timedelta(days=50 + n)) for n in range(5)]
    hands = [replace(one, stepped=(doubt.start + timedelta(days=20),)) for one in alone]
    found = settling([*alone, *hands, *FIVE], By.HANDS, {}, 51.0)
    assert isinstance(found.chart, Curves)
    assert sorted(one.words for one in found.chart.groups) == ["left alone", "stepped in"]
    assert found.rests_on == "10 plants moved to another medium, all with a look that left a doubt, of which 10 settled"
    assert "Too few settled to draw: stepped in 4." in settling([*alone, *hands[:4]], By.HANDS, {}, 51.0).summary
    assert "Alive" not in settling(alone, By.ALL, {}, 51.0).summary, "nobody compares there"


def test_survival_stands_beside_settling_with_the_small_numbers_said() -> None:
    doubt = course(40, (14, Signs(leaves=Leaves.LIMP)))
    alone = [replace(doubt, plant=n, end=End.SETTLED, last=doubt.start + timedelta(days=50 + n)) for n in range(10)]
    alone[0], away = replace(alone[0], end=End.DIED), replace(doubt, plant=20, end=End.LEFT)
    hands = [replace(one, stepped=(doubt.start + timedelta(days=20),)) for one in alone[:4]]
    found = settling([*alone, away, *hands], By.HANDS, {}, 51.0)
    assert found.summary.endswith(
        "Alive at the end, of those that settled or died: left alone, 9 of 10 (95 % interval: 60 to 98 %); "
        "stepped in, 3 of 4 (too few to tell a share).")
    rows = {row[0]: row[-4:] for row in found.table.rows}
    assert found.table.head[-4:] == ("alive at the end", "of settled or died", "alive, low", "alive, high")
    assert rows == {"left alone": (9, 10, 0.5958, 0.9821), "stepped in": (3, 4, None, None)}


def test_four_settled_plants_make_no_curve_and_it_is_said() -> None:
    found = settling(FIVE[:4], By.ALL, {}, 51.0)
    assert found.chart is None
    assert found.summary.startswith("Only 4 plants settled in any one group; a chart is drawn from 5 on.")
    assert len(found.table.rows) == 5


def test_groups_too_small_are_named_and_not_drawn() -> None:
    found = settling([*FIVE, moved(9, 50, genus="Stelis")], By.GENUS, {}, 51.0)
    assert isinstance(found.chart, Curves)
    assert [one.words for one in found.chart.groups] == ["Vanda"]
    assert "Too few settled to draw: Stelis 1." in found.summary


def test_two_groups_are_tested_and_three_are_not() -> None:
    slow = [moved(10 + nth, 40 + 7 * nth, medium="bark") for nth in range(10)]
    quick = [moved(20 + nth, 33 + 7 * nth, medium="pellets") for nth in range(10)]
    third = [moved(30 + nth, 60 + nth, medium="moss") for nth in range(6)]
    alike, apart = (settling([*slow, *others], By.MEDIUM, {}, 51.0).summary
                    for others in ([moved(40 + nth, 40 + 7 * nth) for nth in range(10)], quick))
    assert "by chance 100 times in 100 (log-rank)" in alike
    chance = re.search(r"by chance (\d+) times in 100 \(log-rank\)", apart)
    assert chance is not None
    assert int(chance[1]) < 100
    three = settling([*slow, *quick, *third], By.MEDIUM, {}, 51.0).summary
    assert "log-rank" not in three
    assert "More than two groups are not tested" in three


def test_a_source_is_told_by_its_name_and_its_want() -> None:
    found = settling(FIVE, By.SOURCE, {1: "a fair", 2: "a fair"}, 51.0)
    assert {row[0] for row in found.table.rows} == {"a fair", "source not written down"}


def test_a_plant_counts_once_in_a_month_whatever_the_looks() -> None:
    seen = [history((ago(3), Sighted("thrips")), (ago(2), Sighted("thrips")), of=plant(number))
            for number in range(101, 106)]
    found = by_month(seen, {"thrips": "thrips"}, TODAY, UTC)
    assert isinstance(found.chart, Months)
    assert found.chart.months[-1] == date(2026, 11, 1)
    assert found.chart.months[0] == date(2024, 12, 1)
    ((words, counts),) = found.chart.series
    assert (words, sum(counts), counts[-1]) == ("thrips", 5, 5)
    assert by_month(seen[:4], {}, TODAY, UTC).chart is None


def test_a_months_end_is_the_houses_own() -> None:
    late = datetime(2026, 10, 31, 23, 30, tzinfo=UTC)
    seen = [history((late, Sighted("aphid")), of=plant(number)) for number in range(101, 106)]
    assert by_month(seen, {}, TODAY, UTC).table.rows == (("2026-10", "aphid", 5),)
    assert by_month(seen, {}, TODAY, ZoneInfo("Europe/Athens")).table.rows == (("2026-11", "aphid", 5),)


def test_more_pests_than_can_be_told_apart_are_added_up() -> None:
    seen = [history((ago(1), Sighted(f"pest {number}")), of=plant(number)) for number in range(101, 110)]
    found = by_month(seen, {}, TODAY, UTC)
    assert isinstance(found.chart, Months)
    assert len(found.chart.series) == 6
    assert found.chart.series[-1][0] == "4 others"
    assert sum(found.chart.series[-1][1]) == 4


def test_a_source_of_four_plants_is_told_but_not_drawn() -> None:
    shown = (Found(101, "thrips", 12),)
    found = by_source({"a fair": SourceRecord(10, 0, shown, (), None), "an aunt": SourceRecord(4, 0, (), (), None)})
    assert isinstance(found.chart, Shares)
    (row,) = found.chart.rows
    assert (row.words, row.hits, row.of) == ("a fair", 1, 10)
    assert row.span.low == pytest.approx(0.0179, abs=2e-4)  # Wilson's interval of 1 in 10
    assert row.span.high == pytest.approx(0.4042, abs=2e-4)
    assert "Too few plants to draw: an aunt (0 of 4)." in found.summary
    assert len(found.table.rows) == 2


def test_losses_count_the_dead_only_by_cause_as_written() -> None:
    dead = [history((ago(9), Left(Leaving.DEAD, reason)), of=plant(number))
            for number, reason in enumerate(("Crown rot", "crown  rot", "", "thrips", "crown rot"), 101)]
    given = history((ago(9), Left(Leaving.GIVEN_AWAY, "a friend")), of=plant(110))
    found = losses([*dead, given], UTC)
    assert isinstance(found.chart, Amounts)
    assert found.chart.rows == (("crown rot", 3), ("cause not written down", 1), ("thrips", 1))
    assert found.rests_on == "5 plants lost of 6 that ever stood here"
    assert losses(dead[:4], UTC).chart is None


@pytest.mark.parametrize(("hours", "words"), [(3.9, "under 4 hours"), (4, "4 to 8 hours"), (15.9, "8 to 16 hours"),
                                              (16, "16 hours and more")])
def test_a_wet_crown_is_counted_by_the_hours_until_it_was_dry(hours: float, words: str) -> None:
    wet = [history((ago(100), CROWN), (ago(100) + timedelta(hours=hours), Dry()), of=plant(number))
           for number in range(101, 106)]
    found = wet_crowns(wet, frozenset({"soft-rot"}), NOW)
    assert isinstance(found.chart, Shares)
    assert [(row.words, row.hits, row.of) for row in found.chart.rows] == [(words, 0, 5)]


def test_a_rot_or_a_death_soon_after_counts_and_one_long_after_does_not() -> None:
    def after(days: float, what: str) -> list[tuple[str, int, int]]:
        facts = Left(Leaving.DEAD) if what == "dead" else Sighted(what)
        wet = [history((ago(100), CROWN), (ago(100 - days), facts), of=plant(number)) for number in range(101, 106)]
        found = wet_crowns(wet, frozenset({"soft-rot"}), NOW)
        assert isinstance(found.chart, Shares)
        return [(row.words, row.hits, row.of) for row in found.chart.rows]

    assert after(60, "soft-rot") == [("never said dry", 5, 5)]
    assert after(60, "dead") == [("never said dry", 5, 5)]
    assert after(61, "soft-rot") == [("never said dry", 0, 5)]
    assert after(5, "thrips") == [("never said dry", 0, 5)]


def test_a_death_without_a_wetting_on_record_is_told_beside_the_counts() -> None:
    wet = [history((ago(100), CROWN), (ago(99), Dry()), of=plant(number)) for number in range(101, 106)]
    lost = history((ago(50), Left(Leaving.DEAD, "crown rot after a night wet")), of=plant(110))
    told = wet_crowns([*wet, lost], frozenset(), NOW).summary
    assert told.endswith("1 plant died with no wetted crown written down in the 60 days before; whatever they died of, "
                         "it is not counted here.")
    assert "written down in the" not in wet_crowns(wet, frozenset(), NOW).summary
    placed = history((ago(100), CROWN), (ago(40), Left(Leaving.DEAD)), of=plant(111))
    assert "written down in the" not in wet_crowns([*wet, placed], frozenset(), NOW).summary


def test_a_wetting_too_new_to_know_its_end_is_left_out() -> None:
    wet = [history((ago(59), CROWN), (ago(58), Dry()), of=plant(number)) for number in range(101, 106)]
    assert wet_crowns(wet, frozenset(), NOW).table.rows == ()


def test_a_wash_and_the_rinse_after_it_are_one_wetting_from_the_first_water_on() -> None:
    wet = ago(100)
    written = ((wet, Wetted((Part.PLANT,))), (wet + timedelta(hours=1), CROWN), (wet + timedelta(hours=5), Dry()))
    plants = [history(*written, of=plant(number)) for number in range(101, 106)]
    assert [row[:3] for row in wet_crowns(plants, frozenset(), NOW).table.rows] == [("4 to 8 hours", 0, 5)]


def test_a_dry_crown_after_the_next_wetting_says_nothing_of_the_first() -> None:
    wet = [history((ago(100), CROWN), (ago(99), CROWN), (ago(99) + timedelta(hours=2), Dry()), of=plant(number))
           for number in range(101, 106)]
    found = wet_crowns(wet, frozenset(), NOW)
    assert [row[:3] for row in found.table.rows] == [("under 4 hours", 0, 5), ("never said dry", 0, 5)]


def test_roots_are_drawn_from_two_counts_on() -> None:
    once = roots(history((ago(9), Roots(5, 2, 1))))
    assert once.chart is None
    assert once.summary == "Last counted 5 living, 2 dead, 1 new tips."
    twice = roots(history((ago(9), Roots(5, 2, 1)), (ago(1), Roots(8, 0, 3))))
    assert isinstance(twice.chart, Tracks)
    assert [line.points[-1][1] for line in twice.chart.lines] == [8.0, 0.0, 3.0]


def test_nights_too_moist_are_counted_by_night_not_by_reading() -> None:
    told = [Air(datetime(2026, 11, 1, hour, tzinfo=UTC), 18.0, rh) for hour, rh in ((21, 0.95), (23, 0.92), (12, 0.99))]
    told.append(Air(datetime(2026, 11, 2, 5, tzinfo=UTC), 15.0, 0.90))
    told.append(Air(datetime(2026, 11, 3, 5, tzinfo=UTC), 15.0, 0.89))
    found = air("sill", told, UTC, WetNight(0.9, 4))
    assert "2 nights have a reading, 1 of them one of 90 % RH or more" in found.summary
    assert isinstance(found.chart, Tracks)
    assert {line.unit for line in found.chart.lines} == {"C", "% RH", "kPa"}


def test_air_too_dry_for_a_dew_point_leaves_a_gap() -> None:
    found = air("oven", [Air(ago(2), 20.0, 1e-9), Air(ago(1), 20.0, 0.5)], UTC, WetNight(0.9, 4))
    assert [row[-1] for row in found.table.rows] == [None, pytest.approx(9.27, abs=0.02)]


def test_figures_that_look_like_formulas_are_made_harmless() -> None:
    written = Table(("a", "b"), (("=1+1", 2), ('say "x"', -3.5))).csv()
    assert list(csv.reader(io.StringIO(written))) == [["a", "b"], ["'=1+1", "2"], ['say "x"', "-3.5"]]
