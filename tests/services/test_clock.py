"""The clocks, and the rule that nothing but services/clock.py reads the machine's time."""

from __future__ import annotations

import ast
from datetime import UTC, datetime, timedelta
from pathlib import Path

import pytest

import greenhouse_desk
from greenhouse_desk.services.clock import StartedClock, SteppedClock, SystemClock
from tests.builders import NOW

PACKAGE = Path(greenhouse_desk.__file__).parent
REAL_TIME = {"now", "utcnow", "today", "time", "monotonic", "perf_counter", "clock_gettime", "currentDateTime",
             "currentDateTimeUtc", "currentDate", "currentTime"}
CLASSES = {"datetime", "date", "time", "QDateTime", "QDate", "QTime"}


def test_a_stepped_clock_stands_until_it_is_advanced() -> None:
    clock = SteppedClock(NOW)
    assert clock.now() == clock.now() == NOW
    before = clock.steady()[1]
    clock.advance(90)
    assert clock.now() == NOW + timedelta(seconds=90)
    assert clock.steady()[1] - before == 90


def test_a_set_wall_clock_leaves_the_steady_one_alone() -> None:
    clock = SteppedClock(NOW)
    before = clock.steady()
    clock.set_wall(3600)
    assert clock.now() == NOW + timedelta(hours=1)
    assert clock.steady() == before


def test_a_started_clock_runs_on_from_its_instant_by_wall_and_steady_alike(monkeypatch: pytest.MonkeyPatch) -> None:
    seconds = iter((1000.0, 1002.0, 1003.0))
    monkeypatch.setattr("greenhouse_desk.services.clock._since_boot", lambda: next(seconds))
    clock = StartedClock(NOW, pace=60)
    assert clock.now() == NOW + timedelta(seconds=120)
    assert clock.steady() == ("started", NOW.timestamp() + 180)


@pytest.mark.real_clock
def test_the_systems_clock_is_aware_and_runs_on() -> None:
    clock = SystemClock()
    assert clock.now().tzinfo is UTC
    (boot, first), (same_boot, second) = clock.steady(), clock.steady()
    assert boot == same_boot
    assert second >= first > 0


def test_the_tests_cannot_read_the_real_time() -> None:
    with pytest.raises(AssertionError, match="SteppedClock"):
        SystemClock().now()


def _reads_of_the_real_time(source: str) -> list[int]:
    calls = (node.func for node in ast.walk(ast.parse(source)) if isinstance(node, ast.Call))
    return [func.lineno for func in calls if isinstance(func, ast.Attribute) and func.attr in REAL_TIME
            and isinstance(func.value, ast.Name) and func.value.id in CLASSES]


def test_the_check_below_sees_an_offence() -> None:
    assert _reads_of_the_real_time("import time\nstart = time.monotonic()\nwhen = datetime.now(UTC)") == [2, 3]
    assert _reads_of_the_real_time("when = clock.now()") == []
    assert datetime.__name__ in CLASSES


def test_only_the_clock_reads_the_machines_time() -> None:
    offences = [f"{path.relative_to(PACKAGE)}:{line}" for path in sorted(PACKAGE.rglob("*.py"))
                if path != PACKAGE / "services" / "clock.py"
                for line in _reads_of_the_real_time(path.read_text("utf-8"))]
    assert offences == []
