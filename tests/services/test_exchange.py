"""Plants in and out of CSV lists: exact round trips, and every bad list refused with line, column and what to do."""

from __future__ import annotations

import csv
import tempfile
from collections.abc import Iterator
from contextlib import contextmanager
from datetime import date, timedelta
from io import StringIO
from pathlib import Path

import pytest
from hypothesis import HealthCheck, given, settings
from hypothesis import strategies as st

from greenhouse_desk.domain.faults import Refused
from greenhouse_desk.domain.journal import Leaving
from greenhouse_desk.domain.plants import Place
from greenhouse_desk.services import care, collection, exchange
from greenhouse_desk.services.collection import NewPlant
from greenhouse_desk.services.desk import Desk
from greenhouse_desk.services.exchange import Imported, neutral, parse_list
from greenhouse_desk.services.exchange_rows import LONGEST_CELL, day_fault
from greenhouse_desk.store.engine import open_store
from tests.builders import NOW

HEADER = "number,name,place,medium,acquired,source,notes\n"


def _import(desk: Desk, text: str, keep_good: bool = False) -> Imported:
    return desk.run(exchange.take_in, parse_list(text.encode()), keep_good)


def _refusals(text: str | bytes) -> list[tuple[int | None, str | None]]:
    data = text if isinstance(text, bytes) else text.encode()
    return [(one.line, one.column) for one in parse_list(data).refused]


@contextmanager
def _fresh_desk() -> Iterator[Desk]:
    with tempfile.TemporaryDirectory() as folder:
        store = open_store(Path(folder) / "collection", create=True)
        yield Desk(store, lambda: NOW)
        store.close()


def test_a_list_makes_plants_places_and_sources(desk: Desk) -> None:
    done = _import(desk, HEADER + "101,Vanda falcata,Hall > Sill,bark,2024-05-06,a fair,tall\n7,Stelis gelida,,,,,\n")
    drawer = desk.read(collection.drawer, 101, NOW)
    plant = drawer.card.plant
    assert (done.added, done.changed, done.refused) == (2, 0, ())
    assert (drawer.place_path, plant.medium, plant.acquired_on, drawer.source_name, plant.notes) == (
        "Hall, Sill", "bark", date(2024, 5, 6), "a fair", "tall")
    assert [(place.name, place.bench) for place in desk.read(collection.places_of)] == [("Hall", False), ("Sill", True)]


def test_an_imported_plant_owes_nothing_and_makes_up_no_day(desk: Desk) -> None:
    _import(desk, "number,name,medium,source\n101,Vanda falcata,bark,a fair\n")
    plant = desk.read(collection.drawer, 101, NOW).card.plant
    assert (plant.acquired_on, plant.potted_on) == (None, None)
    assert desk.read(care.due, NOW + timedelta(days=20)) == ()


def test_the_same_list_again_changes_nothing(desk: Desk) -> None:
    text = HEADER + "101,Vanda falcata,Hall > Sill,bark,2024-05-06,a fair,tall\n102,Stelis,Sill,moss,,a fair,\n"
    _import(desk, text)
    before = desk.next_undo()
    assert _import(desk, text) == Imported(0, 0, ())
    assert desk.next_undo() == before, "nothing to undo was added"


def test_filled_cells_change_a_known_plant_and_empty_ones_do_not(desk: Desk) -> None:
    _import(desk, HEADER + "101,Vanda,Sill,bark,2024-05-06,a fair,tall\n")
    done = _import(desk, HEADER + "101,Vanda falcata,Shelf,pumice,2024-05-07,a swap,\n")
    drawer = desk.read(collection.drawer, 101, NOW)
    plant = drawer.card.plant
    assert (done.added, done.changed) == (0, 1)
    assert [(one.number, one.column, one.old, one.new) for one in done.changes] == [
        (101, "name", "Vanda", "Vanda falcata"), (101, "place", "Sill", "Shelf"), (101, "medium", "bark", "pumice"),
        (101, "acquired", "2024-05-06", "2024-05-07"), (101, "source", "a fair", "a swap")]
    assert (plant.name, drawer.place_path, plant.medium, plant.acquired_on, drawer.source_name, plant.notes) == (
        "Vanda falcata", "Shelf", "pumice", date(2024, 5, 7), "a swap", "tall")


