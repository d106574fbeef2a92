"""What a logger wrote, taken out again: only the days asked for, only the logger's, and back with undo."""

from __future__ import annotations

from dataclasses import replace
from datetime import UTC, date, datetime, timedelta
from pathlib import Path

import pytest

from greenhouse_desk.domain.air_log import Clock
from greenhouse_desk.domain.faults import Refused
from greenhouse_desk.services import air_import, air_takeout, backup, collection
from greenhouse_desk.services.air_import import Prepared
from greenhouse_desk.services.air_import_words import sentences
from greenhouse_desk.services.desk import Desk
from tests.builders import NOW
from tests.domain.air_files import MADRID
from tests.services.test_air_import import START, kept, rows, sill, take, written

__all__ = ["sill"]
DAY = date(2026, 11, 17)


def test_a_loggers_days_go_and_come_back_with_undo(desk: Desk, sill: int, tmp_path: Path) -> None:
    take(desk, written(tmp_path / "a.csv", rows(200)), sill)
    whole = kept(desk, sill)
    assert desk.run(air_takeout.take_out, sill, DAY, DAY) == 138, "a local day of Madrid ends at 23:00 UTC"
    assert kept(desk, sill) == whole[138:]
    assert whole[138][0] == datetime(2026, 11, 17, 23, tzinfo=UTC)
    assert len(desk.read(air_import.imported, sill)) == 1, "a part of that file is still there"
    deed = desk.next_undo()
    assert deed is not None
    assert deed.label == "Take out 138 readings of a logger at East sill"
    desk.undo()
    assert kept(desk, sill) == whole
    assert backup.check(desk.store) == ()


def test_a_whole_file_taken_out_leaves_what_was_read_by_hand_and_no_file(
        desk: Desk, sill: int, tmp_path: Path) -> None:
    desk.run(collection.record_air, sill, 21.0, 0.5, None, None, None)
    take(desk, written(tmp_path / "a.csv", rows(20)), sill)
    assert desk.run(air_takeout.take_out, sill, DAY, DAY + timedelta(days=1)) == 20
    assert [temp for _, temp, _ in kept(desk, sill)] == [21.0]
    assert desk.read(air_import.imported, sill) == ()
    desk.undo()
    assert len(kept(desk, sill)) == 21
    assert len(desk.read(air_import.imported, sill)) == 1


def test_days_without_a_logger_or_the_wrong_way_round_are_refused(desk: Desk, sill: int, tmp_path: Path) -> None:
    take(desk, written(tmp_path / "a.csv", rows(20, START)), sill)
    with pytest.raises(Refused, match="No logger wrote in those days"):
        desk.run(air_takeout.take_out, sill, DAY - timedelta(days=9), DAY - timedelta(days=2))
    with pytest.raises(Refused, match="lies before the first"):
        desk.run(air_takeout.take_out, sill, DAY, DAY - timedelta(days=2))
    assert len(kept(desk, sill)) == 20


def again(desk: Desk, path: Path, place: int, clock: Clock) -> Prepared:
    """The file read by another clock, not yet taken in."""
    looked = desk.read(air_import.look, path)
    return air_import.prepare(replace(looked, columns=replace(looked.columns, clock=clock)), place, MADRID, NOW,
                              desk.read(air_import.known_days, place), earlier=desk.read(air_import.imported, place))


def test_a_file_read_again_by_the_right_clock_takes_the_place_of_the_wrong_reading(
        desk: Desk, sill: int, tmp_path: Path) -> None:
    path = written(tmp_path / "a.csv", [row.replace("Z,", ",") for row in rows(140)])
    take(desk, path, sill)
    wrong = kept(desk, sill)
    made = again(desk, path, sill, Clock.UTC)
    told = " ".join(sentences(made, MADRID))
    assert "taken in before and read otherwise" in told
    assert "all 140 readings of a logger from 17 Nov 2026, 00:00 to 17 Nov 2026, 23:10 make room first" in told
    assert desk.read(air_import.imported, sill)[0].first == START - timedelta(hours=1), "nothing counts yet"
    desk.run(air_import.take_in, made)
    right = kept(desk, sill)
    assert [at for at, _, _ in right] == [START + timedelta(minutes=10 * nth) for nth in range(140)]
    assert len(desk.read(air_import.imported, sill)) == 1
    desk.undo()
    assert kept(desk, sill) == wrong
    assert backup.check(desk.store) == ()


def test_another_file_of_the_same_name_and_the_same_clock_make_nothing_give_way(
        desk: Desk, sill: int, tmp_path: Path) -> None:
    path = written(tmp_path / "a.csv", [row.replace("Z,", ",") for row in rows(20, START - timedelta(days=9))])
    take(desk, path, sill)
    assert again(desk, path, sill, Clock.HOME).instead == ()
    written(path, [row.replace("Z,", ",") for row in rows(20)])
    made = again(desk, path, sill, Clock.UTC)
    assert (made.instead, made.gone, made.emptied, made.added) == ((), 0, (), 20)
