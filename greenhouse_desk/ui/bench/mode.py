"""Bench mode: the full screen for wet hands. Keys in, one deed each; the board of the sitting out, every second."""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import replace
from datetime import datetime, timedelta
from zoneinfo import ZoneInfo

from PySide6.QtCore import Qt, Signal
from PySide6.QtGui import QCloseEvent, QKeyEvent, QResizeEvent
from PySide6.QtWidgets import QWidget

from greenhouse_desk.domain.bench import Action, Board, Key, Ring, Sitting, board
from greenhouse_desk.domain.countdown import spoken
from greenhouse_desk.domain.faults import Refused
from greenhouse_desk.services import collection, treatments, treatments_sharing
from greenhouse_desk.services.clock import Clock
from greenhouse_desk.services.desk import Desk
from greenhouse_desk.ui.bench.callings import SAID_S, SURE_S, Hands, Said, Sure
from greenhouse_desk.ui.bench.dial import SHARED, Dial, Jotter
from greenhouse_desk.ui.bench.due import CareBell, DueLines
from greenhouse_desk.ui.bench.face import BenchFace
from greenhouse_desk.ui.bench.keymap import KeyMap

KEEP = (Qt.Key.Key_Return, Qt.Key.Key_Enter)


class BenchMode(QWidget):
    """Runs one session at full screen, always dark.

    `clock` tells the wall and the steady time; `ring` hears the board's Ring whenever it changes; `awake` is told
    whether a soak runs and answers "" when screen and machine are kept awake, else words; `sound` gives words when the
    alarm makes no sound; `bell` rings for care that falls due meanwhile. `left` carries the session's id once the
    screen closes, and whether the session has ended.
    """

    left = Signal(int, bool)

    def __init__(self, desk: Desk, session_id: int, clock: Clock, ring: Callable[[Ring], None],
                 awake: Callable[[bool], str], sound: Callable[[], str] = str, keys: KeyMap | None = None,
                 dpi: float | None = None, parent: QWidget | None = None, bell: CareBell | None = None) -> None:
        super().__init__(parent, Qt.WindowType.Window)
        self._desk, self._session, self._clock = desk, session_id, clock
        self._ring, self._awake, self._sound, self._keys = ring, awake, sound, keys or KeyMap()
        self._zone: ZoneInfo = desk.read(collection.zone)
        self._rung, self._soaking, self._asleep = Ring.SILENT, False, ""
        self._hands, self._due = Hands(), DueLines(bell or CareBell())
        self._told: tuple[str, ...] = ()
        now = clock.now()
        self._sitting: Sitting = desk.read(treatments.sitting, session_id, now, clock.steady())
        self._board: Board = board(self._sitting, now, self._zone)
        self.setWindowTitle("At the bench")
        self.setAttribute(Qt.WidgetAttribute.WA_DeleteOnClose)
        self.face = BenchFace(self._keys, self, dpi)
        self.face.pressed.connect(self.press)
        self.face.leave.connect(self._on_leave)
        self._show()

    @property
    def board(self) -> Board:
        """What is shown now."""
        return self._board

    def on_second(self, now: datetime) -> None:
        """Show the sitting as it stands at `now` (aware UTC); nothing is read from the store."""
        self._hands = self._hands.at(now)
        self._board = board(self._sitting, now, self._zone)
        self._show()

    def on_jumped(self, seconds: float) -> None:
        """The wall clock was set by `seconds`: mend the running soaks and say so."""
        if self._desk.run(treatments.mend_clock, seconds, self._clock.steady()):
            way = "forward" if seconds > 0 else "back"
            self._told = (f"The wall clock was set {way} by {spoken(abs(seconds))}. Soaks keep their true time: the "
                          "steady clock is used.",)
        self.read()

    def read(self) -> None:
        """Read the sitting anew and show it; close once it has ended."""
        now = self._clock.now()
        self._sitting = self._desk.read(treatments.sitting, self._session, now, self._clock.steady())
        self.on_second(now)
        if self._sitting.ended_at is not None:
            self.close()

    def press(self, key: Key) -> None:
        """One of the five keys, by whatever it was pressed."""
        self._due.on_press(self._clock.now())
        if self._hands.leaving:
            self._press_leaving(key)
        elif self._hands.jotter is not None:
            self._press_jotter(self._hands.jotter, key)
        elif self._hands.sure is not None and self._hands.sure.key is not key:
            self._set(sure=None)  # any other key only closes the question
        elif key is Key.NOTE:
            self._set(jotter=Jotter(self._board.note_for), said=None, sure=None)
        elif self._hands.dial is not None and key in (Key.SOAK, Key.BACK):
            dial = self._hands.dial
            self._set(dial=dial.more() if key is Key.SOAK else dial.less(), said=None)
        else:
            self._do(key)

    def keyPressEvent(self, event: QKeyEvent) -> None:
        """A held key does nothing more: each deed is one press."""
        if event.isAutoRepeat():
            return
        jotter = self._hands.jotter
        if event.key() == Qt.Key.Key_Escape:
            self._on_leave()
        elif jotter is not None and jotter.typing and self._type(jotter, event):
            return
        elif (deed := self._keys.deed(event.key())) is not None:
            self.press(deed)
        elif jotter is None and self._hands.dial is not None:
            self._dial(self._hands.dial, event)

    def resizeEvent(self, event: QResizeEvent) -> None:
        self.face.setGeometry(self.rect())
        self._show()

    def closeEvent(self, event: QCloseEvent) -> None:
        self._ring(Ring.SILENT)
        self._awake(False)
        event.accept()
        self.left.emit(self._session, self._sitting.ended_at is not None)

    def _do(self, key: Key) -> None:
        """Press `key` on the sitting: committed first, read back, then shown."""
        if key is Key.UNDO:
            self._undo()
            return
        sure = self._hands.sure is not None and self._hands.sure.key is key
        dial = self._hands.dial if key is Key.NEXT else None
        try:
            done = self._desk.run(treatments.press, self._session, key, value=dial.answer if dial else None, sure=sure,
                                  expect=self._board.instruction.token_for(key), steady=self._clock.steady())
        except Refused as refusal:
            self._refuse(refusal)
            return
        now = self._clock.now()
        if done.needs_second:
            self._hands = Hands(sure=Sure(key, done.words, now + timedelta(seconds=SURE_S)), dial=self._hands.dial)
        else:
            answered = dial is not None and dial.value is not None
            told = f"{dial.question.prompt} {dial.words}." if dial and answered else done.words
            self._hands = Hands(said=self._said(" ".join(filter(None, (told, done.also)))))
        self.read()

    def _undo(self) -> None:
        """Take back the last press of this bench, and nothing else that was done at the desk."""
        if not self._sitting.undo_label:
            self._set(said=self._said("No press to take back."), sure=None)
            return
        deed = self._desk.undo(self._sitting.undo_deed)
        self._hands = Hands(said=self._said(f"Taken back: {deed.label}" if deed else
                                            "Something else was done meanwhile at the desk: nothing was taken back."))
        self.read()

    def _said(self, words: str) -> Said | None:
        return Said(words, self._clock.now() + timedelta(seconds=SAID_S)) if words else None

    def _refuse(self, refusal: Refused) -> None:
        words = ". ".join(part.rstrip(".") for part in (refusal.title, refusal.detail, refusal.next_step) if part) + "."
        self._set(said=Said(words, self._clock.now() + timedelta(seconds=2 * SAID_S), True), sure=None)

    def _set(self, **changes: object) -> None:
        self._hands = replace(self._hands, **changes)  # type: ignore[arg-type]
        self._show()

    def _show(self) -> None:
        question = self._board.instruction.question
        dial = self._hands.dial
        if question is None or self._board.instruction.action is not Action.ANSWER:
            self._hands = replace(self._hands, dial=None)
        elif dial is None or dial.question != question:
            self._hands = replace(self._hands, dial=Dial.of(question))
        self._tell_outside()
        silent = self._sound() if self._board.ring is not Ring.SILENT else ""
        due = self._due.lines(self._board.now)
        told = tuple(words for words in (*due, *self._told, silent, self._asleep) if words)
        shown = replace(self._board, ring=Ring.CHIME) if self._due.rings and self._rung is Ring.SILENT else self._board
        self.face.show_board(shown, self._hands, told)

    def _tell_outside(self) -> None:
        soaking = bool(self._board.cells)
        if soaking != self._soaking:
            self._soaking, self._asleep = soaking, self._awake(soaking)
        if self._board.ring is not self._rung:
            self._rung = self._board.ring
            self._ring(self._rung)

    def _press_jotter(self, jotter: Jotter, key: Key) -> None:
        if key is Key.NEXT:
            self._set(jotter=jotter.phrases()) if jotter.empty else self._keep(jotter)
        elif jotter.typing:
            return
        elif key is Key.UNDO:
            self._set(jotter=None)
        else:
            self._set(jotter=jotter.typed("") if key is Key.NOTE else jotter.stepped(1 if key is Key.SOAK else -1))

    def _keep(self, jotter: Jotter) -> None:
        self._set(jotter=None)
        if not jotter.text:
            return
        try:
            self._write(jotter)
        except Refused as refusal:
            self._refuse(refusal)
            return
        self._hands = replace(self._hands, said=self._said(f"Noted: {jotter.text}"))
        self.read()

    def _write(self, jotter: Jotter) -> None:
        """The note goes to the plant it was begun on, though another may have come up meanwhile."""
        shared = SHARED.get(jotter.text)
        if shared is not None:
            self._desk.run(treatments_sharing.share_with_before, self._session, shared, jotter.plant)
            return
        self._desk.run(treatments.note, self._session, jotter.text, jotter.plant)

    def _type(self, jotter: Jotter, event: QKeyEvent) -> bool:
        """Take a key into the line being typed; False for one that types nothing (a pedal, say)."""
        if event.key() in KEEP:
            if not jotter.empty:
                self._keep(jotter)
        elif jotter.empty and event.text() == " ":
            self._set(jotter=jotter.phrases())
        elif event.key() == Qt.Key.Key_Backspace:
            self._set(jotter=jotter.erased())
        elif event.text().isprintable() and event.text():
            self._set(jotter=jotter.typed(event.text()))
        else:
            return False
        return True

    def _dial(self, dial: Dial, event: QKeyEvent) -> None:
        if event.key() == Qt.Key.Key_Backspace:
            self._set(dial=dial.erased())
        elif event.text().isdecimal() and event.text().isascii():
            self._set(dial=dial.digit(int(event.text())), said=None)

    def _on_leave(self) -> None:
        """Show what stands open before leaving; Esc and its touch target stay when used again, and drop a note or close
        the question whether a soak is to end early."""
        if self._hands.sure is not None:
            self._set(sure=None)
        elif self._hands.leaving or self._hands.jotter is not None:
            self._set(leaving=False, jotter=None)
        else:
            self._set(leaving=True, jotter=None, sure=None, said=None)

    def _press_leaving(self, key: Key) -> None:
        """Staying is what the hands do by habit; leaving goes by the one key that does nothing to a plant."""
        if key is Key.SOAK:
            return
        self._set(leaving=False)
        if key is not Key.NOTE:
            return
        try:
            self._desk.run(treatments.leave, self._session, sure=True)
        except Refused as refusal:
            self._refuse(refusal)
            return
        self.close()
