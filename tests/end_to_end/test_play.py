"""What run.sh does without a screen: a whole session played by key events, with pictures and the record left behind."""

from __future__ import annotations

import json
import subprocess
import sys
from pathlib import Path

from PIL import Image

CHECKOUT = Path(__file__).parents[2]
PLAY = CHECKOUT / "packaging" / "play.py"
SCREENS = ("screen-collection", "screen-timeline", "screen-bench", "screen-transitions", "screen-labels",
           "screen-findings", "screen-protocols", "screen-house", "5-plant", "6-chosen", "7-before-you-start",
           "8-record", "9-collection-afterwards")
SIZES = {"1366": (1366, 768), "2560": (2560, 1440)}


def run(*command: str) -> subprocess.CompletedProcess[str]:
    return subprocess.run([sys.executable, *command], cwd=CHECKOUT, capture_output=True, text=True, timeout=600)


def test_a_whole_session_is_played_and_leaves_pictures_and_the_record(tmp_path: Path) -> None:
    folder = tmp_path / "played"
    played = run(str(PLAY), str(folder))
    assert played.returncode == 0, played.stderr
    assert str(folder) in played.stdout
    pictures = {path.stem for path in folder.glob("*.png")}
    wanted = {f"{screen}-{look}" for screen in SCREENS for look in ("light", "dark")}
    assert pictures >= {f"{name}-{width}" for name in wanted for width in SIZES}
    assert len([name for name in pictures if name.startswith("bench-mode")]) > 20
    for name in pictures:
        with Image.open(folder / f"{name}.png") as picture:
            assert picture.size == SIZES[name.rsplit("-", 1)[-1]]
            assert len(set(picture.convert("L").tobytes())) > 50, f"{name} is empty"
    record = (folder / "record.txt").read_text("utf-8")
    assert "Bench session" in record
    checked = run("-m", "greenhouse_desk", "--store", str(folder / "demo"), "check", "--json")
    assert json.loads(checked.stdout) == {"ok": True, "faults": []}


def test_it_clears_no_folder_of_others(tmp_path: Path) -> None:
    (tmp_path / "orchids.txt").write_text("mine", "utf-8")
    refused = run(str(PLAY), str(tmp_path))
    assert refused.returncode != 0
    assert "another folder" in refused.stderr
    assert (tmp_path / "orchids.txt").read_text("utf-8") == "mine"
