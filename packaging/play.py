"""Plays a whole bench session without a screen and leaves pictures of every screen and the record.

Run by run.sh where there is no screen: python packaging/play.py FOLDER. It presses keys in the program's own window and
looks at what stands there; it calls no service. Time is simulated.
"""

from __future__ import annotations

import shutil
import sys
from datetime import UTC, datetime
from pathlib import Path

from PySide6.QtCore import QSize
from staging import Stage, build_demo

from tests.end_to_end import walk
from tests.end_to_end.walk import Seen

NOW = datetime(2026, 11, 18, 14, 0, tzinfo=UTC)
PLANTS = {101: "Root trim and repot", 104: "Pest wash", 107: "Root trim and repot"}
SMALL, LARGE = QSize(1366, 768), QSize(2560, 1440)
MINE = "played-by-greenhouse-desk"


def both(stage: Stage, folder: Path, name: str) -> None:
    """Pictures in both looks, on a small and on a large screen: first in the one that is on, then in the other, which
    stays. A change of look dresses every screen anew and is the slowest thing here."""
    for dark in (stage.is_dark, not stage.is_dark):
        stage.dark(dark)
        for size in (LARGE, SMALL):
            stage.picture(folder / f"{name}-{'dark' if dark else 'light'}-{size.width()}.png", size)


class Album:
    """Keeps a picture of bench mode whenever it asks for something of another kind than before."""

    def __init__(self, stage: Stage, folder: Path) -> None:
        self._stage, self._folder = stage, folder
        self._seen: set[tuple[str, int]] = set()

    def look(self, seen: Seen) -> None:
        """Take a picture of a new kind of instruction, and of each new number of soaks running."""
        mode = self._stage.program.bench.mode
        assert mode is not None
        kind = (mode.board.instruction.action.value, len(mode.board.cells))
        if kind not in self._seen:
            self._seen.add(kind)
            name = f"bench-mode-{len(self._seen):02d}-{kind[0].replace(' ', '-')}"
            for size in (LARGE, SMALL):
                self._stage.picture(self._folder / f"{name}-{size.width()}.png", size)


def play(stage: Stage, folder: Path) -> tuple[int, tuple[str, ...]]:
    """The whole way; returns the presses at the bench and the lines of the record."""
    for number, plate in enumerate(stage.program.window.navigation.plates, start=1):
        stage.press(f"ctrl+{number}")
        both(stage, folder, f"screen-{plate.text().lower()}")
    stage.press("ctrl+1")
    stage.press("Right")
    stage.press("Return")
    both(stage, folder, "5-plant")
    walk.choose(stage, tuple(PLANTS))
    for plant, title in PLANTS.items():
        walk.pick(stage, plant, title)
    both(stage, folder, "6-chosen")
    walk.plan(stage)
    both(stage, folder, "7-before-you-start")
    walk.begin(stage)
    presses = walk.work(stage, Album(stage, folder).look)
    record = stage.see().lines
    both(stage, folder, "8-record")
    stage.press("ctrl+1")
    both(stage, folder, "9-collection-afterwards")
    return presses, record


def fresh(folder: Path) -> None:
    """An empty folder; only one that was left by an earlier play is cleared."""
    if folder.exists() and any(folder.iterdir()) and not (folder / MINE).exists():
        sys.exit(f"{folder} holds something that was not played here; name another folder")
    shutil.rmtree(folder, ignore_errors=True)
    folder.mkdir(parents=True)
    (folder / MINE).touch()


def main(folder: Path) -> None:
    """Play, and say what was left where."""
    fresh(folder)
    build_demo(folder / "demo", NOW)
    stage = Stage(folder / "demo", folder / "scratch", NOW)
    presses, record = play(stage, folder)
    ended = stage.clock.now()
    stage.close()
    (folder / "record.txt").write_text("\n".join(record) + "\n", "utf-8")
    print("\n".join(record))
    minutes = (ended - NOW).total_seconds() / 60
    print(f"\nPlayed a session of {len(PLANTS)} plants: {presses} key presses at the bench, {minutes:.0f} simulated "
          f"minutes.\nPictures of every screen, the record (record.txt) and the collection are in {folder}")
    if not record:
        sys.exit("the session left no record")


if __name__ == "__main__":
    main(Path(sys.argv[1]).resolve())
