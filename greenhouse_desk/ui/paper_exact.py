"""The true size of each page in a PDF, in which Qt rounded it to whole points."""

from __future__ import annotations

import re
from collections.abc import Sequence

from greenhouse_desk.domain.paper import Page

INCH, POINTS = 25.4, 72
BOX = re.compile(rb"/MediaBox \[(0 0 [0-9.]+ ([0-9.]+))\]")


def exact(data: bytes, pages: Sequence[Page]) -> bytes:
    """Each page's true size in a PDF in which Qt rounded it to whole points; the upper left corner stays in place.

    What is written is as long as what stood there, so that the file's own table of places still holds.
    """
    sizes = iter(pages)

    def sized(found: re.Match[bytes]) -> bytes:
        page, top = next(sizes), float(found[2])
        box = f"0 {top - page.height / INCH * POINTS:.3f} {page.width / INCH * POINTS:.3f} {top:g}"
        return found[0].replace(found[1], box.ljust(len(found[1])).encode())

    return BOX.sub(sized, data)