def test_one_bad_row_keeps_all_out_unless_the_good_are_kept(desk: Desk) -> None:
    text = HEADER + "101,Vanda,,,,,\n-4,Stelis,,,,,\n"
    done = _import(desk, text)
    assert (done.added, len(done.refused)) == (0, 1)
    assert desk.read(collection.find, "101") == ()
    assert desk.next_undo() is None
    kept = _import(desk, text, keep_good=True)
    assert (kept.added, kept.refused[0].line, kept.refused[0].column) == (1, 3, "number")


def test_an_import_is_one_deed(desk: Desk) -> None:
    _import(desk, HEADER + "101,Vanda,Sill,,,,\n102,Stelis,Sill,,,,\n")
    deed = desk.undo()
    assert deed is not None
    assert deed.label == "Import 2 new and 0 changed plants"
    assert desk.read(collection.places_of) == ()


@pytest.mark.parametrize(("row", "column"), [
    ("-5,Vanda", "number"), ("0,Vanda", "number"), (",Vanda", "number"), ("1.0,Vanda", "number"),
    ("1e2,Vanda", "number"), ("１２,Vanda", "number"), ("99999999,Vanda", "number"), ("5,", "name"), ("5,  ", "name"),
    ("5,\"a\nb\"", "name"),
    ("5,Vanda,extra", None), ("5", None)])
def test_a_row_that_cannot_be_is_refused(row: str, column: str | None) -> None:
    assert _refusals(f"number,name\n{row}\n") == [(2, column)]


def test_a_row_with_two_faults_tells_both_at_once() -> None:
    text = "number,name,acquired\n5,Vanda,soon\n6,Stelis,\n5,Disa,\nx,,soon\n"
    assert _refusals(text) == [(2, "acquired"), (2, "number"), (4, "number"), (5, "number"), (5, "name"),
                               (5, "acquired")]


def test_what_is_wrong_with_a_row_in_this_collection_is_told_in_the_same_round(desk: Desk) -> None:
    desk.run(collection.add_plant, NewPlant("Vanda", 5))
    desk.run(collection.part_with, 5, Leaving.DEAD, "rot")
    listed = parse_list(b"number,name,acquired\n5,Vanda,soon\n6,,2999-01-01\n")
    said = [(one.line, one.column) for one in desk.run(exchange.take_in, listed).refused]
    assert said == [(2, "acquired"), (2, "number"), (3, "name"), (3, "acquired")]


def test_both_rows_of_a_number_given_twice_are_refused() -> None:
    listed = parse_list(b"number,name\n5,Vanda\n6,Stelis\n5,Disa\n")
    assert [(one.line, one.column) for one in listed.refused] == [(2, "number"), (4, "number")]
    assert "also on line 4." in listed.refused[0].message
    thrice = parse_list(b"number,name\n5,Vanda\n5,Stelis\n05,Disa\n")
    assert "also on lines 2, 3." in thrice.refused[2].message
    assert [row.number for row in listed.rows] == [6]


@pytest.mark.parametrize(("cell", "says"), [
    ("03/04/2025", "03/04/2025 could be 4 March or 3 April; write 2025-03-04 or 2025-04-03."),
    ("03-04-25", "25 April 2003 or 4 March 2025 or 3 April 2025; write 2003-04-25 or"),
    ("25.12.2024", "Write 2024-12-25"), ("12/25/2024", "Write 2024-12-25"),
    ("2024/12/25", "Write 2024-12-25"), ("2024-02-30", "no day"),
    ("2024-2-3", "could be 3 February or 2 March"), ("spring", "year first"),
    ("0001-01-01", "too long ago"), ("20241225", "year first"),
    ("2024-12-25T10:00", "year first")])
def test_a_day_in_another_style_is_refused_never_guessed(cell: str, says: str) -> None:
    assert says in day_fault(cell)


@pytest.mark.parametrize("cell", ["", "2024-12-25", "1999-02-28"])
def test_a_day_written_year_first_is_taken(cell: str) -> None:
    assert day_fault(cell) == ""


def test_a_day_to_come_is_refused_where_it_stands(desk: Desk) -> None:
    done = _import(desk, "number,name,acquired\n5,Vanda,2031-01-01\n")
    assert [(one.line, one.column) for one in done.refused] == [(2, "acquired")]


