"""Paints every printed page, on screen, printer, PDF, PNG and SVG alike, and measures its text; no widgets.

A page is a value in millimetres (domain/paper.py). `paint(page, painter)` draws it with the painter's unit as 1 mm, so
that a preview is the print. `to_pdf`, `to_png` and `to_svg` write files whole or not at all. Where no window is, call
`ready()` first.

This is the one work on a pool that makes objects of Qt (a buffer, a writer of PDF): each lives and ends within one call
of `pdf_bytes`, `png_bytes` or `svg_bytes`, on the thread that made it, and hears no signal. Nothing handed back, a
refusal and its traceback included, holds one.
"""

from __future__ import annotations

from collections.abc import Callable, Iterator, Sequence
from dataclasses import replace
from pathlib import Path

from PySide6.QtCore import QBuffer, QMarginsF, QPointF, QRectF, QSize, QSizeF, Qt
from PySide6.QtGui import (
    QColor,
    QImage,
    QPageLayout,
    QPageSize,
    QPainter,
    QPainterPath,
    QPdfWriter,
    QPen,
    QPolygonF,
)
from PySide6.QtSvg import QSvgGenerator

from greenhouse_desk.domain.faults import Refused
from greenhouse_desk.domain.paper import (
    Correction,
    Dark,
    Group,
    Item,
    Line,
    Page,
    Picture,
    Ring,
    Shape,
    Words,
    few_at_once,
)
from greenhouse_desk.services import files
from greenhouse_desk.ui.paper_exact import exact
from greenhouse_desk.ui.paper_faces import font_of, scale_of
from greenhouse_desk.ui.paper_faces import measure as measure
from greenhouse_desk.ui.paper_faces import ready as ready

INCH = 25.4
PDF_DPI = 2540  # a hundredth of a millimetre
LARGEST_SIDE = 30_000  # pixels of a PNG
AT_ONCE = 24  # words, lines and shapes painted in one step: a few milliseconds
BLACK = QColor(0, 0, 0)
STRAIGHT = Correction()
NOTHING = ("There is nothing to print", "No page came of it.", "Choose plants first.")


def paint(page: Page, painter: QPainter, outlines: bool = False) -> None:
    """Draw a page in black, pictures in colour; the painter's unit is 1 mm and its origin the upper left corner.

    `outlines` draws letters as shapes, for files that cannot carry their faces (colour pictures in text are then lost).
    """
    painter.save()
    painter.setRenderHints(QPainter.RenderHint.Antialiasing | QPainter.RenderHint.TextAntialiasing
                           | QPainter.RenderHint.SmoothPixmapTransform)
    _items(painter, page.items, outlines)
    painter.restore()


def _items(painter: QPainter, items: Sequence[Item], outlines: bool) -> None:
    for item in items:
        match item:
            case Words():
                _words(painter, item, outlines)
            case Line():
                painter.setPen(_pen(item.width, item.dashed))
                painter.drawLine(QPointF(item.x1, item.y1), QPointF(item.x2, item.y2))
            case Shape() | Dark():
                _fill(painter, _outline(item))
            case Ring():
                painter.setPen(_pen(item.width))
                painter.setBrush(Qt.BrushStyle.NoBrush)
                painter.drawEllipse(QPointF(item.x, item.y), item.radius, item.radius)
            case Picture():
                painter.drawImage(QRectF(item.x, item.y, item.width, item.height), QImage.fromData(item.data))
            case Group():
                _group(painter, item, outlines)


def _pen(width: float, dashed: bool = False) -> QPen:
    pen = QPen(BLACK, width)
    pen.setCapStyle(Qt.PenCapStyle.FlatCap)
    if dashed:
        pen.setDashPattern([1.0 / width, 1.0 / width])
    return pen


def _fill(painter: QPainter, path: QPainterPath) -> None:
    painter.setPen(Qt.PenStyle.NoPen)
    painter.setBrush(BLACK)
    painter.drawPath(path)


def _outline(shape: Shape | Dark) -> QPainterPath:
    if isinstance(shape, Dark):
        return _squares(shape)
    path = QPainterPath()
    path.addPolygon(QPolygonF([QPointF(x, y) for x, y in shape.points]))
    path.closeSubpath()
    return path


def _squares(code: Dark) -> QPainterPath:
    """The dark squares as one path of runs along the rows, so that no light seam shows between them."""
    path = QPainterPath()
    path.setFillRule(Qt.FillRule.WindingFill)
    side = code.module
    for down, row in enumerate(code.rows):
        across = 0
        while across < len(row):
            end = across
            while end < len(row) and row[end]:
                end += 1
            if end > across:
                path.addRect(QRectF(code.x + across * side, code.y + down * side, (end - across) * side, side))
            across = end + 1
    return path


def _words(painter: QPainter, words: Words, outlines: bool) -> None:
    font, by = font_of(words.face.family, words.face.bold, words.face.italic), scale_of(words.face)
    painter.save()
    painter.translate(words.x, words.y)
    painter.scale(by, by)
    if outlines:
        path = QPainterPath()
        path.addText(QPointF(0, 0), font, words.text)
        _fill(painter, path)
    else:
        painter.setFont(font)
        painter.setPen(BLACK)
        painter.drawText(QPointF(0, 0), words.text)
    painter.restore()


def _group(painter: QPainter, group: Group, outlines: bool) -> None:
    painter.save()
    painter.translate(group.x, group.y)
    if group.turn:
        painter.rotate(group.turn)
    _items(painter, group.items, outlines)
    painter.restore()


