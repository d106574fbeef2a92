"""A bench session that was left or broken off: said at the top of the window, with the one button that takes it up.

A soak goes on meanwhile: what is said of it follows the clock, and past its most the whole notice turns.
"""

from __future__ import annotations

from collections.abc import Sequence
from datetime import datetime, tzinfo

from PySide6.QtCore import Qt, Signal
from PySide6.QtWidgets import QFrame, QHBoxLayout, QVBoxLayout, QWidget

from greenhouse_desk.services.treatments import OpenSitting
from greenhouse_desk.ui import words
from greenhouse_desk.ui.messages import button, label


def told(one: OpenSitting, now: datetime, zone: tzinfo) -> str:
    """ "Begun 14:02, broken off: 3 plants, ..."."""
    how = "broken off" if one.left_at is None else f"left {words.moment(one.left_at, now, zone)}"
    return f"Begun {words.moment(one.started_at, now, zone)}, {how}: {one.words}."


OVER = "A soak ran past its most: take the session up and end it"
BROKEN, WAITS = "A bench session was broken off", "A bench session waits to be taken up"


class SessionNotice(QFrame):
    """`take_up(session)` asks to go on with it. The newest session is named, before it one with a soak past its most;
    the others stand on the Bench page."""

    take_up = Signal(int)

    def __init__(self, parent: QWidget | None = None) -> None:
        super().__init__(parent)
        self.setProperty("edge", "due")
        self._session = 0
        self._wanted = True
        self._renew_at: datetime | None = None
        self._title = label(bold=True, px=15)
        self._words = label()
        self.button = button("Take up the session", "main")
        self.button.clicked.connect(lambda: self.take_up.emit(self._session))
        column = QVBoxLayout()
        column.setSpacing(2)
        column.addWidget(self._title)
        column.addWidget(self._words)
        row = QHBoxLayout(self)
        row.setContentsMargins(14, 10, 10, 10)
        row.addLayout(column, 1)
        row.addWidget(self.button, 0, Qt.AlignmentFlag.AlignTop)
        self.hide()

    def show_open(self, sittings: Sequence[OpenSitting], now: datetime, zone: tzinfo) -> None:
        """Show the newest of these, or the one with a soak past its most; hides when there is none."""
        first = next((one for one in sittings if one.over), sittings[0] if sittings else None)
        self._session = first.id if first is not None else 0
        self._renew_at = min((one.renew_at for one in sittings if one.renew_at is not None), default=None)
        if first is not None:
            self._turn(first.over)
            self._title.setText(OVER if first.over else BROKEN if first.left_at is None else WAITS)
            more = f" {len(sittings) - 1} more on the Bench page." if len(sittings) > 1 else ""
            self._words.setText(told(first, now, zone) + more)
            self.setAccessibleName(f"{self._title.text()}. {self._words.text()}")
        self._refresh()

    def stale(self, now: datetime) -> bool:
        """Whether a soak it tells of came further, so that its words are other ones at `now` (aware UTC)."""
        return self._renew_at is not None and now >= self._renew_at

    def _turn(self, over: bool) -> None:
        edge = "urgent" if over else "due"
        if self.property("edge") != edge:
            self.setProperty("edge", edge)
            self.style().unpolish(self)
            self.style().polish(self)

    def want(self, wanted: bool) -> None:
        """Whether the screen in front leaves it to this notice: the Bench page has its own list."""
        self._wanted = wanted
        self._refresh()

    def _refresh(self) -> None:
        self.setVisible(bool(self._session) and self._wanted)
