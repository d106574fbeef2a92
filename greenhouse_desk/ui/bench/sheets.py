"""What the Bench screen prints: the kit before the start, and a session's record after it."""

from __future__ import annotations

from collections.abc import Sequence

from PySide6.QtWidgets import QWidget

from greenhouse_desk.services import bench_pages, kit_pages
from greenhouse_desk.services.kit_pages import Kit
from greenhouse_desk.ui import paper
from greenhouse_desk.ui.bench.before import BeforePage
from greenhouse_desk.ui.bench.record_page import RecordPage
from greenhouse_desk.ui.page_box import PageBox, Setting, Sheet, opened
from greenhouse_desk.ui.signals import Signals

KIT = ("Kit list", "What to lay out, with amounts and cautions, and what must never meet.")
RECORD = ("Bench record", "What was done to each plant, as the journal has it.")


class BenchSheets:
    """Opens the box of a sheet when a page asks for it."""

    def __init__(self, signals: Signals, before: BeforePage, record: RecordPage, parent: QWidget) -> None:
        self._signals, self._parent = signals, parent
        before.paper.connect(self.kit)
        record.paper.connect(self.record)

    def kit(self, kit: Kit) -> PageBox:
        """The kit of the session that is about to start."""
        return self._open(*KIT, "kit.pdf", lambda size: kit_pages.pages(kit, paper.measure, size))

    def record(self, lines: Sequence[str]) -> PageBox:
        """The record of a session that is over."""
        return self._open(*RECORD, "bench-record.pdf", lambda size: bench_pages.pages(lines, paper.measure, size))

    def _open(self, title: str, words: str, file: str, setting: Setting) -> PageBox:
        return opened(PageBox(Sheet(title, words, file, lambda: setting), self._parent.window()), self._signals)
