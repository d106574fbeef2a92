"""Everything bench mode paints, put in place and given its values: no keys are read and nothing is decided here."""

from __future__ import annotations

from dataclasses import replace
from functools import partial
from typing import Any

from PySide6.QtCore import QRectF, Signal
from PySide6.QtGui import QPainter, QPaintEvent, QResizeEvent
from PySide6.QtWidgets import QWidget

from greenhouse_desk.domain.bench import Action, Board, Key, Ring
from greenhouse_desk.ui import style
from greenhouse_desk.ui.bench.arrange import MOST_LINES, Arrangement, Box, arrange
from greenhouse_desk.ui.bench.callings import (
    Hands,
    Sure,
    alarm,
    in_soak,
    key_words,
    leave_words,
    loud,
    notices,
    own_cap,
    shown_cells,
    to_go,
    unanswered,
)
from greenhouse_desk.ui.bench.cells import CellView
from greenhouse_desk.ui.bench.detail import Detail, DetailView, Page
from greenhouse_desk.ui.bench.dial import Dial, Jotter
from greenhouse_desk.ui.bench.instruction import Call, InstructionView, Tone
from greenhouse_desk.ui.bench.keymap import KeyMap
from greenhouse_desk.ui.bench.keys import Face, KeyView
from greenhouse_desk.ui.bench.leaving import Leaving, leaving
from greenhouse_desk.ui.bench.notices import NoticeView
from greenhouse_desk.ui.bench.pane import Pane, frame
from greenhouse_desk.ui.bench.queue import QueueView, ToolView
from greenhouse_desk.ui.bench.ruler import logical_dpi
from greenhouse_desk.ui.bench.sizes import MOST_COLUMNS, MOST_ROWS, Sizes

FRAMES = {Ring.CHIME: ("clean", 6), Ring.WARN: ("ink", 8), Ring.LOUD: ("madder", 10)}


class BenchFace(QWidget):
    """The painted face. `pressed` carries a Key, `leave` the touch of the target that leaves."""

    pressed = Signal(object)
    leave = Signal()

    def __init__(self, keys: KeyMap, parent: QWidget, dpi: float | None = None) -> None:
        super().__init__(parent)
        self._look, self._caps, self._dpi = style.palette(True), keys, dpi
        self._ring = Ring.SILENT
        self._shape: tuple[tuple[int, bool, int], object] | None = None
        self.call = InstructionView(self._look, self)
        self.cells = tuple(CellView(self._look, self) for _ in range(MOST_COLUMNS * MOST_ROWS))
        self.tool, self.queue = ToolView(self._look, self), QueueView(self._look, self)
        self.detail, self.notices = DetailView(self._look, keys, self), NoticeView(self._look, self)
        self.keys = {key: KeyView(self._look, self) for key in Key}
        self.leave_key = KeyView(self._look, self)
        for key, view in self.keys.items():
            view.clicked.connect(partial(self.pressed.emit, key))
        self.leave_key.clicked.connect(lambda: self.leave.emit())

    @property
    def sizes(self) -> Sizes:
        """The sizes of this window on its screen; where the screen tells no sane figure, 96 dpi."""
        dpi = self._dpi if self._dpi is not None else logical_dpi(self, 0)
        return Sizes(max(self.width(), 1), max(self.height(), 1), dpi)

    def show_board(self, board: Board, hands: Hands, told: tuple[str, ...]) -> None:
        """Show the board and what the hands are in the middle of."""
        sizes = self.sizes
        cells = shown_cells(board, sizes.cells)
        lines = notices(board, hands, len(cells), told)
        self.notices.show_value(lines)
        for n, view in enumerate(self.cells):
            view.show_value(cells[n] if n < len(cells) else None)
        self.tool.show_value(board.tool)
        self.queue.show_value(board.queue)
        self.call.show_value(_call(board, hands, self._caps))
        self.detail.show_value(_detail(board, hands))
        self._show_keys(board, hands)
        self._place((len(cells), board.tool is not None, min(len(lines), MOST_LINES)))
        if board.ring is not self._ring:
            self._ring = board.ring
            self.update()

    def resizeEvent(self, event: QResizeEvent) -> None:
        shape, self._shape = self._shape, None
        if shape is not None:
            self._place(shape[0])

    def paintEvent(self, event: QPaintEvent) -> None:
        painter = QPainter(self)
        painter.fillRect(self.rect(), self._look.madder_fill if self._ring is Ring.LOUD else self._look.bench)
        if self._ring in FRAMES:
            name, width = FRAMES[self._ring]
            frame(painter, QRectF(self.rect()), self.sizes.u(width), self._look.named(name))
        painter.end()

    def _show_keys(self, board: Board, hands: Hands) -> None:
        own = key_words(hands, self._caps.cap)
        soak = not own and board.instruction.action in (Action.START_SOAK, Action.END_SOAK)
        main = hands.sure.key if hands.sure is not None else Key.SOAK if soak else Key.NEXT
        for key_face in board.keys:
            key = key_face.key
            word, sub = own.get(key, (key_face.word, key_face.sub))
            live = bool(word) if key in own else key_face.live
            if key is Key.NEXT and unanswered(hands):
                sub, live = "no answer yet", False
            self.keys[key].show_face(Face(own_cap(hands, key) or self._caps.cap(key), word, sub, live, key is main))
        self.leave_key.show_face(Face("Esc", *leave_words(hands)))

    def _fits(self, at: Arrangement) -> bool:
        """Whether what the cells leave is room enough for what is set there: long lists want all of a row."""
        return at.detail is not None and at.detail.w >= (self.sizes.field - 1 if self._listed() else at.beside.w)

    def _listed(self) -> bool:
        """Whether a list of choices is shown."""
        value = self.detail.value
        return isinstance(value, Dial) and bool(value.question.choices)

    def _place(self, shape: tuple[int, bool, int]) -> None:
        """Put every part where it belongs, when how much there is to show has changed."""
        overlay, alone = isinstance(self.detail.value, (Dial, Jotter)), isinstance(self.detail.value, Leaving)
        listed = (overlay, self._listed(), alone)
        if (shape, listed) == self._shape:
            return
        self._shape = (shape, listed)
        sizes = self.sizes
        at = arrange(sizes, *shape)
        beside = overlay and not self._fits(at)
        parts: list[tuple[Pane[Any], Box | None]] = [
            (self.tool, at.tool if shape[1] and not beside else None), (self.queue, None if beside else at.queue),
            (self.detail, at.beside if beside else at.detail),
            *((view, at.cells[n] if n < len(at.cells) else None) for n, view in enumerate(self.cells))]
        if alone:
            parts = [(pane, at.middle if pane is self.detail else None) for pane, _box in parts]
        for pane, box in (*parts, (self.call, at.head), (self.notices, at.notices if shape[2] else None)):
            pane.setVisible(box is not None)
            if box is not None:
                pane.setGeometry(*box.whole)
                pane.resized(sizes)
        for view, box in zip((*self.keys.values(), self.leave_key), (*at.keys, at.leave), strict=True):
            view.setGeometry(*box.whole)
            view.resized(sizes)


