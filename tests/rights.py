"""Folders that may be read and not written: by the rights of another user, for root may write everywhere."""

from __future__ import annotations

import os
from collections.abc import Iterator
from contextlib import contextmanager
from pathlib import Path
from tempfile import TemporaryDirectory

NOBODY = 65534


@contextmanager
def unprivileged() -> Iterator[None]:
    """As a user who owns nothing here, when the tests run as root; root may write everywhere."""
    root = os.geteuid() == 0
    if root:
        os.seteuid(NOBODY)
    try:
        yield
    finally:
        if root:
            os.seteuid(0)


@contextmanager
def public_folder() -> Iterator[Path]:
    """A folder that another user can reach (pytest's own are private), with the place for a collection in it."""
    with TemporaryDirectory() as name:
        os.chmod(name, 0o755)
        yield Path(name) / "collection"


def shut(folder: Path) -> None:
    """Let nobody but its owner write in a collection folder, and not even the owner without saying so."""
    for path in (folder, *folder.rglob("*")):
        path.chmod(0o555 if path.is_dir() else 0o444)


def opened(folder: Path) -> None:
    """Let its owner write there again."""
    for path in (folder, *folder.rglob("*")):
        path.chmod(0o755 if path.is_dir() else 0o644)
