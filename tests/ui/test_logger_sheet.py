"""A logger's file brought in by hand: chosen at a bench, its columns put right, read, looked at, taken in."""

from __future__ import annotations

from collections.abc import Callable, Mapping, Sequence
from datetime import UTC, date, datetime, timedelta, tzinfo
from pathlib import Path
from threading import Event
from zoneinfo import ZoneInfo

import pytest
from PySide6.QtCore import QPoint
from PySide6.QtWidgets import QComboBox, QFileDialog, QWidget
from pytestqt.qtbot import QtBot

from greenhouse_desk import app
from greenhouse_desk.domain.air_log import Clock, DateOrder, TempUnit
from greenhouse_desk.domain.air_log_look import guessed, look
from greenhouse_desk.domain.air_log_preview import NO_HUMIDITY
from greenhouse_desk.services import air_import, collection
from greenhouse_desk.services.air_import import Looked, Prepared
from greenhouse_desk.store import air
from greenhouse_desk.store.air import Block, Import
from greenhouse_desk.ui.collection.logger_sheet import AS_BEFORE, ASSUMED, GUESSED, NAMELESS, LoggerSheet
from greenhouse_desk.ui.collection.place_deeds import PlaceList
from greenhouse_desk.ui.style import palette
from tests.services.test_air_columns import misleading
from tests.ui.house import pressed, words_of

START = datetime(2026, 11, 17, tzinfo=UTC)


@pytest.fixture
def file(tmp_path: Path) -> Path:
    """Two days of a logger's readings, one line of it broken; humidity stands before temperature."""
    rows = [f"{START + timedelta(minutes=10 * nth):%d.%m.%Y %H:%M};{60 + nth % 9},5;2{nth % 6},1"
            for nth in range(200)]
    rows[50] = rows[50].rsplit(";", 1)[0] + ";--"
    path = tmp_path / "sill.csv"
    path.write_text("\n".join(["When;A;B", *rows, ""]), encoding="utf-8")
    return path


def opened(running: app.Program, place: int, file: Path) -> LoggerSheet:
    made = running.collection.places.loggers.open(place, file)
    assert made is not None
    return made


def cells(sheet: LoggerSheet, down: int) -> list[str]:
    """A row of the preview."""
    found = [sheet.preview.item(down, across) for across in range(5)]
    return [item.text() if item is not None else "" for item in found]


def put_right(sheet: LoggerSheet) -> None:
    """Temperature is B, in degrees C, and humidity A: nothing in the names tells so."""
    for name, value in (("temp", 2), ("temp_unit", TempUnit.C), ("rh", 1)):
        sheet.figures.controls[name].put(value)


def read(sheet: LoggerSheet, qtbot: QtBot) -> Prepared:
    pressed(sheet, "Read the whole file")
    qtbot.waitUntil(lambda: sheet.made is not None, timeout=10_000)
    assert sheet.made is not None
    return sheet.made


def test_a_file_is_chosen_at_a_bench_put_right_looked_at_and_taken_in(
        running: app.Program, places: dict[str, int], file: Path, qtbot: QtBot) -> None:
    sill = places["North sill"]
    menu = running.collection.places.menu(sill, QPoint(10, 10))
    next(action for action in menu.actions() if action.text() == "Bring in a logger's file…").trigger()
    dialog = running.window.findChild(QFileDialog)
    assert isinstance(dialog, QFileDialog)
    dialog.fileSelected.emit(str(file))
    dialog.close()
    sheet = running.collection.places.loggers.sheet
    assert sheet is not None
    assert GUESSED in words_of(sheet)
    assert "Cells are parted by a semicolon; line 1 names the columns." in words_of(sheet)
    assert cells(sheet, 0) == ["2", "Tue 17 Nov 2026, 0:00", "15.8", "20", ""], "60.5 taken for degrees F"
    put_right(sheet)
    assert cells(sheet, 0) == ["2", "Tue 17 Nov 2026, 0:00", "20.1", "60", ""]
    made = read(sheet, qtbot)
    told = words_of(sheet)
    assert "199 readings from 17 Nov 2026, 00:00 to 18 Nov 2026, 09:10, every 10 min." in told
    assert "1 line refused." in told
    assert "line 52: Temperature: “--” is no number." in told
    assert running.desk.read(air.newest).keys() == {places["Long bench"]}, "nothing counts before it is taken in"
    pressed(sheet, "Take it in")
    assert not sheet.isVisible()
    assert "sill.csv taken in: 199 readings. All are new." in words_of(running.window)
    bench = next(one for one in running.desk.read(collection.overview, running.desk.clock()).benches
                 if one.place.id == sill)
    assert bench.air is not None
    assert (bench.air.logged, bench.air.temp_c) == (True, 21.1)
    assert made.columns.temp == 2
    running.desk.undo()
    assert running.desk.read(air.newest).keys() == {places["Long bench"]}


