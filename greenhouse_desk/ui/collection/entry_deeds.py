"""Entries a grower writes by hand, mends and takes back; photos come in off the window's thread."""

from __future__ import annotations

from collections.abc import Sequence
from pathlib import Path

from PySide6.QtWidgets import QComboBox, QDateEdit, QFileDialog, QWidget

from greenhouse_desk.domain.faults import Refused
from greenhouse_desk.domain.journal import Entry, Kind
from greenhouse_desk.services import house, photos, records, records_written, treatments_apart
from greenhouse_desk.services.photos import Taken
from greenhouse_desk.ui.collection.deeds import PlantDeeds
from greenhouse_desk.ui.collection.entry_forms import (
    FORMS,
    LABEL,
    NOTE_FIELD,
    Names,
    given_of,
    moment,
    starting,
    when_fields,
    with_names,
)
from greenhouse_desk.ui.forms import Against, Form, Values
from greenhouse_desk.ui.own_word import OWN, OWN_FIELD
from greenhouse_desk.ui.tasks import Tasks

PICTURES = "Pictures (*.jpg *.jpeg *.png *.heic *.heif *.webp *.tif *.tiff)"


class EntryDeeds:
    """Forms for entries. `names` are the known pests and agents to pick from."""

    def __init__(self, deeds: PlantDeeds, names: Names, parent: QWidget) -> None:
        self._deeds = deeds
        self._desk = deeds.desk
        self._names = names
        self._parent = parent
        self._tasks = Tasks(parent, threads=1)
        self._tasks.done.connect(self._on_photos_in)

    def close(self) -> None:
        """Wait for photos under way."""
        self._tasks.close()

    def add(self, kind: Kind, plant: int) -> Form:
        """A form for a new entry of `kind`."""
        form, now, zone = FORMS[kind], self._desk.clock(), self._desk.read(house.zone)
        remark = () if kind is Kind.NOTE else (NOTE_FIELD,)
        fields = (*with_names(form, self._names), *form.beside, *remark, *when_fields(now, zone))

        def write(values: Values) -> object:
            at = moment(values, zone, self._desk.clock())
            return self._desk.run(records_written.write, plant, form.all(values, self._names), at,
                                  values.get("note", ""), values.get(LABEL, ""), values.get(OWN))

        shown = self._deeds.open(f"{plant}: {form.word.lower()}", fields, write, "Write it down", form.words,
                                 _against(self._kept_apart(kind, plant)))
        self._watch(shown, kind, plant)
        return shown

    def _watch(self, shown: Form, kind: Kind, plant: int, besides: int = 0) -> None:
        """Say at once what stands against the agent and the day that are filled in."""
        if kind not in treatments_apart.GIVES:
            return
        zone, (key, known) = self._desk.read(house.zone), self._names.of(kind)
        keys = {name: found for found, name in known.items()}

        def told() -> None:
            values = shown.rows.values()
            agent = str(values[key])
            shown.warn(self._desk.read(treatments_apart.warnings_of, moment(values, zone, self._desk.clock()), plant,
                                       keys.get(agent, agent), besides))

        typed, day = (shown.rows.controls[name].focus for name in (key, "on"))
        assert isinstance(typed, QComboBox)
        assert isinstance(day, QDateEdit)
        typed.currentTextChanged.connect(told)
        day.dateChanged.connect(told)
        told()

    def _kept_apart(self, kind: Kind, plant: int) -> tuple[str, ...]:
        """What the plant must not be given yet because of what it was given before."""
        if kind not in treatments_apart.GIVES:
            return ()
        return self._desk.read(treatments_apart.warnings, self._desk.clock(), plant)

    def correct(self, entry: Entry) -> Form:
        """A form for an entry that is wrong: its facts where they can be typed, its moment, its remark."""
        zone = self._desk.read(house.zone)
        form = FORMS.get(entry.kind)
        given = given_of(entry, self._names)
        facts = tuple(starting(field, given[field.name]) for field in with_names(form, self._names)) if form else ()
        asked = (OWN_FIELD,) if entry.kind is Kind.SIGHTED else ()
        fields = (*facts, *asked, starting(NOTE_FIELD, entry.note), *when_fields(entry.at, zone))

        def write(values: Values) -> object:
            told = form.build({**given, **values}, self._names) if form else entry.facts
            at = moment(values, zone, self._desk.clock())
            at = entry.at if at == entry.at.replace(second=0, microsecond=0) else at
            return self._desk.run(records.correct, entry.id, at, told, values["note"], values.get(OWN))

        apart = self._desk.read(treatments_apart.warnings_for, entry)
        shown = self._deeds.open("Correct this entry", fields, write, "Correct it",
                                 "What rested on it is worked out anew.", _against(apart))
        if entry.plant is not None:
            self._watch(shown, entry.kind, entry.plant, entry.id)
        return shown

    def withdraw(self, entry: Entry) -> None:
        """Take an entry back; undo brings it again."""
        self._deeds.run(records.withdraw, entry.id)

    def choose_photos(self, plant: int) -> QFileDialog:
        """Choose pictures for a plant."""
        dialog = QFileDialog(self._parent.window(), f"Photos of {plant}", "", PICTURES)
        dialog.setFileMode(QFileDialog.FileMode.ExistingFiles)
        dialog.filesSelected.connect(lambda names: self.take_photos(plant, [Path(name) for name in names]))
        dialog.open()
        return dialog

    def take_photos(self, plant: int, paths: Sequence[Path]) -> None:
        """Read these pictures in; they are written into the journal when they are in."""
        folder = self._desk.store.photos
        self._tasks.ask((plant, tuple(paths)), lambda: photos.take_in(folder, paths))
        self._deeds.signals.noted.emit(f"Reading photos of {plant} in.")

    def _on_photos_in(self, key: tuple[int, tuple[Path, ...]], answers: Sequence[Taken | Refused]) -> None:
        taken = [answer for answer in answers if isinstance(answer, Taken)]
        if taken:
            self._deeds.run(photos.write, key[0], taken)
        for answer in answers:
            if isinstance(answer, Refused):
                self._deeds.signals.refused.emit(answer)


def _against(lines: Sequence[str]) -> Against | None:
    """What must stay days apart from what the plant was given, over the form."""
    return Against("Must stay days apart on this plant", lines) if lines else None
