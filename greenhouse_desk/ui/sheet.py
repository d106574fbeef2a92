"""The style sheet: grounds, buttons, fields, scroll bars, panel edges and focus, from the look's colours."""

from __future__ import annotations

from collections.abc import Mapping
from string import Template

from PySide6.QtCore import QDir

from greenhouse_desk.shipped import folder


def sheet(colours: Mapping[str, str], dark: bool) -> str:
    """The Qt style sheet with the look's colours (name to hex) put in; KeyError when the file names an unknown one.

    Its pictures are named by Qt's search path: at a blank in the path of a folder Qt stopped reading the sheet.
    """
    style = folder("style")
    tone = "dark" if dark else "light"
    pictures = {"arrow_down": f"down-{tone}", "arrow_up": f"up-{tone}", "tick": f"tick-{tone}"}
    QDir.setSearchPaths("arrows", [str(style / "arrows")])
    paths = {name: f"arrows:{file}.svg" for name, file in pictures.items()}
    return Template((style / "desk.qss").read_text("utf-8")).substitute({**colours, **paths})