def test_the_line_is_the_one_the_row_begins_on() -> None:
    assert _refusals('number,name,notes\n5,Vanda,"two\nlines"\n\n-1,Stelis,\n') == [(5, "number")]


def test_a_wrong_encoding_is_told_with_its_line() -> None:
    listed = parse_list("number,name\n5,Vanda\n6,Möwe\n".encode("latin-1"))
    assert [(one.line, one.column) for one in listed.refused] == [(3, None)]
    assert "UTF-8" in listed.refused[0].message
    assert _refusals("number,name\n5,Vanda\n".encode("utf-16"))


def test_a_byte_order_mark_is_taken() -> None:
    assert [row.number for row in parse_list("number,name\n5,Vanda\n".encode("utf-8-sig")).rows] == [5]


def test_a_cell_of_ten_megabytes_is_refused_and_the_rest_read() -> None:
    listed = parse_list(f"number,name,notes\n5,Vanda,{'x' * 10_000_000}\n6,Stelis,short\n".encode())
    assert [(one.line, one.column) for one in listed.refused] == [(2, "notes")]
    assert [row.number for row in listed.rows] == [6]
    assert not parse_list(f"number,name,notes\n5,Vanda,{'x' * LONGEST_CELL}\n".encode()).refused


@pytest.mark.parametrize(("header", "column"), [
    ("name,place", "number"), ("number,place", "name"), ("number,name,Name", "name"), ("", None)])
def test_a_header_that_will_not_do_refuses_the_whole_list(header: str, column: str | None) -> None:
    assert _refusals(f"{header}\n5,Vanda,Sill\n" if header else "") == [(1, column)]


def test_an_open_quote_refuses_the_whole_list() -> None:
    listed = parse_list(b'number,name\n4,Disa\n5,"Vanda\n6,Stelis\n')
    assert listed.rows == ()
    assert [(one.line, one.column) for one in listed.refused] == [(3, None)], "where the quote was opened"
    assert "well-formed" in listed.refused[0].message


@pytest.mark.parametrize(("cell", "says"), [
    ("a\0b", "the control character U+0000"), ("a\x07b", "the control character U+0007"),
    ("x" * 401, "401 characters; 400 are allowed"), ('"a\nb"', "a line break")])
def test_a_name_that_will_not_do_is_told_by_what_is_wrong_with_it(cell: str, says: str) -> None:
    (refused,) = parse_list(f"number,name\n5,{cell}\n".encode()).refused
    assert (refused.line, refused.column) == (2, "name")
    assert says in refused.message


def test_columns_nobody_knows_are_said() -> None:
    listed = parse_list(b"number,name,colour,\n5,Vanda,red,\n")
    assert listed.unknown == ("colour", "column 4, without a name")
    assert [row.number for row in listed.rows] == [5]


@pytest.mark.parametrize(("delimiter", "words"), [(",", "comma"), (";", "semicolon"), ("\t", "tab"), ("|", "bar")])
def test_the_delimiter_is_guessed_from_the_header_and_shown(delimiter: str, words: str) -> None:
    listed = parse_list(f"Number{delimiter} Name{delimiter}notes\n5{delimiter}Vanda{delimiter}a\n".encode())
    assert (listed.delimiter_words, [row.name for row in listed.rows]) == (words, ["Vanda"])


def test_places_are_found_by_way_by_name_and_refused_when_two_bear_it(desk: Desk) -> None:
    attic = desk.run(collection.save_place, Place(0, "Attic", bench=False))
    cellar = desk.run(collection.save_place, Place(0, "Cellar", bench=False))
    for room in (attic, cellar):
        desk.run(collection.save_place, Place(0, "Top shelf", parent=room))
    desk.run(collection.save_place, Place(0, "Beam", parent=attic))
    done = _import(desk, "number,name,place\n1,A,top shelf\n2,B,attic > TOP shelf\n3,C,Beam\n4,D,Attic\n5,E,> Sill\n",
                   keep_good=True)
    assert [(one.line, one.column) for one in done.refused] == [(2, "place"), (5, "place"), (6, "place")]
    assert [desk.read(collection.drawer, n, NOW).place_path for n in (2, 3)] == ["Attic, Top shelf", "Attic, Beam"]