def test_the_next_file_of_that_logger_is_read_as_this_one_was_and_the_same_again_brings_nothing(
        running: app.Program, places: dict[str, int], file: Path, qtbot: QtBot) -> None:
    sheet = opened(running, places["North sill"], file)
    sheet.times.controls["clock"].put((Clock.FIXED, 60))
    put_right(sheet)
    assert cells(sheet, 0)[1] == "Mon 16 Nov 2026, 23:00"
    read(sheet, qtbot)
    pressed(sheet, "Take it in")
    again = opened(running, places["North sill"], file)
    assert AS_BEFORE in words_of(again)
    assert again.columns() == sheet.columns()
    read(again, qtbot)
    assert "All were known already." in words_of(again)
    assert not again.take.isEnabled()
    pressed(again, "Back to the columns")
    assert again.read.isVisible()
    again.reject()


def test_what_a_logger_wrote_is_taken_out_at_the_benchs_menu_and_undone(
        running: app.Program, places: dict[str, int], file: Path, qtbot: QtBot) -> None:
    sill = places["North sill"]
    menu = running.collection.places.menu(sill, QPoint(10, 10))
    next(action for action in menu.actions() if action.text() == "Take out what a logger wrote here…").trigger()
    assert "No logger wrote at North sill" in words_of(running.window.messages)
    sheet = opened(running, sill, file)
    put_right(sheet)
    read(sheet, qtbot)
    pressed(sheet, "Take it in")
    form = running.collection.places.loggers.take_out(sill)
    assert form is not None
    assert "Readings by hand stay." in words_of(form)
    assert form.rows.values() == {"first": date(2026, 11, 17), "last": date(2026, 11, 18)}
    pressed(form, "Take out")
    assert running.desk.read(air.newest).keys() == {places["Long bench"]}
    running.desk.undo()
    assert sill in running.desk.read(air.newest)


def test_a_file_without_names_is_never_said_to_be_of_a_logger_known(qtbot: QtBot) -> None:
    parent = QWidget()
    qtbot.addWidget(parent)
    sample = look(["2026-11-17 12:00;60;20\n", "2026-11-17 12:10;61;20\n"])
    sheet = LoggerSheet("Sill", Looked(Path("bare.csv"), sample, guessed(sample), True), ZoneInfo("UTC"), START,
                        palette(dark=False), parent)
    assert NAMELESS in words_of(sheet)
    assert AS_BEFORE not in words_of(sheet)


def test_a_clock_nobody_told_is_said_to_be_assumed(qtbot: QtBot) -> None:
    """Until the grower says where home is, its clock is the Greenwich one."""
    parent = QWidget()
    qtbot.addWidget(parent)
    sample = look(["time,temp,rh\n", "2026-11-17 12:00,20,60\n"])
    told = [LoggerSheet("Sill", Looked(Path("a.csv"), sample, guessed(sample), False), ZoneInfo("Europe/London"), START,
                        palette(dark=False), parent, known) for known in (True, False)]
    assert ASSUMED not in words_of(told[0])
    assert ASSUMED in words_of(told[1])


def test_a_wrong_order_of_the_day_is_seen_row_by_row(running: app.Program, places: dict[str, int], file: Path,
                                                     qtbot: QtBot) -> None:
    sheet = opened(running, places["North sill"], file)
    sheet.times.controls["order"].put(DateOrder.MONTH)
    assert cells(sheet, 0)[1] == "“17.11.2026” is no day in the order chosen."
    pressed(sheet, "Read the whole file")
    qtbot.waitUntil(lambda: sheet.fault.isVisible(), timeout=10_000)
    assert "Nothing could be read from sill.csv. Line 2: “17.11.2026” is no day" in sheet.fault.text()
    assert sheet.read.isEnabled(), "put right, it can be read again"
    sheet.reject()


