"""1,000 labels from what is told of the plants to a PDF, against the same words and codes drawn by a bare painter; and
the preview's answer to a key, against the page painted alone. A probe: prints its figures as JSON."""

from __future__ import annotations

import json
import os
import time
from collections.abc import Callable

os.environ.setdefault("QT_QPA_PLATFORM", "offscreen")  # before Qt is imported

from PySide6.QtCore import QBuffer, QPointF, QRectF
from PySide6.QtGui import QFont, QImage, QPainter, QPdfWriter
from PySide6.QtWidgets import QApplication

from greenhouse_desk.domain.labels import Told
from greenhouse_desk.domain.labels_sheets import printed
from greenhouse_desk.domain.names import parse
from greenhouse_desk.domain.paper import Dark, Page, Words, flat
from greenhouse_desk.services.labels_shelf import FIRST, layouts
from greenhouse_desk.ui import paper, style
from greenhouse_desk.ui.labels.preview import Preview

MANY = 1000
NAMES = ("Phalaenopsis amabilis", "Cattleya walkeriana 'Slate'", "Vanda coerulea × Vanda tricolor")
LAYOUT = layouts(None).named(FIRST)


def tolds(first: str = "") -> list[Told]:
    """The plants' words; `first` is what was typed on the first one's source."""
    return [Told(101 + nth, parse(NAMES[nth % 3]), nth % 9 == 0, ("14 Nov 2026",), first or "a swap", "bark")
            for nth in range(MANY)]


def ours() -> tuple[Page, ...]:
    """Set, put on pages, and written as a PDF."""
    made = printed(LAYOUT, tolds(), paper.measure)
    paper.pdf_bytes(made.pages)
    return made.pages


def bare(pages: tuple[Page, ...]) -> None:
    """The same words and squares at the same places, straight to a PDF."""
    buffer = QBuffer()
    buffer.open(QBuffer.OpenModeFlag.WriteOnly)
    writer = QPdfWriter(buffer)
    writer.setResolution(paper.PDF_DPI)
    painter = QPainter(writer)
    by = paper.PDF_DPI / paper.INCH
    for nth, page in enumerate(pages):
        if nth:
            writer.newPage()
        for item in flat(page.items):
            if isinstance(item, Words):
                font = QFont("Source Serif Pro")
                font.setPixelSize(round(item.face.letter / 0.67 * by))
                painter.setFont(font)
                painter.drawText(QPointF(item.x * by, item.y * by), item.text)
            elif isinstance(item, Dark):
                _squares(painter, item, by)
    painter.end()


def _squares(painter: QPainter, code: Dark, by: float) -> None:
    side = code.module * by
    for down, row in enumerate(code.rows):
        for across, dark in enumerate(row):
            if dark:
                room = QRectF(code.x * by + across * side, code.y * by + down * side, side, side)
                painter.fillRect(room, paper.BLACK)


def seconds(deed: Callable[[], object]) -> float:
    """How long it takes."""
    start = time.perf_counter()
    deed()
    return time.perf_counter() - start


def figures() -> dict[str, float]:
    """Seconds: 1,000 labels by us and barely; a key to the repainted preview, and the page painted alone."""
    pages = ours()  # once before, so that faces are loaded for both
    bare(pages)
    preview = Preview(style.palette(False))
    preview.resize(560, 640)
    sheet = tolds("x")[:LAYOUT.per_page]

    def key() -> None:
        (page,) = printed(LAYOUT, sheet, paper.measure).pages
        preview.show_page(page, "")
        preview.grab()

    def alone() -> None:
        image = QImage(560, 640, QImage.Format.Format_RGB32)
        painter = QPainter(image)
        painter.scale(preview.scale, preview.scale)
        paper.paint(pages[0], painter)
        painter.end()

    key()
    return {"ours_s": seconds(ours), "bare_s": seconds(lambda: bare(pages)), "key_s": seconds(key),
            "alone_s": seconds(alone)}


if __name__ == "__main__":
    QApplication([])
    paper.ready()
    print(json.dumps(figures()))
