"""Makes the pictures of README.md from the demo: collection, quarantine, transitions, labels, the plan, bench mode.

Run from the checkout: python packaging/pictures.py. They are kept small enough to live beside the text.
"""

from __future__ import annotations

from datetime import UTC, datetime
from pathlib import Path
from tempfile import TemporaryDirectory

from PIL import Image
from PySide6.QtCore import QSize
from staging import Stage, build_demo

from tests.end_to_end import walk
from tests.end_to_end.walk import Seen

NOW = datetime(2026, 11, 18, 14, 0, tzinfo=UTC)
PLANTS = {101: "Root trim and repot", 104: "Pest wash", 107: "Root trim and repot"}
PICTURES = Path(__file__).with_name("pictures")
SIZE = QSize(1366, 768)
MOST_BYTES = 250_000
CELLS_FOR_BENCH = 5
SCREENS = {"Quarantine": "light", "Transitions": "dark"}


class Enough(Exception):
    """The bench has been photographed; the session need not go on."""


def photograph(stage: Stage, name: str) -> None:
    """Grab the window in front, cut its colours to a palette, and keep it when it is small enough."""
    file = PICTURES / f"{name}.png"
    stage.picture(file, SIZE)
    with Image.open(file) as whole:
        small = whole.convert("RGB").quantize(256, method=Image.Quantize.MAXCOVERAGE, kmeans=2,
                                              dither=Image.Dither.NONE)
    small.save(file, optimize=True)
    size = file.stat().st_size
    print(f"{file.name}: {size} bytes")
    if size > MOST_BYTES:
        raise SystemExit(f"{file} is larger than {MOST_BYTES} bytes")


def bench(stage: Stage) -> None:
    """Bench mode with several soaks running."""
    def look(_seen: Seen) -> None:
        mode = stage.program.bench.mode
        if mode is not None and len(mode.board.cells) >= CELLS_FOR_BENCH:
            photograph(stage, "bench-dark")
            raise Enough

    try:
        walk.work(stage, look)
    except Enough:
        return
    raise SystemExit(f"never {CELLS_FOR_BENCH} soaks at once: choose other plants")


def labels(stage: Stage) -> None:
    """The Labels screen, and a layout of one's own being made."""
    screen = stage.program.labels
    stage.dark(False)
    screen.choosing.take_all()
    screen.work_out()
    photograph(stage, "labels-light")
    stage.dark(True)
    screen.layouts.edit.click()
    screen.editor.box.setCurrentText("name")
    photograph(stage, "labels-edit-dark")
    screen.editor.close_button.click()


def main() -> None:
    """All of them."""
    PICTURES.mkdir(exist_ok=True)
    with TemporaryDirectory(prefix="greenhouse-pictures-") as there:
        build_demo(Path(there, "demo"), NOW)
        stage = Stage(Path(there, "demo"), Path(there, "scratch"), NOW)
        for look in ("light", "dark"):
            stage.dark(look == "dark")
            photograph(stage, f"collection-{look}")
        for number, plate in enumerate(stage.program.window.navigation.plates, start=1):
            if plate.text() in SCREENS:
                stage.press(f"ctrl+{number}")
                stage.dark(SCREENS[plate.text()] == "dark")
                photograph(stage, f"{plate.text().lower()}-{SCREENS[plate.text()]}")
            elif plate.text() == "Labels":
                stage.press(f"ctrl+{number}")
                labels(stage)
        stage.dark(False)
        stage.press("ctrl+1")
        walk.choose(stage, tuple(PLANTS))
        for plant, title in PLANTS.items():
            walk.pick(stage, plant, title)
        walk.plan(stage)
        photograph(stage, "plan-light")
        walk.begin(stage)
        bench(stage)
        stage.close()


if __name__ == "__main__":
    main()
