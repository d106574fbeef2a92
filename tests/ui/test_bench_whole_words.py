"""Nothing on the pages before the bench is cut: reasons, names and titles as long as they come."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import replace
from pathlib import Path

import pytest
from PySide6.QtWidgets import QApplication
from pytestqt.qtbot import QtBot

from greenhouse_desk.domain import names
from greenhouse_desk.domain.quarantine import Standing
from greenhouse_desk.services.clock import SteppedClock
from greenhouse_desk.services.desk import Desk
from greenhouse_desk.services.treatments import Candidate
from greenhouse_desk.ui import drawing
from greenhouse_desk.ui.bench.candidates import below, name_rows
from greenhouse_desk.ui.bench.plan_paint import reason_lines
from greenhouse_desk.ui.style import sans
from tests.ui.bench_opened import Opened, furnished, pick, shipped, type_number

WHY = ("shared its place with 127 while that could pass it on, last on 16 Nov 2026: mealybug; 0 clean looks counted "
       "since; also exposed: thrips; also exposed: two-spotted mite")
ONE = Candidate(128, names.parse("Phalaenopsis amabilis × Phalaenopsis equestris"), Standing("exposed", WHY, 1),
                "two-spotted mite, 11 Nov 2026", "root disinfection with hydrogen peroxide, 22 May 2026", "by the door",
                "", "")
TITLE = "Rescue of a plant with rotten roots that came in the post, in a way of my own"


@pytest.fixture
def opened(qtbot: QtBot, desk: Desk, clock: SteppedClock, tmp_path: Path) -> Iterator[Opened]:
    furnished(desk, clock)
    own = replace(shipped().protocols[0], id="own-rescue", title=TITLE, own=True)
    made = Opened(desk, clock, tmp_path, replace(shipped(), protocols=(*shipped().protocols, own)))
    yield made
    made.close()


@pytest.mark.parametrize("width", [520, 640, 790, 1900])
def test_a_row_of_the_list_says_all_of_its_reason_its_notes_and_its_name(qapp: object, width: int) -> None:
    told = [" ".join(lines) for _bold, lines in below(ONE, width)]
    assert told[0] == WHY
    assert told[-1] == "by the door"
    assert (ONE.past in told, ONE.last_treatment in told) == (width < 720, width < 720)
    assert name_rows(ONE, width) == (2 if width == 790 else 1), "beside what is at the right there is less room for it"


def test_rows_are_as_high_as_their_words(opened: Opened) -> None:
    plants = opened.screen.chooser.list
    heights = {row.candidate.plant: plants.visualRect(plants.rows.index(n)).height()
               for n, row in enumerate(plants.rows.rows)}
    lines = {row.candidate.plant: sum(len(told) for _bold, told in below(row.candidate, plants.viewport().width()))
             for row in plants.rows.rows}
    assert all(high == 55 + 17 * lines[plant] + 12 for plant, high in heights.items())
    opened.screen.resize(500, 768)
    narrow = plants.visualRect(plants.rows.index(0)).height()
    assert narrow > heights[101], "its pests and its last treatment stand below then"


def test_the_plan_leaves_off_the_last_parts_of_a_reason_rather_than_cut_it(qapp: object) -> None:
    told = reason_lines(WHY, 182)
    assert told == ["shared its place with 127 while", "that could pass it on"]
    assert reason_lines("nothing found in 12 looks", 182) == ["nothing found in 12 looks"]
    assert all(drawing.width_of(line, sans(13)) <= 182 for line in told)


def test_a_long_title_of_ones_own_is_whole_in_the_list_and_pushes_nothing_out_of_sight(opened: Opened) -> None:
    type_number(opened, 101)
    pick(opened, 101, f"{TITLE} (own)")
    row, area = opened.screen.chooser.chosen.rows[101], opened.screen.chooser.chosen
    port = area.parentWidget()
    assert port is not None
    QApplication.processEvents()
    assert area.minimumSizeHint().width() <= port.width()
    assert row.drop.mapTo(port, row.drop.rect().topRight()).x() < port.width()
    assert row.why.text().startswith(f"{TITLE} (own). ")
    row.box.showPopup()
    try:
        needs = row.box.fontMetrics().horizontalAdvance(f"{TITLE} (own)")
        assert row.box.view().viewport().width() >= needs
    finally:
        row.box.hidePopup()
