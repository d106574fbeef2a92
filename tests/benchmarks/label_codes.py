"""How many codes an independent reader reads from the printed page, by layout, dots to the inch and damage.

python -m tests.benchmarks.label_codes [plants a layout]. Prints the table of DEVELOPERS.md. The page is the PDF, drawn
by poppler at the printer's dots, looked at label by label; each spoilt picture is spoilt at those dots.
"""

from __future__ import annotations

import subprocess
import sys
from collections import Counter
from collections.abc import Callable, Iterator
from dataclasses import dataclass
from pathlib import Path
from tempfile import TemporaryDirectory

import zxingcpp
from PIL import Image, ImageDraw, ImageFilter

from greenhouse_desk.domain.labels import Form, Layout, Told, What
from greenhouse_desk.domain.labels_code import code, number_in
from greenhouse_desk.domain.labels_sheets import Printed, place_of, printed
from greenhouse_desk.domain.names import parse
from greenhouse_desk.services.labels_shelf import layouts
from greenhouse_desk.ui import paper

INCH = 25.4
DOTS = (203, 300)
PER_LAYOUT = 100
NAMES = ("Phalaenopsis amabilis", "Cattleya walkeriana 'Slate'", "Paphiopedilum Maudiae × Paphiopedilum callosum")
Box = tuple[float, float, float, float]
"""Left, top, right and bottom in dots of a code with its light border."""


@dataclass(frozen=True, slots=True)
class Printing:
    """One label as the printer draws it: its number, its picture, and where on it the code stands."""

    number: int
    picture: Image.Image
    code: Box
    module: float


def numbers(count: int) -> list[int]:
    """Numbers of one to six digits, spread over all of them."""
    return [1 + (nth * 7919 * 13) % (10 ** (1 + nth % 6) - 1) for nth in range(count)]


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
    (box,) = [box for box in layout.boxes if box.what is What.CODE]
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


def torn(across: bool, down: bool) -> Callable[[Printing], Image.Image]:
    """One corner of the code gone, 30 % of its side each way; the first corner is the upper left."""
    def tear(label: Printing) -> Image.Image:
        picture = label.picture.copy()
        quiet = 4 * label.module
        left, top, right, bottom = (label.code[0] + quiet, label.code[1] + quiet, label.code[2] - quiet,
                                    label.code[3] - quiet)
        wide = 0.3 * (right - left)
        x = (right - wide, right) if across else (left, left + wide)
        y = (bottom - wide, bottom) if down else (top, top + wide)
        ImageDraw.Draw(picture).rectangle((x[0], y[0], x[1], y[1]), fill=255)
        return picture
    return tear


DAMAGE: dict[str, Callable[[Printing], Image.Image]] = {
    "whole": whole, "blur 0.4": blurred(0.4), "blur 0.5": blurred(0.5), "turned 5 degrees": turned,
    "lower right corner gone": torn(True, True), "upper left gone": torn(False, False),
    "upper right gone": torn(True, False), "lower left gone": torn(False, True)}
BORNE = ("whole", "blur 0.4", "turned 5 degrees", "lower right corner gone")
"""What every code must bear. The other corners hold the patterns by which a reader finds the code at all."""


def reads(label: Printing, picture: Image.Image) -> bool:
    """Whether an independent reader finds one code on it, and that it names this plant."""
    found = zxingcpp.read_barcodes(picture)
    return [number_in(one.text) for one in found] == [label.number]


def levels(layout: Layout, count: int) -> str:
    """The levels that this layout's codes come to: "H" or "H, Q"."""
    (box,) = [box for box in layout.boxes if box.what is What.CODE]
    made = [code(number, min(box.width, box.height)) for number in numbers(count)]
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
        (box,) = [box for box in layout.boxes if box.what is What.CODE]
        for dots in DOTS:
            told = printings(layout, dots, count, there)
            read = Counter({name: sum(reads(label, spoil(label)) for label in told) for name, spoil in DAMAGE.items()})
            yield (f"{layout.id}, {min(box.width, box.height):g} mm", levels(layout, count), str(dots),
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
