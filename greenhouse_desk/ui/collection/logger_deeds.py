"""A logger's file brought in at a place: chosen, looked over, read off the window's thread, and taken in."""

from __future__ import annotations

from pathlib import Path

from PySide6.QtCore import QTimer
from PySide6.QtWidgets import QFileDialog, QWidget

from greenhouse_desk.domain.faults import Refused
from greenhouse_desk.services import air_import, air_takeout, collection, house
from greenhouse_desk.services.air_import import Looked, Prepared
from greenhouse_desk.services.air_import_words import taken_words
from greenhouse_desk.ui.collection.deeds import PlantDeeds
from greenhouse_desk.ui.collection.logger_sheet import LoggerSheet
from greenhouse_desk.ui.forms import Field, Form, Input
from greenhouse_desk.ui.style import Palette
from greenhouse_desk.ui.tasks import Progress, Tasks, as_refusal

FILES = "A logger's files (*.csv *.txt *.tsv *.log);;All files (*)"
TOLD_EVERY_MS = 100


class LoggerDeeds:
    """One file at a time. `sheet` is the one open, None before."""

    def __init__(self, deeds: PlantDeeds, palette: Palette, parent: QWidget) -> None:
        self._deeds, self._look, self._parent = deeds, palette, parent
        self._tasks = Tasks(parent, threads=1)
        self._tasks.done.connect(self._on_read)
        self._tasks.failed.connect(self._on_failed)
        self._progress = Progress()
        self._ticks = QTimer(parent)
        self._ticks.setInterval(TOLD_EVERY_MS)
        self._ticks.timeout.connect(self._on_tick)
        self.sheet: LoggerSheet | None = None

    def close(self) -> None:
        """Let what is being read stop, and wait for it."""
        self._progress.stop()
        self._ticks.stop()
        self._tasks.close()

    def choose(self, place: int) -> QFileDialog:
        """Choose a file for a place."""
        dialog = QFileDialog(self._parent.window(), "A logger's file", "", FILES)
        dialog.setFileMode(QFileDialog.FileMode.ExistingFile)
        dialog.fileSelected.connect(lambda name: self.open(place, Path(name)))
        dialog.open()
        return dialog

    def open(self, place: int, path: Path) -> LoggerSheet | None:
        """Look the file over, and show how it would be read; a refusal goes to the message bar."""
        desk = self._deeds.desk
        try:
            looked = desk.read(air_import.look, path)
        except Refused as refusal:
            self._deeds.signals.refused.emit(refusal)
            return None
        name = next(one.name for one in desk.read(collection.places_of) if one.id == place)
        sheet = LoggerSheet(name, looked, desk.read(house.zone), desk.clock(), self._look, self._parent.window(),
                            desk.read(house.home_is_set))
        sheet.wanted.connect(lambda wanted: self._read(place, wanted))
        sheet.stopped.connect(self._stop)
        sheet.kept.connect(self._keep)
        if self.sheet is not None:
            self.sheet.deleteLater()
        self.sheet = sheet
        sheet.open()
        return sheet

    def take_out(self, place: int) -> Form | None:
        """Ask from which day to which a logger's readings go; they start as those of the file taken in last."""
        desk = self._deeds.desk
        name = next(one.name for one in desk.read(collection.places_of) if one.id == place)
        span = desk.read(air_takeout.last_file, place)
        if span is None:
            self._deeds.signals.refused.emit(Refused(
                f"No logger wrote at {name}", "No file was taken in there.", "Readings by hand stand in its journal."))
            return None
        first, last = (one.astimezone(desk.read(house.zone)).date() for one in span)
        fields = (Field("first", Input.DATE, "From", start=first),
                  Field("last", Input.DATE, "To", "This day too.", start=last))
        return self._deeds.open(
            f"Take out what a logger wrote at {name}", fields, lambda values: desk.run(
                air_takeout.take_out, place, values["first"], values["last"]), "Take out",
            "All that loggers wrote there on these days goes, whichever file it came from. Readings by hand stay. Undo "
            "brings it back. The days shown are those of the file taken in last.")

    def _read(self, place: int, looked: Looked) -> None:
        desk = self._deeds.desk
        zone, now, known = desk.read(house.zone), desk.clock(), desk.read(air_import.known_days, place)
        self._progress = progress = Progress()
        self._ticks.start()
        earlier = desk.read(air_import.imported, place)
        self._tasks.ask(progress, lambda: air_import.prepare(looked, place, zone, now, known, progress.told, earlier))

    def _stop(self) -> None:
        self._progress.stop()
        self._tasks.drop(self._progress)
        self._ticks.stop()

    def _on_tick(self) -> None:
        if self.sheet is not None:
            self.sheet.show_share(self._progress.share)

    def _on_read(self, _key: object, made: Prepared) -> None:
        self._ticks.stop()
        if self.sheet is not None:
            self.sheet.show_found(made)

    def _on_failed(self, _key: object, error: Exception) -> None:
        self._ticks.stop()
        if self.sheet is not None:
            self.sheet.show_fault(_words(as_refusal("The file cannot be read", error)))

    def _keep(self, made: Prepared) -> None:
        assert self.sheet is not None
        try:
            self._deeds.desk.run(air_import.take_in, made)
        except Refused as refusal:
            self.sheet.show_fault(_words(refusal))
            return
        self.sheet.accept()
        count = len(made.heard.log.at)
        self._deeds.signals.noted.emit(f"{made.file} taken in: {count:,} readings. {taken_words(made)}")


def _words(refusal: Refused) -> str:
    return " ".join(filter(None, (f"{refusal.title}.", refusal.detail, refusal.next_step)))
