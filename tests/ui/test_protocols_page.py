"""The shelf as a page: shipped beside own, a broken file set aside and named, every fault with file and path."""

from __future__ import annotations

from pathlib import Path

import pytest
from PySide6.QtTest import QAbstractItemModelTester
from PySide6.QtWidgets import QLabel
from pytestqt.qtbot import QtBot

from greenhouse_desk.services import shelf
from greenhouse_desk.shipped import folder
from greenhouse_desk.ui import style
from greenhouse_desk.ui.protocols.screen import ProtocolsScreen
from greenhouse_desk.ui.words import measured


@pytest.fixture
def own(tmp_path: Path) -> Path:
    """A collection folder with one protocol of the grower's own and one broken file."""
    made = tmp_path / "protocols"
    made.mkdir()
    wash = (folder("protocols") / "pest-wash.toml").read_text("utf-8")
    (made / "my-wash.toml").write_text(wash.replace('title = "Pest wash"', 'title = "My own wash"'), "utf-8")
    (made / "broken.toml").write_text('title = 3\n[[step]]\nid = "a"\nbogus = 1\n', "utf-8")
    return tmp_path


@pytest.fixture
def screen(qtbot: QtBot, own: Path) -> ProtocolsScreen:
    made = ProtocolsScreen(lambda: shelf.shelf(own), style.palette(False))
    qtbot.addWidget(made)
    made.resize(1214, 768)
    made.show_now()
    return made


def open_row(screen: ProtocolsScreen, title: str) -> str:
    """Open the row with this title; returns everything its page says."""
    row = [one.title for one in screen.rows.rows].index(title)
    screen.list.setCurrentIndex(screen.rows.index(row))
    assert screen.page is not None
    return "\n".join(label.text() for label in screen.page.findChildren(QLabel))


def test_shipped_and_own_stand_beside_each_other(screen: ProtocolsScreen) -> None:
    rows = {row.title: row.kind for row in screen.rows.rows}
    assert rows["Pest wash"] == "shipped"
    assert rows["My own wash"] == "your own"
    assert len([kind for kind in rows.values() if kind == "shipped"]) == 6


def test_a_broken_file_is_set_aside_with_file_and_path(screen: ProtocolsScreen) -> None:
    said = open_row(screen, "protocols/broken.toml")
    assert "Set aside: " in said
    assert "protocols/broken.toml, step[1].bogus" in said
    assert "protocols/broken.toml, title" in said


def test_a_page_shows_every_step_with_its_figures(screen: ProtocolsScreen) -> None:
    said = open_row(screen, "Root trim and repot")
    protocol = next(row.protocol for row in screen.rows.rows if row.title == "Root trim and repot")
    assert protocol is not None
    for step in protocol.steps:
        assert step.say in said
        assert step.page in said
        assert f"Caution: {step.caution}" in said or not step.caution
    assert "soak, least 10, most 12 min" in said
    assert "hydrogen peroxide 3 % by mass" in said
    for caution in protocol.cautions:
        assert caution in said


def test_what_is_open_stays_open_when_a_file_is_mended(screen: ProtocolsScreen, own: Path) -> None:
    open_row(screen, "Spike cut")
    (own / "protocols" / "broken.toml").unlink()
    screen.show_now()
    assert screen.page is not None
    assert "Spike cut" in [label.text() for label in screen.page.findChildren(QLabel)]
    assert "protocols/broken.toml" not in [row.title for row in screen.rows.rows]


def test_an_open_page_follows_its_file(screen: ProtocolsScreen, own: Path) -> None:
    """The row stays where it is; what is told of it does not."""
    assert "step[1].bogus" in open_row(screen, "protocols/broken.toml")
    (own / "protocols" / "broken.toml").write_text('title = "x"\n[[step]]\nid = "a"\nodd = 1\n', "utf-8")
    screen.show_now()
    assert screen.page is not None
    said = "\n".join(label.text() for label in screen.page.findChildren(QLabel))
    assert "step[1].odd" in said
    assert "step[1].bogus" not in said


def test_the_list_is_a_sound_model(screen: ProtocolsScreen) -> None:
    tester = QAbstractItemModelTester(screen.rows)
    screen.show_now()
    assert tester.model() is screen.rows


@pytest.mark.parametrize(("amount", "unit", "said"), [
    (1, "pairs", "1 pair"), (2, "pairs", "2 pairs"), (1, "g", "1 g"), (1.5, "L", "1.5 L"), (3, "", "3")])
def test_one_of_something_is_said_in_the_singular(amount: float, unit: str, said: str) -> None:
    assert measured(amount, unit) == said


def test_no_shipped_page_says_one_pairs(screen: ProtocolsScreen) -> None:
    assert "gloves: 1 pair for each plant" in open_row(screen, "Arrival check")
