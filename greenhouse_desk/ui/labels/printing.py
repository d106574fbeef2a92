"""What is asked before labels go to a file, and the ruler page by which a printer's own error is put right."""

from __future__ import annotations

from collections.abc import Callable, Sequence
from dataclasses import astuple
from pathlib import Path

from PySide6.QtPrintSupport import QPrinterInfo
from PySide6.QtWidgets import QFileDialog, QWidget

from greenhouse_desk.domain.faults import Refused
from greenhouse_desk.domain.labels_ruler import CORNER, LENGTH, correction, ruler_page
from greenhouse_desk.domain.paper import A4, Page
from greenhouse_desk.ui import paper
from greenhouse_desk.ui.forms import Field, Form, Input, Values

KINDS = "PDF (*.pdf);;PNG (*.png);;SVG (*.svg)"
LEAST_DOTS, USUAL_DOTS, MOST_DOTS = 72, 300, 1200
Chosen = Callable[[Path, float], object]


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
