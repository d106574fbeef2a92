"""The measures, as ratios of one run: python -m tests.benchmarks.measure [--quick]. Printed, not asserted as times."""

from __future__ import annotations

import json
import subprocess
import sys
import time
from collections.abc import Iterator
from pathlib import Path
from statistics import median
from tempfile import TemporaryDirectory

from tests.benchmarks import air_year, degree_days, large_house, quarantine_store, step, timeline_frames, trace_growth
from tests.benchmarks.ratio import Ratio

CHECKOUT = Path(__file__).parents[2]
Figures = dict[str, float]


def probe(module: str, *words: str) -> Figures:
    """Run one probe in a process of its own; its figures."""
    command = [sys.executable, "-m", f"tests.benchmarks.{module}", *words, str(time.monotonic())]
    done = subprocess.run(command, cwd=CHECKOUT, capture_output=True, text=True, timeout=300)
    if done.returncode:
        raise RuntimeError(f"{module} failed: {done.stderr}")
    figures: Figures = json.loads(done.stdout.splitlines()[-1])
    return figures


def rules_alone() -> Figures:
    """Seconds to import every rule in a fresh interpreter, and seconds a bare one takes from start to end."""
    start = time.perf_counter()
    subprocess.run([sys.executable, "-c", ""], cwd=CHECKOUT, check=True)
    bare_s = time.perf_counter() - start
    told = subprocess.run([sys.executable, "-m", "tests.benchmarks.domain_import"], cwd=CHECKOUT, check=True,
                          capture_output=True, text=True)
    return {"import_s": json.loads(told.stdout)["import_s"], "bare_s": bare_s}


def middle(runs: list[Figures]) -> Figures:
    """The median of each figure over some runs."""
    return {name: median(run[name] for run in runs) for name in runs[0]}


def built(there: Path) -> Path:
    """The demo, opened once before anything is measured, so that its thumbnails are kept."""
    folder = there / "demo"
    subprocess.run([sys.executable, "-m", "greenhouse_desk", "--store", str(folder), "--now",
                    "2026-11-18T14:00:00+00:00", "demo"], cwd=CHECKOUT, check=True, capture_output=True)
    probe("demo_window", str(folder))
    return folder


def ratios(there: Path, quick: bool) -> Iterator[Ratio]:
    """All measures, each as soon as it is known."""
    times, idle_s = (1, 3.0) if quick else (5, 20.0)
    folder = built(there)
    pairs = [(probe("bare_window"), probe("demo_window", str(folder))) for _ in range(times)]
    bare, demo = middle([one for one, _ in pairs]), middle([one for _, one in pairs])
    yield Ratio("window with the demo painted / bare window with an empty list", demo["opened_s"] / bare["opened_s"],
                f"{demo['opened_s']:.2f} s with pictures, {demo['first_s']:.2f} s to the first paint / "
                f"{bare['opened_s']:.2f} s, from the start of the process")
    yield Ratio("peak memory with the demo / of the bare window", demo["peak_mb"] / bare["peak_mb"],
                f"{demo['peak_mb']:.0f} MB / {bare['peak_mb']:.0f} MB")
    bench = probe("bench_window", str(folder), str(idle_s))
    yield Ratio("key press to repainted bench screen / to repainted bare list", bench["key_s"] / bare["key_s"],
                f"{bench['key_s'] * 1000:.1f} ms with the commit / {bare['key_s'] * 1000:.2f} ms")
    yield Ratio("idle bench mode's share of one core", bench["idle"],
                f"over {idle_s:.0f} s with {bench['cells']:.0f} soaks running, painted off-screen")
    alone = middle([rules_alone() for _ in range(times)])
    yield Ratio("import of the rules alone / start of a bare interpreter", alone["import_s"] / alone["bare_s"],
                f"{alone['import_s'] * 1000:.0f} ms / {alone['bare_s'] * 1000:.0f} ms")
    yield step.ratio(there / "step", 20 if quick else 60)
    yield degree_days.ratio(3 if quick else 9)
    yield from air_year.ratios(there / "air", quick)
    charts, chart = (middle([probe("findings_window", word) for _ in range(times)]) for word in (str(folder), "bare"))
    yield Ratio("Findings first shown in the demo / matplotlib loaded and one line drawn by it",
                charts["first_s"] / chart["first_s"], f"{charts['first_s']:.2f} s / {chart['first_s']:.2f} s; then the "
                f"air of a place in {charts['air_s']:.2f} s")
    yield from trace_growth.ratios(quick)
    yield from timeline_frames.ratios(quick)
    told = probe("label_print")
    yield Ratio("1,000 labels to PDF / the same words and codes by a bare painter", told["ours_s"] / told["bare_s"],
                f"{told['ours_s']:.2f} s / {told['bare_s']:.2f} s")
    yield Ratio("a sheet of 27 set anew and shown after a key / painted alone", told["key_s"] / told["alone_s"],
                f"{told['key_s'] * 1000:.0f} ms / {told['alone_s'] * 1000:.0f} ms")
    yield from quarantine_store.ratios(there, quarantine_store.SAMPLE if quick else quarantine_store.LARGE)
    seen = probe("trace_window")
    yield Ratio("trace picture of 500 contacts painted / 500 bare lines", seen["paint_s"] / seen["bare_s"],
                f"{seen['paint_s'] * 1000:.0f} ms / {seen['bare_s'] * 1000:.0f} ms; reading it {seen['read_s']:.2f} s, "
                f"{seen['contacts']:.0f} contacts folded into {seen['joins']:.0f} joins")
    yield from large(there, quick)


def large(there: Path, quick: bool) -> Iterator[Ratio]:
    """The measures in a large collection, its bench in a process of its own."""
    yield from large_house.ratios(there, quick, lambda folder: probe("bench_window", str(folder), "1"))


def main(quick: bool) -> None:
    """Print them."""
    with TemporaryDirectory(prefix="greenhouse-measures-") as there:
        for ratio in ratios(Path(there), quick):
            print(ratio, flush=True)


if __name__ == "__main__":
    main("--quick" in sys.argv[1:])
