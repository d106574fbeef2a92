"""Printed pages measured on the file: true sizes, positions to 0.1 mm, faces embedded, one painter for every kind."""

from __future__ import annotations

from dataclasses import replace
from pathlib import Path
from typing import Any

import numpy as np
import pytest
from PIL import Image
from pypdf import PdfReader
from pypdf.generic import IndirectObject
from PySide6.QtCore import QObject, Qt
from PySide6.QtGui import QImage, QPainter
from PySide6.QtSvg import QSvgRenderer

from greenhouse_desk.domain.faults import Refused
from greenhouse_desk.domain.labels import Layout, What
from greenhouse_desk.domain.labels_code import code
from greenhouse_desk.domain.labels_sheets import page_size, place_of, printed
from greenhouse_desk.domain.paper import SIZES, Correction, Face, Page, Shape, Words, frame
from greenhouse_desk.ui import paper
from greenhouse_desk.ui.labels.trial import room
from tests.benchmarks.label_codes import drawn
from tests.domain.label_builders import LAYOUTS, told

INCH = 25.4
DOTS = 508
"""To the inch: 20 to the mm."""
WITHIN = 0.1  # mm
Dark = np.ndarray[Any, np.dtype[np.bool_]]


@pytest.fixture(scope="module", autouse=True)
def _faces(qapp: object) -> None:
    paper.ready()


def ink(dark: Dark, left: float, top: float, right: float, bottom: float) -> tuple[float, ...]:
    """The first and last ink in a part of a page (all in mm): left, top, right, bottom."""
    by = DOTS / INCH
    part = dark[round(top * by):round(bottom * by), round(left * by):round(right * by)]
    down, across = np.nonzero(part.any(axis=1))[0], np.nonzero(part.any(axis=0))[0]
    return (left + across[0] / by, top + down[0] / by, left + (across[-1] + 1) / by, top + (down[-1] + 1) / by)


def dark(picture: Image.Image) -> Dark:
    found: Dark = np.asarray(picture) < 128
    return found


@pytest.mark.parametrize("layout", LAYOUTS, ids=lambda layout: layout.id)
def test_every_code_of_a_full_sheet_lies_where_its_layout_says(layout: Layout, tmp_path: Path) -> None:
    """Measured on the page as poppler draws it: each code's first and last square, to 0.1 mm."""
    made = printed(layout, [told(number=number) for number in range(101, 101 + layout.per_page)], paper.measure)
    paper.to_pdf(made.pages, tmp_path / "sheet.pdf")
    (picture,) = drawn(tmp_path / "sheet.pdf", DOTS)
    seen = dark(picture)
    for number, box in enumerate(layout.boxes):
        if box.what is What.CODE:
            assert box.width == box.height, "its middle is the box's"
            there, squares = room(layout, number), code(101, box.width)
            assert squares is not None
            for position in range(layout.per_page):
                x, y = place_of(layout, position)
                left, top, off, side = x + there.x(), y + there.y(), squares.quiet, box.width
                wanted = (left + off, top + off, left + side - off, top + side - off)
                assert ink(seen, left, top, left + side, top + side) == pytest.approx(wanted, abs=WITHIN), position


@pytest.mark.parametrize("layout", LAYOUTS, ids=lambda layout: layout.id)
def test_pages_have_their_true_size(layout: Layout, tmp_path: Path) -> None:
    paper.to_pdf(printed(layout, [told()], paper.measure).pages, tmp_path / "one.pdf")
    box = PdfReader(tmp_path / "one.pdf").pages[0].mediabox
    found = (float(box.width) / 72 * INCH, float(box.height) / 72 * INCH)
    assert found == pytest.approx(page_size(layout), abs=0.001)


SQUARE = Shape(((20, 30), (70, 30), (70, 80), (20, 80)))


@pytest.mark.parametrize("size", ["A4", "A5", "A6"])
def test_fifty_millimetres_are_fifty(size: str, tmp_path: Path) -> None:
    wide, high = SIZES[size]
    paper.to_pdf([Page(wide, high, (SQUARE,)), Page(high, wide, (SQUARE,))], tmp_path / "a.pdf")
    pages = drawn(tmp_path / "a.pdf", DOTS)
    for page, (width, height) in zip(pages, ((wide, high), (high, wide)), strict=True):
        assert page.size == pytest.approx((width / INCH * DOTS, height / INCH * DOTS), abs=1.1)
        assert ink(dark(page), 0, 0, width, height) == pytest.approx((20, 30, 70, 80), abs=WITHIN)


