"""A label before the camera brings up its plant: frames are fed as a camera gives them, pictures read from files."""

from __future__ import annotations

import sys
from collections.abc import Iterator
from pathlib import Path

import pytest
import segno
from PySide6.QtCore import QCoreApplication, Qt
from PySide6.QtGui import QImage
from PySide6.QtMultimedia import QCameraDevice, QVideoFrame
from PySide6.QtTest import QTest
from PySide6.QtWidgets import QWidget
from pytestqt.qtbot import QtBot
from shiboken6 import isValid

from greenhouse_desk import app
from greenhouse_desk.domain.labels_sheets import printed
from greenhouse_desk.services.clock import SteppedClock
from greenhouse_desk.services.desk import Desk
from greenhouse_desk.store.engine import Store
from greenhouse_desk.ui import camera, label_reading, paper, style
from greenhouse_desk.ui.label_sheet import NONE_THERE, OTHERS, SEVERAL, STEADY, LabelSheet
from tests.domain.label_builders import LAYOUTS, told
from tests.ui.house import pressed, words_of
from tests.ui.test_spoken_names import unnamed

PATIENT_MS = 20_000
"""However busy the machine is."""
BY_ID = {layout.id: layout for layout in LAYOUTS}
pytestmark = pytest.mark.qt_log_ignore("Couldn't load pipewire", "Couldn't resolve pipewire", "No RHI backend")
"""What Qt's part for cameras says of a machine without PipeWire and without a graphics card."""


def picture(*numbers: int, layout: str = "a5-70x38", dpi: int = 130) -> QImage:
    """A page with the labels of these plants, as it is printed."""
    (page,) = printed(BY_ID[layout], [told(number=number) for number in numbers], paper.measure).pages
    return paper.image(page, dpi)


def of_code(text: str, path: Path) -> QImage:
    """A code that says something."""
    segno.make_qr(text).save(str(path), scale=5)
    return QImage(str(path))


@pytest.fixture
def sheet(places: dict[str, int], store: Store, clock: SteppedClock, qtbot: QtBot) -> Iterator[LabelSheet]:
    """The sheet on the furnished house, without the rest of the window."""
    assert places
    parent = QWidget()
    qtbot.addWidget(parent)
    made = LabelSheet(Desk(store, clock.now), style.palette(False), parent)
    made.setAttribute(Qt.WidgetAttribute.WA_DeleteOnClose, False)
    made.open()
    made.look()
    yield made
    assert isValid(parent)


@pytest.fixture
def heard(sheet: LabelSheet) -> list[int]:
    """The plants that the sheet tells."""
    numbers: list[int] = []
    sheet.found.connect(numbers.append)
    return numbers


def feed(sheet: LabelSheet, image: QImage, qtbot: QtBot, times: int = 1) -> None:
    """The camera sees this, and it is looked at."""
    assert sheet.camera.sink is not None
    for _ in range(times):
        with qtbot.waitSignal(sheet._tasks.done, timeout=PATIENT_MS):
            sheet.camera.sink.setVideoFrame(QVideoFrame(image.convertToFormat(QImage.Format.Format_RGB32)))


def test_codes_are_read_with_their_place_and_a_label_with_two_codes_counts_once(qapp: object, tmp_path: Path) -> None:
    seen = label_reading.look_at(picture(104, 1010))
    assert (seen.numbers, seen.others) == ((104, 1010), False)
    (first, _second) = seen.codes if seen.codes[0].number == 104 else reversed(seen.codes)
    by = 130 / 25.4
    assert first.corners[0] == pytest.approx(((4 + 47 + 2.8) * by, (10 + 3 + 2.8) * by), abs=3)
    tag = label_reading.look_at(picture(104, layout="tag"))
    assert (tag.numbers, len(tag.codes)) == ((104,), 2)
    assert label_reading.look_at(of_code("another thing", tmp_path / "a.png")).others
    assert label_reading.look_at(QImage()).codes == ()


def test_a_label_held_still_is_told_and_the_sheet_goes(sheet: LabelSheet, heard: list[int], qtbot: QtBot) -> None:
    feed(sheet, picture(104), qtbot, STEADY - 1)
    assert sheet.isVisible(), "one look may miss a second label"
    feed(sheet, picture(104), qtbot)
    assert not sheet.isVisible()
    assert heard == [104]


def test_of_several_in_sight_one_is_chosen(sheet: LabelSheet, heard: list[int], qtbot: QtBot) -> None:
    feed(sheet, picture(104), qtbot, STEADY - 1)
    feed(sheet, picture(102, 104), qtbot)
    feed(sheet, picture(104), qtbot)
    assert sheet.words.text() == SEVERAL
    assert [sheet.list.item(row).text() for row in range(2)] == [
        "102  Cattleya walkeriana 'Slate'", "104  Miltoniopsis Bleuana"]
    sheet.list.setCurrentRow(1)
    feed(sheet, picture(102, 104), qtbot)
    assert sheet.list.currentRow() == 1, "another look at the same does not take the choice away"
    feed(sheet, picture(102, 104, 999), qtbot)
    assert sheet.list.currentItem().text().startswith("104")
    assert sheet.list.item(2).text() == "999  no plant of yours"
    assert list(unnamed(sheet)) == []
    assert sheet.list.hasFocus()
    QTest.keyClick(sheet.list, Qt.Key.Key_Return)
    assert heard == [104]


