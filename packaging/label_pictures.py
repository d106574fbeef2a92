"""Makes the pictures of labels for README.md: every shipped layout, and a used A4 sheet from label 5 on over a grid.

Run from the checkout: python packaging/label_pictures.py. Labels are painted by the painter that prints them.
"""

from __future__ import annotations

from pathlib import Path

from PIL import Image

from greenhouse_desk.domain.labels import Layout, Told
from greenhouse_desk.domain.labels_set import label
from greenhouse_desk.domain.labels_sheets import page_size, printed
from greenhouse_desk.domain.names import parse
from greenhouse_desk.domain.paper import HAIR, Face, Group, Item, Line, Page, Words, frame
from greenhouse_desk.services.labels_shelf import FIRST, layouts
from greenhouse_desk.ui import paper

PICTURES = Path(__file__).with_name("pictures")
NAMES = ("Phalaenopsis amabilis", "Pleione Fujiyama 'Teal' (P. El Pico x P. Shantung)", "Cattleya walkeriana 'Slate'",
         "Paphiopedilum rothschildianum x Paphiopedilum delenatii", "× Brassocattleya Maikai 'Mayumi'")
GAP, MARGIN, CAPTION = 7.0, 6.0, Face(2.4)
WIDE = 250.0
DPI = 110
MOST_BYTES = 250_000


def told(number: int) -> Told:
    """An invented plant, everything filled in."""
    return Told(number, parse(NAMES[number % len(NAMES)]), number % 3 == 0, ("potted 14 Nov 2026", "14 Nov 2026"),
                "autumn swap", "clay pellets", ("keep above 15 °C",), (("Paphiopedilum", "Paph."),))


def shown(layout: Layout, nth: int) -> tuple[Item, ...]:
    """One label with its edge, its title and its size."""
    made = label(layout, told(102 + nth), paper.measure)
    assert not made.refused, (layout.id, made.refused)
    return (frame(0, 0, layout.width, layout.height), *made.items,
            Words(0, -1.6, f"{layout.title}  ({layout.id})", CAPTION))


def contact() -> Page:
    """Every shipped layout at one scale, in rows."""
    items: list[Item] = []
    x, y, tall = MARGIN, MARGIN + 5, 0.0
    for nth, layout in enumerate(sorted(layouts(None).all, key=lambda one: one.height)):
        wide = max(layout.width, paper.measure(f"{layout.title}  ({layout.id})", CAPTION).right)
        if x > MARGIN and x + wide > WIDE - MARGIN:
            x, y, tall = MARGIN, y + tall + GAP + 4, 0.0
        items.append(Group(x, y, shown(layout, nth)))
        x, tall = x + wide + GAP, max(tall, layout.height)
    return Page(WIDE, y + tall + MARGIN, tuple(items))


def used_sheet() -> Page:
    """23 labels on a sheet of 27 from label 5 on, over lines every 10 mm."""
    layout = layouts(None).named(FIRST)
    (page,) = printed(layout, [told(number) for number in range(101, 124)], paper.measure, start=5).pages
    wide, high = page_size(layout)
    across = (Line(10.0 * nth, 0, 10.0 * nth, high, HAIR / 2) for nth in range(int(wide / 10) + 1))
    down = (Line(0, 10.0 * nth, wide, 10.0 * nth, HAIR / 2) for nth in range(int(high / 10) + 1))
    return Page(wide, high, (*across, *down, *page.items))


def keep(name: str, page: Page) -> None:
    """Write a page small enough to live beside the text."""
    file = PICTURES / f"{name}.png"
    paper.to_png(page, file, DPI)
    with Image.open(file) as whole:
        small = whole.convert("L").quantize(16)
    small.save(file, optimize=True)
    print(f"{file.name}: {file.stat().st_size} bytes")
    if file.stat().st_size > MOST_BYTES:
        raise SystemExit(f"{file} is larger than {MOST_BYTES} bytes")


def main() -> None:
    """Both."""
    paper.ready()
    keep("labels", contact())
    keep("labels-from-5", used_sheet())


if __name__ == "__main__":
    main()
