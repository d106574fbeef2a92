"""The line above the keys: what must be said all the while, such as a machine that may fall asleep."""

from __future__ import annotations

from PySide6.QtGui import QPaintEvent

from greenhouse_desk.ui.bench.lettering import draw, fitted, sans
from greenhouse_desk.ui.bench.pane import Pane

MOST_LINES = 2
MOST_NOTICES = 3


class NoticeView(Pane[tuple[str, ...]]):
    """One notice a line; three stand closer, and the third line carries all the rest."""

    def words(self, value: tuple[str, ...]) -> tuple[str, str]:
        return "Notices", " ".join(value)

    def paintEvent(self, event: QPaintEvent) -> None:
        if not self.value:
            return
        painter = self.painter()
        shown = (*self.value[:MOST_NOTICES - 1], " ".join(self.value[MOST_NOTICES - 1:]))
        lines = [line for line in shown if line]
        high = self.height() / len(lines)
        large = self.px(22) if len(lines) <= MOST_LINES else self.px(17)
        for n, text in enumerate(lines):
            top = n * high
            painter.fillRect(0, round(top + (high - large) / 2), round(self.u(4)), large, self.look.ink)
            words = fitted(text, sans(600), self.width() - self.u(16), (large, self.px(15), self.px(14)), 1)
            draw(painter, words, self.u(14), top + (high - words.height) / 2, self.look.ink)
        painter.end()
