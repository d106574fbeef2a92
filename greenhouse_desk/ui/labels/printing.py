"""On paper at true size: the printer's page without margins or fitting, its own error put right."""

from __future__ import annotations

from collections.abc import Callable, Mapping, Sequence
from dataclasses import astuple
from pathlib import Path

from PySide6.QtGui import QPainter
from PySide6.QtPrintSupport import QPrintDialog, QPrinter, QPrinterInfo
from PySide6.QtWidgets import QDialog, QFileDialog, QWidget

from greenhouse_desk.domain.faults import Refused
from greenhouse_desk.domain.labels_ruler import CORNER, LENGTH, correction, ruler_page
from greenhouse_desk.domain.paper import A4, Correction, Page
from greenhouse_desk.ui import paper
from greenhouse_desk.ui.forms import Field, Form, Input, Values

KINDS = "PDF (*.pdf);;PNG (*.png);;SVG (*.svg)"
LEAST_DOTS, USUAL_DOTS, MOST_DOTS = 72, 300, 1200
Chosen = Callable[[Path, float], object]
Corrections = Mapping[str, Sequence[float]]


def printer_for(page: Page) -> QPrinter:
    """A printer set to a page's exact size, without margins."""
    printer = QPrinter(QPrinter.PrinterMode.HighResolution)
    printer.setFullPage(True)
    printer.setPageLayout(paper.page_layout(page))
    return printer


def print_pages(printer: QPrinter, pages: Sequence[Page], put_right: Correction) -> None:
    """Paint pages on a printer at true size. Raises Refused where it takes none."""
    printer.setFullPage(True)
    printer.setPageLayout(paper.page_layout(pages[0]))
    painter = QPainter()
    if not painter.begin(printer):
        raise Refused("The printer takes no page", "Nothing was printed.", "Look at the printer, or save as PDF.")

    def another(page: Page) -> None:
        printer.setPageLayout(paper.page_layout(page))
        printer.newPage()

    paper.paged(painter, pages, printer.resolution() / paper.INCH, another, put_right)
    painter.end()


def correction_of(corrections: Corrections, printer: str) -> Correction:
    """What is kept for a printer; none where nothing was measured."""
    kept = corrections.get(printer)
    return Correction(*kept) if kept is not None and len(kept) == 4 else Correction()


def ask(parent: QWidget, page: Page, accepted: Callable[[QPrinter], object]) -> QPrintDialog:
    """The system's dialog for a printer; `accepted` hears the one that was chosen."""
    dialog = QPrintDialog(printer_for(page), parent)
    dialog.setOption(QPrintDialog.PrintDialogOption.PrintPageRange, False)
    dialog.accepted.connect(lambda: accepted(dialog.printer()))
    QDialog.open(dialog)  # its own `open` asks for a slot
    return dialog


def ask_file(parent: QWidget, chosen: Chosen) -> QFileDialog:
    """Where the labels go as a file; `chosen` hears it, with an ending, and how fine a picture is to be."""
    dialog = QFileDialog(parent, "Save labels", "labels.pdf", KINDS)
    dialog.setAcceptMode(QFileDialog.AcceptMode.AcceptSave)
    dialog.fileSelected.connect(lambda name: with_dots(parent, Path(name), chosen))
    dialog.open()
    return dialog


def with_dots(parent: QWidget, path: Path, chosen: Chosen) -> Form | None:
    """Of a PNG it is asked how many dots to the inch it is to have; other files have none."""
    if path.suffix.casefold() != ".png":
        chosen(path if path.suffix else path.with_name(f"{path.name}.pdf"), USUAL_DOTS)
        return None
    field = Field("dots", Input.NUMBER, "Dots to the inch", "Take the label printer's own: 203 or 300 are usual.", "",
                  LEAST_DOTS, MOST_DOTS, start=USUAL_DOTS)
    form = Form("How fine is the picture?", (field,), lambda values: chosen(path, values["dots"]), parent, None, "Save",
                "A picture comes out at true size only where it is printed dot for dot.")
    form.open()
    return form


def ruler() -> Page:
    """The ruler page, on A4."""
    return ruler_page(*A4, paper.measure)


def ask_measured(parent: QWidget, keep: Callable[[str, Sequence[float]], object]) -> Form:
    """What was measured on the ruler page; `keep` hears the printer and its correction."""
    printers = QPrinterInfo.availablePrinterNames()

    def size(name: str, words: str, start: float, help: str = "") -> Field:
        return Field(name, Input.DECIMAL, words, help, "mm", 0, 300, 1, start=start)

    fields = (
        Field("printer", Input.PICK, "Printer", choices=tuple((name, name) for name in printers),
              start=QPrinterInfo.defaultPrinterName() or (printers[0] if printers else "")),
        size("across", "The line that goes across is", LENGTH), size("down", "The line that goes down is", LENGTH),
        size("left", "From the left edge to the line that goes down", CORNER),
        size("top", "From the upper edge to the line that goes across", CORNER))

    def deed(values: Values) -> None:
        if not values["printer"].strip():
            raise Refused("No printer is named", "", "Choose the printer that made the page.")
        keep(values["printer"].strip(), astuple(correction(values["across"], values["down"], values["left"],
                                                           values["top"])))

    form = Form("What the ruler page says", fields, deed, parent, None, "Keep for this printer",
                "Printed at 100 % the lines should be 100 mm long and 20 mm from the edges. What is measured is put "
                "right from now on.")
    form.open()
    return form
