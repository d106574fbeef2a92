"""The screen's real width: asked, kept with the window, and used for every size of bench mode."""

from __future__ import annotations

from pathlib import Path

import pytest
from PySide6.QtCore import QTimer
from PySide6.QtGui import QColor
from PySide6.QtWidgets import QApplication, QPushButton, QWidget
from pytestqt.qtbot import QtBot

from greenhouse_desk.services.clock import SteppedClock
from greenhouse_desk.services.desk import Desk
from greenhouse_desk.ui import style, window_settings
from greenhouse_desk.ui.bench.ruler import Ruler, RulerDialog, logical_dpi
from greenhouse_desk.ui.bench.sizes import DIGITS_FLOOR_MM, TARGET_MM
from greenhouse_desk.ui.whole_screen import screen_of
from greenhouse_desk.ui.window_settings import WindowSettings
from tests.ui.bench_opened import Opened, begin, furnished, press


def test_the_width_measured_is_kept_with_the_window(tmp_path: Path) -> None:
    path = tmp_path / "window.toml"
    window_settings.write(path, WindowSettings(screen_mm=310, width=900))
    assert window_settings.read(path) == WindowSettings(screen_mm=310, width=900)
    for odd in ("5", "99999", "-310", "true", "'310'"):
        path.write_text(f"screen_mm = {odd}", "utf-8")
        assert window_settings.read(path).screen_mm == 0


@pytest.mark.parametrize("dpi", [60.0, 96.0, 157.0])
def test_the_line_drawn_is_100_mm_long(qtbot: QtBot, dpi: float) -> None:
    ruler = Ruler(style.palette(False))
    qtbot.addWidget(ruler)
    ruler.show_dpi(dpi)
    ruler.resize(ruler.sizeHint())
    picture = ruler.grab().toImage()
    ink = QColor(style.HEX["ink"][0])
    found = [x for x in range(picture.width()) if picture.pixelColor(x, 22) == ink]
    assert (found[-1] - found[0] + 1) / dpi * 25.4 == pytest.approx(100, abs=0.5)


def test_a_width_given_draws_the_line_by_it(qtbot: QtBot) -> None:
    parent = QWidget()
    qtbot.addWidget(parent)
    dialog = RulerDialog(style.palette(False), 0, parent)
    assert dialog.own.isChecked()
    assert dialog.measured_mm == 0
    assert not dialog.width_mm.isEnabled()
    dialog.own.setChecked(False)
    dialog.width_mm.setValue(310)
    assert dialog.measured_mm == 310
    across = screen_of(parent).geometry().width()
    assert dialog.ruler.length == pytest.approx(across * 100 / 310)
    assert logical_dpi(parent, 310) == pytest.approx(across / 310 * 25.4)


def _given(width_mm: int) -> None:
    """Give a width in the dialog that is open, and keep it."""
    dialog = QApplication.activeModalWidget()
    assert isinstance(dialog, RulerDialog)
    dialog.own.setChecked(False)
    dialog.width_mm.setValue(width_mm)
    keep = [made for made in dialog.findChildren(QPushButton) if made.text() == "Keep"]
    keep[0].click()


def test_bench_mode_draws_by_the_width_measured(qtbot: QtBot, desk: Desk, clock: SteppedClock,
                                                tmp_path: Path) -> None:
    furnished(desk, clock)
    opened = Opened(desk, clock, tmp_path, dpi=None)
    kept: list[int] = []
    opened.screen.screen_measured.connect(kept.append)
    QTimer.singleShot(0, lambda: _given(310))
    press(opened.screen.chooser.size_button)
    assert kept == [310]
    begin(opened, 101)
    mode = opened.screen.mode
    assert mode is not None
    sizes = mode.face.sizes
    per_mm = screen_of(opened.screen).geometry().width() / 310
    assert sizes.px_per_mm == pytest.approx(per_mm)
    assert sizes.digits_floor * 0.648 / per_mm >= DIGITS_FLOOR_MM
    assert min(view.height() for view in mode.face.keys.values()) / per_mm >= TARGET_MM - 0.3
    opened.close()
