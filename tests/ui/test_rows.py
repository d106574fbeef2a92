"""Every list of frozen rows keeps Qt's rules for models, and tells only the rows that differ."""

from __future__ import annotations

from dataclasses import dataclass

from PySide6.QtCore import QModelIndex, Qt
from pytestqt.modeltest import ModelTester

from greenhouse_desk.ui.rows import ROW, SPOKEN, RowsModel


@dataclass(frozen=True, slots=True)
class Pot:
    """A row."""

    number: int
    words: str


class Pots(RowsModel[Pot]):
    """Rows by their number."""

    def key(self, row: Pot) -> object:
        return row.number

    def told(self, row: Pot, role: int) -> str | None:
        return row.words if role in SPOKEN else None


def watched() -> tuple[Pots, list[str]]:
    """A model, and what it tells."""
    model, told = Pots(), list[str]()

    def changed(first: QModelIndex, last: QModelIndex) -> None:
        told.append(f"{first.row()} to {last.row()}")

    model.dataChanged.connect(changed)
    model.modelReset.connect(lambda: told.append("all"))
    return model, told


def test_it_keeps_the_rules_of_models(qtmodeltester: ModelTester) -> None:
    model, _ = watched()
    model.show([Pot(1, "one"), Pot(2, "two")])
    qtmodeltester.check(model)  # type: ignore[no-untyped-call]
    model.show([Pot(1, "one"), Pot(2, "other")])
    model.show([])


def test_a_row_that_differs_is_told_alone_and_others_are_told_anew() -> None:
    model, told = watched()
    model.show([Pot(1, "one"), Pot(2, "two"), Pot(3, "three")])
    model.show([Pot(1, "one"), Pot(2, "other"), Pot(3, "three")])
    model.show([Pot(1, "one"), Pot(2, "other"), Pot(3, "three")])
    model.show([Pot(2, "other"), Pot(1, "one"), Pot(3, "three")])
    assert told == ["all", "1 to 1", "all"]
    assert model.rows[0] == Pot(2, "other")


def test_a_row_is_itself_and_words_and_nothing_beyond_the_end() -> None:
    model, _ = watched()
    model.show([Pot(1, "one")])
    at = model.index(0)
    assert at.data(ROW) == Pot(1, "one")
    assert (at.data(), at.data(Qt.ItemDataRole.AccessibleTextRole)) == ("one", "one")
    assert at.data(Qt.ItemDataRole.ToolTipRole) is None
    model.show([])
    assert model.data(at) is None
    assert model.rowCount(at) == 0
