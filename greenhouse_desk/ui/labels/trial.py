"""A layout while it is edited: one label, the rooms of its parts, and what does not fit."""

from __future__ import annotations

from PySide6.QtCore import QRectF

from greenhouse_desk.domain.labels import Form, Layout, Told
from greenhouse_desk.domain.labels_set import label
from greenhouse_desk.domain.names import parse
from greenhouse_desk.domain.paper import Page
from greenhouse_desk.ui import paper

SAMPLE = Told(1234, parse("Phalaenopsis amabilis"), True, ("potted 14 Nov 2026", "14 Nov 2026"), "a source",
              "clay pellets", ("your own line",))


def trial(layout: Layout, told: Told, in_hand: int) -> tuple[Page, list[tuple[QRectF, bool]], str]:
    """The label alone as a page, each part's room in mm with whether it is the one in hand, and what does not fit."""
    made = label(layout, told, paper.measure)
    words = f"{told.number}: {made.refused or ', '.join(made.notes)}." if made.refused or made.notes else ""
    return (Page(layout.width, layout.height, made.items),
            [(room(layout, nth), nth == in_hand) for nth in range(len(layout.boxes))], words)


def room(layout: Layout, number: int) -> QRectF:
    """Where part `number` of a layout lies on the unfolded label, in mm."""
    box = layout.boxes[number]
    x, y = box.x, box.y
    if box.back and layout.form is Form.FOLD_OVER:
        x, y = layout.width - x - box.width, layout.height - y - box.height
    elif box.back and layout.form is Form.FOLD_ROUND:
        x += layout.width / 2
    return QRectF(x, y, box.width, box.height)
