"""Frames of the timeline with 100 lanes and 100,000 entries / of a bare widget that paints as many marks and texts."""

from __future__ import annotations

import os
import random
import time
from collections.abc import Callable, Iterator
from dataclasses import dataclass
from datetime import UTC, datetime
from statistics import quantiles

os.environ["QT_QPA_PLATFORM"] = "offscreen"  # before Qt is imported

from PySide6.QtCore import QPointF, QRectF, QSize
from PySide6.QtGui import QImage, QPainter, QPaintEvent
from PySide6.QtWidgets import QApplication, QWidget

from greenhouse_desk.domain import names
from greenhouse_desk.domain.timeline_sorts import Sort
from greenhouse_desk.domain.timeline_values import DAY, Band, Item, Lane, Look, lane
from greenhouse_desk.services.timeline import Head
from greenhouse_desk.ui import fonts, marks, style
from greenhouse_desk.ui.style import Palette, sans
from greenhouse_desk.ui.timeline.hands import Timeline
from greenhouse_desk.ui.timeline.lanes import UTC_ZONE
from tests.benchmarks.ratio import Ratio

NOW = datetime(2026, 11, 18, 15, 30, tzinfo=UTC)
AT = NOW.timestamp()
LANES, ENTRIES = 100, 100_000
SCREENS = {"a small screen": QSize(1166, 610), "a large screen": QSize(2360, 1280)}
KINDS = (("pour", "poured, with feed", Sort.WATER), ("plain water", "poured, plain water", Sort.WATER),
         ("inspection", "clean look", Sort.PEST), ("photo", "photo", Sort.PHOTO), ("note", "note", Sort.NOTE),
         ("potting", "potted in clay pellets", Sort.POTTING), ("soak", "roots disinfected", Sort.TREATMENT))


