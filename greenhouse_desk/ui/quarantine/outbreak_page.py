"""Outbreaks followed to their end: whom each concerns, the wash plan with its dates, and why it is or is not over."""

from __future__ import annotations

from collections.abc import Sequence
from datetime import date

from PySide6.QtCore import Signal
from PySide6.QtWidgets import QVBoxLayout, QWidget

from greenhouse_desk.domain.care import Reason
from greenhouse_desk.domain.outbreak import Concerned, Followed, Wash
from greenhouse_desk.domain.sentences import capital
from greenhouse_desk.services import house, outbreaks, records
from greenhouse_desk.services.desk import Desk
from greenhouse_desk.ui.flow import Flow
from greenhouse_desk.ui.messages import button, label
from greenhouse_desk.ui.panel import CLOSE, panel
from greenhouse_desk.ui.quarantine.sheets import Column, marked_row
from greenhouse_desk.ui.quarantine.status_list import mark_of
from greenhouse_desk.ui.style import Palette
from greenhouse_desk.ui.words import counted, day

NONE_YET = "No outbreak was opened yet. Open one from a find on the trace, or in a round with the key O."
CAUTION = ("Try the wash on one leaf first, keep it off buds and out of the crown, and follow the label of what you "
           "use. A wash hides signs: looks count again only some days after it.")

NONE_OWED = ("No wash is owed: what is wanted now are looks. A wash all the same puts the end off, for a clean look "
             "before it no longer counts.")


class OutbreakPage(QWidget):
    """`to_wash(why)` takes plants to the bench, each with why it is washed, by number; `round_wanted(numbers)` begins a
    round, `why` explains."""

    to_wash = Signal(object)
    round_wanted = Signal(object)
    why = Signal(str, object)

    def __init__(self, desk: Desk, palette: Palette) -> None:
        super().__init__()
        self._desk, self._look = desk, palette
        self.column = Column("Outbreaks")
        whole = QVBoxLayout(self)
        whole.setContentsMargins(24, 0, 14, 16)
        whole.addWidget(self.column)

    def show_now(self) -> None:
        """Work every outbreak out anew."""
        now = self._desk.clock()
        found = self._desk.read(outbreaks.followed, now)
        names = self._desk.read(records.labels)
        today = now.astimezone(self._desk.read(house.zone)).date()
        column = self.column.begin()
        if not found:
            column.addWidget(label(NONE_YET, "second"))
        for one in found:
            self._one(column, one, names.pest(one.what), today)
        column.addStretch(1)
        self.column.end()

    def _one(self, column: QVBoxLayout, one: Followed, name: str, today: date) -> None:
        frame, inside = panel(f"{capital(name)}, opened from {one.plant} on {day(one.opened, today)}",
                              spacing=CLOSE)
        state = ("infested", "goes on", "madder") if one.over is None else (
            "released", f"over since {day(one.over, today)}", "clean")
        inside.addLayout(marked_row(state[0], state[1], capital(one.why), "", self._look, state[2]))
        inside.addWidget(self._buttons(one, name, today))
        if one.over is None:
            if one.washed and not one.owing:
                inside.addWidget(label(NONE_OWED, bold=True))
            inside.addWidget(label(CAUTION, "second", px=13))
        for plant in one.concerned:
            inside.addLayout(marked_row(mark_of(plant.word), f"{plant.plant}  {plant.word}", _detail(plant, today),
                                        f"not before {day(plant.earliest, today)}" if plant.earliest else "",
                                        self._look))
        column.addWidget(frame)

    def _buttons(self, one: Followed, name: str, today: date) -> Flow:
        row = Flow()
        owing = one.owing or one.washed
        words = f"Wash {counted(len(owing), 'plant')}"
        bench = (button(f"{words} at the bench", "main") if one.owing else
                 button(f"{words} all the same", name=f"{words} at the bench, though no wash is owed"))
        bench.setEnabled(bool(owing))
        bench.clicked.connect(lambda: self.to_wash.emit(wash_reasons(one, owing, name, today)))
        looks = button(f"Look at {counted(len(one.watched), 'plant')} in a round")
        looks.setEnabled(bool(one.watched))
        looks.clicked.connect(lambda: self.round_wanted.emit(one.watched))
        every = (button("Wash the exposed too", name="Take the plants it was found on and the exposed to the bench")
                 if one.owing else button("Wash the exposed", name="Take the exposed to the bench"))
        every.setEnabled(bool(one.watched))
        every.clicked.connect(lambda: self.to_wash.emit(
            wash_reasons(one, (*one.owing, *one.watched), name, today)))
        why = button("why?", "small", f"Why the outbreak of {name} is {'not over' if one.over is None else 'over'}")
        why.clicked.connect(lambda: self.why.emit(f"Outbreak of {name}", reasons(one, today)))
        for part in (bench, looks, every, why):
            row.add(part)
        return row


def _detail(plant: Concerned, today: date) -> str:
    washes = "; ".join(wash_words(wash, today) for wash in plant.washes)
    if washes and not plant.found:
        washes = f"if washed too: {washes}"
    return ". ".join(capital(part) for part in (plant.why, washes, plant.next) if part)


def wash_words(wash: Wash, today: date) -> str:
    """ "washed 4 Nov", "wash 30 Nov to 4 Dec"."""
    opens, latest = day(wash.opens, today), day(wash.latest, today)
    if wash.given:
        return f"washed {opens}"
    return f"wash {opens}" if opens == latest else f"wash {opens} to {latest}"


def wash_reasons(one: Followed, numbers: Sequence[int], name: str, today: date) -> dict[int, str]:
    """Why each of these plants is washed, by number: "by the plan of the mealybug outbreak from 102: wash 20 Nov, not
    yet due"."""
    plans, of = {plant.plant: plant.washes for plant in one.concerned}, f"the {name} outbreak from {one.plant}"
    return {number: _wanted(plans[number], of, today) for number in numbers}


def _wanted(washes: Sequence[Wash], of: str, today: date) -> str:
    """The next wash of a plan in words; by the grower's word alone where the plan wants none."""
    following = next((wash for wash in washes if not wash.given), None)
    if following is None:
        return f"as you chose for {of}; {'every wash of its plan was given' if washes else 'its plan names no wash'}"
    early = ", not yet due" if following.opens > today else ""
    return f"by the plan of {of}: {wash_words(following, today)}{early}"


def reasons(one: Followed, today: date) -> tuple[Reason, ...]:
    """Why an outbreak goes on or is over, plant by plant."""
    told = [Reason(f"Opened on {day(one.opened, today)} for what was seen on {one.plant}.",
                   f"journal entry {one.entry}")]
    told += [Reason(f"{plant.plant}: {plant.word}. {plant.why}.", "the plant's journal and its contacts")
             for plant in one.concerned]
    return (*told, Reason("It is over once no plant it concerns is held back by it: each clear by its looks, released, "
                          "or gone.", "the rules of quarantine, house rule"),
            Reason(f"So: {one.why}", "worked out from the steps above"))
