"""The alarm: what rings when, how it ends, that sound really comes out, and that its absence is survived."""

from __future__ import annotations

import array
import math
import os
import subprocess
import sys
import threading
import wave
from collections.abc import Iterator
from pathlib import Path

import pytest
from pytestqt.qtbot import QtBot

from greenhouse_desk import shipped
from greenhouse_desk.domain.bench_values import Ring
from greenhouse_desk.ui.alarm import EVERY_S, NO_SOUND, WAV, Alarm

CHECKOUT = Path(__file__).parents[2]
RATE = 22050


class Listener:
    """A voice that notes what it was asked to sound."""

    def __init__(self) -> None:
        self.heard: list[Ring] = []
        self.works = True

    def sound(self, ring: Ring) -> bool:
        self.heard.append(ring)
        return self.works


@pytest.fixture
def voice() -> Listener:
    return Listener()


@pytest.fixture
def alarm(qtbot: QtBot, voice: Listener) -> Iterator[Alarm]:
    made = Alarm(limit_s=60, voice=voice)
    yield made
    made.silence()


def test_a_ring_sounds_at_once_and_again_until_it_is_ended(alarm: Alarm, voice: Listener) -> None:
    alarm.ring(Ring.CHIME)
    alarm.ring(Ring.CHIME)
    alarm.again()
    assert voice.heard == [Ring.CHIME, Ring.CHIME]
    alarm.ring(Ring.SILENT)
    alarm.again()
    assert len(voice.heard) == 2
    assert alarm.sounding is Ring.SILENT


def test_a_louder_ring_takes_over_at_once(alarm: Alarm, voice: Listener) -> None:
    for ring in (Ring.CHIME, Ring.WARN, Ring.LOUD):
        alarm.ring(ring)
    assert voice.heard == [Ring.CHIME, Ring.WARN, Ring.LOUD]


def test_silenced_it_stays_silent_until_another_ring_is_asked_for(alarm: Alarm, voice: Listener) -> None:
    alarm.ring(Ring.WARN)
    alarm.silence()
    alarm.ring(Ring.WARN)
    alarm.again()
    assert voice.heard == [Ring.WARN]
    alarm.ring(Ring.LOUD)
    assert voice.heard == [Ring.WARN, Ring.LOUD]


def test_one_source_falling_silent_leaves_the_other_ringing(alarm: Alarm) -> None:
    alarm.ring(Ring.LOUD, "bench")
    alarm.ring(Ring.CHIME, "care")
    alarm.ring(Ring.SILENT, "bench")
    assert alarm.sounding is Ring.CHIME


def test_it_gives_up_at_its_limit_and_says_which_source_rang(alarm: Alarm, voice: Listener) -> None:
    gave_up: list[str] = []
    alarm.gave_up.connect(gave_up.append)
    alarm.ring(Ring.CHIME, "care")
    for _ in range(math.ceil(60 / EVERY_S[Ring.CHIME]) + 3):
        alarm.again()
    assert gave_up == ["care"]
    assert alarm.sounding is Ring.SILENT
    assert len(voice.heard) == 60 / EVERY_S[Ring.CHIME]


def test_it_says_when_nothing_can_be_heard_and_when_it_can_again(alarm: Alarm, voice: Listener) -> None:
    said: list[str] = []
    alarm.words_changed.connect(said.append)
    voice.works = False
    alarm.ring(Ring.LOUD)
    alarm.again()
    voice.works = True
    alarm.again()
    assert said == [NO_SOUND, ""]


@pytest.mark.parametrize("ring", list(WAV))
def test_each_sound_is_shorter_than_its_pause_and_louder_with_the_ring(ring: Ring) -> None:
    with wave.open(str(shipped.folder("sounds") / WAV[ring])) as file:
        assert file.getnframes() / file.getframerate() < EVERY_S[ring]
        loudness = _rms(file.readframes(file.getnframes()))
    assert loudness > {Ring.CHIME: 0.02, Ring.WARN: 0.2, Ring.LOUD: 0.35}[ring]


def _rms(samples: bytes) -> float:
    """Root mean square of 16-bit samples, 1 at full scale."""
    values = array.array("h", samples[: len(samples) // 2 * 2])
    return math.sqrt(sum(value * value for value in values) / max(1, len(values))) / 32768


def _ring_in_a_child(ring: Ring, seconds: float, environment: dict[str, str]) -> str:
    command = [sys.executable, "-m", "tests.ui.sounding", ring.value, str(seconds)]
    done = subprocess.run(command, env=environment, cwd=CHECKOUT, capture_output=True, text=True, timeout=60)
    assert done.returncode == 0, done.stderr
    return done.stdout.strip()


@pytest.fixture
def sound_server(tmp_path: Path) -> Iterator[dict[str, str]]:
    """The environment of a private PulseAudio with one sink that leads nowhere."""
    runtime = tmp_path / "runtime"
    runtime.mkdir(mode=0o700)
    environment = os.environ | {"XDG_RUNTIME_DIR": str(runtime), "HOME": str(tmp_path)}
    modules = ("module-native-protocol-unix", "module-null-sink sink_name=nowhere rate=22050 channels=1")
    loads = [part for module in modules for part in ("-L", module)]
    command = ["pulseaudio", "-n", "--daemonize=yes", "--exit-idle-time=-1", "--log-target=file:/dev/null", *loads]
    subprocess.run(command, env=environment, check=True, capture_output=True, timeout=60)
    yield environment
    subprocess.run(["pulseaudio", "--kill"], env=environment, check=True, capture_output=True, timeout=60)


class Recorder:
    """Records what the sink nobody hears would have sounded."""

    def __init__(self, environment: dict[str, str]) -> None:
        command = ["parec", "--device=nowhere.monitor", "--format=s16le", f"--rate={RATE}", "--channels=1",
                   "--latency-msec=50"]
        self._process = subprocess.Popen(command, env=environment, stdout=subprocess.PIPE)
        assert self._process.stdout is not None
        self.quiet = self._process.stdout.read(RATE)  # half a second: it also tells that the recording runs
        self.sound = b""
        self._thread = threading.Thread(target=self._read)
        self._thread.start()

    def _read(self) -> None:
        assert self._process.stdout is not None
        self.sound = self._process.stdout.read()

    def stop(self) -> bytes:
        """End the recording; returns its samples."""
        self._process.terminate()
        self._thread.join(timeout=30)
        self._process.wait(timeout=30)
        assert self._process.stdout is not None
        self._process.stdout.close()
        return self.sound


@pytest.mark.sound
def test_sound_really_comes_out(sound_server: dict[str, str]) -> None:
    recorder = Recorder(sound_server)
    try:
        words = _ring_in_a_child(Ring.LOUD, 2.5, sound_server)
    finally:
        recorded = recorder.stop()
    assert words == ""
    assert _rms(recorder.quiet) < 0.001
    assert _rms(recorded) > 0.05


@pytest.mark.sound
def test_without_a_sound_server_the_alarm_says_so_and_lives_on(tmp_path: Path) -> None:
    nowhere = os.environ | {"PULSE_SERVER": f"unix:{tmp_path}/none", "XDG_RUNTIME_DIR": str(tmp_path)}
    assert _ring_in_a_child(Ring.LOUD, 0.3, nowhere) == NO_SOUND
