"""What a grower does to places: naming, nesting, isolation, lights-out, removing, and reading the air by hand."""

from __future__ import annotations

from collections.abc import Callable, Sequence
from dataclasses import replace

from PySide6.QtCore import QPoint, Qt
from PySide6.QtWidgets import QDialog, QFrame, QHBoxLayout, QMenu, QScrollArea, QVBoxLayout, QWidget

from greenhouse_desk.domain.airflow_estimate import SPEEDS
from greenhouse_desk.domain.faults import Refused
from greenhouse_desk.domain.plants import Place
from greenhouse_desk.services import airflow, collection, collection_why
from greenhouse_desk.services.desk import Desk
from greenhouse_desk.ui.collection.deeds import PlantDeeds
from greenhouse_desk.ui.collection.logger_deeds import LoggerDeeds
from greenhouse_desk.ui.forms import Field, Form, Input, Values
from greenhouse_desk.ui.messages import button, heading, label
from greenhouse_desk.ui.signals import Signals
from greenhouse_desk.ui.style import Palette
from greenhouse_desk.ui.whole_screen import screen_of
from greenhouse_desk.ui.why import WhyBox, ask_why

MOVES = (("not known", None), *((f"{word.value}, {span.low:g} to {span.high:g} m/s", word)
                                for word, span in SPEEDS.items()))
"""How the air moves in a word; its spans are from memory."""


class PlaceDeeds:
    """Forms and the list of places."""

    def __init__(self, desk: Desk, signals: Signals, deeds: PlantDeeds, palette: Palette, parent: QWidget) -> None:
        self._palette = palette
        self._desk = desk
        self._signals = signals
        self._deeds = deeds
        self._parent = parent
        self.loggers = LoggerDeeds(deeds, palette, parent)

    def places(self) -> tuple[Place, ...]:
        """All places, each before what lies in it."""
        return self._desk.read(collection.places_of)

    def begin(self) -> Form:
        """The first place of an own collection; when it is there, the form for the first plant on it."""
        made: list[int] = []
        form = self.edit(None, made.append)
        form.accepted.connect(lambda: self._deeds.add(made[-1]))
        return form

    def edit(self, place: int | None, then: Callable[[int], object] | None = None) -> Form:
        """A form for a place; a new one when `place` is None. `then` is done with its key once it is saved."""
        known = {one.id: one for one in self.places()}
        old = known.get(place or 0, Place(0, "", position=float(len(known) + 1)))
        inside = (("the house itself", None), *((collection.path_of(one.id, known), one.id) for one in known.values()
                                                if one.id != old.id))
        fields = (
            Field("name", Input.TEXT, "Name", "A room, a shelf, a sill.", start=old.name),
            Field("parent", Input.CHOICE, "Lies in", choices=inside, start=old.parent),
            Field("bench", Input.CHECK, "Plants stand here", start=old.bench),
            Field("isolation", Input.CHECK, "Newcomers and sick plants stand apart here", start=old.isolation),
            Field("position", Input.DECIMAL, "Order in the house", "Smaller comes first.", low=-9999, high=9999,
                  start=old.position),
            Field("lights_out", Input.TIME, "Lamps go off at", "Leave it unset where there are no lamps: then dusk "
                  "counts.", optional=True, start=old.lights_out),
        )

        def save(values: Values) -> object:
            key = self._desk.run(collection.save_place, replace(old, **values))
            return then(key) if then is not None else key

        return self._deeds.open(f"Edit {old.name}" if old.id else "Add a place", fields, save)

    def remove(self, place: int) -> None:
        """Remove an empty place."""
        self._deeds.run(collection.remove_place, place)

    def air(self, place: int) -> Form:
        """Enter an air reading by hand."""
        name = next(one.name for one in self.places() if one.id == place)
        fields = (
            Field("temp_c", Input.DECIMAL, "Temperature", unit="C", low=-10, high=55,
                  optional=True),
            Field("rh", Input.NUMBER, "Relative humidity", unit="% RH", low=1, high=100,
                  optional=True),
            Field("moving", Input.CHOICE, "The air moves", "Where it was not measured.", choices=MOVES),
            Field("speed", Input.DECIMAL, "Air speed", "As measured; it stands before the word above.", unit="m/s",
                  low=0, high=5, decimals=2, optional=True),
        )
        return self._deeds.open(f"Air at {name}", fields, lambda values: self._write_air(place, values),
                                "Write it down")

    def _write_air(self, place: int, values: Values) -> object:
        """Nothing that was not read off is written down: care rests on it."""
        if values["temp_c"] is None or values["rh"] is None:
            raise Refused("A reading needs both", "Temperature and humidity were not both told.",
                          "Tick “measured”, and give what you read off.")
        return self._desk.run(collection.record_air, place, values["temp_c"], values["rh"] / 100, values["speed"], None,
                              values["moving"])

    def outlook(self, place: int) -> WhyBox:
        """What a rinse now would come to there, with what would help and how much."""
        name = next(one.name for one in self.places() if one.id == place)
        told = self._desk.read(airflow.outlook, self._desk.clock(), place)
        return ask_why(f"A rinse now at {name}", told.why, self._palette, self._parent)

    def why_air(self, place: int) -> WhyBox:
        """Where the air figures of a bench come from and how old they are."""
        name = next(one.name for one in self.places() if one.id == place)
        why = self._desk.read(collection_why.air, place, self._desk.clock())
        return ask_why(f"Air at {name}", why, self._palette, self._parent)

    def menu(self, place: int, at: QPoint) -> QMenu:
        """What can be done with a bench, as a menu at `at` (global pixels)."""
        menu = QMenu(self._parent)
        menu.setAttribute(Qt.WidgetAttribute.WA_DeleteOnClose)
        menu.addAction("Enter an air reading…", lambda: self.air(place))
        menu.addAction("Bring in a logger's file…", lambda: self.loggers.choose(place))
        menu.addAction("Take out what a logger wrote here…", lambda: self.loggers.take_out(place))
        menu.addAction("Why this air…", lambda: self.why_air(place))
        menu.addAction("If it is rinsed now…", lambda: self.outlook(place))
        menu.addAction("Place a new plant here…", lambda: self._deeds.add(place))
        menu.addAction("Edit this place…", lambda: self.edit(place))
        menu.addSeparator()
        menu.addAction("Remove this place", lambda: self.remove(place))
        menu.popup(at)
        return menu

    def list(self) -> PlaceList:
        """The list of all places, with what can be done to each."""
        shown = PlaceList(self, self._parent.window())
        self._signals.changed.connect(shown.show_places)
        shown.open()
        return shown


