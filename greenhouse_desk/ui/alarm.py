"""The alarm's sound: one WAV for each ring, repeated until silenced or its upper limit, on whatever can sound here."""

from __future__ import annotations

import logging
from collections.abc import Callable
from typing import TYPE_CHECKING, Protocol

from PySide6.QtCore import QObject, QTimer, QUrl, Signal
from PySide6.QtWidgets import QApplication

from greenhouse_desk import shipped
from greenhouse_desk.domain.bench_values import Ring

if TYPE_CHECKING:
    from PySide6.QtMultimedia import QAudioDevice, QSoundEffect

log = logging.getLogger(__name__)

EVERY_S = {Ring.CHIME: 12.0, Ring.WARN: 5.0, Ring.LOUD: 2.0}
"""How often each ring sounds, seconds; each sound is shorter than that."""

WAV = {Ring.CHIME: "chime.wav", Ring.WARN: "warn.wav", Ring.LOUD: "loud.wav"}
LOUDNESS = (Ring.SILENT, Ring.CHIME, Ring.WARN, Ring.LOUD)
NO_SOUND = "No sound device is found: the alarm shows on the whole screen only. Plug in speakers, or watch the screen."


class Voice(Protocol):
    """Something that can sound a ring once."""

    def sound(self, ring: Ring) -> bool:
        """Sound it once; False when nothing could be heard."""


class Speaker(QObject):
    """Sounds WAVs by QSoundEffect. Qt's sound library is loaded at the first sound: it can fail on a broken server."""

    def __init__(self, parent: QObject | None = None) -> None:
        super().__init__(parent)
        self._device = b""
        self._effects: dict[Ring, QSoundEffect] = {}

    def sound(self, ring: Ring) -> bool:
        """Sound it once; False without a sound device, after the system's own beep."""
        from PySide6.QtMultimedia import QMediaDevices

        device = QMediaDevices.defaultAudioOutput()
        if device.isNull():
            QApplication.beep()
            return False
        self._use(device)
        self._effects[ring].play()
        return True

    def _use(self, device: QAudioDevice) -> None:
        from PySide6.QtMultimedia import QSoundEffect

        name = bytes(device.id().data())
        if name == self._device:
            return
        log.info("alarm sounds on %s", device.description())
        for old in self._effects.values():
            old.deleteLater()
        self._device = name
        self._effects = {ring: QSoundEffect(device, self) for ring in WAV}
        for ring, effect in self._effects.items():
            effect.setSource(QUrl.fromLocalFile(str(shipped.folder("sounds") / WAV[ring])))
            effect.setVolume(1.0)


class Alarm(QObject):
    """Rings as loud as the loudest that asks, again and again, until silenced, no longer asked, or `limit_s` is over.

    Who asks is named by `source` ("bench", "care"), so that one falling silent does not silence the other.
    `gave_up` tells which source rang to the limit, `words_changed` a new state of the sound in words ("" when fine).
    """

    gave_up = Signal(str)
    words_changed = Signal(str)

    def __init__(self, limit_s: float = 600.0, voice: Voice | None = None, parent: QObject | None = None) -> None:
        super().__init__(parent)
        self.limit_s = limit_s
        self.words = ""
        self._voice: Voice = voice or Speaker(self)
        self._asked: dict[str, Ring] = {}
        self._hushed: dict[str, Ring] = {}
        self._rung_s: dict[str, float] = {}
        self._sounding = Ring.SILENT
        self._timer = QTimer(self)
        self._timer.timeout.connect(self.again)

    @property
    def sounding(self) -> Ring:
        """What rings now."""
        return self._sounding

    def ring(self, ring: Ring, source: str = "bench") -> None:
        """Ask for `ring` from now on; asking the same again changes nothing, Ring.SILENT ends it."""
        if self._asked.get(source, Ring.SILENT) is ring:
            return
        self._asked[source] = ring
        self._rung_s[source] = 0.0
        self._hushed.pop(source, None)
        self._follow()

    def silence(self) -> None:
        """Fall silent until someone asks for another ring than now."""
        self._hush(lambda _source: True)

    def again(self) -> None:
        """Sound once more; a source that has rung for `limit_s` seconds gives up."""
        for source in self._heard():
            self._rung_s[source] += EVERY_S[self._sounding]
        over = [source for source in self._heard() if self._rung_s[source] >= self.limit_s]
        self._hush(over.__contains__)
        for source in over:
            self.gave_up.emit(source)
        if self._sounding is not Ring.SILENT and not over:
            self._sound()

    def _heard(self) -> list[str]:
        return [source for source, ring in self._asked.items() if ring is not Ring.SILENT
                and self._hushed.get(source) is not ring]

    def _hush(self, which: Callable[[str], bool]) -> None:
        for source in self._heard():
            if which(source):
                self._hushed[source] = self._asked[source]
        self._follow()

    def _follow(self) -> None:
        """Ring what is now the loudest asked for."""
        loudest = max((self._asked[source] for source in self._heard()), key=LOUDNESS.index, default=Ring.SILENT)
        if loudest is self._sounding:
            return
        self._sounding = loudest
        if loudest is Ring.SILENT:
            self._timer.stop()
            return
        self._timer.start(round(EVERY_S[loudest] * 1000))
        self._sound()

    def _sound(self) -> None:
        words = "" if self._voice.sound(self._sounding) else NO_SOUND
        if words != self.words:
            self.words = words
            self.words_changed.emit(words)
