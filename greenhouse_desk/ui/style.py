"""The look: colours by name (light and dark), type, hatches, and how they are put on the program."""

from __future__ import annotations

from dataclasses import dataclass
from functools import cache

from PySide6.QtCore import QPoint, Qt
from PySide6.QtGui import QBrush, QColor, QFont, QImage, QPalette, QPixmap
from PySide6.QtWidgets import QApplication

from greenhouse_desk.ui import fonts
from greenhouse_desk.ui.sheet import sheet

HEX: dict[str, tuple[str, str]] = {
    "bench": ("#E3E8E4", "#121917"),
    "sheet": ("#F8FAF7", "#1B2421"),
    "inset": ("#D6DED8", "#0B100E"),
    "ink": ("#14201B", "#EEF2EC"),
    "ink2": ("#36443D", "#C0CCC4"),
    "water": ("#094A5A", "#86CEDD"),
    "due": ("#633500", "#F2BE62"),
    "madder": ("#86142C", "#FFA3AC"),
    "hold": ("#4E2A72", "#CFB6EE"),
    "clean": ("#114B34", "#97D5AC"),
    "duskink": ("#26324A", "#BFCBE3"),
    "rail": ("#26342E", "#46574E"),
    "on_rail": ("#F4F7F3", "#F4F7F3"),
    "plate": ("#F8FAF7", "#E9EEE8"),
    "on_plate": ("#14201B", "#14201B"),
    "number_plate": ("#F8FAF7", "#C3CCC5"),
    "water_fill": ("#BBD9DF", "#143B45"),
    "due_fill": ("#F2C36B", "#F2BE62"),
    "madder_fill": ("#F0C9CC", "#571825"),
    "hold_fill": ("#DCCFE8", "#382650"),
    "dusk_fill": ("#C3CBD8", "#222B3D"),
    "rule": ("#B5C1B9", "#35433C"),
    "rule2": ("#5F6F66", "#82938A"),
    "clay": ("#A4532F", "#D98A62"),
    "wet_root": ("#5F8F45", "#8DBB6B"),
    "dry_root": ("#B9C2BE", "#76837D"),
    "veil": ("#00000000", "#380B100E"),
}


@dataclass(eq=False)
class Palette:
    """Every colour by its name in the look. One live object is handed to all screens and follows the system's setting.

    `become` changes it in place; whoever paints from it needs nothing but a repaint. `veil` lies over photos.
    """

    dark: bool
    bench: QColor
    sheet: QColor
    inset: QColor
    ink: QColor
    ink2: QColor
    water: QColor
    due: QColor
    madder: QColor
    hold: QColor
    clean: QColor
    duskink: QColor
    rail: QColor
    on_rail: QColor
    plate: QColor
    on_plate: QColor
    number_plate: QColor
    water_fill: QColor
    due_fill: QColor
    madder_fill: QColor
    hold_fill: QColor
    dusk_fill: QColor
    rule: QColor
    rule2: QColor
    clay: QColor
    wet_root: QColor
    dry_root: QColor
    veil: QColor

    def become(self, dark: bool) -> None:
        """Take on the light or the dark colours."""
        self.dark = dark
        for name, pair in HEX.items():
            setattr(self, name, QColor(pair[dark]))

    def named(self, name: str) -> QColor:
        """The colour called `name`; KeyError when the look knows none."""
        if name not in HEX:
            raise KeyError(name)
        colour: QColor = getattr(self, name)
        return colour

    def on_plate_ink(self, name: str) -> QColor:
        """A coloured word on a plate: plates stay light in the dark, so the light ink is used there."""
        return QColor(HEX[name][0])


def palette(dark: bool) -> Palette:
    """The light or the dark colours."""
    return Palette(dark, **{name: QColor(pair[dark]) for name, pair in HEX.items()})


@cache
def serif(px: float, weight: int = 400, italic: bool = False) -> QFont:
    """The face for what a plant is, at `px` pixels (96 dpi)."""
    return _font(fonts.SERIF, px, weight, italic)


@cache
def sans(px: float, weight: int = 400, italic: bool = False) -> QFont:
    """The face for what is measured or owed, at `px` pixels (96 dpi); figures all of one width."""
    return _font(fonts.SANS, px, weight, italic)


def _font(family: str, px: float, weight: int, italic: bool) -> QFont:
    font = QFont(family)
    font.setPixelSize(round(px))
    font.setWeight(QFont.Weight(weight))
    font.setItalic(italic)
    for feature in ("tnum", "lnum"):
        font.setFeature(QFont.Tag(feature), 1)
    return font


@cache
def _hatch_pixmap(rgba: int, on: int, off: int, falling: bool) -> QPixmap:
    period = on + off
    image = QImage(period, period, QImage.Format.Format_ARGB32_Premultiplied)
    image.fill(Qt.GlobalColor.transparent)
    colour = QColor.fromRgba(rgba)
    for x in range(period):
        for y in range(period):
            if ((x - y) if falling else (x + y)) % period < on:
                image.setPixelColor(QPoint(x, y), colour)
    return QPixmap.fromImage(image)


def hatch(colour: QColor, on: int = 1, off: int = 5, falling: bool = False) -> QBrush:
    """A 45 degree hatch: lines of `on` pixels, `off` pixels apart. The painter's brush origin fixes it in place."""
    return QBrush(_hatch_pixmap(colour.rgba(), on, off, falling))


def apply(app: QApplication, colours: Palette) -> None:
    """Put the look on the whole program: base style, face, system colours, style sheet.

    The old sheet goes first: changed for another it has every widget's rules thrown away and found anew one by one,
    which takes four times as long.
    """
    app.setStyleSheet("")
    app.setStyle("Fusion")
    app.setFont(sans(14))
    app.setPalette(_system(colours))
    app.setStyleSheet(sheet({name: colours.named(name).name() for name in HEX}, colours.dark))


def _system(colours: Palette) -> QPalette:
    roles = QPalette.ColorRole
    system = QPalette()
    for role, colour in (
        (roles.Window, colours.bench), (roles.WindowText, colours.ink), (roles.Base, colours.sheet),
        (roles.AlternateBase, colours.bench), (roles.Text, colours.ink), (roles.PlaceholderText, colours.ink2),
        (roles.Button, colours.sheet), (roles.ButtonText, colours.ink), (roles.Highlight, colours.water_fill),
        (roles.HighlightedText, colours.ink), (roles.ToolTipBase, colours.sheet), (roles.ToolTipText, colours.ink),
        (roles.Link, colours.water), (roles.Accent, colours.water), (roles.Mid, colours.rule2),
        (roles.Dark, colours.rule2), (roles.Light, colours.sheet), (roles.Midlight, colours.rule),
    ):
        system.setColor(role, colour)
    for role in (roles.Text, roles.ButtonText, roles.WindowText):
        system.setColor(QPalette.ColorGroup.Disabled, role, colours.ink2)
    return system


