"""The first look at a logger's file: delimiter, names, and what the columns are likely to hold."""

from __future__ import annotations

from datetime import UTC
from typing import Any
from zoneinfo import ZoneInfo

import pytest

from greenhouse_desk.domain.air_log import DateOrder, MoistUnit, TempUnit
from greenhouse_desk.domain.air_log_look import guessed, look, order_of
from greenhouse_desk.domain.air_log_preview import doubts, understood

PLAIN = "time,temperature,humidity\n2026-11-01 12:00,20.5,60\n2026-11-01 12:10,20.6,61\n"
COMMA = ("Logger 7;;;\nExported;today;;\n\nDatum;Zeit;Feuchte %;Temp °C;Taupunkt dew\n01.11.2026;12:00;60,5;20,5;12,1\n"
         "01.11.2026;12:10;61,0;20,6;12,3\n13.11.2026;12:20;61,5;20,7;12,5\n")
TAB = "Date/Time\tTemp (°F)\tRH\tAir speed\n11/13/2026 1:00 PM\t68.5\t0.6\t0.2\n11/13/2026 1:10 PM\t68.6\t0.61\t0.3\n"
BARE = "1793534400,20.5,60\n1793535000,20.6,61\n"


@pytest.mark.parametrize(("text", "wanted"), [
    (PLAIN, {"delimiter": ",", "head": 1, "time": 0, "temp": 1, "rh": 2, "order": DateOrder.YEAR, "day": None}),
    (COMMA, {"delimiter": ";", "head": 4, "day": 0, "time": 1, "temp": 3, "rh": 2, "order": DateOrder.DAY,
             "decimal_comma": True, "temp_unit": TempUnit.C, "rh_unit": MoistUnit.PERCENT}),
    (TAB, {"delimiter": "\t", "time": 0, "temp": 1, "rh": 2, "speed": 3, "order": DateOrder.MONTH,
           "temp_unit": TempUnit.F, "rh_unit": MoistUnit.FRACTION}),
    (BARE, {"delimiter": ",", "head": 0, "time": 0, "temp": 1, "rh": 2, "order": DateOrder.SECONDS}),
], ids=["plain", "semicolons", "tabs", "no names"])
def test_what_the_columns_hold_is_guessed(text: str, wanted: dict[str, Any]) -> None:
    columns = guessed(look(text.splitlines(keepends=True)))
    assert {name: getattr(columns, name) for name in wanted} == wanted


def test_every_guessed_file_is_understood_row_by_row() -> None:
    for text in (PLAIN, COMMA, TAB, BARE):
        sample = look(text.splitlines(keepends=True))
        rows = understood(sample, guessed(sample), UTC)
        assert [row.fault for row in rows] == [""] * len(rows)
        assert all(20 <= (row.temp_c or 0) <= 21 and 0.6 <= (row.rh or 0) <= 0.62 for row in rows)


def test_a_row_that_would_be_refused_says_why() -> None:
    sample = look(PLAIN.replace("20.6", "warm").splitlines(keepends=True))
    last = understood(sample, guessed(sample), UTC)[-1]
    assert (last.line, last.at) == (3, None)
    assert "“warm” is no number" in last.fault


def test_files_of_one_logger_are_known_again_by_the_names_of_their_columns() -> None:
    plain, later, other = (look(text.splitlines(keepends=True)).signature
                           for text in (PLAIN, f"Export\n{PLAIN.upper()}", PLAIN.replace("humidity", "rh")))
    assert plain == later != other


def test_files_without_names_are_told_apart_by_what_parts_their_cells_and_what_kind_each_is() -> None:
    texts = (BARE, BARE.replace(",", ";"), BARE.replace("1793534400", "2026-11-01 12:00").replace(
        "1793535000", "2026-11-01 12:10"), BARE.replace(",60", ",60,ok").replace(",61", ",61,ok"),
        BARE.replace(",60", ",60,3").replace(",61", ",61,3"))
    signatures = {look(text.splitlines(keepends=True)).signature for text in texts}
    assert len(signatures) == len(texts)
    assert look((BARE + "1793535600,19.5,58\n").splitlines(keepends=True)).signature in signatures


@pytest.mark.parametrize(("days", "order"), [
    (["01/02/2026", "02/02/2026"], DateOrder.DAY), (["01/13/2026"], DateOrder.MONTH), (["13/01/2026"], DateOrder.DAY),
    (["2026-01-13"], DateOrder.YEAR)])
def test_the_order_of_the_date_is_told_by_what_cannot_be_a_month(days: list[str], order: DateOrder) -> None:
    assert order_of(days) is order


def test_what_cannot_be_told_is_said() -> None:
    for day, unsure in (("01/02/2026", True), ("13/02/2026", False)):
        sample = look(f"time,temp,rh\n{day} 12:00,20,60\n{day} 12:10,21,61\n".splitlines(keepends=True))
        assert ("cannot be told" in " ".join(doubts(sample, guessed(sample)))) is unsure


@pytest.mark.parametrize("text", ["", "\n\n", "only words\nand more\n"])
def test_a_file_without_a_table_has_no_columns(text: str) -> None:
    assert len(look(text.splitlines(keepends=True)).names) < 2


def test_a_day_no_calendar_reaches_is_refused_in_the_preview_too() -> None:
    sample = look(PLAIN.replace("2026-11-01 12:10", "9999-12-31 00:00").splitlines(keepends=True))
    good, bad = understood(sample, guessed(sample), ZoneInfo("Europe/Madrid"))
    assert (good.fault, bad.at) == ("", None)
    assert "between 2000 and 2099" in bad.fault
