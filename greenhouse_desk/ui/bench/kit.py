"""The kit beside the plan: what to lay out, ticked off as it stands there; cautions; what must not be mixed."""

from __future__ import annotations

from collections.abc import Sequence

from PySide6.QtCore import QRectF, QSize, Qt, Signal
from PySide6.QtGui import QMouseEvent, QPainter, QPaintEvent
from PySide6.QtWidgets import QCheckBox, QFrame, QHBoxLayout, QVBoxLayout, QWidget

from greenhouse_desk.domain.protocols import KitLine
from greenhouse_desk.domain.sentences import capital
from greenhouse_desk.ui import drawing, marks
from greenhouse_desk.ui.messages import button, heading, label
from greenhouse_desk.ui.style import Palette, sans
from greenhouse_desk.ui.words import measured


def amount(line: KitLine) -> str:
    """How much, short: "250 ml", "1.5 L", "3"."""
    if line.unit == "ml" and line.amount >= 1000:
        return f"{line.amount / 1000:g} L"
    return measured(line.amount, line.unit)


class Folded(QWidget):
    """A note: its first sentence, and the rest on asking."""

    def __init__(self, note: str, what: str) -> None:
        super().__init__()
        self._note = note
        first, dot, rest = note.partition(". ")
        self._short = first + dot.strip()
        self._label = label(self._short, "second", px=13)
        row = QHBoxLayout(self)
        row.setContentsMargins(0, 0, 0, 0)
        row.setSpacing(4)
        row.addWidget(self._label, 1, Qt.AlignmentFlag.AlignTop)
        if rest:
            more = button("More", "quiet", f"More about {what}")
            more.setFont(sans(13, 600))
            more.setCheckable(True)
            more.toggled.connect(self._on_more)
            row.addWidget(more, 0, Qt.AlignmentFlag.AlignTop)

    def _on_more(self, on: bool) -> None:
        self._label.setText(self._note if on else self._short)


class KitRow(QFrame):
    """One line of the kit; a press anywhere on it ticks it. `ticked` tells that it changed."""

    ticked = Signal()

    def __init__(self, line: KitLine) -> None:
        super().__init__()
        self.box = QCheckBox()
        self.box.setAccessibleName(f"{line.what}, {amount(line)}")
        self.box.setAccessibleDescription(line.note)
        self.box.toggled.connect(lambda _on: self.ticked.emit())
        what = label(capital(line.what), bold=True, px=15)
        top = QHBoxLayout()
        top.setSpacing(8)
        top.addWidget(what, 1)
        top.addWidget(label(amount(line), bold=True, px=15, wrap=False), 0, Qt.AlignmentFlag.AlignTop)
        words = QVBoxLayout()
        words.setSpacing(0)
        words.addLayout(top)
        if line.note:
            words.addWidget(Folded(line.note, line.what))
        row = QHBoxLayout(self)
        row.setContentsMargins(0, 7, 0, 7)
        row.setSpacing(8)
        row.addWidget(self.box, 0, Qt.AlignmentFlag.AlignTop)
        row.addLayout(words, 1)
        self.setProperty("edge", "top")

    def mousePressEvent(self, event: QMouseEvent) -> None:
        self.box.toggle()


class Banner(QWidget):
    """The head of the do-not-mix panel: a mark and words on madder."""

    def __init__(self, words: str, palette: Palette) -> None:
        super().__init__()
        self._words, self._look = words, palette
        self.setFixedHeight(38)
        self.setAccessibleName(words)

    def sizeHint(self) -> QSize:
        return QSize(200, 38)

    def paintEvent(self, event: QPaintEvent) -> None:
        painter = QPainter(self)
        ink = self._look.on_plate if self._look.dark else self._look.on_rail
        painter.fillRect(self.rect(), self._look.madder)
        marks.paint(painter, "sighting", QRectF(12, 10, 18, 18), self._look, ink)
        drawing.text(painter, QRectF(40, 0, self.width() - 48, 38), self._words, sans(17, 600), ink)
        painter.end()


