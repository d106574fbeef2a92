"""A list of frozen rows for a view: those that differ are told changed, so that the selection survives."""

from __future__ import annotations

from collections.abc import Sequence
from typing import Generic, TypeVar

from PySide6.QtCore import QAbstractListModel, QModelIndex, QObject, QPersistentModelIndex, Qt

Index = QModelIndex | QPersistentModelIndex
ROW = Qt.ItemDataRole.UserRole
SPOKEN = (Qt.ItemDataRole.DisplayRole, Qt.ItemDataRole.AccessibleTextRole)

R = TypeVar("R")


class RowsModel(QAbstractListModel, Generic[R]):
    """`rows` stand in the list as they are. Say in a subclass what tells two apart and how one is read out."""

    def __init__(self, parent: QObject | None = None) -> None:
        super().__init__(parent)
        self.rows: tuple[R, ...] = ()

    def key(self, row: R) -> object:
        """What stays the same of a row while its words change, such as its plant's number."""
        raise NotImplementedError

    def told(self, row: R, role: int) -> str | None:
        """What `row` has for `role`: for those of SPOKEN the row as it is read out."""
        raise NotImplementedError

    def show(self, rows: Sequence[R]) -> None:
        """Show these; where the same stand in the same order, only those that differ are told changed."""
        old, new = self.rows, tuple(rows)
        if [self.key(row) for row in old] != [self.key(row) for row in new]:
            self.beginResetModel()
            self.rows = new
            self.endResetModel()
            return
        self.rows = new
        for at, (was, row) in enumerate(zip(old, new, strict=True)):
            if was != row:
                self.dataChanged.emit(self.index(at), self.index(at))

    def rowCount(self, parent: Index = QModelIndex()) -> int:  # noqa: B008
        """How many rows."""
        return 0 if parent.isValid() else len(self.rows)

    def data(self, index: Index, role: int = Qt.ItemDataRole.DisplayRole) -> object:
        """The row itself, or it in words."""
        if not index.isValid() or index.row() >= len(self.rows):
            return None
        row = self.rows[index.row()]
        return row if role == ROW else self.told(row, role)