def test_other_codes_are_said_and_chosen_by_none(sheet: LabelSheet, qtbot: QtBot, tmp_path: Path) -> None:
    feed(sheet, of_code("https", tmp_path / "a.png"), qtbot, STEADY)
    assert sheet.words.text() == OTHERS
    assert sheet.isVisible()
    assert not sheet.take.isVisible()


def test_frames_that_come_while_one_is_read_are_let_go(sheet: LabelSheet, qtbot: QtBot) -> None:
    asked: list[object] = []
    sheet.camera.pictured.connect(asked.append)
    assert sheet.camera.sink is not None
    image = picture(104).convertToFormat(QImage.Format.Format_RGB32)
    with qtbot.waitSignal(sheet._tasks.done, timeout=PATIENT_MS):
        for _ in range(4):
            sheet.camera.sink.setVideoFrame(QVideoFrame(image))  # the same frame again would be no news
        assert len(asked) == 1


def test_a_picture_file_is_read_in_the_cameras_place(sheet: LabelSheet, heard: list[int], qtbot: QtBot,
                                                     tmp_path: Path) -> None:
    blank, label = tmp_path / "blank.png", tmp_path / "label.jpg"
    assert picture(104).copy(0, 0, 90, 90).save(str(blank))
    assert picture(105).save(str(label))
    with qtbot.waitSignal(sheet._tasks.done, timeout=PATIENT_MS):
        sheet.read_file(blank)
    assert sheet.words.text() == NONE_THERE
    with qtbot.waitSignal(sheet._tasks.done, timeout=PATIENT_MS):
        sheet.read_file(label)
    assert not sheet.isVisible()
    assert heard == [105]


def test_what_is_no_picture_is_said_and_the_sheet_stays(sheet: LabelSheet, qtbot: QtBot, tmp_path: Path) -> None:
    (tmp_path / "a.jpg").write_text("no picture")
    with qtbot.waitSignal(sheet._tasks.failed, timeout=PATIENT_MS):
        sheet.read_file(tmp_path / "a.jpg")
    assert "This is not a photo" in sheet.view.accessibleDescription()
    assert sheet.again.isVisible()


def test_without_a_camera_it_says_what_to_do(sheet: LabelSheet) -> None:
    assert sheet.view.accessibleDescription() == camera.NO_CAMERA
    assert sheet.again.isVisible()
    assert list(unnamed(sheet)) == []


def test_a_camera_that_does_not_load_or_is_not_allowed_is_said(sheet: LabelSheet,
                                                               monkeypatch: pytest.MonkeyPatch) -> None:
    with monkeypatch.context() as patched:
        patched.setitem(sys.modules, "PySide6.QtMultimedia", None)
        pressed(sheet, "Look again")
        assert sheet.view.accessibleDescription() == camera.NOT_LOADED
    with monkeypatch.context() as patched:
        patched.setattr(QCoreApplication, "checkPermission", lambda *_: Qt.PermissionStatus.Denied)
        pressed(sheet, "Look again")
        assert sheet.view.accessibleDescription() == camera.NOT_ALLOWED


def test_a_camera_that_fails_or_gives_no_picture_is_said_and_let_go(sheet: LabelSheet) -> None:
    sheet.camera._begin(QCameraDevice())
    assert "The camera gives no picture: No camera detected." in sheet.view.accessibleDescription()
    assert not sheet.camera.looking
    assert sheet.again.isVisible()
    sheet.camera._patience.timeout.emit()
    assert "The camera gives no picture: none came." in sheet.view.accessibleDescription()


def test_a_reader_that_does_not_load_is_said(sheet: LabelSheet, qtbot: QtBot, monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setitem(sys.modules, "zxingcpp", None)
    assert sheet.camera.sink is not None
    with qtbot.waitSignal(sheet._tasks.failed, timeout=PATIENT_MS):
        sheet.camera.sink.setVideoFrame(QVideoFrame(picture(104).convertToFormat(QImage.Format.Format_RGB32)))
    assert "Codes cannot be read on this computer" in sheet.view.accessibleDescription()


def test_its_key_brings_up_a_plant_on_any_screen_and_never_at_the_bench(
        running: app.Program, qtbot: QtBot, monkeypatch: pytest.MonkeyPatch) -> None:
    window = running.window
    window.show_titled("House")
    QTest.keyClick(window, Qt.Key.Key_L, Qt.KeyboardModifier.ControlModifier)
    (opened,) = window.findChildren(LabelSheet)
    feed(opened, picture(104), qtbot, STEADY)
    assert window.current_title() == "Collection"
    assert "104" in words_of(running.collection.drawer)
    qtbot.waitUntil(lambda: not window.findChildren(LabelSheet))
    window.navigation.read_button.click()
    (again,) = window.findChildren(LabelSheet)
    feed(again, picture(999), qtbot, STEADY)
    assert "There is no plant 999" in words_of(window.messages)
    monkeypatch.setattr(running.bench, "mode", object())
    assert running.read_label() is None
    monkeypatch.undo()
    left = running.read_label()
    assert left is not None
    QTest.keyClick(left, Qt.Key.Key_Escape)
    assert not left.isVisible()
    window.navigation.read_button.click()
    running.scanner.scanned.emit(102)
    assert not any(one.isVisible() for one in window.findChildren(LabelSheet)), "a scanner was quicker"
    assert "102" in words_of(running.collection.drawer)