def paged(painter: QPainter, pages: Sequence[Page], units_per_mm: float, another: Callable[[Page], object],
          correction: Correction = STRAIGHT) -> Iterator[int]:
    """Draw pages one after the other on a device, a little at each step; tells how many are whole by then.

    `another(page)` turns to the next. `correction` is the printer's.
    """
    for number, page in enumerate(pages):
        if number:
            another(page)
        put_right = correction.on(page)
        for some in few_at_once(page.items, AT_ONCE):
            painter.save()
            painter.scale(units_per_mm, units_per_mm)
            painter.translate(put_right.shift_x, put_right.shift_y)
            painter.scale(put_right.across, put_right.down)
            paint(replace(page, items=some), painter)
            painter.restore()
            yield number
        yield number + 1


def page_layout(page: Page) -> QPageLayout:
    """The page's exact size, without margins, as Qt wants to be told it."""
    sides = QSizeF(page.width, page.height)
    size = QPageSize(sides, QPageSize.Unit.Millimeter, "", QPageSize.SizeMatchPolicy.ExactMatch)
    return QPageLayout(size, QPageLayout.Orientation.Portrait, QMarginsF(0, 0, 0, 0))


def pdf_bytes(pages: Sequence[Page], title: str = "", correction: Correction = STRAIGHT) -> bytes:
    """The pages as a PDF at true size, their faces embedded. Raises Refused where there is no page."""
    if not pages:
        raise Refused(*NOTHING)
    buffer = QBuffer()
    buffer.open(QBuffer.OpenModeFlag.WriteOnly)
    writer = QPdfWriter(buffer)
    writer.setResolution(PDF_DPI)
    writer.setTitle(title)
    writer.setCreator("Greenhouse Desk")
    writer.setPageLayout(page_layout(pages[0]))

    def another(page: Page) -> None:
        writer.setPageLayout(page_layout(page))
        writer.newPage()

    painter = QPainter(writer)
    for _ in paged(painter, pages, PDF_DPI / INCH, another, correction):
        pass
    painter.end()
    return exact(bytes(buffer.data().data()), pages)


def to_pdf(pages: Sequence[Page], path: Path, title: str = "", correction: Correction = STRAIGHT) -> None:
    """Write the pages as a PDF. Raises Refused where there is no page, the name does not end in .pdf, or the file
    cannot be written."""
    files.ending(path, (".pdf",), "printed pages")
    _put(path, pdf_bytes(pages, title, correction))


def image(page: Page, dpi: float) -> QImage:
    """The page as a grey picture at `dpi` dots to the inch, white ground. Raises Refused where it is too large."""
    size = QSize(round(page.width / INCH * dpi), round(page.height / INCH * dpi))
    if not 0 < max(size.width(), size.height()) <= LARGEST_SIDE or min(size.width(), size.height()) < 1:
        raise Refused("The picture would not do", f"It would have {size.width()} by {size.height()} dots.",
                      "Choose another number of dots to the inch.")
    made = QImage(size, QImage.Format.Format_RGB32)
    made.fill(Qt.GlobalColor.white)
    painter = QPainter(made)
    painter.scale(dpi / INCH, dpi / INCH)
    paint(page, painter)
    painter.end()
    grey = made.convertToFormat(QImage.Format.Format_Grayscale8)
    for put in (grey.setDotsPerMeterX, grey.setDotsPerMeterY):
        put(round(dpi / INCH * 1000))
    return grey


def to_png(page: Page, path: Path, dpi: float) -> None:
    """Write one page as a PNG at `dpi`. Raises Refused as `image` does, or where the file cannot be written."""
    _put(path, png_bytes(image(page, dpi)))


def png_bytes(made: QImage) -> bytes:
    """A picture as a PNG."""
    buffer = QBuffer()
    buffer.open(QBuffer.OpenModeFlag.WriteOnly)
    made.save(buffer, "PNG")  # type: ignore[call-overload]  # stubs ask bytes, Qt refuses them
    return bytes(buffer.data().data())


def to_svg(page: Page, path: Path) -> None:
    """Write one page as an SVG in millimetres, letters as shapes. Raises Refused where it cannot be written."""
    _put(path, svg_bytes(page))


def svg_bytes(page: Page) -> bytes:
    """One page as an SVG in millimetres, letters as shapes."""
    buffer = QBuffer()
    buffer.open(QBuffer.OpenModeFlag.WriteOnly)
    generator = QSvgGenerator()
    generator.setOutputDevice(buffer)
    generator.setResolution(PDF_DPI)
    generator.setSize(QSize(round(page.width * 100), round(page.height * 100)))
    generator.setViewBox(QRectF(0, 0, page.width * 100, page.height * 100))
    painter = QPainter(generator)
    painter.scale(100, 100)
    paint(page, painter, outlines=True)
    painter.end()
    return bytes(buffer.data().data())


def to_files(pages: Sequence[Page], path: Path, title: str = "", dpi: float = 300) -> tuple[Path, ...]:
    """Write pages as the file's ending says; PNG (at `dpi`) and SVG hold one page, so that more get numbered names.

    Returns the files written. Raises Refused for another ending, no page, or where a file cannot be written.
    """
    kind = files.ending(path, (".pdf", ".png", ".svg"), "printed pages")
    if kind == ".pdf":
        to_pdf(pages, path, title)
        return (path,)
    if not pages:
        raise Refused(*NOTHING)
    names = [path] if len(pages) == 1 else [path.with_stem(f"{path.stem}-{nth}") for nth in range(1, len(pages) + 1)]
    for page, name in zip(pages, names, strict=True):
        if kind == ".png":
            to_png(page, name, dpi)
        else:
            to_svg(page, name)
    return tuple(names)


def _put(path: Path, data: bytes) -> None:
    try:
        files.put(path, data)
    except OSError as error:
        raise files.unwritten(path, error, f"{path.name} cannot be written") from error
