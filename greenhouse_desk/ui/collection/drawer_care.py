"""One care in the drawer: what is owed and when, the buttons that answer it, and "why?" with its reasoning."""

from __future__ import annotations

from PySide6.QtWidgets import QFrame, QPushButton, QVBoxLayout, QWidget

from greenhouse_desk.domain.care import CareKind
from greenhouse_desk.domain.journal import Reply
from greenhouse_desk.services.care import REFUSALS
from greenhouse_desk.ui.collection.care_rows import CareRow
from greenhouse_desk.ui.collection.deeds import PlantDeeds
from greenhouse_desk.ui.collection.drawer_head import MarkedLine
from greenhouse_desk.ui.flow import Flow
from greenhouse_desk.ui.messages import button, label
from greenhouse_desk.ui.style import Palette
from greenhouse_desk.ui.why import Reasons

EDGES = {"over": "urgent", "drying": "urgent"}


class CarePanel(QFrame):
    """A care with its answers. `open_why` keeps the reasoning open when the drawer is read anew."""

    def __init__(self, row: CareRow, deeds: PlantDeeds, palette: Palette, open_why: bool) -> None:
        super().__init__()
        self.row = row
        self._palette = palette
        self._why: QWidget | None = None
        self.setProperty("edge", EDGES.get(row.mark, "top"))
        self.setAccessibleName(f"{row.when}: {row.what}")
        column = QVBoxLayout(self)
        inset = 12 if row.mark in EDGES else 0
        column.setContentsMargins(inset, 10, inset, 10)
        column.setSpacing(4)
        column.addWidget(MarkedLine(row.mark, row.when, palette))
        column.addWidget(label(row.what, bold=True, px=15))
        if row.more:
            column.addWidget(label(row.more, "second"))
        if row.put_off:
            column.addWidget(label(row.put_off, "second"))
        self.why_button = button("why?", "small", f"Why: {row.what}")
        self.why_button.setCheckable(True)
        self.why_button.toggled.connect(self._on_why)
        answers = Flow()
        for made in (*self._answers(deeds), self.why_button):
            answers.add(made)
        column.addSpacing(4)
        column.addWidget(answers)
        self.why_button.setChecked(open_why)

    def _answers(self, deeds: PlantDeeds) -> list[QPushButton]:
        care, made = self.row.care, []
        if care.kind is CareKind.AIR and care.drying is not None:
            made.append(self._button("Blotted", lambda: deeds.blotted(care.plant)))
            if not care.drying.aired and not care.drying.pool:
                made.append(self._button("Fan on", lambda: deeds.aired(care.plant)))
            made.append(self._button("Crown dry", lambda: deeds.dry(care.plant)))
        elif (care.kind, Reply.DONE) not in REFUSALS:
            made.append(self._button("Done", lambda: deeds.done(care)))
        if (care.kind, Reply.PUT_OFF) not in REFUSALS:
            made.append(self._button("Put off…", lambda: deeds.put_off(care)))
        if (care.kind, Reply.DECLINED) not in REFUSALS:
            made.append(self._button("Decline…", lambda: deeds.decline(care)))
        return made

    def _button(self, word: str, deed: object) -> QPushButton:
        made = button(word, "small", f"{word.rstrip('…')}: {self.row.what}")
        made.clicked.connect(deed)
        return made

    def _on_why(self, open_it: bool) -> None:
        if self._why is not None:
            self._why.deleteLater()
            self._why = None
        if open_it:
            self._why = Reasons(self.row.care.why, self._palette)
            layout = self.layout()
            assert layout is not None
            layout.addWidget(self._why)
            self._why.show()
