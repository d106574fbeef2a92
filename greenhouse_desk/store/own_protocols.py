"""The grower's own protocols, label layouts and genus names: files beside the database that a backup carries and a
restore puts back."""

from __future__ import annotations

from pathlib import Path

from greenhouse_desk.store import disk
from greenhouse_desk.store.folder import GENERA, LABELS, PROTOCOLS

HERE = "./"
"""What the name of a file in the folder itself begins with, where names are listed."""


def files(folder: Path) -> dict[str, Path]:
    """The own files below `folder`: protocols by name, layouts by their folder and name ("labels/mine.toml"), genus
    names as "./genera.toml"."""
    names = {f"{HERE}{GENERA}": folder / GENERA} if (folder / GENERA).is_file() else {}
    return {**_in(folder, PROTOCOLS, ""), **_in(folder, LABELS, f"{LABELS}/"), **names}


def _in(folder: Path, part: str, before: str) -> dict[str, Path]:
    return {f"{before}{path.name}": path for path in sorted((folder / part).glob("*.toml")) if path.is_file()}


def _place(folder: Path, name: str) -> Path:
    return folder / name if name.startswith((HERE, f"{LABELS}/")) else folder / PROTOCOLS / name


def _kind(name: str) -> str:
    return "genus names" if name.startswith(HERE) else "layout" if name.startswith(f"{LABELS}/") else "protocol"


def pack(folder: Path, into: Path) -> dict[str, str]:
    """Copy the own files of `folder` below `into`; returns the SHA-256 of each copy by name. Raises OSError."""
    for name, path in files(folder).items():
        disk.copy(path, _place(into, name))
    return {name: disk.fingerprint(path) for name, path in files(into).items()}


def faults(packed: Path, listed: object) -> tuple[str, ...]:
    """What is wrong with the files below `packed`, against the list made when they were packed (None: none was)."""
    if listed is None:
        return ()
    if not isinstance(listed, dict):
        return ("its list of protocols is not one",)
    there = {name: disk.fingerprint(path) for name, path in files(packed).items()}
    return tuple(f"{_kind(str(name))} {str(name).removeprefix(HERE)} is missing or damaged"
                 for name, print_then in listed.items() if there.get(name) != print_then)


def unpack(packed: Path, listed: dict[str, str] | None, folder: Path) -> None:
    """Put the packed files in the place of those of `folder`; a backup made without them changes nothing.

    A layout, and genus names, that the backup does not have stay: backups made before they were carried list none.
    """
    if listed is None:
        return
    kept = {name: path for name, path in files(packed).items() if name in listed}
    for name, path in kept.items():
        disk.copy(path, _place(folder, name))
    for name, path in _in(folder, PROTOCOLS, "").items():
        if name not in kept:
            path.unlink()
