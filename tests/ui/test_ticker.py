"""The second hand: each second told, a set wall clock told, and a sleep taken for neither."""

from __future__ import annotations

import pytest
from pytestqt.qtbot import QtBot

from greenhouse_desk.services.clock import SteppedClock
from greenhouse_desk.ui.ticker import Ticker
from tests.builders import NOW


class Heard:
    """What a ticker said."""

    def __init__(self, ticker: Ticker) -> None:
        self.seconds: list[object] = []
        self.jumps: list[float] = []
        ticker.second.connect(self.seconds.append)
        ticker.jumped.connect(self.jumps.append)


@pytest.fixture
def ticker(qtbot: QtBot, clock: SteppedClock) -> Ticker:
    return Ticker(clock)


def test_each_tick_tells_the_second(ticker: Ticker, clock: SteppedClock) -> None:
    heard = Heard(ticker)
    clock.advance(1)
    ticker.tick()
    assert heard.seconds == [clock.now()]
    assert heard.jumps == []


@pytest.mark.parametrize("seconds", [3600.0, -3600.0, 2.5])
def test_a_set_wall_clock_is_told_once_with_its_seconds(ticker: Ticker, clock: SteppedClock, seconds: float) -> None:
    heard = Heard(ticker)
    clock.advance(1)
    clock.set_wall(seconds)
    ticker.tick()
    clock.advance(1)
    ticker.tick()
    assert heard.jumps == [pytest.approx(seconds)]


def test_up_to_two_seconds_are_the_clocks_own_drift(ticker: Ticker, clock: SteppedClock) -> None:
    heard = Heard(ticker)
    clock.set_wall(1.9)
    ticker.tick()
    assert heard.jumps == []


def test_suspend_is_no_jump(ticker: Ticker, clock: SteppedClock) -> None:
    heard = Heard(ticker)
    clock.advance(8 * 3600)
    ticker.tick()
    assert heard.jumps == []
    assert heard.seconds == [clock.now()]


def test_it_ticks_by_itself_once_started(qtbot: QtBot, ticker: Ticker) -> None:
    with qtbot.waitSignal(ticker.second, timeout=5000) as told:
        ticker.start(interval_ms=1)
    ticker.stop()
    assert told.args == [NOW]
