"""Where the files shipped with the program lie: beside the package in a checkout, inside it in an installed wheel."""

from __future__ import annotations

from pathlib import Path

PACKAGE = Path(__file__).parent


def folder(name: str) -> Path:
    """The shipped folder `name` (protocols, sounds, icons, ...) or file path below resources."""
    inside = PACKAGE / "resources" / name
    return inside if inside.exists() else PACKAGE.parent / "resources" / name
