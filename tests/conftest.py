"""What every test stands on: no screen, no real clock, no noise in the log, no skips where all parts must be there."""

from __future__ import annotations

import gc
import logging
import os
import threading
from collections.abc import Callable, Generator, Iterator
from datetime import datetime
from pathlib import Path
from shutil import rmtree
from tempfile import mkdtemp

os.environ["QT_QPA_PLATFORM"] = "offscreen"  # before Qt is imported; windows under Xvfb are child processes
os.environ["TZ"] = "UTC"
PRIVATE = Path(mkdtemp(prefix="greenhouse-tests-"))
for _variable in ("HOME", "XDG_DATA_HOME", "XDG_CONFIG_HOME", "XDG_STATE_HOME", "XDG_CACHE_HOME"):
    os.environ[_variable] = str(PRIVATE / _variable.lower())
for _variable in ("DISPLAY", "WAYLAND_DISPLAY", "DBUS_SESSION_BUS_ADDRESS", "PULSE_SERVER"):
    os.environ.pop(_variable, None)

import pytest  # noqa: E402
from hypothesis import settings  # noqa: E402
from PySide6.QtCore import QCoreApplication, QEvent  # noqa: E402
from PySide6.QtWidgets import QApplication  # noqa: E402

from greenhouse_desk.services.clock import SteppedClock, SystemClock  # noqa: E402
from greenhouse_desk.services.desk import Desk  # noqa: E402
from greenhouse_desk.store.engine import Store, open_store  # noqa: E402
from greenhouse_desk.ui import fonts  # noqa: E402
from tests.builders import NOW  # noqa: E402

EXPECTED_LOG: tuple[tuple[str, str], ...] = ()
"""Log lines that may come: (logger, start of the message). Each one needs its reason beside it."""


settings.register_profile("usual", deadline=None, derandomize=True, database=None)
settings.register_profile("long", deadline=None, max_examples=5000, print_blob=True)


@pytest.fixture(scope="session")
def qapp(qapp: QApplication) -> QApplication:
    """The application with its faces, as the program always has them: what is measured first is kept."""
    fonts.load()
    return qapp


def pytest_configure(config: pytest.Config) -> None:
    """Fuzz long only when asked to; the usual run draws the same examples each time, so that it fails for a reason.

    Nothing is collected on a pool's thread: widgets would be taken down there.
    """
    settings.load_profile("long" if config.getoption("--long") else "usual")
    gc.disable()


def pytest_unconfigure() -> None:
    """Leave nothing behind."""
    rmtree(PRIVATE, ignore_errors=True)


def pytest_addoption(parser: pytest.Parser) -> None:
    parser.addoption("--long", action="store_true", help="run the long campaigns too")
    parser.addoption("--part", metavar="K/N", help="run every Nth test only, from the Kth on: N processes share them")


def pytest_collection_modifyitems(config: pytest.Config, items: list[pytest.Item]) -> None:
    """Leave out the long campaigns unless asked for (deselected, so that they do not count as skipped), and what is of
    another part."""
    if not config.getoption("--long"):
        campaigns = {item for item in items if item.get_closest_marker("long")}
        config.hook.pytest_deselected(items=sorted(campaigns, key=lambda item: item.nodeid))
        items[:] = [item for item in items if item not in campaigns]
    if part := config.getoption("--part"):
        first, parts = (int(number) for number in part.split("/"))
        mine = set(sorted(item.nodeid for item in items)[first - 1::parts])
        items[:] = [item for item in items if item.nodeid in mine]


def _skip_fails(report: pytest.TestReport | pytest.CollectReport) -> None:
    if report.skipped and not hasattr(report, "wasxfail") and os.environ.get("GREENHOUSE_NO_SKIP") == "1":
        report.outcome = "failed"
        report.longrepr = f"skipped where nothing may be skipped: {report.longrepr}"


@pytest.hookimpl(wrapper=True)
def pytest_runtest_makereport() -> Generator[None, pytest.TestReport, pytest.TestReport]:
    report = yield
    _skip_fails(report)
    return report


