"""A logger's file taken in at a place: merged, told, undone, and used by all that asks for the air."""

from __future__ import annotations

import csv
from collections.abc import Sequence
from dataclasses import replace
from datetime import UTC, datetime, timedelta
from pathlib import Path

import pytest

from greenhouse_desk.domain.air_log import Clock
from greenhouse_desk.domain.faults import Refused
from greenhouse_desk.domain.plants import Home, Place
from greenhouse_desk.services import air_import, airflow, backup, care, collection, collection_why, findings, house
from greenhouse_desk.services.air_import import Looked, Prepared
from greenhouse_desk.services.care_temperatures import Temperatures
from greenhouse_desk.services.desk import Desk
from greenhouse_desk.services.findings import Question, Topic
from greenhouse_desk.store import air
from tests.builders import NOW

START = datetime(2026, 11, 17, tzinfo=UTC)


@pytest.fixture
def sill(desk: Desk) -> int:
    """A bench at home in Madrid."""
    desk.run(house.save_home, Home(43.3, -8.2, "Europe/Madrid"))
    return desk.run(collection.save_place, Place(0, "East sill"))


def rows(count: int, start: datetime = START, temp: float = 20.0) -> list[str]:
    """Every ten minutes, in UTC with its offset."""
    return [f"{start + timedelta(minutes=10 * nth):%Y-%m-%dT%H:%M}Z,{temp + nth % 6 / 10:.1f},{60 + nth % 9}"
            for nth in range(count)]


def written(path: Path, lines: Sequence[str], head: str = "time,temperature,humidity") -> Path:
    path.write_text("\n".join([head, *lines]) + "\n", encoding="utf-8")
    return path


def prepared(desk: Desk, looked: Looked, place: int) -> Prepared:
    return air_import.prepare(looked, place, desk.read(house.zone), NOW, desk.read(air_import.known_days, place))


def take(desk: Desk, path: Path, place: int) -> Prepared:
    return desk.run(air_import.take_in, prepared(desk, desk.read(air_import.look, path), place))


def kept(desk: Desk, place: int) -> list[tuple[datetime, float, float | None]]:
    return [(one.at, one.temp_c, one.rh) for one in desk.read(air.record, place, START)]


def test_a_file_is_taken_in_undone_and_done_again_as_one_deed(desk: Desk, sill: int, tmp_path: Path) -> None:
    done = take(desk, written(tmp_path / "a.csv", rows(200)), sill)
    assert (done.added, done.changed, air_import.same(done)) == (200, 0, 0)
    whole = kept(desk, sill)
    assert len(whole) == 200
    assert whole[7] == (START + timedelta(minutes=70), 20.1, 0.67)
    deed = desk.next_undo()
    assert deed is not None
    assert deed.label == "Air of East sill from a.csv"
    assert desk.store.raw.execute("SELECT count(*) FROM deed_change WHERE deed = ?", (deed.id,)).fetchone() == (4,), \
        "two days, the import, the columns: not a row a reading"
    desk.undo()
    assert kept(desk, sill) == []
    assert desk.read(air_import.imported, sill) == ()
    desk.redo()
    assert kept(desk, sill) == whole
    assert backup.check(desk.store) == ()


def test_the_same_file_again_changes_nothing_and_an_overlapping_one_only_what_differs(
        desk: Desk, sill: int, tmp_path: Path) -> None:
    path = written(tmp_path / "a.csv", rows(200))
    take(desk, path, sill)
    before = kept(desk, sill)
    again = take(desk, path, sill)
    assert (again.added, again.changed, air_import.same(again)) == (0, 0, 200)
    assert (kept(desk, sill), len(desk.read(air_import.imported, sill))) == (before, 1)
    mended = rows(230)[100:]
    mended[10] = mended[10].replace(",20.", ",25.")
    over = take(desk, written(tmp_path / "b.csv", mended), sill)
    assert (over.added, over.changed, air_import.same(over)) == (30, 1, 99)
    after = kept(desk, sill)
    assert len(after) == 230
    assert next(one for one in after if one not in before)[1] > 25
    desk.undo()
    assert kept(desk, sill) == before
    assert backup.check(desk.store) == ()


