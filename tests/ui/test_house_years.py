"""The years of genera on the House page: read out, changed in a form, put back, one more added, refused in the form."""

from __future__ import annotations

import pytest
from PySide6.QtCore import QModelIndex
from PySide6.QtWidgets import QWidget
from pytestqt.modeltest import ModelTester
from pytestqt.qtbot import QtBot

from greenhouse_desk.domain.year import GenusYear, Stretch
from greenhouse_desk.services import collection, years
from greenhouse_desk.services.collection import NewPlant
from greenhouse_desk.services.desk import Desk
from greenhouse_desk.ui import style
from greenhouse_desk.ui.house.years import YearsPanel
from greenhouse_desk.ui.signals import Signals
from tests.ui.house import fill, form


@pytest.fixture
def panel(desk: Desk, qtbot: QtBot) -> YearsPanel:
    """The panel of a house with one Cattleya, following the desk."""
    desk.run(collection.add_plant, NewPlant("Cattleya walkeriana", 101))
    page = QWidget()
    qtbot.addWidget(page)
    made = YearsPanel(desk, Signals(), style.palette(False), page)
    desk.listeners.append(lambda *_changed: made.show_now())
    made.frame.setParent(page)
    page.resize(500, 900)
    made.show_now()
    page.show()
    made.list.setCurrentIndex(made.list.rows.index(0))
    return made


def spoken(panel: YearsPanel) -> str:
    """The first row as it is read out."""
    words = panel.list.rows.told(panel.list.rows.rows[0], 0)
    assert words is not None
    return words


def test_a_year_is_changed_in_the_form_read_out_and_put_back(panel: YearsPanel, desk: Desk) -> None:
    shipped = spoken(panel)
    assert shipped.startswith("Cattleya, 1 plant, from memory: Growth Mar to Oct, rest Nov to Jan")
    assert not panel.back.isEnabled()
    assert not panel.hint.isVisibleTo(panel.frame)
    panel.change.click()
    assert form().rows.values()["rest_from"] == 11
    fill(rest_from=12, rest_to=2, dry=True, bloom_from=None, note="  mine   sulk ")
    assert "yours: Growth Mar to Oct, dry rest Dec to Feb, repot Mar to May. mine sulk" in spoken(panel)
    assert panel.list.chosen is not None
    assert panel.list.chosen.genus == "Cattleya", "it stays chosen"
    panel.back.click()
    assert spoken(panel) == shipped


def test_with_no_genus_chosen_it_is_said_that_one_must_be(panel: YearsPanel) -> None:
    panel.list.setCurrentIndex(QModelIndex())
    assert not panel.change.isEnabled()
    assert panel.hint.isVisibleTo(panel.frame)
    assert panel.hint.text() == "Choose a genus in the list first, to change its year or put it back."


def test_another_genus_is_added_and_all_are_shown_on_asking(panel: YearsPanel, desk: Desk) -> None:
    assert panel.list.rows.rowCount() == 1
    panel.another.click()
    fill(genus="Thunia", growth_from=4, growth_to=9)
    assert [row.genus for row in panel.list.rows.rows] == ["Cattleya", "Thunia"]
    assert desk.read(years.rows)[-1].genus == "Zygopetalum"
    panel.all.click()
    assert panel.list.rows.rowCount() > 40


def test_what_does_not_go_together_is_said_in_the_form(panel: YearsPanel) -> None:
    asked = panel.ask(None)
    asked.set("genus", "two words")
    asked.accept_button.click()
    assert asked.isVisible()
    assert "one capital" in asked._fault.text()
    asked.reject()


def test_the_list_is_a_sound_model_and_paints_what_changed(panel: YearsPanel, desk: Desk,
                                                                              qtmodeltester: ModelTester) -> None:
    qtmodeltester.check(panel.list.rows)  # type: ignore[no-untyped-call]
    assert panel.list.painted.month == desk.clock().month
    before = panel.list.grab().toImage()
    desk.run(years.save, GenusYear("Cattleya", rest=Stretch(11, 1), dry=True))
    assert panel.list.grab().toImage() != before
    assert panel.list.rows.rowCount(QModelIndex()) == 1


def test_a_year_of_one_plant_is_added_and_read_out_as_such(panel: YearsPanel, desk: Desk) -> None:
    panel.another.click()
    fill(genus="101", growth_from=1, growth_to=12)
    told = [panel.list.rows.told(row, 0) or "" for row in panel.list.rows.rows]
    assert any(words.startswith("Plant 101, 1 plant, yours: Growth all year") for words in told)
    assert any(words.startswith("Cattleya, 1 plant, from memory") for words in told)
