"""The years of genera as a list: each with twelve months painted, and the same in words below."""

from __future__ import annotations

from PySide6.QtCore import QRectF, QSize, Qt
from PySide6.QtGui import QFontMetricsF, QPainter
from PySide6.QtWidgets import QListView, QStyle, QStyledItemDelegate, QStyleOptionViewItem, QWidget

from greenhouse_desk.domain.figures import counted
from greenhouse_desk.domain.sentences import capital
from greenhouse_desk.domain.year import GenusYear, Stretch
from greenhouse_desk.domain.year import whose as whose_key
from greenhouse_desk.services.years import Row
from greenhouse_desk.ui import drawing
from greenhouse_desk.ui.drawing import Align
from greenhouse_desk.ui.rows import ROW, SPOKEN, Index, RowsModel
from greenhouse_desk.ui.style import Palette, hatch, sans, serif

MONTHS = 12
LETTERS = "JFMAMJJASOND"
HEAD, TRACK, PAD, LEFT = 28.0, 17.0, 8.0, 80.0
LINES = 3
TALL = 640
NAMES = (("growth", "Growth"), ("rest", "Rest"), ("bloom", "Bloom"), ("repot", "Repotting"))
"""The tracks of a strip by their field, and the word that stands left of each."""


def whose(row: Row) -> str:
    """"yours", or where the year comes from."""
    return "yours" if row.own else row.year.source if row.year else "no year yet"


def said(row: Row) -> str:
    """The year in words, with what is said beside it."""
    if row.year is None:
        return "Nothing is written of its year."
    return ". ".join(filter(None, (capital(row.year.words), row.year.note)))


def beside(row: Row) -> str:
    """What stands below the months."""
    return row.year.note if row.year else "Nothing is written of its year."


def parts_of(year: GenusYear) -> list[tuple[str, str, Stretch]]:
    """The stretches a year has: field, word and months."""
    return [(part, "Dry rest" if part == "rest" and year.dry else word, stretch) for part, word in NAMES
            if isinstance(stretch := getattr(year, part), Stretch)]


def strip(row: Row) -> float:
    """How high the months of a row are."""
    return TRACK * (1 + len(parts_of(row.year))) + 2 if row.year else 0.0


def heading_of(row: Row) -> str:
    """"Cattleya, 2 plants"."""
    return f"{title(row)}, {counted(row.plants, 'plant')}" if row.plants else title(row)


def title(row: Row) -> str:
    """"Cattleya", "Dendrobium nobile", "Plant 109"."""
    return capital(whose_key(row.genus))


class YearsModel(RowsModel[Row]):
    """A row a genus."""

    def key(self, row: Row) -> object:
        return row.genus

    def told(self, row: Row, role: int) -> str | None:
        return f"{heading_of(row)}, {whose(row)}: {said(row)}" if role in SPOKEN else None