def _call(board: Board, hands: Hands, caps: KeyMap) -> Call:
    """The call: the instruction, or the second press it waits for; below it alarm, answer or caution, in that order."""
    now = board.instruction
    base = Call(now.say, now.plant, now.caution, head=board.head, clock=board.clock, done=now.step_no,
                count=now.step_count, loud=loud(board))
    if hands.leaving:
        base = replace(base, say="Leave for another day?", plant=None, under="Soaks never pause: they go on, and are "
                       "shown again on return.", tone=Tone.CAUTION)
    elif now.question is not None and now.action is Action.ANSWER:
        base = replace(base, say=now.question.prompt)
    if hands.sure is not None:
        return _sure(base, board, hands.sure, caps)
    if loud(board):
        under = alarm(board, caps.cap(Key.SOAK), caps.cap(Key.NEXT) if hands.leaving else "")
        return replace(base, under=under, tone=Tone.ALARM)
    if hands.said is not None and hands.said.refused:
        return replace(base, under=hands.said.words, tone=Tone.REFUSED)
    return base


def _sure(base: Call, board: Board, sure: Sure, caps: KeyMap) -> Call:
    """The prompt for a second press, across the whole width."""
    left = to_go(board) if sure.key is Key.SOAK else ""
    say, what, rest = "Something is still open", "end all the same", ""
    if left:
        say, what, rest = f"Least not reached: {left} to go", "end it early", " Other keys leave it."
        base = replace(base, plant=in_soak(board))
    elif board.instruction.action is Action.START_SOAK:
        say, what = "Leave this step out?", "leave it out"
    under = f"Press {caps.cap(sure.key)} again to {what}; that is recorded.{rest}"
    return replace(base, say=say, tone=Tone.REFUSED, under=under)


def _detail(board: Board, hands: Hands) -> Detail:
    if hands.leaving:
        return leaving(board)
    if hands.sure is not None:
        return Page(hands.sure.words)
    return hands.jotter or hands.dial or Page(board.instruction.page)
