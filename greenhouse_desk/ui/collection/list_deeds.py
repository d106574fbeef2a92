"""A list of plants brought in: read off the window's thread, taken in whole, or its faults shown line by line."""

from __future__ import annotations

from pathlib import Path

from PySide6.QtWidgets import QFileDialog, QWidget

from greenhouse_desk.services import backup, exchange
from greenhouse_desk.services.exchange import Imported, Listed
from greenhouse_desk.ui import words
from greenhouse_desk.ui.collection.deeds import PlantDeeds
from greenhouse_desk.ui.forms import Form
from greenhouse_desk.ui.tasks import Tasks, as_refusal

SHOWN = 12
LISTS = "Lists (*.csv *.txt *.tsv);;All files (*)"


class ListDeeds:
    """Choosing a file, and taking its plants in."""

    def __init__(self, deeds: PlantDeeds, parent: QWidget) -> None:
        self._deeds, self._parent = deeds, parent
        self._tasks = Tasks(parent, threads=1)
        self._tasks.done.connect(lambda _path, listed: self.take_in(listed))
        self._tasks.failed.connect(self._on_failed)

    def close(self) -> None:
        """Wait for a list under way."""
        self._tasks.close()

    def choose(self) -> QFileDialog:
        """Choose a list."""
        dialog = QFileDialog(self._parent.window(), "A list of plants", "", LISTS)
        dialog.setFileMode(QFileDialog.FileMode.ExistingFile)
        dialog.fileSelected.connect(lambda name: self.read(Path(name)))
        dialog.open()
        return dialog

    def read(self, path: Path) -> None:
        """Read a list; what it holds is taken in when it has come."""
        self._tasks.ask(path, lambda: exchange.read_list(path))

    def take_in(self, listed: Listed, keep_good: bool = False) -> Form | None:
        """Take the plants in: all or nothing, or the good lines only. Returns the form that shows what is wrong."""
        desk = self._deeds.desk
        if desk.read(exchange.holds_plants):
            backup.make(desk.store, desk.clock(), before="import")
        done = desk.run(exchange.take_in, listed, keep_good)
        if not done.refused or keep_good:
            self._deeds.signals.noted.emit(told(done))
            return None
        good = len(listed.rows) - len({row.line for row in done.refused} & {row.line for row in listed.rows})
        return self._deeds.open("Nothing was taken in", (), lambda _values: self.take_in(listed, True),
                                f"Take in the other {good}" if good else "Look again", faults(done))

    def _on_failed(self, path: Path, error: Exception) -> None:
        self._deeds.signals.refused.emit(as_refusal(f"{path.name} cannot be read", error))


def told(done: Imported) -> str:
    """What an import did, in a sentence."""
    left = f", {words.counted(len(done.refused), 'line')} left out" if done.refused else ""
    return f"{words.counted(done.added, 'plant')} added, {done.changed} changed{left}."


def faults(done: Imported) -> str:
    """The refused lines, the first of them in full."""
    lines = [f"{row.where}: {row.message}" for row in done.refused[:SHOWN]]
    more = len(done.refused) - SHOWN
    return "\n".join([f"{words.counted(len(done.refused), 'line')} cannot be read as a plant:", *lines,
                      *([f"and {more} more."] if more > 0 else []), "Mend them in the file and bring it in again, or "
                      "take the others."])
