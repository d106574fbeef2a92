"""Changes the rules one small piece at a time, in a copy, and counts how many changes the tests notice.

Run from the checkout, after `pip install -r packaging/requirements-long.txt`: python packaging/mutate.py [SUBJECT ...]
"""

from __future__ import annotations

import shutil
import subprocess
import sys
from pathlib import Path
from tempfile import TemporaryDirectory

CHECKOUT = Path(__file__).parents[1]
COPIED = ("greenhouse_desk", "resources", "demo", "tests", "pyproject.toml")
SUBJECTS = {
    "greenhouse_desk/domain/countdown.py": "tests/domain/test_countdown.py",
    "greenhouse_desk/store/thinning.py": "tests/store/test_thinning.py",
    "greenhouse_desk/ui/bell.py": "tests/ui/test_bell.py",
}
"""What is changed, and the tests that ought to notice."""

CONFIG = """[cosmic-ray]
module-path = "{subject}"
timeout = 60.0
excluded-modules = []
test-command = "{python} -m pytest -x -q -p no:randomly -p no:cacheprovider {tests}"

[cosmic-ray.distributor]
name = "local"
"""


def cosmic(there: Path, *words: str) -> str:
    """Run one cosmic-ray command in the copy; returns what it printed."""
    command = [str(Path(sys.executable).with_name(words[0])), *words[1:]]
    return subprocess.run(command, cwd=there, check=True, capture_output=True, text=True).stdout.strip()


def survivors(subject: str, tests: str) -> str:
    """Mutate one file in a copy of the checkout; returns the share of changes that no test noticed, in words."""
    with TemporaryDirectory(prefix="greenhouse-mutants-") as folder:
        there = Path(folder)
        for name in COPIED:
            source = CHECKOUT / name
            if source.is_dir():
                shutil.copytree(source, there / name, ignore=shutil.ignore_patterns("__pycache__"))
            else:
                shutil.copy(source, there / name)
        (there / "mutate.toml").write_text(CONFIG.format(subject=subject, tests=tests, python=sys.executable), "utf-8")
        cosmic(there, "cosmic-ray", "init", "mutate.toml", "session.sqlite")
        cosmic(there, "cosmic-ray", "baseline", "mutate.toml")
        cosmic(there, "cosmic-ray", "exec", "mutate.toml", "session.sqlite")
        jobs = cosmic(there, "cr-report", "session.sqlite").rsplit("total jobs:", 1)[-1].split()[0]
        return f"{cosmic(there, 'cr-rate', 'session.sqlite')} % of {jobs} changes unnoticed"


if __name__ == "__main__":
    for chosen in sys.argv[1:] or SUBJECTS:
        print(f"{chosen}: {survivors(chosen, SUBJECTS[chosen])}", flush=True)
