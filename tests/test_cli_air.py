"""A logger's file by the command line: read as it was told before, or not at all."""

from __future__ import annotations

import json
from pathlib import Path

import pytest

from greenhouse_desk import cli
from greenhouse_desk.domain.faults import Refused
from greenhouse_desk.domain.plants import Place
from greenhouse_desk.services import air_import, collection, house
from greenhouse_desk.services.desk import Desk
from greenhouse_desk.store.engine import open_store
from tests.builders import NOW
from tests.services.test_air_import import rows, written

PLACES = (Place(1, "Hall", bench=False), Place(2, "Sill", 1), Place(3, "Loft", bench=False), Place(4, "Sill", 3))


@pytest.fixture
def folder(tmp_path: Path) -> Path:
    """A collection with one bench, to which one logger's file was brought in by the window; closed."""
    store = open_store(tmp_path / "plants", create=True)
    desk = Desk(store, lambda: NOW)
    place = desk.run(collection.save_place, Place(0, "Long shelf"))
    looked = desk.read(air_import.look, written(tmp_path / "first.csv", rows(20)))
    desk.run(air_import.take_in, air_import.prepare(looked, place, desk.read(house.zone), NOW, {}))
    store.close()
    return store.folder


def run(capsys: pytest.CaptureFixture[str], folder: Path, *words: object) -> tuple[int, str, str]:
    code = cli.main(["--now", NOW.isoformat(), "--store", str(folder), "import", *map(str, words)])
    said = capsys.readouterr()
    return code, said.out, said.err


def test_the_next_file_is_read_as_the_first_was(folder: Path, tmp_path: Path,
                                                capsys: pytest.CaptureFixture[str]) -> None:
    file = written(tmp_path / "next.csv", [*rows(30)[10:], "2026-11-18T10:00Z,--,60"])
    code, out, err = run(capsys, folder, file, "--air", "long shelf")
    assert (code, err) == (0, "")
    assert "Of these 10 new, 10 known already." in out
    assert "line 22: Temperature: “--” is no number." in out
    code, out, _ = run(capsys, folder, file, "--air", "Long shelf", "--json")
    told = json.loads(out)
    assert (code, told["readings"], told["added"], told["known"], told["refused"]) == (0, 20, 0, 20, 1)


def test_a_file_of_another_logger_and_an_unknown_place_are_refused_with_what_to_do(
        folder: Path, tmp_path: Path, capsys: pytest.CaptureFixture[str]) -> None:
    other = written(tmp_path / "other.csv", rows(5), "when,t,h")
    code, out, err = run(capsys, folder, other, "--air", "Long shelf")
    assert (code, out) == (2, "")
    assert "How other.csv is to be read is not known." in err
    assert "in the window first" in err
    code, _, err = run(capsys, folder, other, "--air", "Cellar")
    assert code == 2
    assert "No place is called Cellar." in err


def test_a_file_whose_columns_no_line_names_is_not_read_without_a_look(
        folder: Path, tmp_path: Path, capsys: pytest.CaptureFixture[str]) -> None:
    """Temperature and humidity may stand either way round in it, and both are numbers."""
    store = open_store(folder)
    desk = Desk(store, lambda: NOW)
    looked = desk.read(air_import.look, written(tmp_path / "bare.csv", rows(5)[1:], rows(1)[0]))
    desk.run(air_import.take_in, air_import.prepare(looked, 1, desk.read(house.zone), NOW,
                                                  desk.read(air_import.known_days, 1)))
    before = store.raw.execute("SELECT count(*) FROM deed").fetchone()
    store.close()
    swapped = [",".join([row.split(",")[0], *row.split(",")[:0:-1]]) for row in rows(9)]
    code, out, err = run(capsys, folder, written(tmp_path / "turned.csv", swapped[1:], swapped[0]), "--air",
                         "Long shelf")
    assert (code, out) == (2, "")
    assert "No line of turned.csv names its columns" in err
    assert "in the window" in err
    store = open_store(folder)
    assert store.raw.execute("SELECT count(*) FROM deed").fetchone() == before
    store.close()


@pytest.mark.parametrize(("text", "key"), [("hall > sill", 2), ("Loft>Sill", 4), ("Loft", 3)])
def test_a_place_is_named_by_its_name_or_the_way_to_it(text: str, key: int) -> None:
    assert collection.place_named(PLACES, text) == key


def test_a_name_of_two_places_is_refused() -> None:
    with pytest.raises(Refused, match="2 places are called Sill"):
        collection.place_named(PLACES, "Sill")
