"""Photos at the size a card shows them: made on the pool, kept on disk by content hash and size, drawn from memory."""

from __future__ import annotations

from collections import OrderedDict
from collections.abc import Callable
from contextlib import suppress
from pathlib import Path
from typing import NamedTuple

from PySide6.QtCore import QObject, QRect, QSize, Qt, Signal
from PySide6.QtGui import QImage, QImageReader, QPixmap

from greenhouse_desk.services import files
from greenhouse_desk.ui.tasks import Tasks

KEPT = 600


class Key(NamedTuple):
    """Which photo (SHA-256) at which size in device pixels."""

    sha256: str
    width: int
    height: int


class Thumbnails(QObject):
    """Gives pixmaps at once when it has them, and emits `ready(sha256)` when one has come in."""

    ready = Signal(str)

    def __init__(self, find: Callable[[str], Path], cache: Path, parent: QObject | None = None) -> None:
        super().__init__(parent)
        self._find = find
        self._cache = cache
        self._held: OrderedDict[Key, QPixmap] = OrderedDict()
        self._broken: set[Key] = set()
        self._tasks = Tasks(self)
        self._tasks.done.connect(self._on_made)
        self._tasks.failed.connect(self._on_failed)

    def pixmap(self, sha256: str, size: QSize, ratio: float = 1.0) -> QPixmap | None:
        """The photo cut to `size` (logical pixels) for a screen of `ratio`; None until it is there, or if broken."""
        key = Key(sha256, round(size.width() * ratio), round(size.height() * ratio))
        held = self._held.get(key)
        if held is not None:
            self._held.move_to_end(key)
            held.setDevicePixelRatio(ratio)
            return held
        if key not in self._broken:
            source, kept = self._find(sha256), self._cache / f"{sha256}-{key.width}x{key.height}.jpg"
            self._tasks.ask(key, lambda: make(source, kept, QSize(key.width, key.height)))
        return None

    def close(self) -> None:
        """Wait for what is under way."""
        self._tasks.close()

    def _on_made(self, key: Key, image: QImage) -> None:
        self._held[key] = QPixmap.fromImage(image)
        while len(self._held) > KEPT:
            self._held.popitem(last=False)
        self.ready.emit(key.sha256)

    def _on_failed(self, key: Key, _error: object) -> None:
        self._broken.add(key)


def make(source: Path, kept: Path, size: QSize) -> QImage:
    """The photo at `source` cut to `size`, from the kept file or made and kept. OSError when it cannot be read."""
    image = QImage(str(kept)) if kept.exists() else QImage()
    if image.size() != size:
        image = _cut(source, size)
        _keep(image, kept)
    return image


def _cut(source: Path, size: QSize) -> QImage:
    """Scaled to cover `size`, cut at the sides and the top: the bench line stays at the lower edge."""
    reader = QImageReader(str(source))
    reader.setAutoTransform(True)
    whole = reader.size()
    if whole.isValid():
        reader.setScaledSize(whole.scaled(size, Qt.AspectRatioMode.KeepAspectRatioByExpanding))
    image = reader.read()
    if image.isNull():
        raise OSError(f"{source}: {reader.errorString()}")
    image = image.scaled(size, Qt.AspectRatioMode.KeepAspectRatioByExpanding,
                         Qt.TransformationMode.SmoothTransformation)
    left, top = (image.width() - size.width()) // 2, image.height() - size.height()
    return image.copy(QRect(left, top, size.width(), size.height()))


def _keep(image: QImage, path: Path) -> None:
    """Written aside and put in place whole, so that a kill never leaves half a file."""
    with suppress(OSError), files.whole(path, lasting=False) as part:  # a cache that cannot be written is no loss
        if not image.save(str(part), "JPEG", 90):  # type: ignore[call-overload]  # stubs ask bytes, Qt refuses them
            raise OSError(f"{path} could not be written")
