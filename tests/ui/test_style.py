"""Colours keep their contrast on every ground they are set on; faces are there; marks are all painted."""

from __future__ import annotations

import shutil
from pathlib import Path

import pytest
from coloraide import Color
from PySide6.QtCore import QRectF
from PySide6.QtGui import QFontInfo, QFontMetricsF, QImage, QPainter
from PySide6.QtWidgets import QApplication, QCheckBox
from pytestqt.qtbot import QtBot

from greenhouse_desk.domain.journal import Kind
from greenhouse_desk.services import records_words
from greenhouse_desk.shipped import folder
from greenhouse_desk.ui import fonts, marks, sheet, style
from greenhouse_desk.ui.style import HEX

GROUNDS = ("bench", "sheet", "inset")
INKS = ("ink", "ink2", "water", "due", "madder", "hold", "clean", "duskink")
FILLS = ("water_fill", "due_fill", "madder_fill", "hold_fill", "dusk_fill")
COLOURED = ("water", "due", "madder", "hold", "clean")
LEAST_TEXT, LEAST_EDGE = 7.0, 3.0
STATUSES = ("newcomer", "exposed", "suspect", "infested", "under treatment", "under watch", "clear")
CARE = ("over", "today", "tomorrow", "later", "hold", "drying")


def ratio(ink: str, ground: str) -> float:
    """WCAG 2.1 contrast ratio."""
    return Color(ink).contrast(Color(ground), method="wcag21")


def test_the_measure_of_contrast_knows_the_published_extremes() -> None:
    """WCAG 2.1, contrast ratio: 21:1 for black on white, 1:1 for equal colours."""
    assert ratio("#000000", "#FFFFFF") == pytest.approx(21)
    assert ratio("#777777", "#777777") == pytest.approx(1)


@pytest.mark.parametrize("dark", [False, True], ids=["light", "dark"])
@pytest.mark.parametrize("ground", GROUNDS)
@pytest.mark.parametrize("ink", INKS)
def test_text_is_seven_to_one_on_every_ground(ink: str, ground: str, dark: bool) -> None:
    assert ratio(HEX[ink][dark], HEX[ground][dark]) >= LEAST_TEXT


@pytest.mark.parametrize("dark", [False, True], ids=["light", "dark"])
def test_text_on_rails_plates_and_the_main_button(dark: bool) -> None:
    assert ratio(HEX["on_rail"][dark], HEX["rail"][dark]) >= LEAST_TEXT
    for plate in ("plate", "number_plate"):
        assert ratio(HEX["on_plate"][dark], HEX[plate][dark]) >= LEAST_TEXT
    assert ratio(HEX["sheet"][dark], HEX["ink"][dark]) >= LEAST_TEXT


@pytest.mark.parametrize("dark", [False, True], ids=["light", "dark"])
@pytest.mark.parametrize("ink", COLOURED)
def test_coloured_words_on_a_plate_use_the_light_ink(ink: str, dark: bool) -> None:
    colours = style.palette(dark)
    assert ratio(colours.on_plate_ink(ink).name(), HEX["plate"][dark]) >= LEAST_TEXT


@pytest.mark.parametrize("dark", [False, True], ids=["light", "dark"])
@pytest.mark.parametrize("fill", [fill for fill in FILLS if fill != "due_fill"])
def test_ink_on_fills(fill: str, dark: bool) -> None:
    assert ratio(HEX["ink"][dark], HEX[fill][dark]) >= LEAST_TEXT


@pytest.mark.parametrize("dark", [False, True], ids=["light", "dark"])
def test_the_plate_ink_is_used_on_amber(dark: bool) -> None:
    assert ratio(HEX["on_plate"][dark], HEX["due_fill"][dark]) >= LEAST_TEXT


@pytest.mark.parametrize("dark", [False, True], ids=["light", "dark"])
@pytest.mark.parametrize("ground", GROUNDS)
def test_edges_and_focus_can_be_seen(ground: str, dark: bool) -> None:
    for edge in ("rule2", "water"):
        assert ratio(HEX[edge][dark], HEX[ground][dark]) >= LEAST_EDGE