def test_a_printers_correction_stretches_and_shifts(tmp_path: Path) -> None:
    page = Page(*SIZES["A5"], (SQUARE,))
    paper.to_pdf([page], tmp_path / "a.pdf", correction=Correction(1.02, 0.98, 1.5, -2))
    (picture,) = drawn(tmp_path / "a.pdf", DOTS)
    assert ink(dark(picture), 0, 0, 148, 210) == pytest.approx(
        (20 * 1.02 + 1.5, 30 * 0.98 - 2, 70 * 1.02 + 1.5, 80 * 0.98 - 2), abs=WITHIN)


def test_the_same_ink_in_pdf_picture_and_svg(tmp_path: Path) -> None:
    """One painter: a tag as PDF, as PNG at 300 dpi and as SVG has its ink in the same places."""
    layout = replace(next(one for one in LAYOUTS if one.id == "tag"), grid=None)
    (page,) = printed(layout, [told()], paper.measure).pages
    edges = Page(page.width, page.height, (*page.items, frame(1, 1, 48, 78)))
    paper.to_pdf([edges], tmp_path / "a.pdf")
    (from_pdf,) = drawn(tmp_path / "a.pdf", 300)
    paper.to_png(edges, tmp_path / "a.png", 300)
    paper.to_svg(edges, tmp_path / "a.svg")
    with Image.open(tmp_path / "a.png") as picture:
        assert picture.info["dpi"] == pytest.approx((300, 300), abs=0.1)
        assert picture.size == pytest.approx(from_pdf.size, abs=1)
        assert alike(from_pdf, picture.convert("L")) > 0.97
    assert alike(from_pdf, svg(tmp_path / "a.svg", from_pdf.size)) > 0.97


def svg(path: Path, size: tuple[int, int]) -> Image.Image:
    """An SVG drawn by Qt's own reader."""
    image = QImage(*size, QImage.Format.Format_Grayscale8)
    image.fill(Qt.GlobalColor.white)
    painter = QPainter(image)
    QSvgRenderer(str(path)).render(painter)
    painter.end()
    return Image.frombytes("L", size, bytes(image.constBits()), "raw", "L", image.bytesPerLine())


def alike(one: Image.Image, other: Image.Image) -> float:
    """The share of dots, of those that are dark in either, that have the other's ink no further than one dot away."""
    a, b = dark(one), dark(other.resize(one.size))
    grown = [np.zeros_like(one_of) for one_of in (a, b)]
    for source, target in zip((b, a), grown, strict=True):
        for down in (-1, 0, 1):
            for across in (-1, 0, 1):
                target |= np.roll(source, (down, across), (0, 1))
    return float(((a & grown[0]).sum() + (b & grown[1]).sum()) / (a.sum() + b.sum()))


def test_faces_are_embedded(tmp_path: Path) -> None:
    words = (Words(10, 20, "Vanda", Face(5, "serif", italic=True)), Words(10, 40, "101", Face(8, "serif", bold=True)),
             Words(10, 60, "date", Face(3)))
    paper.to_pdf([Page(148, 210, words)], tmp_path / "a.pdf")
    fonts = PdfReader(tmp_path / "a.pdf").pages[0]["/Resources"]["/Font"]  # type: ignore[index]
    files = {}
    for font in fonts.values():
        (inner,) = resolved(resolved(font)["/DescendantFonts"])
        described = resolved(resolved(inner)["/FontDescriptor"])
        files[str(described["/FontName"])] = [key for key in described if str(key).startswith("/FontFile")]
    assert len(files) == 3
    assert all(files.values()), files
    assert {name.split("+")[-1].split("-")[0].lstrip("/") for name in files} == {"SourceSerifPro", "SourceSansPro"}


def resolved(value: Any) -> Any:
    return value.get_object() if isinstance(value, IndirectObject) else value


@pytest.mark.parametrize("dpi", [0, 0.1, 100_000])
def test_a_picture_that_would_not_do_is_refused(dpi: float, tmp_path: Path) -> None:
    with pytest.raises(Refused):
        paper.to_png(Page(57, 32, ()), tmp_path / "a.png", dpi)


def test_no_page_is_nothing_to_print(tmp_path: Path) -> None:
    for name in ("a.pdf", "a.png", "a.svg"):
        with pytest.raises(Refused, match="nothing to print"):
            paper.to_files([], tmp_path / name)


@pytest.mark.parametrize("ending", ["pdf", "png", "svg"])
def test_a_refusal_carries_no_object_of_qt_to_another_thread(ending: str, tmp_path: Path) -> None:
    """What a pool's thread refuses is told on the window's, and an object of Qt must end where it was made."""
    (tmp_path / "a file").write_text("no folder")
    with pytest.raises(Refused) as refused:
        paper.to_files([Page(57, 32, ())], tmp_path / "a file" / f"a.{ending}")
    frames = [found.frame for found in refused.traceback[1:]]
    assert frames
    assert [value for frame in frames for value in frame.f_locals.values() if isinstance(value, QObject)] == []