@pytest.hookimpl(wrapper=True)
def pytest_make_collect_report() -> Generator[None, pytest.CollectReport, pytest.CollectReport]:
    report = yield
    _skip_fails(report)
    return report


@pytest.fixture(autouse=True)
def _no_real_clock(monkeypatch: pytest.MonkeyPatch, request: pytest.FixtureRequest) -> None:
    """The program's one real clock refuses to tell the time in a test, except in its own."""
    if request.node.get_closest_marker("real_clock") is None:
        def refuse(_clock: SystemClock) -> datetime:
            raise AssertionError("a test asked for the real time; give it a SteppedClock")
        monkeypatch.setattr(SystemClock, "now", refuse)


def pytest_collection_finish() -> None:
    """What is imported by now stays, and is not looked through after each test."""
    gc.collect()
    gc.freeze()


@pytest.hookimpl(trylast=True)
def pytest_runtest_teardown(item: pytest.Item) -> None:
    """Collect between tests, on this thread, as the program does (`ui/collector.py`); wholly after one of the window,
    so that no Python object outlives the widget of Qt's own making that it stood for.

    What is to be deleted is deleted by Qt before: Python would take a window down part by part, in no order, and a part
    of Qt's own making (a viewport, the line of a spin box) before the widget that still points to it."""
    of_window = "qapp" in getattr(item, "fixturenames", ())
    if of_window:
        QCoreApplication.sendPostedEvents(None, QEvent.Type.DeferredDelete.value)
    gc.collect(2 if of_window else 1)


class ExpectedLog(list[str]):
    """Texts a test expects in the log at warning level or above; each must come."""


@pytest.fixture
def expected_log() -> ExpectedLog:
    """Append the texts that this test makes the program log."""
    return ExpectedLog()


@pytest.fixture(autouse=True)
def _no_log_noise(caplog: pytest.LogCaptureFixture, request: pytest.FixtureRequest) -> Iterator[None]:
    """Fail on a warning in the log that neither the test nor the allow-list expects, or on one that did not come."""
    wanted = request.getfixturevalue("expected_log") if "expected_log" in request.fixturenames else ExpectedLog()
    yield
    records = [record for record in caplog.get_records("call") if record.levelno >= logging.WARNING]
    noise = [f"{r.name}: {r.getMessage()}" for r in records if not _expected(r, wanted)]
    assert not noise, f"unexpected log lines: {noise}"
    absent = [text for text in wanted if not any(text in record.getMessage() for record in records)]
    assert not absent, f"log lines that did not come: {absent}"


def _expected(record: logging.LogRecord, wanted: ExpectedLog) -> bool:
    message = record.getMessage()
    return any(text in message for text in wanted) or any(
        record.name == name and message.startswith(start) for name, start in EXPECTED_LOG)


@pytest.fixture(autouse=True)
def _no_left_over_threads() -> Iterator[None]:
    """Fail on a thread that outlives its test (Qt's own pool threads are not Python's and do not count)."""
    before = set(threading.enumerate())
    yield
    left = [thread for thread in threading.enumerate() if thread not in before and not thread.daemon
            and not isinstance(thread, threading._DummyThread)]
    assert not left, f"threads left running: {left}"


@pytest.fixture
def clock() -> SteppedClock:
    """A clock that stands at NOW until the test advances it."""
    return SteppedClock(NOW)


@pytest.fixture
def store(tmp_path: Path) -> Iterator[Store]:
    """An empty collection in a folder of its own."""
    opened = open_store(tmp_path / "collection", create=True)
    yield opened
    opened.close()


@pytest.fixture
def desk(store: Store, clock: SteppedClock) -> Desk:
    """The desk of an empty collection, on the stepped clock."""
    return Desk(store, clock.now)


@pytest.fixture
def reopened(store: Store, clock: SteppedClock) -> Iterator[Callable[[], Desk]]:
    """Close the collection and open it again, as a restart does; returns the new desk."""
    again: list[Store] = []

    def reopen() -> Desk:
        (again[-1] if again else store).close()
        again.append(open_store(store.folder))
        return Desk(again[-1], clock.now)

    yield reopen
    for opened in again:
        opened.close()
