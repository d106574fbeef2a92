"""What a grower does to plants from the collection: forms that end in a verb, refusals said in the form or the bar."""

from __future__ import annotations

from collections.abc import Callable, Sequence
from datetime import date, datetime, timedelta
from typing import Any

from PySide6.QtCore import Qt
from PySide6.QtWidgets import QWidget

from greenhouse_desk.domain.care import Care
from greenhouse_desk.domain.journal import Leaving, Reply
from greenhouse_desk.domain.plants import Habit
from greenhouse_desk.services import care as care_service
from greenhouse_desk.services import collection, dealings, house
from greenhouse_desk.services.desk import Desk
from greenhouse_desk.ui.forms import Against, Field, Form, Input, Values
from greenhouse_desk.ui.signals import Signals

HABITS = (("not known", Habit.UNKNOWN), ("monopodial: one stem that grows on", Habit.MONOPODIAL),
          ("sympodial: growth beside growth", Habit.SYMPODIAL))
LEAVINGS = (("traded", Leaving.TRADED), ("given away", Leaving.GIVEN_AWAY), ("died", Leaving.DEAD))
MEDIA = (("clay pellets", 0), ("pumice", 0), ("bark", 0), ("moss", 0))


class PlantDeeds:
    """Adding, editing, moving and parting with plants; answering care. Forms open over `parent`."""

    def __init__(self, desk: Desk, signals: Signals, parent: QWidget) -> None:
        self.desk = desk
        self.signals = signals
        self._parent = parent

    def open(self, title: str, fields: Sequence[Field], deed: Callable[[Values], object], accept: str = "Save",
             words: str = "", against: Against | None = None) -> Form:
        """A form over the window; `deed` is done with its values when it is accepted."""
        form = Form(title, fields, deed, self._parent.window(), None, accept, words, against)
        form.setAttribute(Qt.WidgetAttribute.WA_DeleteOnClose)
        form.open()
        return form

    def run(self, verb: Any, *args: Any) -> bool:
        """Run a verb; a refusal goes to the message bar."""
        return self.signals.attempt(lambda: self.desk.run(verb, *args))

    def today(self) -> date:
        """The local day."""
        return self.desk.clock().astimezone(self.desk.read(house.zone)).date()

    def bench_choices(self) -> tuple[tuple[str, Any], ...]:
        """The benches of the house by their path, for a form."""
        places = self.desk.read(collection.places_of)
        known = {place.id: place for place in places}
        return tuple((collection.path_of(place.id, known), place.id) for place in places if place.bench)

    def add(self, place: int | None = None) -> Form:
        """Take a plant into the collection: to `place`, or to the only bench where there is but one."""
        today, benches = self.today(), self.bench_choices()
        if place is None and len(benches) == 1:
            place = benches[0][1]
        sources = tuple((source.name, source.id) for source in self.desk.read(collection.sources_of))
        fields = (
            Field("number", Input.NUMBER, "Number", "The number on its pot, yours alone, never given again.", low=1,
                  start=self.desk.read(collection.next_number)),
            Field("name", Input.TEXT, "Name", "Kept as you type it: Cattleya walkeriana 'Slate'."),
            Field("habit", Input.CHOICE, "Growth", choices=HABITS),
            Field("place", Input.CHOICE, "Bench", choices=(("no place yet", None), *benches),
                  start=place),
            Field("medium", Input.PICK, "Medium", choices=MEDIA),
            Field("pot", Input.TEXT, "Pot", "Such as: clear pot 12 cm."),
            Field("potted_on", Input.DATE, "Potted on", optional=True, shown=today),
            Field("source", Input.PICK, "Came from", choices=(("", 0), *sources)),
            Field("acquired_on", Input.DATE, "Came on", optional=True, start=today),
            Field("notes", Input.LONG, "Notes"),
        )
        return self.open("Add a plant", fields, lambda values: self.desk.run(
            collection.add_plant, collection.NewPlant(**values)), "Add the plant")

    def edit(self, number: int) -> Form:
        """Mend what is kept of a plant."""
        drawer = self.desk.read(collection.drawer, number, self.desk.clock())
        plant = drawer.card.plant
        sources = tuple((source.name, source.id) for source in self.desk.read(collection.sources_of))
        fields = (
            Field("name", Input.TEXT, "Name", start=plant.name),
            Field("habit", Input.CHOICE, "Growth", choices=HABITS, start=plant.habit),
            Field("source", Input.PICK, "Came from", choices=(("", 0), *sources), start=drawer.source_name),
            Field("acquired_on", Input.DATE, "Came on", optional=True, start=plant.acquired_on, shown=self.today()),
            Field("notes", Input.LONG, "Notes", start=plant.notes),
        )
        return self.open(f"Edit {number}", fields,
                         lambda values: self.desk.run(collection.edit_plant, number, **values))

    def move_to(self, numbers: Sequence[int]) -> Form:
        """Move plants to a bench chosen from a list."""
        whom = str(numbers[0]) if len(numbers) == 1 else f"{len(numbers)} plants"
        fields = (Field("place", Input.CHOICE, "To the end of", choices=self.bench_choices()),)
        return self.open(f"Move {whom}", fields, lambda values: self.desk.run(
            collection.move, tuple(numbers), values["place"], None), "Move", "It goes to the end of the bench; drag "
            "a card, or press Control with an arrow, to put it between two others.")

    def part(self, number: int) -> Form:
        """Write down that a plant left."""
        today = self.today()
        fields = (Field("how", Input.CHOICE, "It was", choices=LEAVINGS),
                  Field("day", Input.DATE, "On", start=today),
                  Field("reason", Input.LONG, "Why, or to whom",
                        "For a death, the likely reason: it is what you learn from."))
        against = self.desk.read(dealings.against_parting, self.desk.clock(), number)
        return self.open(f"Part with {number}", fields, lambda values: self.desk.run(
            collection.part_with, number, values["how"], values["reason"], values["day"]),
            "Write it down all the same" if against else "Write it down", "Its journal and its number are kept.",
            Against("What stands against handing it on", against) if against else None)

    def done(self, care: Care) -> None:
        """A care was done."""
        self.run(care_service.answer, care, Reply.DONE)

    def put_off(self, care: Care) -> Form:
        """Put a care off to a later day."""
        today = self.today()
        due = care.due.date() if isinstance(care.due, datetime) else care.due
        later = max(today, due) + timedelta(days=1)
        fields = (Field("until", Input.DATE, "Until", start=later),
                  Field("reason", Input.TEXT, "Why", "May be left empty."))
        return self.open(f"Put off: {care.plant}, {care.short}", fields, lambda values: self.desk.run(
            care_service.answer, care, Reply.PUT_OFF, values["until"], values["reason"]), "Put it off", care.what)

    def decline(self, care: Care) -> Form:
        """Decline a care, with a reason."""
        fields = (Field("reason", Input.TEXT, "Why", "Kept in the journal beside the care."),)
        return self.open(f"Decline: {care.plant}, {care.short}", fields, lambda values: self.desk.run(
            care_service.answer, care, Reply.DECLINED, None, values["reason"]), "Decline it", care.what)

    def dry(self, plant: int) -> None:
        """Its crown felt dry."""
        self.run(care_service.confirm_dry, plant)

    def blotted(self, plant: int) -> None:
        """Crown and axils were blotted."""
        self.run(care_service.blot, plant)

    def aired(self, plant: int) -> None:
        """Moving air was put on."""
        self.run(care_service.air_on, plant)
