"""Labels saved, their printers measured, a lost one found again: what is written, and what is kept of it."""

from __future__ import annotations

from pathlib import Path

import pytest
from PIL import Image
from pytestqt.qtbot import QtBot

from greenhouse_desk import app
from greenhouse_desk.domain.paper import Correction
from greenhouse_desk.ui import window_settings
from greenhouse_desk.ui.labels import printing
from greenhouse_desk.ui.labels.screen import LabelsScreen
from greenhouse_desk.ui.printer import correction_of
from greenhouse_desk.ui.window_settings import WindowSettings
from tests.ui.house import fill, words_of
from tests.ui.house import form as the_form
from tests.ui.test_labels_screen import choose, entries, printed_numbers, type_numbers
from tests.ui.test_spoken_names import unnamed


@pytest.mark.parametrize("name", ["a.pdf", "a.png", "a.svg"])
def test_saving_writes_the_file_and_the_journal(labels: LabelsScreen, tmp_path: Path, name: str, qtbot: QtBot) -> None:
    type_numbers(labels, "101-103")
    with qtbot.waitSignal(labels.saving.saved, timeout=20_000):
        labels.save(tmp_path / name)
        assert labels.save_button.text() == "Saving…"
        type_numbers(labels, "106")  # what is asked for afterwards is not what is saved
    assert labels.save_button.text() == "Save as file"
    assert (tmp_path / name).stat().st_size > 1000
    assert entries(labels) == [101, 102, 103]
    labels.show_now()
    choose(labels, "Label out of date (3)")
    assert printed_numbers(labels) == [104, 105, 106]


def test_what_is_saved_is_what_was_asked_for_last(labels: LabelsScreen, tmp_path: Path, qtbot: QtBot) -> None:
    labels.choosing.take((101, 104))
    with qtbot.waitSignal(labels.saving.saved, timeout=20_000):
        labels.save(tmp_path / "a.pdf")
    assert entries(labels) == [101, 104]


def test_a_png_has_as_many_dots_as_the_label_printer(labels: LabelsScreen, tmp_path: Path, qtbot: QtBot) -> None:
    with qtbot.waitSignal(labels.saving.saved, timeout=20_000):
        printing.with_dots(labels.window(), tmp_path / "a.png", labels.save)
        fill(dots=203)
    with Image.open(tmp_path / "a.png") as found:
        assert found.size == (round(210 / 25.4 * 203), round(297 / 25.4 * 203))
        assert found.info["dpi"] == pytest.approx((203, 203), abs=0.1)


def test_a_file_that_cannot_be_written_writes_no_journal(running: app.Program, labels: LabelsScreen,
                                                         tmp_path: Path, qtbot: QtBot) -> None:
    with qtbot.waitSignal(labels.saving.refused, timeout=20_000):
        labels.save(tmp_path / "a.txt")
    assert "a.txt is none of our kinds of file" in words_of(running.window.messages)
    assert not labels.saving.busy
    assert running.window.messages.isVisible()
    assert entries(labels) == []


def test_what_was_measured_is_kept_for_that_printer(running: app.Program, labels: LabelsScreen) -> None:
    told: list[object] = []
    running.printing.corrections_changed.connect(told.append)
    labels.measured_button.click()
    form = the_form()
    for name, value in (("printer", "Study"), ("across", 98.0), ("down", 101.0), ("left", 19.0), ("top", 22.0)):
        form.set(name, value)
    form.accept_button.click()
    assert not form.isVisible()
    put_right = correction_of(running.printing.corrections, "Study")
    assert put_right.across == pytest.approx(100 / 98)
    assert correction_of(running.printing.corrections, "another") == Correction()
    assert told == [running.printing.corrections]
    assert "From now on Study prints at true size." in words_of(running.window.messages)


def test_a_plant_whose_label_is_lost_is_found_by_place_and_genus(labels: LabelsScreen) -> None:
    box = labels.search_lost()
    assert list(unnamed(box)) == []
    assert "It may be one of 6 plants" in words_of(box)
    assert not box.take.isEnabled()
    box.place.setCurrentText("Long bench")
    box.genus.setCurrentText("Cattleya")
    assert "It may be one of 1 plant." in words_of(box)
    box.genus.setCurrentText("Paphiopedilum")
    assert "look among those beside it" in words_of(box)
    box.genus.setCurrentText("Cattleya")
    box.list.setCurrentRow(0)
    box.take.click()
    assert not box.isVisible()
    labels.work_out()
    assert printed_numbers(labels) == [102]


@pytest.mark.parametrize(("kept", "read"), [
    ([1.02, 0.98, 1.5, -2.0], [1.02, 0.98, 1.5, -2.0]), ([1.0, 1.0, 0.0], None), ([5.0, 1.0, 0.0, 0.0], None),
    (["a", 1.0, 0.0, 0.0], None), ([1, 1, 0, 99], None)])
def test_a_printers_correction_outlasts_the_window_and_nonsense_is_dropped(tmp_path: Path, kept: list[float],
                                                                           read: list[float] | None) -> None:
    path = tmp_path / "window.toml"
    window_settings.write(path, WindowSettings(printers={"Study": kept}))
    assert window_settings.read(path).printers == ({} if read is None else {"Study": read})