def test_where_most_lines_are_refused_enter_does_not_take_the_rest_in(running: app.Program, places: dict[str, int],
                                                                     tmp_path: Path, qtbot: QtBot) -> None:
    rows = [f"2026-11-17 {nth:02}:00,{'20' if nth < 5 else '--'},60\n" for nth in range(12)]
    (tmp_path / "faulty.csv").write_text("".join(["time,temp,rh\n", *rows]), encoding="utf-8")
    sheet = opened(running, places["North sill"], tmp_path / "faulty.csv")
    read(sheet, qtbot)
    assert (sheet.focusWidget(), sheet.take.isEnabled()) == (sheet.back, True)
    sheet.reject()


def test_reading_shows_how_far_it_is_and_stops_when_cancelled(
        running: app.Program, places: dict[str, int], file: Path, qtbot: QtBot,
        monkeypatch: pytest.MonkeyPatch) -> None:
    ended = Event()

    def endless(_looked: Looked, _place: int, _zone: tzinfo, _now: datetime, _known: Mapping[date, Block],
                told: Callable[[float], None],
                _earlier: Sequence[Import]) -> Prepared:
        try:
            while not ended.wait(0.001):
                told(0.5)
        except RuntimeError:
            ended.set()
            raise
        raise AssertionError

    monkeypatch.setattr(air_import, "prepare", endless)
    sheet = opened(running, places["North sill"], file)
    pressed(sheet, "Read the whole file")
    qtbot.waitUntil(lambda: sheet.bar.value() == 50, timeout=10_000)
    assert not sheet.read.isEnabled()
    pressed(sheet, "Cancel")
    qtbot.waitUntil(ended.is_set, timeout=10_000)
    assert not sheet.isVisible()
    assert sheet.made is None
    assert running.desk.read(air_import.imported, places["North sill"]) == ()


def test_a_file_without_a_table_is_refused_calmly_and_any_place_can_be_given_one(
        running: app.Program, places: dict[str, int], tmp_path: Path) -> None:
    (tmp_path / "words.txt").write_text("no table here\n")
    assert running.collection.places.loggers.open(places["North sill"], tmp_path / "words.txt") is None
    assert "There is no table in that file" in words_of(running.window)
    running.collection.places.list()
    shown = running.window.findChild(PlaceList)
    assert isinstance(shown, PlaceList)
    assert words_of(shown).count("Logger…") == len(places)
    shown.accept()


def test_in_a_narrow_window_the_rows_stand_over_the_fields_and_nothing_is_cut(
        running: app.Program, places: dict[str, int], file: Path, qtbot: QtBot) -> None:
    sheet = opened(running, places["North sill"], file)
    sheet.resize(640, 330)
    qtbot.waitUntil(lambda: sheet.preview.mapTo(sheet, QPoint()).y() < sheet.times.mapTo(sheet, QPoint()).y(),
                    timeout=5_000)
    assert sheet.times.width() >= sheet.times.minimumSizeHint().width()
    assert sheet.preview.width() + sheet.preview.mapTo(sheet, QPoint()).x() <= sheet.width()
    sheet.reject()


def test_what_parts_the_cells_is_chosen_by_hand(running: app.Program, places: dict[str, int], tmp_path: Path,
                                                qtbot: QtBot) -> None:
    sheet = opened(running, places["North sill"], misleading(tmp_path / "tabs.csv"))
    assert "Cells are parted by a semicolon; line 1 names the columns." in words_of(sheet)
    choose(sheet, "bar")
    assert "There is no table in that file: tabs.csv has no lines with a time and figures parted by a bar." in \
        words_of(sheet)
    assert sheet.columns().delimiter == ";"
    choose(sheet, "tab")
    assert sheet.fault.isHidden()
    assert "Cells are parted by a tab; line 1 names the columns." in words_of(sheet)
    assert cells(sheet, 1) == ["3", "Tue 17 Nov 2026, 0:10", "20.1", "61", ""]
    sheet.figures.controls["rh"].put(None)
    assert cells(sheet, 1)[3] == ""
    assert NO_HUMIDITY in words_of(sheet)
    read(sheet, qtbot)
    pressed(sheet, "Take it in")
    again = opened(running, places["North sill"], misleading(tmp_path / "tabs.csv"))
    assert AS_BEFORE in words_of(again)
    assert (again.columns().delimiter, again.columns().rh) == ("\t", None)
    again.reject()


def choose(sheet: LoggerSheet, words: str) -> None:
    """Choose what parts the cells, as a hand does."""
    box = sheet.times.controls["delimiter"].focus
    assert isinstance(box, QComboBox)
    box.setCurrentText(words)
    box.activated.emit(box.currentIndex())
