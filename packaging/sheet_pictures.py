"""Makes the picture of printed sheets for README.md: first pages of the invented collection's, painted as they print.

Run from the checkout: python packaging/sheet_pictures.py
"""

from __future__ import annotations

from datetime import UTC, datetime
from pathlib import Path
from tempfile import TemporaryDirectory

from PIL import Image

from greenhouse_desk.domain.paper import Page
from greenhouse_desk.services import demo, photos, round_sheet, shelf_map, sitter_pages, sitter_sheet
from greenhouse_desk.services.desk import Desk
from greenhouse_desk.store.engine import open_store
from greenhouse_desk.ui import paper

PICTURE = Path(__file__).with_name("pictures") / "sheets.png"
NOW = datetime(2026, 11, 18, 15, 30, tzinfo=UTC)
DPI, GAP = 72, 12
MOST_BYTES = 250_000


def first_pages(desk: Desk) -> tuple[Page, ...]:
    """The first page of the round, the shelf map and a sitter's two weeks."""
    sitter = desk.read(sitter_sheet.sitter_sheet, NOW, *desk.read(sitter_sheet.first_days, NOW))
    shown = photos.printable(desk.store.photos, sitter_pages.wanted(sitter), sitter_pages.PIXELS)
    return (round_sheet.pages(desk.read(round_sheet.todays_round, NOW), paper.measure)[0],
            shelf_map.pages(desk.read(shelf_map.shelf_map, NOW), paper.measure)[0],
            sitter_pages.pages(sitter, paper.measure, shown)[0])


def main() -> None:
    """The pages side by side on grey."""
    paper.ready()
    with TemporaryDirectory() as folder:
        demo.build(Path(folder) / "demo", NOW)
        store = open_store(Path(folder) / "demo")
        pages = first_pages(Desk(store, lambda: NOW))
        store.close()
        images: list[Image.Image] = []
        for nth, page in enumerate(pages):
            file = Path(folder) / f"{nth}.png"
            paper.to_png(page, file, DPI)
            with Image.open(file) as painted:
                images.append(painted.convert("L"))
    whole = Image.new("L", (sum(one.width + GAP for one in images) + GAP, images[0].height + 2 * GAP), 160)
    for nth, one in enumerate(images):
        whole.paste(one, (GAP + nth * (one.width + GAP), GAP))
    whole.quantize(16).save(PICTURE, optimize=True)
    print(f"{PICTURE.name}: {PICTURE.stat().st_size} bytes")
    if PICTURE.stat().st_size > MOST_BYTES:
        raise SystemExit(f"{PICTURE} is larger than {MOST_BYTES} bytes")


if __name__ == "__main__":
    main()