@pytest.mark.parametrize("order", [(0, 1, 2), (2, 1, 0), (1, 0, 2)])
def test_what_a_cell_means_does_not_hang_on_the_order_of_the_rows(desk: Desk, order: tuple[int, ...]) -> None:
    rows = ("1,A,Attic > Sill", "2,B,Attic", "3,C,Sill")
    done = _import(desk, "\n".join(["number,name,place", *(rows[n] for n in order)]))
    assert done.refused == ()
    assert [desk.read(collection.drawer, n, NOW).place_path for n in (1, 2, 3)] == ["Attic, Sill", "Attic", "Sill"]


def test_the_number_of_a_plant_that_left_is_refused(desk: Desk) -> None:
    _import(desk, "number,name\n5,Vanda\n")
    desk.run(collection.part_with, 5, Leaving.DEAD, "rot")
    done = _import(desk, "number,name\n5,Stelis\n")
    assert [(one.line, one.column) for one in done.refused] == [(2, "number")]
    assert desk.read(exchange.plants_out) == HEADER.replace("\n", "\r\n").encode()


@pytest.mark.parametrize("cell", ["=1+1", "+1", "-1", "@sum", "\t=1", "\r=1", "  =1", "＝1"])
def test_formulas_are_made_harmless_only_for_spreadsheets(desk: Desk, cell: str) -> None:
    desk.run(collection.add_plant, NewPlant("Vanda", 101, notes=cell))
    exact = list(csv.reader(StringIO(desk.read(exchange.plants_out).decode("utf-8"), newline="")))
    safe = list(csv.reader(StringIO(desk.read(exchange.plants_out, True).decode("utf-8-sig"), newline="")))
    assert (exact[1][-1], safe[1][-1]) == (cell, f"'{cell}")


def test_plain_words_stay_plain_for_spreadsheets() -> None:
    assert [neutral(cell) for cell in ("Vanda", "", "a=b", "x - y")] == ["Vanda", "", "a=b", "x - y"]


WORD = st.text(st.characters(exclude_categories=["Cs", "Cc"], exclude_characters=">"), min_size=1, max_size=12).filter(
    lambda text: text.strip() == text != "" and text.casefold().strip() == text.casefold())
ROWS = st.dictionaries(st.integers(1, 999_999), st.tuples(
    st.text(st.characters(exclude_categories=["Cs", "Cc"]), min_size=1, max_size=30).filter(str.strip),
    st.lists(st.sampled_from(["Attic", "Sill", "Übersee", "=A1"]), max_size=2, unique=True),
    st.one_of(st.just(""), WORD), st.one_of(st.none(), st.dates(date(1950, 1, 1), date(2026, 11, 1))),
    st.one_of(st.just(""), WORD), st.text(st.characters(exclude_categories=["Cs"]), max_size=40)), max_size=6)


@settings(max_examples=25, deadline=None, suppress_health_check=[HealthCheck.too_slow])
@given(ROWS)
def test_the_exact_list_reads_back_unchanged(
        rows: dict[int, tuple[str, list[str], str, date | None, str, str]]) -> None:
    out = StringIO(newline="")
    writer = csv.writer(out)
    writer.writerow(exchange.COLUMNS)
    for number, (name, path, medium, acquired, source, notes) in sorted(rows.items()):
        writer.writerow([number, name, exchange.joined(path), medium, acquired or "", source, notes])
    with _fresh_desk() as desk:
        done = desk.run(exchange.take_in, parse_list(out.getvalue().encode()))
        assert done == Imported(len(rows), 0, ())
        written = desk.read(exchange.plants_out)
        assert written.decode() == out.getvalue()
        assert desk.run(exchange.take_in, parse_list(written)) == Imported(0, 0, ())


def test_a_file_is_replaced_whole_or_not_at_all(tmp_path: Path) -> None:
    target = tmp_path / "plants.csv"
    exchange.write_file(target, b"one")
    exchange.write_file(target, b"two")
    assert [path.name for path in tmp_path.iterdir()] == ["plants.csv"]
    assert target.read_bytes() == b"two"
    with pytest.raises(Refused, match="cannot be written"):
        exchange.write_file(tmp_path / "none" / "plants.csv", b"three")


def test_a_file_that_is_not_there_is_refused(tmp_path: Path) -> None:
    with pytest.raises(Refused, match="cannot be read"):
        exchange.read_list(tmp_path / "none.csv")
