"""The faces that come with the program: loaded once, before the first widget."""

from __future__ import annotations

from importlib import resources

from PySide6.QtGui import QFontDatabase

SERIF = "Source Serif Pro"
SANS = "Source Sans Pro"
FACES = {
    "font_source_serif_pro": ("SourceSerifPro-Regular.otf", "SourceSerifPro-Semibold.otf", "SourceSerifPro-It.otf",
                              "SourceSerifPro-SemiboldIt.otf"),
    "font_source_sans_pro": ("SourceSansPro-Regular.otf", "SourceSansPro-Semibold.otf", "SourceSansPro-Bold.otf",
                             "SourceSansPro-It.otf"),
}


def load() -> tuple[str, ...]:
    """Give Qt the faces; returns the names of files that could not be loaded (the system's faces then stand in)."""
    missing = []
    for package, names in FACES.items():
        folder = resources.files(package) / "files"
        for name in names:
            with resources.as_file(folder / name) as path:
                if QFontDatabase.addApplicationFont(str(path)) < 0:
                    missing.append(name)
    return tuple(missing)
