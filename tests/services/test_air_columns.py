"""What parts the cells of a logger's file, told by hand and remembered; and a logger that reads no humidity."""

from __future__ import annotations

from dataclasses import replace
from datetime import timedelta
from pathlib import Path

import pytest

from greenhouse_desk.domain.air_log_preview import NO_HUMIDITY
from greenhouse_desk.domain.faults import Refused
from greenhouse_desk.domain.plants import Place
from greenhouse_desk.services import air_import, airflow, collection, collection_why, findings
from greenhouse_desk.services.air_import_words import sentences
from greenhouse_desk.services.desk import Desk
from greenhouse_desk.services.findings import Question, Topic
from greenhouse_desk.store import air
from tests.builders import NOW
from tests.domain.air_files import MADRID
from tests.services.test_air_import import START, prepared, take, written


@pytest.fixture
def sill(desk: Desk) -> int:
    """A bench."""
    return desk.run(collection.save_place, Place(0, "East sill"))


def misleading(path: Path, days: int = 0) -> Path:
    """Cells parted by tabs; a note in each row has more semicolons than there are tabs."""
    lines = [f"{START + timedelta(days=days, minutes=10 * nth):%Y-%m-%dT%H:%M}Z\t20.{nth}\t61\ta;1;2;3"
             for nth in range(6)]
    return written(path, lines, "time\ttemp\trh\tnote;a;b;c")


def test_what_parts_the_cells_is_told_by_hand_and_remembered(desk: Desk, sill: int, tmp_path: Path) -> None:
    seen = desk.read(air_import.look, misleading(tmp_path / "a.csv"))
    assert seen.columns.delimiter == ";"
    right = air_import.parted(seen, "\t")
    assert right.sample.names == ("time", "temp", "rh", "note;a;b;c")
    assert (right.columns.delimiter, right.columns.temp, right.columns.rh) == ("\t", 1, 2)
    assert desk.run(air_import.take_in, prepared(desk, right, sill)).added == 6
    later = desk.read(air_import.look, misleading(tmp_path / "b.csv", 1))
    assert later.known
    assert later.columns == right.columns
    assert later.sample.names == right.sample.names


def test_what_makes_no_table_is_refused(desk: Desk, tmp_path: Path) -> None:
    seen = desk.read(air_import.look, misleading(tmp_path / "a.csv"))
    with pytest.raises(Refused, match="There is no table in that file") as refused:
        air_import.parted(seen, "|")
    assert "parted by a bar" in refused.value.detail


def test_a_logger_without_humidity_is_taken_in_and_what_needs_humidity_is_left_out(desk: Desk, sill: int,
                                                                                  tmp_path: Path) -> None:
    desk.run(collection.add_plant, collection.NewPlant("Vanda tricolor", place=sill))
    lines = [f"{NOW - timedelta(minutes=10 * nth):%Y-%m-%dT%H:%M}Z,{20 + nth % 5}.0" for nth in range(100, 0, -1)]
    made = take(desk, written(tmp_path / "warm.csv", lines, "time,temperature"), sill)
    assert (made.added, made.heard.refused) == (100, 0)
    assert NO_HUMIDITY in sentences(made, MADRID)
    assert desk.read(air.newest)[sill].rh is None
    assert desk.read(airflow.rinses, NOW)[0].read is False, "it tells no drying time"
    said = [one.text for one in desk.read(collection_why.air, sill, NOW)]
    assert said[0].startswith("21.0 C, humidity unknown, air speed not measured: read at East sill")
    assert said[-1] == ("Its logger reads no humidity: without it neither VPD, dew point nor drying time can be told.")
    found = desk.read(findings.answer, NOW, Question(Topic.AIR, place=sill))
    assert "No humidity was measured" in found.summary
    assert found.chart is not None


def test_humidity_read_around_it_holds_for_a_place_whose_logger_reads_none(desk: Desk, sill: int,
                                                                          tmp_path: Path) -> None:
    shelf = desk.run(collection.save_place, Place(0, "Shelf", parent=sill))
    desk.run(collection.add_plant, collection.NewPlant("Vanda tricolor", place=shelf))
    lines = [f"{NOW - timedelta(minutes=5):%Y-%m-%dT%H:%M}Z,20.0"]
    take(desk, written(tmp_path / "warm.csv", lines, "time,temperature"), shelf)
    desk.run(collection.record_air, sill, 19.0, 0.5)
    assert desk.read(airflow.rinses, NOW)[0].read is True


def test_a_humidity_column_can_be_left_out_by_hand(desk: Desk, sill: int, tmp_path: Path) -> None:
    lines = ["2026-11-17T10:00Z,20.0,999", "2026-11-17T10:10Z,20.1,999"]
    seen = desk.read(air_import.look, written(tmp_path / "broken.csv", lines, "time,temp,rh"))
    with pytest.raises(Refused, match="Nothing could be read"):
        prepared(desk, seen, sill)
    left = replace(seen, columns=replace(seen.columns, rh=None))
    assert prepared(desk, left, sill).added == 2
