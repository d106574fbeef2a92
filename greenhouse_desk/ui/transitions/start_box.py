"""May one start? A plant is chosen, the questions are answered, and it goes to the bench or waits."""

from __future__ import annotations

from collections.abc import Callable, Sequence

from PySide6.QtCore import Qt, Signal
from PySide6.QtWidgets import QComboBox, QDialog, QFrame, QHBoxLayout, QScrollArea, QVBoxLayout, QWidget

from greenhouse_desk.domain.courses_start import Answer, Start
from greenhouse_desk.services.transitions_start import Waiting
from greenhouse_desk.ui.messages import button, heading, label
from greenhouse_desk.ui.style import Palette
from greenhouse_desk.ui.wheel import calm
from greenhouse_desk.ui.whole_screen import screen_of
from greenhouse_desk.ui.why import Reasons

TITLES = {Answer.YES: "It may start", Answer.NO: "Better not yet", Answer.UNKNOWN: "Look first"}


class StartBox(QDialog):
    """`bench` and `anyway` carry the plant chosen: to the bench, or to the bench against the answers."""

    bench = Signal(int)
    anyway = Signal(int)

    def __init__(self, waiting: Sequence[Waiting], ask: Callable[[int], Start], palette: Palette,
                 parent: QWidget) -> None:
        super().__init__(parent)
        self.setWindowTitle("May one start?")
        self.setAttribute(Qt.WidgetAttribute.WA_DeleteOnClose)
        self._ask, self._look = ask, palette
        self.plants = calm(QComboBox())
        self.plants.setAccessibleName("Plant")
        for one in waiting:
            self.plants.addItem(f"{one.plant}  {one.name.plain}, in {one.medium}", one.plant)
        self.answer = heading("", 19)
        self._area = QScrollArea()
        self._area.setWidgetResizable(True)
        self._area.setFrameShape(QFrame.Shape.NoFrame)
        self._area.setAccessibleName("What speaks for it and against it")
        self.to_bench = button("Take it to the bench", "main")
        self.all_the_same = button("Start all the same")
        close = button("Close")
        self.to_bench.clicked.connect(self._on_bench)
        self.all_the_same.clicked.connect(self._on_anyway)
        close.clicked.connect(self.reject)
        self._build((close, self.all_the_same, self.to_bench), bool(waiting))
        self.plants.currentIndexChanged.connect(self._on_chosen)
        self._on_chosen()

    def _build(self, buttons: Sequence[QWidget], any_waiting: bool) -> None:
        column = QVBoxLayout(self)
        column.setContentsMargins(24, 20, 24, 20)
        column.setSpacing(10)
        column.addWidget(heading("May one start?", 23))
        told = "Plants in bark, moss and the like have the move before them." if any_waiting else (
            "No plant stands in bark, moss or another medium that rots.")
        column.addWidget(label(told, "second"))
        column.addWidget(self.plants)
        column.addWidget(self.answer)
        column.addWidget(self._area, 1)
        foot = QHBoxLayout()
        foot.addStretch(1)
        for made in buttons:
            foot.addWidget(made)
        column.addLayout(foot)
        self.resize(520, min(660, screen_of(self).availableGeometry().height() - 60))

    @property
    def plant(self) -> int | None:
        """The plant chosen."""
        chosen = self.plants.currentData()
        return int(chosen) if chosen is not None else None

    def _on_chosen(self) -> None:
        plant = self.plant
        for made in (self.to_bench, self.all_the_same, self.answer):
            made.setVisible(plant is not None)
        if plant is None:
            return
        start = self._ask(plant)
        self.answer.setText(TITLES[start.answer])
        reasons = Reasons(start.why, self._look)
        steps = reasons.layout()
        assert isinstance(steps, QVBoxLayout)
        steps.addStretch(1)
        self._area.setWidget(reasons)
        self.to_bench.setVisible(start.answer is Answer.YES)
        self.all_the_same.setVisible(start.answer is not Answer.YES)

    def _on_bench(self) -> None:
        if self.plant is not None:
            self.bench.emit(self.plant)
            self.accept()

    def _on_anyway(self) -> None:
        if self.plant is not None:
            self.anyway.emit(self.plant)
            self.accept()
