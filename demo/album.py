"""Which pictures of which plant the demo holds, and drawing them beside the writing of the journal."""

from __future__ import annotations

import multiprocessing
import os
import random
from collections.abc import Iterator, Sequence
from concurrent.futures import Executor, Future, ProcessPoolExecutor
from contextlib import contextmanager
from dataclasses import dataclass
from pathlib import Path

from .pictures import Subject, save
from .setting import BENCHES, Given

OLDEST = 520
FAILING = ("dead", "failing")


@dataclass(frozen=True, slots=True)
class Shot:
    """A picture to take: of which plant, how many days ago, and what it shows."""

    number: int
    days_ago: int
    subject: Subject


def shots(plant: Given, dice: random.Random) -> tuple[Shot, ...]:
    """The pictures of one plant, oldest first: how it grew, flowered, and (for some) failed."""
    left = next((days for days in (plant.days_of(story) for story in ("dead", "traded", "given")) if days), 0)
    newest = left + dice.randint(2, 9)
    reach = min(plant.arrived, OLDEST)
    ages = [newest]
    if reach > 200:
        ages.append(min(reach - 10, newest + dice.randint(140, 200)))
    if reach > 400 and dice.random() < 0.25:
        ages.append(min(reach - 5, newest + dice.randint(300, 380)))
    flowering = dice.random() < 0.6
    return tuple(Shot(plant.number, ago, _subject(plant, ago, nth == 0 and flowering, dice))
                 for nth, ago in reversed(list(enumerate(ages))))


def _subject(plant: Given, ago: int, flowering: bool, dice: random.Random) -> Subject:
    bench = next(bench for bench in BENCHES if bench.name == plant.bench)
    moved = max((days for days in (plant.days_of("moved"), plant.days_of("failing")) if days), default=None)
    medium = "bark" if moved is not None and ago > moved else plant.medium
    vigour = 0.3 if any(name in FAILING for name, _ in plant.stories) and ago < 120 else 1.0
    grown = 1.0 - 0.42 * min(1.0, ago / OLDEST)
    return Subject(plant.number, plant.form, plant.bloom, bench.scene, medium, plant.pot, grown,
                   flowering and vigour > 0.5, vigour, dice.random() < 0.3)


@contextmanager
def drawing(wanted: Sequence[Shot], folder: Path) -> Iterator[list[tuple[Shot, Path, Future[None]]]]:
    """Draw the pictures into `folder` in other processes; each comes with the future that tells when it is there."""
    context = multiprocessing.get_context("spawn")
    pool: Executor = ProcessPoolExecutor(max_workers=max(1, min(4, os.cpu_count() or 1)), mp_context=context)
    with pool:
        yield [(shot, path, pool.submit(save, shot.subject, path)) for shot in wanted
               for path in [folder / f"{shot.number}-{shot.days_ago:03d}.jpg"]]
