"""A year for each genus: months over New Year and in the south, the file read whole, and what entries say of it."""

from __future__ import annotations

import tomllib
from datetime import date

import pytest

from greenhouse_desk.domain.journal_year import Flowering, Phase, Resting, Stage
from greenhouse_desk.domain.year import GenusYear, Stretch, Years, read_years, written_year
from greenhouse_desk.domain.year_state import standing
from greenhouse_desk.services.shelf import shelf
from greenhouse_desk.shipped import folder
from tests.builders import NOW, ago, history

WINTER = Stretch(11, 1)


@pytest.mark.parametrize(("stretch", "day", "first", "last"), [
    (WINTER, date(2026, 11, 18), date(2026, 11, 1), date(2027, 1, 31)),
    (WINTER, date(2027, 1, 31), date(2026, 11, 1), date(2027, 1, 31)),
    (WINTER, date(2027, 2, 1), date(2027, 11, 1), date(2028, 1, 31)),
    (Stretch(3, 4), date(2026, 11, 18), date(2027, 3, 1), date(2027, 4, 30)),
    (Stretch(2, 2), date(2028, 2, 29), date(2028, 2, 1), date(2028, 2, 29)),
    (Stretch(10, 12), date(2026, 12, 31), date(2026, 10, 1), date(2026, 12, 31)),
    (Stretch(12, 12), date(2026, 1, 1), date(2026, 12, 1), date(2026, 12, 31)),
])
def test_a_stretch_is_found_around_a_day_or_after_it(stretch: Stretch, day: date, first: date, last: date) -> None:
    assert stretch.around(day) == (first, last)
    assert stretch.holds(day) is (first <= day)


def test_in_the_south_the_months_fall_half_a_year_later() -> None:
    assert WINTER.local(True) == Stretch(5, 7)
    assert WINTER.local(True).local(True) == WINTER.local(False) == WINTER
    assert (WINTER.words, WINTER.local(True).words, Stretch(3, 3).words) == ("Nov to Jan", "May to Jul", "Mar")
    assert (Stretch(1, 12).words, Stretch(5, 4).words) == ("all year", "all year")


def test_the_growers_own_year_comes_first() -> None:
    ours, mine = GenusYear("Vanda", growth=WINTER), GenusYear("Vanda")
    known = Years({"Vanda": ours}, {"Vanda": mine})
    assert (known.of("Vanda"), Years({"Vanda": ours}).of("Vanda"), known.of("Laelia")) == (mine, ours, None)


@pytest.mark.parametrize(("line", "path", "message"), [
    ('rest = ["Nov"]', "Vanda.rest", "first and last month"),
    ('rest = ["Nov", "November"]', "Vanda.rest", "first and last month"),
    ('rest = "Nov"', "Vanda.rest", "a list was expected"),
    ("dry_rest = true", "Vanda.dry_rest", "the months of the rest"),
    ('dry_rest = "yes"', "Vanda.dry_rest", "true or false"),
    ('sleep = ["Nov", "Jan"]', "Vanda.sleep", "unknown key"),
    ("note = 3", "Vanda.note", "text was expected")])
def test_every_fault_is_told_and_the_other_genera_stay(line: str, path: str, message: str) -> None:
    text = f'[Vanda]\n{line}\nsource = "heard"\n[Laelia]\nbloom = ["Oct", "Jan"]\nsource = "from memory"\n'
    found, faults = read_years(tomllib.loads(text), "years.toml")
    assert list(found) == ["Laelia"]
    assert {fault.path for fault in faults} == {path, "Vanda.source"}
    assert message in next(fault.message for fault in faults if fault.path == path)


def test_a_name_that_is_no_genus_is_told() -> None:
    _, faults = read_years({"vanda x": {"source": "from memory"}}, "years.toml")
    assert [fault.path for fault in faults] == ["vanda x"]


def test_the_shipped_years_are_sound_marked_and_read_back_as_written() -> None:
    found, faults = read_years(tomllib.loads(folder("years.toml").read_text("utf-8")), "years.toml")
    assert faults == ()
    assert len(found) >= 45
    assert {year.source for year in found.values()} == {"from memory"}
    assert read_years({name: written_year(year) for name, year in found.items()}, "again") == (found, ())
    assert not [fault for fault in shelf(None).faults if fault.file == "years.toml"]


def test_a_spike_counts_until_its_flowers_are_over_and_not_for_ever() -> None:
    seen = (ago(50), Flowering(Stage.SPIKE)), (ago(20), Flowering(Stage.OPEN, 3))
    told = standing(history(*seen).entries, NOW).spike
    assert told is not None
    assert (told.so, told.words, told.at) == (True, "in flower", ago(20))
    over = standing(history(*seen, (ago(2), Flowering(Stage.OVER))).entries, NOW).spike
    assert over is not None
    assert not over.so
    assert standing(history((ago(61), Flowering(Stage.OVER))).entries, NOW).spike is None
    assert standing(history((ago(241), Flowering(Stage.SPIKE))).entries, NOW).spike is None
    assert standing(history((ago(-1), Flowering(Stage.SPIKE))).entries, NOW).spike is None, "still to come"


def test_a_rest_runs_from_its_begin_to_its_end_and_tells_whether_it_is_dry() -> None:
    dry = standing(history((ago(9), Resting(Phase.BEGINS, dry=True))).entries, NOW)
    assert dry.rest is not None
    assert (dry.rest.so, dry.dry, dry.spike) == (True, True, None)
    ended = standing(history((ago(9), Resting(Phase.BEGINS, dry=True)), (ago(1), Resting(Phase.ENDS))).entries, NOW)
    assert ended.rest is not None
    assert (ended.rest.so, ended.dry) == (False, False)
