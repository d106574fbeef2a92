"""The faces of printed pages: at hand without a window, and what words in them take up in mm."""

from __future__ import annotations

import os
import threading
from functools import cache, lru_cache

from PySide6.QtCore import QPointF
from PySide6.QtGui import QFont, QFontDatabase, QFontMetricsF, QGuiApplication, QPainterPath

from greenhouse_desk.domain.paper import Extent, Face, Measure
from greenhouse_desk.ui import fonts

PIXELS = 200  # size a face is measured and drawn at before it is scaled, so that every size is exactly proportional
_HELD: list[QGuiApplication] = []


def ready() -> None:
    """Have the program's faces at hand where no window is open: off-screen, once."""
    if QGuiApplication.instance() is None:
        os.environ.setdefault("QT_QPA_PLATFORM", "offscreen")
        _HELD.append(QGuiApplication([]))
    if not {fonts.SERIF, fonts.SANS} <= set(QFontDatabase.families()):
        fonts.load()


class _Fonts(threading.local):
    """Fonts made in one thread: Qt keeps what it has loaded for a font by thread, and must not find another's."""

    def __init__(self) -> None:
        self.made: dict[tuple[str, bool, bool], QFont] = {}


_FONTS = _Fonts()


def font_of(family: str, bold: bool, italic: bool) -> QFont:
    """A face at the size it is measured at; each thread has its own."""
    asked = (family, bold, italic)
    if asked not in _FONTS.made:
        _FONTS.made[asked] = _font(*asked)
    return _FONTS.made[asked]


def _font(family: str, bold: bool, italic: bool) -> QFont:
    font = QFont(fonts.SERIF if family == "serif" else fonts.SANS)
    font.setPixelSize(PIXELS)
    font.setWeight(QFont.Weight.DemiBold if bold else QFont.Weight.Normal)
    font.setItalic(italic)
    font.setHintingPreference(QFont.HintingPreference.PreferNoHinting)
    font.setFeature(QFont.Tag("lnum"), 1)
    font.setFeature(QFont.Tag("liga"), 0)  # in a PDF joined letters such as "ft" would be lost to search and to copying
    return font


@cache
def _capital(family: str, bold: bool, italic: bool) -> float:
    return QFontMetricsF(font_of(family, bold, italic)).capHeight()


def scale_of(face: Face) -> float:
    """mm for each pixel that the face is drawn at."""
    return face.letter / _capital(face.family, face.bold, face.italic)


@lru_cache(maxsize=20_000)
def _extent(text: str, family: str, bold: bool, italic: bool) -> Extent:
    font = font_of(family, bold, italic)
    metrics = QFontMetricsF(font)
    ink = metrics.tightBoundingRect(text)
    if not text.isascii():  # Qt misplaces marks below letters and words from right to left there; shapes it does not
        path = QPainterPath()
        path.addText(QPointF(0, 0), font, text)
        ink = ink.united(path.boundingRect())
    return Extent(ink.left(), ink.right(), ink.top(), ink.bottom(), metrics.horizontalAdvance(text))


def _measured(text: str, face: Face) -> Extent:
    by = scale_of(face)
    whole = _extent(text, face.family, face.bold, face.italic)
    return Extent(whole.left * by, whole.right * by, whole.top * by, whole.bottom * by, whole.advance * by)


measure: Measure = _measured
"""What words take up in mm as `paint` will draw them."""