def a_lane(number: int, entries: int) -> Lane:
    """An invented plant's ten years, with its evenings at the bench."""
    dice = random.Random(f"lane {number}")
    at = [AT - dice.uniform(0, 3650) * DAY for _ in range(entries * 3 // 4)]
    evenings = [AT - dice.uniform(0, 3650) * DAY for _ in range(20)]
    at += [dice.choice(evenings) + dice.uniform(0, 7200) for _ in range(entries - len(at))]
    past = (Item(min(moment, AT), *dice.choice(KINDS), nth) for nth, moment in enumerate(at))
    ahead = (Item(AT + dice.uniform(0, 120) * DAY, "later", "root check 16 Dec", Sort.CARE, 0) for _ in range(5))
    ends = sorted(AT - dice.uniform(0, 3650) * DAY for _ in range(12))
    stays = [Band(start, end, Look.STAY, "North sill") for start, end in zip(ends[::2], ends[1::2], strict=True)]
    return lane(number, past, ahead, stays, evenings[:5])


def chart(size: QSize, entries: int) -> Timeline:
    """The timeline on its own, all lanes read."""
    made = Timeline(style.palette(False))
    heads = [Head(number, names.parse("Phalaenopsis schilleriana"), "North sill", False) for number in range(LANES)]
    every = {head.number: a_lane(head.number, entries // LANES) for head in heads}
    made.resize(size)
    made.lanes.show(heads, lambda numbers: {number: every[number] for number in numbers}, NOW, UTC_ZONE)
    made.lanes.fetch(range(LANES))
    made.refresh()
    made.show()
    return made


@dataclass(frozen=True, slots=True)
class Painted:
    """What a frame shows: where each mark stands, and each text."""

    marks: tuple[tuple[float, float, str], ...]
    texts: tuple[tuple[float, float, str], ...]


def painted(of: Timeline) -> Painted:
    """The marks and texts of the frame as it stands; a group's plate counts as a mark with a text."""
    space, room = of.space, of.room
    stamped: list[tuple[float, float, str]] = []
    texts: list[tuple[float, float, str]] = []
    for place in space.seen(float(of.bar.value())):
        top = space.top(place, float(of.bar.value()))
        row, strips = of.row(place), of.lanes.strips(place, room)
        stamped += [(space.left + box.left, top + 6, box.item.mark) for box in row.boxes]
        texts += [(space.left + box.left, top + 20, str(box.count)) for box in row.boxes if box.count > 1]
        texts += [(space.left + box.words_left, top + 20, box.title) for box in row.boxes if box.words]
        texts += [(space.left - 40, top + 20, str(count)) for count in (row.earlier, row.later) if count]
        texts += [(space.left + strip.words_left, top + 36, strip.band.title) for track in strips for strip in track
                  if strip.words]
        texts += [(10.0, top + 20, words) for words in ("101", "Phalaenopsis schilleriana", "North sill")]
    return Painted(tuple(stamped), tuple(texts))


class Bare(QWidget):
    """Paints marks and texts where it is told, one after the other, as a first draft would."""

    def __init__(self, look: Palette) -> None:
        super().__init__()
        self.shown = Painted((), ())
        self._look = look

    def paintEvent(self, event: QPaintEvent) -> None:
        painter = QPainter(self)
        painter.setRenderHint(QPainter.RenderHint.Antialiasing)
        painter.fillRect(self.rect(), self._look.sheet)
        for x, y, mark in self.shown.marks:
            marks.paint(painter, mark, QRectF(x, y, 14, 14), self._look)
        painter.setFont(sans(13))
        painter.setPen(self._look.ink)
        for x, y, words in self.shown.texts:
            painter.drawText(QPointF(x, y), words)
        painter.end()


def moves(of: Timeline, each: int) -> Iterator[Callable[[], None]]:
    """Panning at each zoom, and zooming in and out between them."""
    for name in ("Ten years", "Year", "Month", "Evening"):
        yield lambda name=name: of.span(name)  # type: ignore[misc]
        for _ in range(each):
            yield lambda: of.pan(-37)
    yield of.to_now
    for factor in (1 / 1.12, 1.12):
        for _ in range(3 * each):
            yield lambda factor=factor: of.zoom(factor)  # type: ignore[misc]


def spent(paint: Callable[[], object]) -> float:
    """Seconds of this process for one frame: others on the machine do not count."""
    begun = time.process_time()
    paint()
    return time.process_time() - begun


def frames(size: QSize, entries: int, each: int) -> tuple[list[float], list[float], int]:
    """Seconds a frame of the timeline, the move included, and of the bare widget; the most marks and texts in one."""
    of = chart(size, entries)
    bare, image = Bare(style.palette(False)), QImage(size, QImage.Format.Format_ARGB32_Premultiplied)
    bare.resize(size)
    bare.show()
    ours, theirs, most = [], [], 0
    for move in moves(of, each):
        ours.append(spent(lambda move=move: (move(), of.render(image))))  # type: ignore[misc]
        bare.shown = painted(of)
        theirs.append(spent(lambda: bare.render(image)))
        most = max(most, len(bare.shown.marks) + len(bare.shown.texts))
    of.close()
    bare.close()
    return ours, theirs, most


def ratios(quick: bool) -> Iterator[Ratio]:
    """The 99th percentile of one over that of the other, on a small and on a large screen."""
    made = QApplication.instance() or QApplication([])
    fonts.load()
    assert isinstance(made, QApplication)
    for name, size in SCREENS.items():
        ours, theirs, most = frames(size, ENTRIES // 10 if quick else ENTRIES, 5 if quick else 60)
        slow, bare = (quantiles(one, n=100)[98] for one in (ours, theirs))
        yield Ratio(f"timeline's 99th percentile frame on {name} / bare widget with as many marks and texts",
                    slow / bare, f"{slow * 1000:.1f} ms / {bare * 1000:.1f} ms over {len(ours)} frames of panning and "
                    f"zooming, {LANES} lanes, up to {most} marks and texts in sight")


if __name__ == "__main__":
    for ratio in ratios(quick=False):
        print(ratio, flush=True)
