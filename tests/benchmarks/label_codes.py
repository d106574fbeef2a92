"""How many codes an independent reader reads from the printed page, by layout, dots to the inch and damage.

python -m tests.benchmarks.label_codes [plants a layout]. Prints the table of DEVELOPERS.md. The page is the PDF, drawn
by poppler at the printer's dots, looked at label by label; each spoilt picture is spoilt at those dots.
"""

from __future__ import annotations

import math
import subprocess
import sys
from collections import Counter
from collections.abc import Callable, Iterator
from dataclasses import dataclass
from pathlib import Path
from tempfile import TemporaryDirectory

import zxingcpp
from PIL import Image, ImageDraw, ImageFilter

from greenhouse_desk.domain.labels import Box as CodeBox
from greenhouse_desk.domain.labels import Form, Layout, Told, What
from greenhouse_desk.domain.labels_code import QUIET, code, number_in
from greenhouse_desk.domain.labels_sheets import Printed, place_of, printed
from greenhouse_desk.domain.names import parse
from greenhouse_desk.services.labels_shelf import layouts
from greenhouse_desk.ui import paper

INCH = 25.4
DOTS = (203, 300)
PER_LAYOUT = 100
PATTERN = 7
"""Squares of a finding pattern each way (published: ISO/IEC 18004)."""
LOST = 0.3
NAMES = ("Phalaenopsis amabilis", "Cattleya walkeriana 'Slate'", "Paphiopedilum Maudiae × Paphiopedilum callosum")
Box = tuple[float, float, float, float]
"""Left, top, right and bottom in dots of a code with its light border."""


@dataclass(frozen=True, slots=True)
class Printing:
    """One label as the printer draws it: its number, its picture, and where on it its first code stands."""

    number: int
    picture: Image.Image
    code: Box
    module: float


def numbers(count: int) -> list[int]:
    """Numbers of one to six digits, spread over all of them."""
    return [1 + (nth * 7919 * 13) % (10 ** (1 + nth % 6) - 1) for nth in range(count)]


def codes(layout: Layout) -> list[CodeBox]:
    """The boxes that hold a code: one, or two where a layout has room for them."""
    return [box for box in layout.boxes if box.what is What.CODE]


def sheets(layout: Layout, count: int) -> Printed:
    """Labels of `count` plants."""
    tolds = [Told(number, parse(NAMES[number % len(NAMES)]), number % 2 == 0, ("14 Nov 2026",), "a swap", "bark")
             for number in numbers(count)]
    return printed(layout, tolds, paper.measure)


def drawn(pdf: Path, dots: int) -> list[Image.Image]:
    """The pages of a PDF as poppler draws them, in grey."""
    root = pdf.with_suffix("")
    subprocess.run(["pdftoppm", "-gray", "-r", str(dots), str(pdf), str(root)], check=True, timeout=300)
    found = sorted(pdf.parent.glob(f"{root.name}-*.pgm"))
    pages = []
    for path in found:
        with Image.open(path) as page:
            pages.append(page.convert("L"))
        path.unlink()
    return pages


def labels(layout: Layout, made: Printed, pages: list[Image.Image], dots: int) -> Iterator[Printing]:
    """Each label cut out of its page."""
    box = codes(layout)[0]
    side, by = min(box.width, box.height), dots / INCH
    shift = layout.width / 2 if box.back and layout.form is Form.FOLD_ROUND else 0.0
    x, y = box.x + shift + (box.width - side) / 2, box.y + (box.height - side) / 2
    for nth, one in enumerate(made.made):
        sheet, position = divmod(nth, layout.per_page)
        left, top = (mm * by for mm in place_of(layout, position))
        picture = pages[sheet].crop((round(left), round(top), round(left + layout.width * by),
                                     round(top + layout.height * by)))
        squares = code(one.number, side)
        assert squares is not None
        yield Printing(one.number, picture, (x * by, y * by, (x + side) * by, (y + side) * by), squares.module * by)


def whole(label: Printing) -> Image.Image:
    """As it was printed."""
    return label.picture


def blurred(squares: float) -> Callable[[Printing], Image.Image]:
    """Out of focus: a normal blur whose standard deviation is this many squares of the code."""
    return lambda label: label.picture.filter(ImageFilter.GaussianBlur(label.module * squares))


def turned(label: Printing) -> Image.Image:
    """Held askew by 5 degrees."""
    return label.picture.rotate(5, Image.Resampling.BILINEAR, expand=True, fillcolor=255)