class YearsDelegate(QStyledItemDelegate):
    """Genus, whose year it is, twelve months with a track for each stretch, and the words."""

    def __init__(self, palette: Palette, parent: QWidget) -> None:
        super().__init__(parent)
        self._look, self.month = palette, 1

    def sizeHint(self, option: QStyleOptionViewItem, index: Index) -> QSize:
        row = index.data(ROW)
        if not isinstance(row, Row):
            return QSize(220, 0)
        lines = drawing.wrapped(beside(row), sans(13), self._room(), LINES)
        return QSize(220, round(HEAD + strip(row) + len(lines) * step() + 2 * PAD + 4))

    def _room(self) -> float:
        view = self.parent()
        return max(float(view.viewport().width()) - 20.0, 120.0) if isinstance(view, QListView) else 200.0

    def paint(self, painter: QPainter, option: QStyleOptionViewItem, index: Index) -> None:
        row = index.data(ROW)
        if not isinstance(row, Row):
            return
        rect, look = QRectF(option.rect), self._look
        painter.save()
        painter.fillRect(QRectF(rect.left(), rect.bottom() - 1, rect.width(), 1), look.rule)
        inner = rect.adjusted(10, PAD, -10, 0)
        self._head(painter, QRectF(inner.left(), inner.top(), inner.width(), HEAD), row)
        y = inner.top() + HEAD
        if row.year is not None:
            self._strip(painter, QRectF(inner.left(), y, inner.width(), 0), row.year)
            y += strip(row)
        for line in drawing.wrapped(beside(row), sans(13), self._room(), LINES):
            drawing.text(painter, QRectF(inner.left(), y + 4, inner.width(), step()), line, sans(13), look.ink2)
            y += step()
        if option.state & QStyle.StateFlag.State_Selected:
            drawing.outline(painter, rect.adjusted(1.5, 2.5, -2.5, -3.5), look,
                            bool(option.state & QStyle.StateFlag.State_HasFocus))
        painter.restore()

    def _head(self, painter: QPainter, rect: QRectF, row: Row) -> None:
        look, right = self._look, whose(row)
        face = serif(18, 600, not row.genus.isdecimal())  # names are italic, numbers are not
        used = drawing.width_of(right, sans(13, 600 if row.own else 400)) + 12
        name = drawing.cut(title(row), face, rect.width() - used)
        drawing.text(painter, rect, name, face, look.ink)
        wide = drawing.width_of(name, face) + 8
        many = counted(row.plants, "plant") if row.plants else "none here"
        drawing.text(painter, rect.adjusted(wide, 2, -used, 0), many, sans(13), look.ink2)
        drawing.text(painter, rect, right, sans(13, 600 if row.own else 400), look.ink if row.own else look.ink2,
                     Align.AlignRight | Align.AlignVCenter)

    def _strip(self, painter: QPainter, rect: QRectF, year: GenusYear) -> None:
        """The months with their letters, a track with its word for each stretch, and the now-line through them."""
        look, cell, tracks = self._look, (rect.width() - LEFT) / MONTHS, parts_of(year)
        low = rect.top() + TRACK + len(tracks) * TRACK
        for nth, letter in enumerate(LETTERS):
            left, now = rect.left() + LEFT + nth * cell, nth + 1 == self.month
            drawing.text(painter, QRectF(left, rect.top(), cell, TRACK), letter, sans(13, 700 if now else 400),
                         look.ink if now else look.ink2, Align.AlignCenter)
            painter.fillRect(QRectF(left, rect.top() + TRACK, 1, low - rect.top() - TRACK), look.rule)
        for nth, (part, word, stretch) in enumerate(tracks, 1):
            top = rect.top() + nth * TRACK
            drawing.text(painter, QRectF(rect.left(), top, LEFT - 6, TRACK), word, sans(13), look.ink)
            for month in stretch.months:
                self._fill(painter, part, QRectF(rect.left() + LEFT + (month - 1) * cell, top + 4, cell, TRACK - 8),
                           year.dry)
        x = rect.left() + LEFT + (self.month - 0.5) * cell
        painter.fillRect(QRectF(x - 1.25, rect.top() + TRACK, 2.5, low - rect.top() - TRACK), look.ink)

    def _fill(self, painter: QPainter, part: str, box: QRectF, dry: bool) -> None:
        """Growth is a solid line, rest two lines (hatched where dry), bloom a tint, repotting a clay bar."""
        look = self._look
        if part == "growth":
            painter.fillRect(box.adjusted(0, 3, 0, -3), look.ink2)
            return
        if part == "repot":
            painter.fillRect(box, look.clay)
            return
        edge = look.ink2 if part == "rest" else look.water
        if part == "bloom":
            painter.fillRect(box, look.water_fill)
        elif dry:
            painter.fillRect(box, hatch(edge, 1, 3))
        for y in (box.top(), box.bottom() - 1):
            painter.fillRect(QRectF(box.left(), y, box.width(), 1), edge)


def step() -> float:
    """The height of a line of the words."""
    return QFontMetricsF(sans(13)).height()


class YearsList(QListView):
    """The rows, scrolled in a room of their own so that the page does not grow with them."""

    def __init__(self, palette: Palette) -> None:
        super().__init__()
        self.rows = YearsModel(self)
        self.painted = YearsDelegate(palette, self)
        self.setModel(self.rows)
        self.setItemDelegate(self.painted)
        self.setAccessibleName("The year of each genus")
        self.setFrameShape(QListView.Shape.NoFrame)
        self.setResizeMode(QListView.ResizeMode.Adjust)
        self.setVerticalScrollMode(QListView.ScrollMode.ScrollPerPixel)
        self.setHorizontalScrollBarPolicy(Qt.ScrollBarPolicy.ScrollBarAlwaysOff)
        self.setFixedHeight(TALL)

    @property
    def chosen(self) -> Row | None:
        """The row that is selected."""
        found = self.currentIndex().data(ROW)
        return found if isinstance(found, Row) else None
