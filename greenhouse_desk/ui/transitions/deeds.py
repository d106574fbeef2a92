"""What a grower writes on the Transitions screen: a look, a verdict overruled, a plant called settled, a start."""

from __future__ import annotations

from collections.abc import Callable, Sequence
from datetime import date
from enum import StrEnum
from typing import Any

from PySide6.QtCore import Qt
from PySide6.QtWidgets import QWidget

from greenhouse_desk.domain.care import Care
from greenhouse_desk.domain.courses_moving import named
from greenhouse_desk.domain.courses_values import Course, Verdict
from greenhouse_desk.domain.journal import Roots
from greenhouse_desk.domain.journal_course import Crown, Growing, Leaves, RootState, Signs, Smell, Stand
from greenhouse_desk.services import transitions, transitions_start
from greenhouse_desk.services.desk import Desk
from greenhouse_desk.ui import words
from greenhouse_desk.ui.forms import Field, Form, Input, Values
from greenhouse_desk.ui.signals import Signals


def _signs(name: str, label: str, kinds: type[StrEnum], help: str = "") -> Field:
    choices: tuple[tuple[str, Any], ...] = (("not looked at", None), *((one.value, one) for one in kinds))
    return Field(name, Input.CHOICE, label, help, choices=choices)


LOOK = (
    Field("living", Input.NUMBER, "Living roots", "Firm, whatever the colour. Leave it open when you did not count.",
          high=999, optional=True),
    Field("dead", Input.NUMBER, "Dead roots", "Hollow, flat, papery or squashy.", high=999, start=0),
    Field("new_tips", Input.NUMBER, "New tips", high=999, start=0),
    _signs("roots", "Roots look and feel", RootState, "Slipper orchids have brown living roots: only firmness counts."),
    _signs("leaves", "Leaves", Leaves), _signs("stand", "It stands", Stand), _signs("crown", "Crown", Crown),
    _signs("smell", "The pot smells", Smell), _signs("growing", "The plant is", Growing),
    Field("note", Input.LONG, "Remark"),
)


class TransitionDeeds:
    """Forms over `parent`'s window, each ending in one deed."""

    def __init__(self, desk: Desk, signals: Signals, parent: QWidget) -> None:
        self._desk, self._signals, self._parent = desk, signals, parent

    def look(self, plant: int) -> Form:
        """What was seen at a look; the verdict follows from it."""
        def write(values: Values) -> object:
            given = dict(values)
            living, dead, tips = given.pop("living"), given.pop("dead"), given.pop("new_tips")
            note = given.pop("note")
            roots = None if living is None else Roots(living, dead, tips)
            return self._desk.run(transitions.write_look, plant, roots, Signs(**given), note)

        return self._open(f"{plant}: a look", LOOK, write, "Write it down", "What you did not look at stays open.")

    def overrule(self, course: Course) -> Form:
        """Another verdict than the rule's, with the reason."""
        said = course.looks[-1].rule
        others = tuple((one.value, one) for one in (Verdict.STAY, Verdict.AGAIN, Verdict.STEP_IN) if one is not said)
        fields = (Field("instead", Input.CHOICE, "Instead", choices=others),
                  Field("days", Input.NUMBER, "Look again in", "0: at the next usual look.", "days", high=60, start=7),
                  Field("reason", Input.LONG, "Why", "Kept in the journal beside the rule's own verdict."))
        return self._open(f"Overrule: {course.plant}", fields, lambda values: self._desk.run(
            transitions.overrule, course.plant, values["instead"], values["reason"], values["days"]), "Overrule it",
            f"The rule says: {said.value}, because {course.looks[-1].line}.")

    def settle(self, plant: int) -> Form:
        """The plant is settled: its course is over."""
        fields = (Field("reason", Input.TEXT, "By what you see it", "May be left empty."),)
        return self._open(f"{plant} is settled", fields, lambda values: self._desk.run(
            transitions.settle, plant, values["reason"]), "Call it settled",
            "Its transition is over: no more looks are owed, and it counts for the forecasts of others.")

    def start(self, plant: int) -> Form:
        """Start against what speaks against it."""
        fields = (Field("reason", Input.LONG, "Why all the same", "Kept in the journal beside what spoke against it."),)

        def write(values: Values) -> object:
            done = self._desk.run(transitions_start.start_anyway, plant, values["reason"])
            self._signals.to_bench.emit((plant,))
            return done

        return self._open(f"Start with {plant} all the same", fields, write, "Start it, at the bench")

    def move(self, looks: Sequence[Care], to: date, after: str) -> None:
        """Looks that lie on one day go to another; `after` says what the look after them becomes."""
        if self._signals.attempt(lambda: self._desk.run(transitions.move_looks, looks, to)):
            said = f"{looks[0].plant}: {named(looks)} moved to {words.weekday(to)}."
            self._signals.noted.emit(f"{said} {after}".strip())

    def _open(self, title: str, fields: Sequence[Field], deed: Callable[[Values], object], accept: str,
              said: str = "") -> Form:
        form = Form(title, fields, deed, self._parent.window(), None, accept, said)
        form.setAttribute(Qt.WidgetAttribute.WA_DeleteOnClose)
        form.open()
        return form