def test_columns_set_by_hand_are_remembered_for_files_that_look_alike(desk: Desk, sill: int, tmp_path: Path) -> None:
    first = desk.read(air_import.look, written(tmp_path / "a.csv", rows(20)))
    assert not first.known
    mine = replace(first, columns=replace(first.columns, clock=Clock.FIXED, offset_minutes=60, temp=2, rh=1))
    desk.run(air_import.take_in, prepared(desk, mine, sill))
    written(tmp_path / "b.csv", rows(20, START + timedelta(days=1))).write_text(
        "Exported today\n\n" + (tmp_path / "b.csv").read_text())
    later = desk.read(air_import.look, tmp_path / "b.csv")
    assert later.known
    assert later.columns == replace(mine.columns, head=3)
    other = desk.read(air_import.look, written(tmp_path / "c.csv", rows(3), "Time;T,RH"))
    assert not other.known


def test_a_file_without_a_table_and_one_without_a_readable_line_are_refused(
        desk: Desk, sill: int, tmp_path: Path) -> None:
    (tmp_path / "words.csv").write_text("nothing here\nat all\n")
    with pytest.raises(Refused, match="no table"):
        desk.read(air_import.look, tmp_path / "words.csv")
    with pytest.raises(Refused, match="cannot be read"):
        desk.read(air_import.look, tmp_path / "missing.csv")
    looked = desk.read(air_import.look, written(tmp_path / "a.csv", [row + "x" for row in rows(5)]))
    with pytest.raises(Refused, match="Nothing could be read") as caught:
        prepared(desk, looked, sill)
    assert "Line 2: Humidity: “60x” is no number." in caught.value.detail


def test_a_file_that_is_no_table_at_all_is_refused_whole(desk: Desk, sill: int, tmp_path: Path) -> None:
    path = written(tmp_path / "a.csv", [*rows(5), '"' + "x" * 200_000])
    csv.field_size_limit(10_000_000)  # as a list of plants leaves it
    looked = desk.read(air_import.look, path)
    with pytest.raises(Refused, match=r"a\.csv is no table"):
        prepared(desk, looked, sill)


@pytest.mark.parametrize("encoding", ["utf-8-sig", "utf-16", "cp1252"])
def test_a_loggers_text_is_read_in_its_encoding(desk: Desk, tmp_path: Path, encoding: str) -> None:
    path = tmp_path / "a.csv"
    path.write_bytes("\n".join(["time;Temp °C;RH", "2026-11-01 12:00;20,5;60", ""]).encode(encoding))
    assert desk.read(air_import.look, path).sample.names == ("time", "Temp °C", "RH")


def test_a_record_that_changed_while_the_file_was_read_is_not_overwritten(
        desk: Desk, sill: int, tmp_path: Path) -> None:
    slow = prepared(desk, desk.read(air_import.look, written(tmp_path / "a.csv", rows(20))), sill)
    take(desk, written(tmp_path / "b.csv", rows(40, temp=25.0)), sill)
    with pytest.raises(Refused, match="changed meanwhile"):
        desk.run(air_import.take_in, slow)


def test_a_place_with_a_loggers_record_stays(desk: Desk, sill: int, tmp_path: Path) -> None:
    take(desk, written(tmp_path / "a.csv", rows(20)), sill)
    with pytest.raises(Refused, match="The journal tells of East sill"):
        desk.run(collection.remove_place, sill)
    desk.undo()
    desk.run(collection.remove_place, sill)


def test_all_that_asks_for_the_air_hears_the_logger(desk: Desk, sill: int, tmp_path: Path) -> None:
    """Drying before it is wet, the bench's head and its why, the dates of washes, and the finding."""
    desk.run(collection.add_plant, collection.NewPlant("Vanda tricolor", place=sill))
    assert desk.read(airflow.rinses, NOW)[0].read is False
    take(desk, written(tmp_path / "a.csv", rows(230)), sill)
    assert desk.read(airflow.rinses, NOW)[0].read is True
    (bench,) = desk.read(collection.overview, NOW).benches
    assert bench.air is not None
    assert bench.air.logged
    assert len(bench.trace) > 100
    assert "a logger's file that was taken in" in {one.source for one in desk.read(collection_why.air, sill, NOW)}
    around = desk.read(care.surroundings)
    with desk.store.reading() as session:
        climate = Temperatures(session, around.places, NOW, around.zone).around(sill)
    assert climate is not None
    assert climate.readings == 230
    assert {day.low_c for day in climate.days.values()} == {20.0}
    assert [one.id for one in desk.read(findings.choices).places] == [sill]
    found = desk.read(findings.answer, NOW, Question(Topic.AIR, place=sill))
    assert found.rests_on == "230 readings of a logger on 2 days"
