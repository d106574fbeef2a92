"""What a grower does on the Quarantine screen: forms that end in a verb; refusals are said in the form or the bar."""

from __future__ import annotations

from collections.abc import Callable, Mapping, Sequence
from functools import partial
from pathlib import Path
from typing import Any

from PySide6.QtWidgets import QWidget

from greenhouse_desk.domain.figures import counted
from greenhouse_desk.domain.hiding import Spot
from greenhouse_desk.domain.journal import Sighted
from greenhouse_desk.domain.paper import Page
from greenhouse_desk.domain.quarantine import CLEAR, Standing
from greenhouse_desk.domain.sentences import capital
from greenhouse_desk.services import (
    inspections,
    outbreaks,
    own_words,
    photos,
    plant_record,
    quarantine,
    record_pages,
    round_sheet,
)
from greenhouse_desk.services.desk import Desk
from greenhouse_desk.ui import paper
from greenhouse_desk.ui.forms import Field, Form, Input, Values
from greenhouse_desk.ui.own_word import OWN, OWN_CHOICES, OWN_FIELD
from greenhouse_desk.ui.page_box import PageBox, Setting, Sheet, Size, opened
from greenhouse_desk.ui.signals import Signals

LENSES = ("10x", "20x", "bare eye")
NOWHERE = "leave it where it stands"


class QuarantineDeeds:
    """Looks, sightings, releases and outbreaks. Forms open over `parent`; `stages` are the words for each pest's life,
    `names` its name, both by key."""

    def __init__(self, desk: Desk, signals: Signals, parent: QWidget, names: Mapping[str, str],
                 stages: Mapping[str, Sequence[str]]) -> None:
        self.desk, self.signals = desk, signals
        self._parent, self._names, self._stages = parent, names, stages

    def open(self, title: str, fields: Sequence[Field], deed: Callable[[Values], object], accept: str,
             words: str = "") -> Form:
        """A form over the window; `deed` is done with its values when it is accepted."""
        form = Form(title, fields, deed, self._parent.window(), None, accept, words)
        form.open()
        return form

    def clean(self, plant: int, lens: str) -> bool:
        """A clean look; says at once when it does not count. Returns whether it was written."""
        told: list[str] = []
        done = self.signals.attempt(lambda: told.append(self.desk.run(inspections.look_clean, plant, lens)))
        if done and told[0]:
            self.signals.noted.emit(f"{plant}: written down, but {told[0]}.")
        return done

    def sighting(self, plant: int, lens: str, expected: Sequence[str] = (), where: Sequence[Spot] = (),
                 then: Callable[[str], None] | None = None) -> Form:
        """What was seen on a plant: what, stage, where, how many. `then` hears its key once it is written."""
        order = [*dict.fromkeys(expected), *sorted(set(self._names) - set(expected))]
        keys = {self._names[key]: key for key in order if key in self._names}
        stages = dict.fromkeys(stage for key in order for stage in self._stages.get(key, ()))
        spots = [*dict.fromkeys([*where, *Spot])]
        fields = (
            Field("what", Input.PICK, "What", "A pest or disease; your own word will do.",
                  choices=tuple((name, name) for name in keys)),
            OWN_FIELD,
            Field("stage", Input.PICK, "Stage", choices=(("", ""), *((stage, stage) for stage in stages)), start=""),
            Field("where", Input.PICK, "Where", choices=tuple((spot.value, spot.value) for spot in spots)),
            Field("count", Input.NUMBER, "How many", "0 when not counted.", high=9999),
            Field("lens", Input.PICK, "Lens", choices=tuple((one, one) for one in LENSES), start=lens))

        def write(values: Values) -> None:
            what = keys.get(values["what"], values["what"].strip())
            seen = Sighted(what, values["stage"], values["where"], values["count"])
            self.desk.run(inspections.sight, plant, seen, values["lens"], values[OWN])
            if then is not None:
                then(what)

        return self.open(f"{plant}: what was seen", fields, write, "Write it down",
                         "Set it apart, and wash your hands before the next plant.")

    def own_words(self) -> Form:
        """What each own word in the journal names; old ones are set right here."""
        told = self.desk.read(own_words.used)
        fields = tuple(Field(word, Input.CHOICE, word, choices=OWN_CHOICES[0 if kind is None else 1:], start=kind)
                       for word, kind in told.items())
        return self.open("Your own words", fields, lambda values: self.desk.run(own_words.set_right, values),
                         "Keep them", "A virus goes by tests and by blades, a pest by looks and washes. A word of "
                         "which nothing is told is taken for a pest.")

    def release(self, plant: int, standing: Standing) -> Form:
        """Let a plant stand among the others, from everything or from one pest alone."""
        held = [status for status in standing.statuses if status.rank > CLEAR]
        fields = (
            Field("what", Input.CHOICE, "From", choices=(("everything", ""), *((one.named, one.what) for one in held
                                                                             if one.what))),
            Field("reason", Input.TEXT, "Why", "Needed only before its day has come."))
        return self.open(f"Release {plant}", fields, lambda values: self.desk.run(
            quarantine.release, plant, values["reason"], values["what"]), "Release it", standing.next)

    def outbreak(self, plant: int, what: str) -> Form | None:
        """Open an outbreak from what was seen on a plant: where it is set apart is asked, nothing else. None where it
        was refused, which is said in the bar."""
        found: list[outbreaks.Proposal] = []
        if not self.signals.attempt(lambda: found.append(self.desk.read(
                outbreaks.proposal, self.desk.clock(), plant, what))):
            return None
        (asked,) = found
        choices: tuple[tuple[str, Any], ...] = (*((place.name, place.id) for place in asked.apart), (NOWHERE, None))
        fields = (Field("apart", Input.CHOICE, "Set it apart", choices=choices, start=choices[0][1]),)
        washed = sum(one.found for one in asked.concerned)
        said = f"{capital(asked.name)}: found on {counted(washed, 'plant')}"
        words = " ".join((f"{said}, {len(asked.concerned) - washed} more exposed.", *asked.advice))
        return self.open(f"Open an outbreak from {plant}", fields, lambda values: self.desk.run(
            outbreaks.open_outbreak, plant, what, values["apart"]), "Open the outbreak", words)

    def save_record(self, plant: int) -> PageBox:
        """A plant's record to hand on, seen, saved as PDF or printed; private notes stay out."""
        def read() -> Setting:
            told = self.desk.read(plant_record.plant_record, self.desk.clock(), plant)
            return partial(_record, told, self.desk.store.photos)

        sheet = Sheet(f"Record of {plant}", "What was written down of it, to hand on with it.", f"record-{plant}.pdf",
                      read, sizes=False)
        return opened(PageBox(sheet, self._parent.window()), self.signals)

    def print_round(self, numbers: Sequence[int]) -> PageBox:
        """A round of looks on paper, these plants in this order."""
        def read() -> Setting:
            told = self.desk.read(round_sheet.round_of_looks, self.desk.clock(), numbers)
            return lambda size: round_sheet.pages(told, paper.measure, size)

        sheet = Sheet("Round of looks", "The plants of this round, with boxes to tick and room to write.", "looks.pdf",
                      read)
        return opened(PageBox(sheet, self._parent.window()), self.signals)


def _record(told: plant_record.PlantRecord, folder: Path, _size: Size) -> tuple[Page, ...]:
    """A record on pages, its pictures read from the folder of photos; for the pool."""
    return record_pages.pages(told, paper.measure, photos.printable(folder, record_pages.wanted(told)))