def lost(across: bool, down: bool, wide: Callable[[Printing], float]) -> Callable[[Printing], Image.Image]:
    """A square of the first code's corner gone, so many dots wide; the first corner is the upper left."""
    def lose(label: Printing) -> Image.Image:
        picture = label.picture.copy()
        quiet = QUIET.value * label.module
        left, top, right, bottom = (label.code[0] + quiet, label.code[1] + quiet, label.code[2] - quiet,
                                    label.code[3] - quiet)
        off = wide(label)
        x = (right - off, right) if across else (left, left + off)
        y = (bottom - off, bottom) if down else (top, top + off)
        ImageDraw.Draw(picture).rectangle((x[0], y[0], x[1], y[1]), fill=255)
        return picture
    return lose


def torn(across: bool, down: bool) -> Callable[[Printing], Image.Image]:
    """One corner of the code gone, 30 % of the code's side each way: far more than a whole finding pattern."""
    return lost(across, down, lambda label: LOST * (label.code[2] - label.code[0] - 2 * QUIET.value * label.module))


def bitten(across: bool, down: bool) -> Callable[[Printing], Image.Image]:
    """30 % of the area of one corner gone: a corner is the 7 by 7 squares of a finding pattern."""
    return lost(across, down, lambda label: math.sqrt(LOST) * PATTERN * label.module)


CORNERS = {"lower right": (True, True), "upper left": (False, False), "upper right": (True, False),
           "lower left": (False, True)}
DAMAGE: dict[str, Callable[[Printing], Image.Image]] = {
    "whole": whole, "blur 0.4": blurred(0.4), "blur 0.5": blurred(0.5), "turned 5 degrees": turned,
    **{f"{name}: 30 % of the corner": bitten(*where) for name, where in CORNERS.items()},
    **{f"{name}: 30 % of the side": torn(*where) for name, where in CORNERS.items()}}
BORNE = ("whole", "blur 0.4", "turned 5 degrees", "lower right: 30 % of the corner", "lower right: 30 % of the side")
"""What every code must bear. The other corners hold the patterns by which a reader finds the code at all."""


def borne(layout: Layout) -> tuple[str, ...]:
    """What a layout's labels must bear: with a second code, the loss of any corner of one."""
    return tuple(name for name in DAMAGE if name in BORNE or ("%" in name and len(codes(layout)) > 1))


def reads(label: Printing, picture: Image.Image) -> bool:
    """Whether an independent reader finds a code on it, and that every one it finds names this plant."""
    return {number_in(one.text) for one in zxingcpp.read_barcodes(picture)} == {label.number}


def levels(layout: Layout, count: int) -> str:
    """The levels that this layout's codes come to: "H" or "H, Q"."""
    made = [code(number, min(box.width, box.height)) for number in numbers(count) for box in codes(layout)]
    return ", ".join(sorted({one.level for one in made if one is not None}))


def printings(layout: Layout, dots: int, count: int, there: Path) -> list[Printing]:
    """Labels of a layout as the printer draws them."""
    made = sheets(layout, count)
    pdf = there / f"{layout.id}-{dots}.pdf"
    paper.to_pdf(made.pages, pdf)
    pages = drawn(pdf, dots)
    assert len(pages) == len(made.pages)
    return list(labels(layout, made, pages, dots))


def rows(count: int, there: Path) -> Iterator[tuple[str, ...]]:
    """The table, row by row: the layout with its code's side, level and dots, then the share read of each damage."""
    for layout in layouts(None).all:
        box, more = codes(layout)[0], ", two codes" if len(codes(layout)) > 1 else ""
        for dots in DOTS:
            told = printings(layout, dots, count, there)
            read = Counter({name: sum(reads(label, spoil(label)) for label in told) for name, spoil in DAMAGE.items()})
            yield (f"{layout.id}, {min(box.width, box.height):g} mm{more}", levels(layout, count), str(dots),
                   *(f"{100 * read[name] / len(told):.0f} %" for name in DAMAGE))


def main() -> None:
    """Print the table."""
    count = int(sys.argv[1]) if len(sys.argv) > 1 else PER_LAYOUT
    paper.ready()
    head = ("layout, side of its code", "level", "dpi", *DAMAGE)
    print(f"| {' | '.join(head)} |\n|{'---|' * len(head)}")
    with TemporaryDirectory(prefix="greenhouse-codes-") as there:
        for row in rows(count, Path(there)):
            print(f"| {' | '.join(row)} |", flush=True)


if __name__ == "__main__":
    main()