class PlaceList(QDialog):
    """All places, indented as they lie in each other."""

    def __init__(self, deeds: PlaceDeeds, parent: QWidget) -> None:
        super().__init__(parent)
        self.setWindowTitle("Places")
        self.setAttribute(Qt.WidgetAttribute.WA_DeleteOnClose)
        self._deeds = deeds
        self._area = QScrollArea()
        self._area.setWidgetResizable(True)
        self._area.setAccessibleName("All places")
        self._area.setFrameShape(QFrame.Shape.NoFrame)
        add = button("Add a place…", "main")
        add.clicked.connect(lambda: self._deeds.edit(None))
        close = button("Close")
        close.clicked.connect(self.accept)
        foot = QHBoxLayout()
        foot.addWidget(add)
        foot.addStretch(1)
        foot.addWidget(close)
        column = QVBoxLayout(self)
        column.setContentsMargins(24, 20, 24, 20)
        column.setSpacing(12)
        column.addWidget(heading("Places", 23))
        column.addWidget(self._area, 1)
        column.addLayout(foot)
        self.show_places()
        self.resize(620, min(560, screen_of(self).availableGeometry().height() - 60))

    def show_places(self, *_: object) -> None:
        """Read the places anew."""
        rows = QWidget()
        column = QVBoxLayout(rows)
        column.setContentsMargins(0, 0, 8, 0)
        column.setSpacing(4)
        places = self._deeds.places()
        if not places:
            column.addWidget(label("No places yet. Add a room or a bench, then plants can stand there.", "second"))
        for place in places:
            column.addLayout(self._row(place, _depth(place, places)))
        column.addStretch(1)
        self._area.setWidget(rows)

    def _row(self, place: Place, depth: int) -> QHBoxLayout:
        row = QHBoxLayout()
        row.setContentsMargins(depth * 22, 0, 0, 0)
        told = [word for word, holds in (("isolation", place.isolation), ("no bench", not place.bench)) if holds]
        if place.lights_out:
            told.append(f"lamps off at {place.lights_out:%H:%M}")
        row.addWidget(label(place.name, bold=True, wrap=False))
        row.addWidget(label(", ".join(told), "second", wrap=False))
        row.addStretch(1)
        for word, deed in (("Air…", self._deeds.air), ("Logger…", self._deeds.loggers.choose),
                           ("Edit…", self._deeds.edit), ("Remove", self._deeds.remove)):
            made = button(word, "small", f"{word.rstrip('…')}: {place.name}")
            made.clicked.connect(lambda _=False, deed=deed, key=place.id: deed(key))
            row.addWidget(made)
        return row


def _depth(place: Place, places: Sequence[Place]) -> int:
    known = {one.id: one for one in places}
    depth = 0
    while place.parent in known and depth < len(places):
        place = known[place.parent]
        depth += 1
    return depth
