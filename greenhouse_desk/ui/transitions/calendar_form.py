"""What a calendar file is to hold, asked before it is written: which kinds of care, as tasks or as days."""

from __future__ import annotations

from collections.abc import Callable

from PySide6.QtWidgets import QWidget

from greenhouse_desk.domain.care import CareKind
from greenhouse_desk.domain.faults import Refused
from greenhouse_desk.ui.forms import Field, Form, Input, Values

Kinds = frozenset[CareKind]
EVENTS = "events"
TITLE = "Export care as a calendar"
TOLD = ("Choose the kinds of care. Written over a file from here, that file is brought up to date; what is not chosen "
        "any more is cancelled in it.")
HELP = "For calendars that show no tasks."


def calendar_form(chosen: Callable[[Kinds, bool], object], parent: QWidget) -> Form:
    """A box for each kind, all ticked; `chosen` hears the kinds and whether they are to be all-day events."""
    def deed(values: Values) -> object:
        kinds = frozenset(kind for kind in CareKind if values[kind.name])
        if not kinds:
            raise Refused("No kind of care is chosen", "", "Tick at least one.")
        return chosen(kinds, values[EVENTS])

    kinds = tuple(Field(kind.name, Input.CHECK, kind.value.capitalize(), start=True) for kind in CareKind)
    events = Field(EVENTS, Input.CHECK, "As all-day events", HELP, start=False)
    form = Form(TITLE, (*kinds, events), deed, parent, accept="Choose the file…", words=TOLD)
    form.open()
    return form