class DoNotMix(QFrame):
    """What must never meet: pairs on this bench with why, then what must not come near it and which of its agents."""

    def __init__(self, pairs: Sequence[tuple[str, str]], others: Sequence[tuple[str, str]], palette: Palette) -> None:
        super().__init__()
        self.setProperty("edge", "urgent")
        column = QVBoxLayout(self)
        column.setContentsMargins(2, 2, 2, 10)
        column.setSpacing(6)
        column.addWidget(Banner("Do not mix", palette))
        inner = QVBoxLayout()
        inner.setContentsMargins(12, 2, 12, 0)
        inner.setSpacing(3)
        for who, why in pairs:
            inner.addWidget(label(f"{who}: never", bold=True))
            inner.addWidget(label(why, px=13))
        for never, here in others:
            inner.addWidget(label(f"{capital(never)}: keep it away", bold=True))
            inner.addWidget(label(f"Never with {here}.", px=13))
        inner.addWidget(label("Rinse and dry tools and trays between any two agents. Labels, local rules and licensed "
                              "advice come first.", "second", px=13))
        column.addLayout(inner)


class KitPanel(QWidget):
    """The whole right side: kit with its count, do-not-mix, cautions. `paper` asks for it on paper."""

    paper = Signal()

    def __init__(self, palette: Palette) -> None:
        super().__init__()
        self._look = palette
        self.count = label("", "second", wrap=False)
        self._column = QVBoxLayout(self)
        self._column.setContentsMargins(16, 18, 16, 18)
        self._column.setSpacing(0)
        self._body: QWidget | None = None
        self.rows: tuple[KitRow, ...] = ()
        self._ticked: set[str] = set()
        self._shown: tuple[tuple[KitLine, ...], tuple[str, ...]] = ((), ())

    def show_kit(self, lines: Sequence[KitLine], cautions: Sequence[str], mix: DoNotMix) -> None:
        """Show the kit; what was ticked stays ticked while it is asked for in the same amount, whatever was shown
        meanwhile, until the session begins."""
        shown = (tuple(lines), tuple(cautions))
        if shown == self._shown and self._body is not None:
            mix.deleteLater()
            return
        self._shown = shown
        if self._body is not None:
            self._column.removeWidget(self._body)
            self._body.deleteLater()
        self._body = QWidget()
        column = QVBoxLayout(self._body)
        column.setContentsMargins(0, 0, 0, 0)
        column.setSpacing(0)
        column.addWidget(mix)
        column.addSpacing(18)
        column.addLayout(self._top())
        column.addSpacing(8)
        self.rows = tuple(KitRow(line) for line in lines)
        for row in self.rows:
            row.box.setChecked(row.box.accessibleName() in self._ticked)
            row.ticked.connect(self._on_ticked)
            column.addWidget(row)
        if cautions:
            column.addSpacing(16)
            column.addWidget(heading("Cautions", 18))
        for caution in cautions:
            column.addSpacing(6)
            column.addWidget(label(caution))
        column.addStretch(1)
        self._column.addWidget(self._body, 1)
        self._on_ticked()

    def _top(self) -> QHBoxLayout:
        self.count = label("", "second", wrap=False)
        top = QHBoxLayout()
        top.addWidget(heading("Kit", 20), 1)
        top.addWidget(self.count, 0, Qt.AlignmentFlag.AlignBottom)
        printing = button("Print…", "small", "Print the kit list")
        printing.clicked.connect(self.paper)
        top.addSpacing(10)
        top.addWidget(printing, 0, Qt.AlignmentFlag.AlignBottom)
        return top

    @property
    def laid_out(self) -> str:
        """What was ticked, as the session keeps it; "" where nothing was."""
        done = [row.box.accessibleName() for row in self.rows if row.box.isChecked()]
        left = [row.box.accessibleName() for row in self.rows if not row.box.isChecked()]
        if not done:
            return ""
        return f"Laid out before the start: {'; '.join(done)}." + (f" Not ticked: {'; '.join(left)}." if left else "")

    def begun(self) -> None:
        """The session has begun, or the choice is gone: the next one is laid out anew."""
        self._ticked = set()
        for row in self.rows:
            row.box.setChecked(False)

    def _on_ticked(self) -> None:
        for row in self.rows:
            (self._ticked.add if row.box.isChecked() else self._ticked.discard)(row.box.accessibleName())
        done = sum(row.box.isChecked() for row in self.rows)
        self.count.setText(f"{done} of {len(self.rows)} laid out")