def test_a_palette_changes_in_place_for_all_who_hold_it() -> None:
    colours = style.palette(False)
    colours.become(True)
    assert colours.dark
    assert colours.ink.name().upper() == HEX["ink"][True]
    assert colours.named("sheet").name().upper() == HEX["sheet"][True]
    with pytest.raises(KeyError):
        colours.named("leaf")


def test_faces_come_with_the_program(qapp: QApplication) -> None:
    assert fonts.load() == ()
    for font, family, weight in (
            (style.serif(28, 600), fonts.SERIF, 600), (style.sans(14), fonts.SANS, 400),
            (style.sans(14, 700), fonts.SANS, 700), (style.serif(16, 400, True), fonts.SERIF, 400)):
        info = QFontInfo(font)
        assert (info.family(), info.weight()) == (family, weight)
    assert QFontInfo(style.serif(16, 400, True)).italic()


def test_figures_are_all_of_one_width(qapp: QApplication) -> None:
    fonts.load()
    for font in (style.sans(46, 600), style.serif(28, 600)):
        metrics = QFontMetricsF(font)
        assert {metrics.horizontalAdvance(str(digit) * 4) for digit in range(10)} == {metrics.horizontalAdvance("0000")}


@pytest.mark.parametrize("dark", [False, True], ids=["light", "dark"])
def test_the_style_sheet_takes_every_colour_it_names(dark: bool) -> None:
    text = sheet.sheet({name: pair[dark] for name, pair in HEX.items()}, dark)
    assert "$" not in text
    assert HEX["water"][dark] in text
    with pytest.raises(KeyError):
        sheet.sheet({"ink": "#000000"}, dark)


def test_the_style_sheet_is_taken_from_a_folder_of_any_name(qtbot: QtBot, tmp_path: Path,
                                                           monkeypatch: pytest.MonkeyPatch) -> None:
    """At a blank in its path Qt stopped reading: no arrows, no ticks, and all that follows as Qt has it."""
    odd = tmp_path / """Grüne Höhle (it's "new") $x;"""
    shutil.copytree(folder("style"), odd)
    monkeypatch.setattr(sheet, "folder", lambda _name: odd)
    box = QCheckBox()
    qtbot.addWidget(box)
    box.setChecked(True)
    box.setStyleSheet(sheet.sheet({name: pair[False] for name, pair in HEX.items()}, False))
    seen = box.grab().toImage()
    box.setStyleSheet(box.styleSheet().replace("image: url(arrows:tick-light.svg);", ""))
    assert box.grab().toImage() != seen, "the tick is painted"
    monkeypatch.undo()
    sheet.sheet({name: pair[False] for name, pair in HEX.items()}, False)


def painted(name: str, dark: bool = False) -> QImage:
    image = QImage(28, 28, QImage.Format.Format_RGB32)
    colours = style.palette(dark)
    image.fill(colours.sheet)
    painter = QPainter(image)
    marks.paint(painter, name, QRectF(0, 0, 28, 28), colours)
    painter.end()
    return image


@pytest.mark.parametrize("name", sorted(marks.SHAPES))
def test_every_mark_is_painted_and_differs_from_the_others(qapp: QApplication, name: str) -> None:
    alike = {"step in": "over", "look again": "inspection"}
    image = painted(name)
    blank = QImage(image.size(), image.format())
    blank.fill(style.palette(False).sheet)
    assert image != blank
    for other in marks.SHAPES:
        if other != name and alike.get(name) != other and alike.get(other) != name:
            assert painted(other) != image, other


def test_every_status_care_and_entry_has_its_mark() -> None:
    assert {*STATUSES, *CARE} <= set(marks.SHAPES)
    assert set(marks.SHAPES) == set(marks.COLOUR)
    assert len(records_words.SAYINGS) == len(Kind)


def test_an_unknown_mark_is_a_fault() -> None:
    with pytest.raises(KeyError):
        marks.colour("sparkles", style.palette(False))
