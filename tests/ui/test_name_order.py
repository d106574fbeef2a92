"""Names with words written from right to left: where each word is painted, read off the painter itself."""

from __future__ import annotations

from itertools import pairwise

import pytest
from PySide6.QtCore import QPointF, QRectF
from PySide6.QtGui import QColor, QFont
from PySide6.QtWidgets import QApplication

from greenhouse_desk.domain.names import parse
from greenhouse_desk.ui import drawing, fonts, style

FIRST, SECOND, THIRD = "ורוד", "אחת", "סחלב"


@pytest.fixture
def faces(qapp: QApplication) -> None:
    """The faces the program brings along."""
    fonts.load()


class Pen:
    """Takes a painter's place, and notes what was painted where."""

    def __init__(self) -> None:
        self.words: list[tuple[float, float, str]] = []
        self._font = QFont()

    def setPen(self, ink: QColor) -> None:
        """Any ink."""

    def setFont(self, font: QFont) -> None:
        """The face the next words are painted in."""
        self._font = font

    def drawText(self, at: QPointF, text: str) -> None:
        """Note the words."""
        self.words.append((at.x(), drawing.width_of(text.rstrip(), self._font), text.strip()))


def painted(name: str) -> list[str]:
    """The words of a name from left to right as they stand on the page, none over another."""
    pen = Pen()
    drawing.name_block(pen, QRectF(10, 0, 900, 40), parse(name), style.palette(False), 16, 1, 20)  # type: ignore[arg-type]
    found = sorted(pen.words)
    assert found[0][0] == pytest.approx(10, abs=6)
    for (x, wide, _), (after, _, _) in pairwise(found):
        assert x + wide <= after + 0.5, found
        assert after - x - wide < 12, "a space apart"
    return [word for _, _, word in found]


def test_words_from_right_to_left_keep_their_order_among_themselves(faces: None) -> None:
    assert painted(f"Cattleya {FIRST} {SECOND} {THIRD}") == ["Cattleya", THIRD, SECOND, FIRST]


def test_what_stands_after_them_stays_after_them(faces: None) -> None:
    assert painted(f"Cattleya {FIRST} {SECOND} Grande") == ["Cattleya", SECOND, FIRST, "Grande"]


def test_a_figure_or_a_sign_between_them_goes_with_them(faces: None) -> None:
    assert painted(f"Cattleya {FIRST} & {SECOND} 12") == ["Cattleya", "12", SECOND, "&", FIRST]


def test_other_names_stand_as_they_are_written(faces: None) -> None:
    assert painted("Cattleya walkeriana 'Slate'") == ["Cattleya", "walkeriana", "‘Slate’"]
    assert painted(f"Cattleya {FIRST}") == ["Cattleya", FIRST]
