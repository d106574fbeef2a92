"""What run.sh and test.sh do about missing system parts: installed where permitted, else the command is printed."""

from __future__ import annotations

import os
import subprocess
import sys
from pathlib import Path

import pytest

ENVIRONMENT = Path(__file__).parents[2] / "packaging" / "environment.sh"
LDD = """#!/bin/sh
[ -e {there}/installed ] && exit 0
printf '\\tlibxcb-icccm.so.4 => not found\\n\\tlibpulse.so.0 => not found\\n\\tlibc.so.6 => /lib/libc.so.6\\n'
"""
APT = """#!/bin/sh
echo "$*" >>{there}/apt
case $1 in
update) : >{there}/updated ;;
install) [ -e {there}/updated ] || exit 100; : >{there}/installed ;;
esac
"""


class Machine:
    """A make-believe machine: its own ldd, apt-get and user, and what was asked of them."""

    def __init__(self, there: Path, user: int) -> None:
        self.there = there
        self._tool("ldd", LDD)
        self._tool("apt-get", APT)
        self._tool("id", f"#!/bin/sh\necho {user}\n")

    def _tool(self, name: str, script: str) -> None:
        path = self.there / name
        path.write_text(script.format(there=self.there), "utf-8")
        path.chmod(0o755)

    @property
    def asked(self) -> list[str]:
        """The calls of apt-get."""
        file = self.there / "apt"
        return file.read_text("utf-8").splitlines() if file.exists() else []

    def run(self, script: str) -> subprocess.CompletedProcess[str]:
        """Run a piece of shell with the environment's functions."""
        environment = os.environ | {"PATH": f"{self.there}:{os.environ['PATH']}"}
        return subprocess.run(["sh", "-euc", f". {ENVIRONMENT}; venv={self.there}; {script}"], env=environment,
                              capture_output=True, text=True, timeout=60)

    def check_libraries(self) -> subprocess.CompletedProcess[str]:
        """Look for missing libraries, with the real Qt of this environment behind the make-believe ldd."""
        (self.there / "bin").mkdir()
        python = self.there / "bin" / "python"
        python.write_text(f'#!/bin/sh\nexec "{sys.executable}" "$@"\n', "utf-8")
        python.chmod(0o755)
        return self.run("check_libraries")


def test_without_leave_to_install_the_exact_command_is_printed(tmp_path: Path) -> None:
    machine = Machine(tmp_path, user=1000)
    done = machine.check_libraries()
    assert done.returncode == 1
    assert "libxcb-icccm.so.4" in done.stderr
    assert "sudo apt-get install --no-install-recommends libpulse0 libxcb-icccm4" in done.stderr
    assert machine.asked == []


def test_as_root_it_installs_and_fetches_the_lists_when_they_are_old(tmp_path: Path) -> None:
    machine = Machine(tmp_path, user=0)
    assert machine.check_libraries().returncode == 0
    wanted = "install -y --no-install-recommends libpulse0 libxcb-icccm4"
    assert machine.asked == [wanted, "update", wanted]


def test_what_apt_cannot_install_stops_with_its_words(tmp_path: Path) -> None:
    machine = Machine(tmp_path, user=0)
    (tmp_path / "apt-get").write_text("#!/bin/sh\necho no such package; exit 100\n", "utf-8")
    done = machine.run("debian_install xdotool")
    assert done.returncode == 1
    assert "no such package" in done.stderr
    assert "could not install: xdotool" in done.stderr


@pytest.mark.parametrize(("library", "package"), [
    ("libxcb-icccm.so.4", "libxcb-icccm4"), ("libX11-xcb.so.1", "libx11-xcb1"), ("libEGL.so.1", "libegl1"),
    ("libxkbcommon-x11.so.0", "libxkbcommon-x11-0"), ("libdbus-1.so.3", "libdbus-1-3"),
    ("libglib-2.0.so.0", "libglib2.0-0"), ("libgssapi_krb5.so.2", "libgssapi-krb5-2"), ("libz.so.1", "zlib1g"),
])
def test_a_library_is_named_by_its_debian_package(tmp_path: Path, library: str, package: str) -> None:
    assert Machine(tmp_path, user=0).run(f"package_of {library}").stdout.strip() == package


def test_a_checkout_that_cannot_be_written_says_what_to_do(tmp_path: Path) -> None:
    """Stood in for by a folder that is not there, for root may write in every other."""
    told = Machine(tmp_path, user=1000).run(f"checkout={tmp_path}/gone; make_environment")
    assert told.returncode == 1
    words = f"nothing can be written in {tmp_path}/gone. Copy it to a folder of your own, and start it there"
    assert told.stderr == f"greenhouse-desk: {words}\n"


def test_a_python_too_old_is_refused_with_what_to_do(tmp_path: Path) -> None:
    machine = Machine(tmp_path, user=1000)
    for name in ("python3", "python3.11", "python3.12", "python3.13", "python3.14", "python", "old"):
        (tmp_path / name).write_text("#!/bin/sh\nexit 1\n", "utf-8")
        (tmp_path / name).chmod(0o755)
    done = machine.run("GREENHOUSE_PYTHON=old; find_python")
    assert done.returncode == 1
    assert "no Python from 3.11 to 3.14" in done.stderr
