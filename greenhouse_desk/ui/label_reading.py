"""Reads the codes of labels in a picture: which plants they name, and where in the picture they are."""

from __future__ import annotations

from dataclasses import dataclass
from pathlib import Path

from PySide6.QtGui import QImage

from greenhouse_desk.domain.faults import Refused
from greenhouse_desk.domain.labels_code import number_in
from greenhouse_desk.services import photos

Corners = tuple[tuple[int, int], ...]


@dataclass(frozen=True, slots=True)
class Found:
    """A label's code: the plant it names, and its four corners in pixels of the picture, in order around it."""

    number: int
    corners: Corners


@dataclass(frozen=True)
class Seen:
    """A picture that was looked at, the labels in it, and whether there was a code that is none of a label's."""

    picture: QImage
    codes: tuple[Found, ...]
    others: bool = False

    @property
    def numbers(self) -> tuple[int, ...]:
        """The plants, each once, by number: a label may have two codes."""
        return tuple(sorted({code.number for code in self.codes}))


def look_at(picture: QImage) -> Seen:
    """Look for codes in a picture; on any thread. Raises Refused where the reader cannot be loaded."""
    try:
        import zxingcpp
    except ImportError as error:
        raise Refused("Codes cannot be read on this computer", f"The reader does not load: {error}.",
                      "Find the plant by its number instead.") from error
    grey = picture.convertToFormat(QImage.Format.Format_Grayscale8)
    if grey.isNull():
        return Seen(picture, ())
    view = memoryview(grey.constBits()).cast("B", (grey.height(), grey.bytesPerLine()))
    kind = zxingcpp.BarcodeFormats(zxingcpp.BarcodeFormat.QRCode)
    told = [(number_in(one.text), one.position) for one in zxingcpp.read_barcodes(view, formats=kind)]
    codes = tuple(Found(number, tuple((corner.x, corner.y) for corner in (
        at.top_left, at.top_right, at.bottom_right, at.bottom_left))) for number, at in told if number is not None)
    return Seen(picture, codes, len(codes) < len(told))


def look_at_file(path: Path) -> Seen:
    """The same for a picture file, decoded in another process first. Raises Refused for what is no picture."""
    picture = QImage.fromData(photos.decoded(path))
    if picture.isNull():
        raise Refused("The picture cannot be shown", f"{path.name} is of a kind that the window does not know.",
                      "Save it as JPEG or PNG.")
    return look_at(picture)
