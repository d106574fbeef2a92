"""The head of the Collection screen: title, search, what can be added, and how dense the cards stand."""

from __future__ import annotations

from collections.abc import Sequence

from PySide6.QtCore import Qt, Signal
from PySide6.QtGui import QKeyEvent, QKeySequence, QResizeEvent, QShortcut
from PySide6.QtWidgets import QHBoxLayout, QLineEdit, QWidget

from greenhouse_desk.domain.sentences import capital
from greenhouse_desk.ui.collection.care_strip import hands_words
from greenhouse_desk.ui.messages import button, heading, label
from greenhouse_desk.ui.style import sans


class SearchField(QLineEdit):
    """Enter goes to the next plant found, Escape empties it and goes back to the benches."""

    entered = Signal()
    left = Signal()

    def keyPressEvent(self, event: QKeyEvent) -> None:
        """Enter and Escape; the rest is typing."""
        if event.key() in (Qt.Key.Key_Return, Qt.Key.Key_Enter):
            self.entered.emit()
        elif event.key() == Qt.Key.Key_Escape:
            self.setText("")  # not clear(): undo by key would then be this field's, and not the last deed's
            self.left.emit()
        else:
            super().keyPressEvent(event)


GAP, MARGINS = 8, 34  # between controls; left, right and after the title


class Toolbar(QWidget):
    """`searched(text)` while typing, `next_found(number)` on Enter; the buttons ask by name, `paper` with itself."""

    searched = Signal(str)
    next_found = Signal(int)
    add = Signal()
    places = Signal()
    paper = Signal(object)
    dense = Signal(bool)
    care = Signal(bool)

    def __init__(self, dense: bool) -> None:
        super().__init__()
        self._found: tuple[int, ...] = ()
        self._at = -1
        self._narrow = False
        self._finding = self._hint = ""
        self.title = heading("Collection", 26)
        self.title.setWordWrap(False)
        self._told = label("", "second", px=13, wrap=False)
        self.search = SearchField()
        self.search.setFont(sans(14))
        self.search.setPlaceholderText("Find number, name or place")
        self.search.setAccessibleName("Find a plant by number, name or place")
        self.search.setMinimumWidth(150)
        self.search.setMaximumWidth(300)
        self.add_button = button("Add a plant…", name="Add a plant")
        self.places_button = button("Places…", name="Places")
        self.paper_button = button("Print…", name="Print the round, the shelf map or a sitter's sheet, Ctrl+P")
        self.dense_button = button("Dense", name="Dense view: many plants to a screen, without photos")
        self.dense_button.setCheckable(True)
        self.dense_button.setChecked(dense)
        self.care_button = button("Care", name="Show what is owed")
        self.care_button.setCheckable(True)
        self.care_button.hide()
        self._listen()
        row = QHBoxLayout(self)
        row.setContentsMargins(14, 0, MARGINS - 14 - GAP, 0)
        row.setSpacing(GAP)
        row.addWidget(self.title)
        row.addSpacing(8)
        row.addWidget(self.search, 2)
        row.addWidget(self._told)
        row.addStretch(1)
        for made in (self.care_button, self.add_button, self.places_button, self.paper_button, self.dense_button):
            row.addWidget(made)

    def _listen(self) -> None:
        self.search.textChanged.connect(self.searched)
        self.search.entered.connect(self._on_entered)
        self.search.left.connect(lambda: self.next_in_focus())
        self.add_button.clicked.connect(self.add)
        self.places_button.clicked.connect(self.places)
        self.paper_button.clicked.connect(lambda: self.paper.emit(self.paper_button))
        QShortcut(QKeySequence("Ctrl+P"), self, self.paper_button.click)
        self.dense_button.toggled.connect(self.dense)
        self.care_button.toggled.connect(self.care)

    def next_in_focus(self) -> None:
        """Leave the search field for what follows it."""
        self.focusNextChild()

    def take_focus(self) -> None:
        """Put the keyboard into the search field."""
        self.search.setFocus()
        self.search.selectAll()

    def text(self) -> str:
        """What is searched for."""
        return self.search.text()

    def clear(self) -> None:
        """Search for nothing."""
        self.search.setText("")

    def show_found(self, numbers: Sequence[int], gone: Sequence[int], searching: bool) -> None:
        """Say how many were found, and how many more have left the collection; Enter goes through them all."""
        if (*numbers, *gone) != self._found:
            self._found, self._at = (*numbers, *gone), -1
        left = f", {len(gone)} left the collection" if gone else ""
        self._finding = f"{len(numbers)} found{left}" if searching else ""
        self._tell()

    def show_hint(self, words: str) -> None:
        """Say what the keyboard can do with what is chosen; what a search found goes before it."""
        self._hint = words
        self._tell()

    def _tell(self) -> None:
        self._told.setText(self._finding or self._hint)

    def show_count(self, plants: int, owed: int, when: str) -> None:
        """How many plants there are, and how many of them need hands `when`: today, or tonight."""
        self.title.setAccessibleName(f"Collection, {plants} plants")
        self.care_button.setText(f"{capital(when)} {owed}")
        self.care_button.setAccessibleName(f"Show what is owed: {hands_words(owed, when)}")

    def set_narrow(self, narrow: bool) -> None:
        """In a narrow window care has a button of its own, and the title makes room."""
        self.care_button.setVisible(narrow)
        self._narrow = narrow
        self._show_what_fits()

    def resizeEvent(self, event: QResizeEvent) -> None:
        """What has no room in a narrow window is left out; Ctrl+P prints in any case."""
        super().resizeEvent(event)
        self._show_what_fits()

    def _show_what_fits(self) -> None:
        """Places before printing, which has its key, and before the title, which the navigation says too."""
        always = [self.add_button, self.dense_button, *([self.care_button] if self._narrow else [])]
        spare = (self.width() - MARGINS - self.search.minimumWidth()
                 - sum(made.sizeHint().width() + GAP for made in always))
        for made in (self.places_button, self.paper_button, self.title):
            spare -= made.sizeHint().width() + GAP
            made.setVisible(spare >= 0 and not (self._narrow and made is self.title))

    def care_shown(self) -> bool:
        """Whether care is asked for in a narrow window."""
        return self.care_button.isChecked()

    def set_care_shown(self, shown: bool) -> None:
        """Mark the care button."""
        self.care_button.setChecked(shown)

    def _on_entered(self) -> None:
        if self._found:
            self._at = (self._at + 1) % len(self._found)
            self.next_found.emit(self._found[self._at])
