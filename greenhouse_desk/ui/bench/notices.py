"""The line above the keys: what must be said all the while, such as a machine that may fall asleep."""

from __future__ import annotations

from PySide6.QtGui import QPaintEvent

from greenhouse_desk.ui import style
from greenhouse_desk.ui.bench.lettering import draw, fitted, sans
from greenhouse_desk.ui.bench.pane import Pane

MOST_LINES = 2


class NoticeView(Pane[tuple[str, ...]]):
    """One notice a line, two lines at most, the last one carrying the rest."""

    def words(self, value: tuple[str, ...]) -> tuple[str, str]:
        return "Notices", " ".join(value)

    def paintEvent(self, event: QPaintEvent) -> None:
        if not self.value:
            return
        painter = self.painter()
        lines = (*self.value[:MOST_LINES - 1], " ".join(self.value[MOST_LINES - 1:]))
        high = self.height() / min(len(self.value), MOST_LINES)
        for n, text in enumerate(line for line in lines if line):
            top = n * high
            bar = style.sans(self.px(22)).pixelSize() * 0.9
            painter.fillRect(0, round(top + (high - bar) / 2), round(self.u(4)), round(bar), self.look.ink)
            words = fitted(text, sans(600), self.width() - self.u(16), (self.px(22), self.px(15), self.px(14)), 1)
            draw(painter, words, self.u(14), top + (high - words.height) / 2, self.look.ink)
        painter.end()
