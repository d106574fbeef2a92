"""Pages on a printer at true size, its own error put right: a little at a time, so that the window hears its keys.

A printer is painted on the window's thread, since not every system's printers bear another one.
"""

from __future__ import annotations

from collections import deque
from collections.abc import Callable, Iterator, Mapping, Sequence
from dataclasses import dataclass

from PySide6.QtCore import QObject, QTimer, Signal
from PySide6.QtGui import QPainter
from PySide6.QtPrintSupport import QPrintDialog, QPrinter
from PySide6.QtWidgets import QDialog, QWidget

from greenhouse_desk.domain.faults import Refused
from greenhouse_desk.domain.paper import Correction, Page
from greenhouse_desk.ui import paper
from greenhouse_desk.ui.words import counted

Corrections = Mapping[str, Sequence[float]]
FULL = ("The printer takes no page", "Nothing was printed.", "Look at the printer, or save as PDF.")


@dataclass(frozen=True, eq=False)
class Print:
    """What is to be printed where. `as_it_is` leaves the printer's error in: the ruler page shows it. `ended` hears how
    many pages came to their end, and says what is to be told of it."""

    title: str
    pages: tuple[Page, ...]
    printer: QPrinter
    as_it_is: bool = False
    ended: Callable[[int], str] | None = None


def printer_for(page: Page) -> QPrinter:
    """A printer set to a page's exact size, without margins."""
    printer = QPrinter(QPrinter.PrinterMode.HighResolution)
    printer.setFullPage(True)
    printer.setPageLayout(paper.page_layout(page))
    return printer


def ask(parent: QWidget, page: Page, accepted: Callable[[QPrinter], object]) -> QPrintDialog:
    """The system's dialog for a printer; `accepted` hears the one that was chosen."""
    printer = printer_for(page)
    dialog = QPrintDialog(printer, parent)
    dialog.setOption(QPrintDialog.PrintDialogOption.PrintPageRange, False)
    dialog.accepted.connect(lambda: accepted(printer))
    QDialog.open(dialog)  # its own `open` asks for a slot
    return dialog


def correction_of(corrections: Corrections, printer: str) -> Correction:
    """What is kept for a printer; none where nothing was measured."""
    kept = corrections.get(printer)
    return Correction(*kept) if kept is not None and len(kept) == 4 else Correction()


def steps(job: Print, put_right: Correction) -> Iterator[int]:
    """Paint a job's pages; at each step it tells how many are whole. Closed early, the others stay off.

    Raises Refused where the printer takes none, or no more.
    """
    printer = job.printer
    printer.setFullPage(True)
    printer.setPageLayout(paper.page_layout(job.pages[0]))
    painter = QPainter()
    if not painter.begin(printer):
        raise Refused(*FULL)

    def another(page: Page) -> None:
        printer.setPageLayout(paper.page_layout(page))
        if not printer.newPage():
            raise Refused("The printer takes no more pages", "The rest was not printed.", FULL[2])

    try:
        yield from paper.paged(painter, job.pages, printer.resolution() / paper.INCH, another, put_right)
    finally:
        painter.end()


class Printing(QObject):
    """One job after the other. `told(words)` says how far it is, "" once nothing is printed any more; `noted(words)`
    what came of a job, `refused(Refused)` what stood in its way; `corrections_changed(by printer)` what to keep."""

    told = Signal(str)
    noted = Signal(str)
    refused = Signal(object)
    corrections_changed = Signal(object)

    def __init__(self, corrections: Corrections, parent: QObject | None = None) -> None:
        super().__init__(parent)
        self.corrections = dict(corrections)
        self._waiting: deque[Print] = deque()
        self._steps: Iterator[int] | None = None
        self._whole = 0
        self._stopping = False
        self._next = QTimer(self)
        self._next.setInterval(0)
        self._next.timeout.connect(self._on_next)

    @property
    def busy(self) -> bool:
        """Whether something is printed."""
        return bool(self._waiting)

    def begin(self, job: Print) -> None:
        """Print this, after what is printed already."""
        self._waiting.append(job)
        self._next.start()
        self._tell()

    def stop(self) -> None:
        """Print no more than the page in hand."""
        self._stopping = True
        while len(self._waiting) > 1:
            self._waiting.pop()
        self._tell()

    def close(self) -> None:
        """Bring what is printed to its end at once."""
        while self._waiting:
            self._on_next()

    def keep_correction(self, printer: str, put_right: Sequence[float]) -> None:
        """Keep what puts a printer right."""
        self.corrections = {**self.corrections, printer: list(put_right)}
        self.corrections_changed.emit(self.corrections)
        self.noted.emit(f"From now on {printer} prints at true size.")

    def _on_next(self) -> None:
        job = self._waiting[0]
        if self._steps is None:
            put_right = paper.STRAIGHT if job.as_it_is else correction_of(self.corrections, job.printer.printerName())
            self._steps, self._whole = steps(job, put_right), 0
        try:
            whole = next(self._steps)
        except StopIteration:
            self._end(job, None)
        except Refused as refusal:
            self._end(job, refusal)
        else:
            self._on_step(job, whole)

    def _on_step(self, job: Print, whole: int) -> None:
        if whole == self._whole:
            return
        self._whole = whole
        if self._stopping:
            self._end(job, None)
        else:
            self._tell()

    def _end(self, job: Print, refusal: Refused | None) -> None:
        made, self._steps, self._stopping = self._steps, None, False
        assert made is not None
        made.close()  # type: ignore[attr-defined]
        self._waiting.popleft()
        if not self._waiting:
            self._next.stop()
        said = ""
        try:
            said = self._said(job, self._whole)
        except Refused as untold:
            refusal = refusal or untold
        if refusal is not None:
            self.refused.emit(refusal)
        elif said:
            self.noted.emit(said)
        self._tell()

    def _said(self, job: Print, whole: int) -> str:
        if job.ended is not None:
            return job.ended(whole) if whole else ""
        if whole < len(job.pages):
            return f"{job.title}: {counted(whole, 'page')} of {len(job.pages)} sent to {named(job.printer)}."
        return f"{job.title} sent to {named(job.printer)}."

    def _tell(self) -> None:
        if not self._waiting:
            self.told.emit("")
            return
        job, of = self._waiting[0], len(self._waiting[0].pages)
        at = f"{job.title}: page {min(self._whole + 1, of)} of {of} goes to {named(job.printer)}."
        ends = "The page in hand is the last." if self._stopping else ""
        more = f"{len(self._waiting) - 1} more to print after it." if len(self._waiting) > 1 else ""
        self.told.emit(" ".join(filter(None, (at, ends, more))))


def named(printer: QPrinter) -> str:
    """What a printer is called."""
    return printer.printerName() or "the printer"
