"""Keeping awake and telling the desktop: on a bare machine both say no in words, on a desktop both are taken."""

from __future__ import annotations

import os
import subprocess
import sys
from collections.abc import Callable, Iterator
from contextlib import contextmanager
from pathlib import Path

import pytest

from greenhouse_desk.ui import watch
from greenhouse_desk.ui.awake import HELD, MACHINE_ONLY, NOT_HELD, Awake, keep_awake
from greenhouse_desk.ui.desktop import notify

CHECKOUT = Path(__file__).parents[2]


@pytest.fixture
def bus(monkeypatch: pytest.MonkeyPatch) -> Iterator[str]:
    """The address of a private session bus with nothing on it."""
    process = subprocess.Popen(["dbus-daemon", "--session", "--nofork", "--print-address"], stdout=subprocess.PIPE,
                               stderr=subprocess.DEVNULL, text=True)
    assert process.stdout is not None
    address = process.stdout.readline().strip()
    monkeypatch.setenv("DBUS_SESSION_BUS_ADDRESS", address)
    yield address
    process.terminate()
    process.wait(timeout=30)
    process.stdout.close()


ASK = """
from greenhouse_desk.ui.awake import keep_awake
awake = keep_awake()
print(awake.words)
awake.release()
"""


def keep_awake_in_a_child(bus: str) -> str:
    """What keeping awake says on that bus; in a process of its own, since the library leaves sockets open there."""
    return subprocess.run([sys.executable, "-c", ASK], env=os.environ | {"DBUS_SESSION_BUS_ADDRESS": bus}, timeout=60,
                          cwd=CHECKOUT, check=True, capture_output=True, text=True).stdout.strip()


@contextmanager
def desktop(bus: str, service: str, calls: int) -> Iterator[Callable[[], str]]:
    """A desktop that offers one service; inside, call the value to wait for its end and read what it was told."""
    command = [sys.executable, "-m", "tests.ui.desktop_service", service, str(calls)]
    process = subprocess.Popen(command, stdout=subprocess.PIPE, text=True, cwd=CHECKOUT,
                               env=os.environ | {"DBUS_SESSION_BUS_ADDRESS": bus})
    assert process.stdout is not None
    assert process.stdout.readline().strip() == "ready"
    yield lambda: process.communicate(timeout=30)[0]
    process.kill()
    process.wait(timeout=30)
    process.stdout.close()


def test_without_a_bus_both_say_no_and_nothing_breaks() -> None:
    assert notify("Crown dry by 17:02", "104 on the north sill") is False
    awake = keep_awake()
    assert (awake.held, awake.words) == (False, NOT_HELD)
    awake.release()


def test_a_desktop_that_takes_neither_is_survived(bus: str) -> None:
    assert notify("Crown dry by 17:02", "104 on the north sill", urgent=True) is False
    assert keep_awake_in_a_child(bus) == NOT_HELD


def test_a_bus_that_is_gone_is_survived(monkeypatch: pytest.MonkeyPatch, tmp_path: Path) -> None:
    monkeypatch.setenv("DBUS_SESSION_BUS_ADDRESS", f"unix:path={tmp_path}/gone")
    assert notify("Crown dry by 17:02", "") is False


def test_a_desktop_with_notifications_gets_title_and_text(bus: str) -> None:
    with desktop(bus, "org.freedesktop.Notifications", calls=1) as told:
        assert notify("Crown dry by 17:02", "104 on the north sill") is True
        words = told()
    assert "Crown dry by 17:02" in words
    assert "104 on the north sill" in words


def test_a_desktop_that_can_be_kept_awake_is_and_is_let_go_again(bus: str) -> None:
    with desktop(bus, "org.freedesktop.ScreenSaver", calls=2) as told:
        assert keep_awake_in_a_child(bus) == HELD
        inhibited, released = told().splitlines()
    assert "wakepy" in inhibited
    assert released == "(7,)"


@pytest.mark.parametrize(("held", "words", "said"), [
    (True, HELD, ""), (True, MACHINE_ONLY, MACHINE_ONLY), (False, NOT_HELD, NOT_HELD)])
def test_bench_mode_is_told_of_all_that_is_not_held(
        held: bool, words: str, said: str, monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setattr(watch, "keep_awake", lambda: Awake(held, words))
    assert watch.Wakefulness()(True) == said
