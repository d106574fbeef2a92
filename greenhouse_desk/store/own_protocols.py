"""The grower's own protocols: files beside the database that a backup carries and a restore puts back."""

from __future__ import annotations

from pathlib import Path

from greenhouse_desk.store import disk
from greenhouse_desk.store.folder import PROTOCOLS


def files(folder: Path) -> dict[str, Path]:
    """The protocol files below `folder`, by name."""
    found = sorted((folder / PROTOCOLS).glob("*.toml"))
    return {path.name: path for path in found if path.is_file()}


def pack(folder: Path, into: Path) -> dict[str, str]:
    """Copy the protocols of `folder` below `into`; returns the SHA-256 of each copy by name. Raises OSError."""
    for name, path in files(folder).items():
        disk.copy(path, into / PROTOCOLS / name)
    return {name: disk.fingerprint(path) for name, path in files(into).items()}


def faults(packed: Path, listed: object) -> tuple[str, ...]:
    """What is wrong with the protocols below `packed`, against the list made when they were packed (None: none was)."""
    if listed is None:
        return ()
    if not isinstance(listed, dict):
        return ("its list of protocols is not one",)
    there = {name: disk.fingerprint(path) for name, path in files(packed).items()}
    return tuple(f"protocol {name} is missing or damaged" for name, print_then in listed.items()
                 if there.get(name) != print_then)


def unpack(packed: Path, listed: dict[str, str] | None, folder: Path) -> None:
    """Put the packed protocols in the place of those of `folder`; a backup made without them changes nothing."""
    if listed is None:
        return
    kept = {name: path for name, path in files(packed).items() if name in listed}
    for name, path in kept.items():
        disk.copy(path, folder / PROTOCOLS / name)
    for name, path in files(folder).items():
        if name not in kept:
            path.unlink()
