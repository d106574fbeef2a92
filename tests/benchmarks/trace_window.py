"""Run as a child process: the picture of a trace through five hundred contacts, read and painted; and bare lines.

With a file name before the last argument the picture is kept there, to be looked at.
"""

from __future__ import annotations

import random
import sys
import time
from datetime import UTC, datetime, timedelta
from pathlib import Path
from tempfile import TemporaryDirectory

from PySide6.QtCore import QLineF
from PySide6.QtGui import QImage, QPainter
from PySide6.QtWidgets import QApplication, QWidget

from greenhouse_desk.domain.journal import Facts, Shared, Sharing, Sighted
from greenhouse_desk.domain.plants import Place
from greenhouse_desk.services import collection, quarantine, records, tracing
from greenhouse_desk.services.collection import NewPlant
from greenhouse_desk.services.desk import Desk
from greenhouse_desk.store.engine import open_store
from greenhouse_desk.ui import fonts, style
from greenhouse_desk.ui.quarantine.trace_paint import TraceView
from tests.benchmarks import probing

NOW = datetime(2026, 11, 18, 15, 30, tzinfo=UTC)
PLANTS, FOUND_ON, AT_LEAST = 40, (101, 107, 113, 119, 125, 131), 500
WIDTH, HEIGHT = 1366, 768


def furnished(desk: Desk) -> None:
    """Forty plants on five benches, wash water and trays shared by six at a time, a pest found on six of them."""
    dice = random.Random("five hundred contacts")
    desk.clock = lambda: NOW - timedelta(days=170)
    benches = [desk.run(collection.save_place, Place(0, f"Bench {nth}", position=nth)) for nth in range(5)]
    for number in range(101, 101 + PLANTS):
        desk.run(collection.add_plant, NewPlant("Laelia anceps", number, place=benches[number % 5]))
    desk.clock = lambda: NOW

    def add(number: int, facts: Facts, ago: float) -> None:
        desk.run(records.add, number, facts, NOW - timedelta(days=ago))

    for nth, number in enumerate(FOUND_ON):
        add(number, Sighted("mealybug"), 60 - 8 * nth)
    while len(desk.read(quarantine.contacts, NOW)) < AT_LEAST:
        one, *others = dice.sample(range(101, 101 + PLANTS), 6)
        add(one, Shared(dice.choice(tuple(Sharing)), tuple(others)), dice.uniform(20, 120))


def lines(widget: QWidget, count: int) -> None:
    """As many bare lines as there are contacts."""
    image = QImage(widget.size(), QImage.Format.Format_RGB32)
    painter = QPainter(image)
    painter.setRenderHint(QPainter.RenderHint.Antialiasing)
    for nth in range(count):
        painter.drawLine(QLineF(nth, 0, WIDTH - nth, HEIGHT))
    painter.end()


def painted(view: TraceView) -> QImage:
    """The picture as it is shown."""
    image = QImage(view.size(), QImage.Format.Format_RGB32)
    view.render(image)
    return image


def taken(work: object) -> float:
    """Seconds of one call."""
    begun = time.perf_counter()
    work()  # type: ignore[operator]
    return time.perf_counter() - begun


def main() -> None:
    """Measure, and tell."""
    app = QApplication([])
    fonts.load()
    with TemporaryDirectory(prefix="greenhouse-trace-") as there:
        store = open_store(Path(there) / "house", create=True)
        desk = Desk(store, lambda: NOW)
        furnished(desk)
        met = len(desk.read(quarantine.contacts, NOW))
        last = (NOW - timedelta(days=20)).date()
        read = probing.middle(lambda: taken(lambda: desk.read(tracing.picture, FOUND_ON[-1], "mealybug", last, NOW)), 5)
        picture = desk.read(tracing.picture, FOUND_ON[-1], "mealybug", last, NOW)
        store.close()
    view = TraceView(style.palette(dark=False))
    view.resize(WIDTH, HEIGHT)
    view.show_picture(picture)
    shown = probing.middle(lambda: taken(lambda: painted(view)))
    bare = probing.middle(lambda: taken(lambda: lines(view, met)))
    if len(sys.argv) > 2:
        painted(view).save(sys.argv[1])
    app.quit()
    probing.tell(read_s=read, paint_s=shown, bare_s=bare, contacts=met, joins=len(picture.joins))


if __name__ == "__main__":
    main()
