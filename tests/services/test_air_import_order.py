"""A logger's file whose day and month stand the other way round than it is read: refused, and what was kept stays."""

from __future__ import annotations

from dataclasses import replace
from datetime import UTC, date, datetime, timedelta
from pathlib import Path

import pytest

from greenhouse_desk import cli
from greenhouse_desk.domain.air_log import DateOrder
from greenhouse_desk.domain.faults import Refused
from greenhouse_desk.domain.plants import Place
from greenhouse_desk.services import air_import, collection
from greenhouse_desk.services.desk import Desk
from greenhouse_desk.store import air
from greenhouse_desk.store.engine import Store, open_store
from tests.builders import NOW
from tests.services.test_air_import import prepared, written

SAID = "Day and month are the other way round in month.csv"


@pytest.fixture
def file(tmp_path: Path) -> Path:
    """The month stands first; that shows only after the first 60 rows."""
    times = [datetime(2026, 11, 1, tzinfo=UTC) + timedelta(hours=2 * nth) for nth in range(200)]
    return written(tmp_path / "month.csv", [f"{at:%m/%d/%Y %I:%M:%S %p},20.0,60" for at in times])


def test_a_file_read_in_the_wrong_order_is_refused_with_the_order_that_fits(desk: Desk, file: Path) -> None:
    place = desk.run(collection.save_place, Place(0, "Sill"))
    looked = desk.read(air_import.look, file)
    assert looked.columns.order is DateOrder.DAY, "as far as its first rows tell"
    with pytest.raises(Refused, match=SAID) as refused:
        prepared(desk, looked, place)
    assert "“month, day, year”" in refused.value.next_step
    right = replace(looked, columns=replace(looked.columns, order=DateOrder.MONTH))
    assert prepared(desk, right, place).added == 200


def test_a_wrong_order_remembered_from_before_takes_nothing_in(
        desk: Desk, store: Store, file: Path, tmp_path: Path, capsys: pytest.CaptureFixture[str]) -> None:
    place = desk.run(collection.save_place, Place(0, "Sill"))
    lines = file.read_text("utf-8").splitlines()
    first = written(tmp_path / "first.csv", lines[1:9], lines[0])
    desk.run(air_import.take_in, prepared(desk, desk.read(air_import.look, first), place))
    assert desk.read(air_import.look, file).known
    kept = desk.read(air.blocks, place)
    assert list(kept) == [date(2026, 1, 11)], "one day alone can be read either way round"
    folder = store.folder
    store.close()
    assert cli.main(["--now", NOW.isoformat(), "--store", str(folder), "import", str(file), "--air", "Sill"]) == 2
    assert SAID in capsys.readouterr().err
    again = open_store(folder)
    assert Desk(again, lambda: NOW).read(air.blocks, place) == kept
    again.close()
