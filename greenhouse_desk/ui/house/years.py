"""The panel of the House page with a year for each genus: those that grow here, changed in a form, or put back."""

from __future__ import annotations

from typing import Any

from PySide6.QtCore import QObject
from PySide6.QtWidgets import QHBoxLayout, QWidget

from greenhouse_desk.domain.care_day import MONTHS
from greenhouse_desk.domain.year import PARTS, GenusYear, Stretch, whose
from greenhouse_desk.services import house, years
from greenhouse_desk.services.desk import Desk
from greenhouse_desk.services.years import Row
from greenhouse_desk.ui.forms import Field, Form, Input, Values
from greenhouse_desk.ui.house.years_list import NAMES, YearsList
from greenhouse_desk.ui.messages import button, label
from greenhouse_desk.ui.panel import panel
from greenhouse_desk.ui.signals import Signals
from greenhouse_desk.ui.style import Palette

FROM, TO = "_from", "_to"
MONTHLY: tuple[tuple[str, Any], ...] = tuple((word, nth) for nth, word in enumerate(MONTHS, 1))
CHOICES = (("none, or not known", None), *MONTHLY)
TOLD = ("When each genus grows, rests, blooms and is best repotted where you live. A dry rest holds water back, and a "
        "repotting window is told once a plant has stood long enough. What came with the program is from memory, not "
        "checked against a source, and kinds of one genus differ: yours outranks it. Where they differ, "
        "keep a year for one species or one plant: it comes before that of the genus.")
NAMED = "Spelled out, such as Cattleya; Dendrobium nobile where kinds differ; or the number of one plant."
HOW = "Whole months, both included; from November to January runs over New Year."


class YearsPanel(QObject):
    """`frame` is the panel. Rows of genera that grow here; the others are shown on asking."""

    def __init__(self, desk: Desk, signals: Signals, palette: Palette, parent: QWidget) -> None:
        super().__init__(parent)
        self._desk, self._signals, self._parent = desk, signals, parent
        self.list = YearsList(palette)
        self.frame, column = panel("A year for each genus", TOLD)
        column.addWidget(self.list)
        self.change = button("Change…", "main", "Change the year of the chosen genus")
        self.back = button("As it came", name="Put the chosen genus back to the year that came with the program")
        self.another = button("Another genus, species or plant…")
        self.all = button("Show all genera")
        self.all.setCheckable(True)
        for made, heard in ((self.change, self._on_change), (self.back, self._on_back),
                            (self.another, self._on_another), (self.all, self.show_now)):
            made.clicked.connect(heard)
        self.hint = label("Choose a genus in the list first, to change its year or put it back.", "second")
        column.addWidget(self.hint)
        for pair in ((self.another, self.all), (self.back, self.change)):
            foot = QHBoxLayout()
            foot.addStretch(1)
            for made in pair:
                foot.addWidget(made)
            column.addLayout(foot)
        self.list.doubleClicked.connect(self._on_change)
        self.list.selectionModel().currentChanged.connect(self._on_chosen)
        self.list.rows.modelReset.connect(self._on_chosen)

    def show_now(self) -> None:
        """Read every year anew."""
        now = self._desk.clock().astimezone(self._desk.read(house.zone))
        self.list.painted.month = now.month
        found = self._desk.read(years.rows)
        kept = self.list.chosen
        self.list.rows.show([row for row in found if row.plants or row.own or self.all.isChecked()])
        again = next((nth for nth, row in enumerate(self.list.rows.rows) if kept and row.genus == kept.genus), None)
        if again is not None:
            self.list.setCurrentIndex(self.list.rows.index(again))
        self._on_chosen()

    def _on_chosen(self, *_at: object) -> None:
        row = self.list.chosen
        self.change.setEnabled(row is not None)
        self.hint.setVisible(row is None)
        self.back.setEnabled(row is not None and row.own)

    def _on_change(self, *_at: object) -> Form | None:
        row = self.list.chosen
        return None if row is None else self.ask(row)

    def _on_another(self) -> Form:
        return self.ask(None)

    def _on_back(self) -> None:
        row = self.list.chosen
        if row is not None:
            self._signals.attempt(lambda: self._desk.run(years.forget, row.genus))

    def ask(self, row: Row | None) -> Form:
        """The form for a genus; for one not in the list, None, its name is asked too."""
        year = (row.year if row else None) or GenusYear(row.genus if row else "")
        named = () if row else (Field("genus", Input.TEXT, "Genus, species or plant number", NAMED),)

        def write(values: Values) -> object:
            return self._desk.run(years.save, made(values, row.genus if row else values["genus"].strip()))

        form = Form(f"The year of {whose(row.genus)}" if row else "Another year", (*named, *_fields(year)), write,
                    self._parent.window(), accept="Keep it", words=HOW)
        form.open()
        return form


def _fields(year: GenusYear) -> tuple[Field, ...]:
    told: list[Field] = []
    for part, word in NAMES:
        stretch = getattr(year, part)
        told += [Field(f"{part}{FROM}", Input.CHOICE, f"{word}, from", choices=CHOICES,
                       start=stretch.first if stretch else None),
                 Field(f"{part}{TO}", Input.CHOICE, f"{word}, to", choices=MONTHLY,
                       start=stretch.last if stretch else None)]
        if part == "rest":
            told.append(Field("dry", Input.CHECK, "Its rest is a dry one", "Then water and feed are held in it.",
                              start=year.dry))
    return (*told, Field("note", Input.LONG, "What to know beside it", start=year.note))


def made(values: Values, genus: str) -> GenusYear:
    """The year filled in; a stretch without a first month is none."""
    growth, rest, bloom, repot = (_stretch(values, part) for part in PARTS)
    return GenusYear(genus, growth, rest, values["dry"], bloom, repot, " ".join(values["note"].split()))


def _stretch(values: Values, part: str) -> Stretch | None:
    first, last = values[f"{part}{FROM}"], values[f"{part}{TO}"]
    return None if first is None else Stretch(first, last)
