"""The kit before the start and the record after it on paper, from the pages of the Bench screen that show them."""

from __future__ import annotations

from collections.abc import Iterator
from pathlib import Path
from unicodedata import normalize

import pytest
from pypdf import PdfReader
from PySide6.QtWidgets import QApplication, QWidget
from pytestqt.qtbot import QtBot

from greenhouse_desk.services.clock import SteppedClock
from greenhouse_desk.services.desk import Desk
from greenhouse_desk.services.kit_pages import amount
from greenhouse_desk.ui.page_box import PageBox
from tests.ui.bench_opened import Opened, furnished, press, type_number
from tests.ui.house import pressed


@pytest.fixture
def opened(qtbot: QtBot, desk: Desk, clock: SteppedClock, tmp_path: Path) -> Iterator[Opened]:
    furnished(desk, clock)
    made = Opened(desk, clock, tmp_path)
    yield made
    made.close()


def printed(root: QWidget, path: Path, qtbot: QtBot) -> str:
    """Press "Print…" in `root`, and save what the box shows: its words without spaces."""
    pressed(root, "Print…")
    (box,) = [one for one in QApplication.topLevelWidgets() if isinstance(one, PageBox) and one.isVisible()]
    qtbot.waitUntil(lambda: bool(box.pages))
    with qtbot.waitSignal(box.told):
        box.write(path)
    text = " ".join(page.extract_text() for page in PdfReader(path).pages)
    return "".join(normalize("NFKC", text).split())


def bare(text: str) -> str:
    return "".join(normalize("NFKC", text).split())


def test_the_kit_on_paper_has_every_line_caution_and_plant(opened: Opened, tmp_path: Path, qtbot: QtBot) -> None:
    for number in (104, 101):
        type_number(opened, number)
    press(opened.screen.chooser.go_button)
    before = opened.screen.before
    text = printed(before.kit, tmp_path / "kit.pdf", qtbot)
    kit = before._kit
    assert kit is not None
    assert len(kit.lines) == len(before.kit.rows) > 3
    for line in kit.lines:
        assert bare(amount(line)) + bare(line.what[:1].upper() + line.what[1:]) in text
    assert any("H3" in caution for caution in kit.cautions), "hazard phrases are among them"
    assert all(bare(caution) in text for caution in (*kit.cautions, kit.drying) if len(caution) < 80)
    assert all(bare(f"{never}: keep it away")[1:] in text for never, _here in kit.others)
    assert "104" in text
    assert "101" in text


def test_the_record_on_paper_says_what_the_page_says(opened: Opened, tmp_path: Path, qtbot: QtBot) -> None:
    lines = ("Bench session of 18 Nov 2026 15:30, ended 15:52", "101 Vanda tricolor: Pest wash (clear)",
             "  15:31 unpotted", "long snips in 70 % ethanol: 10.0 min")
    opened.screen.record.show_lines(lines)
    opened.screen.pages.setCurrentWidget(opened.screen.record)
    text = printed(opened.screen.record, tmp_path / "record.pdf", qtbot)
    assert all(bare(line) in text for line in lines)
