"""The line above the keys: what must be said all the while, such as a machine that may fall asleep."""

from __future__ import annotations

from PySide6.QtGui import QPaintEvent

from greenhouse_desk.ui import style
from greenhouse_desk.ui.bench.lettering import draw, fitted, sans, width_of
from greenhouse_desk.ui.bench.pane import Pane

MOST_NOTICES = 3


class NoticeView(Pane[tuple[str, ...]]):
    """One notice a line; three stand closer, and the third line carries all the rest."""

    def words(self, value: tuple[str, ...]) -> tuple[str, str]:
        return "Notices", " ".join(value)

    def paintEvent(self, event: QPaintEvent) -> None:
        if not self.value:
            return
        painter = self.painter()
        lines = self.lines(self.value)
        high = self.height() / len(lines)
        large = self.px((22, 20, 17)[min(len(lines), MOST_NOTICES) - 1])
        for n, text in enumerate(lines):
            top = n * high
            painter.fillRect(0, round(top + (high - large) / 2), round(self.u(4)), large, self.look.ink)
            words = fitted(text, sans(600), self.width() - self.u(16), (large, self.px(15), self.px(14)), 1)
            draw(painter, words, self.u(14), top + (high - words.height) / 2, self.look.ink)
        painter.end()

    def lines(self, said: tuple[str, ...]) -> list[str]:
        """One a line; the last carries as many of the rest as stand on it whole: none is cut."""
        first, rest = list(said[:MOST_NOTICES - 1]), list(said[MOST_NOTICES - 1:])
        while len(rest) > 1 and width_of(style.sans(self.px(14), 600), " ".join(rest)) > self.width() - self.u(16):
            rest.pop()
        return [*first, " ".join(rest)] if rest else first
