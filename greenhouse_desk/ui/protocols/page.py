"""One protocol to read: what it is for, cautions, what to lay out, and every step with its figures and source."""

from __future__ import annotations

from collections.abc import Mapping

from PySide6.QtCore import Qt
from PySide6.QtWidgets import QFrame, QGridLayout, QHBoxLayout, QLabel, QVBoxLayout, QWidget

from greenhouse_desk.domain.agents import Agent
from greenhouse_desk.domain.faults import Fault
from greenhouse_desk.domain.figures import plainly
from greenhouse_desk.domain.protocols import Material, Protocol, ProtocolStep, Work
from greenhouse_desk.ui.messages import heading, label
from greenhouse_desk.ui.protocols.list import ShelfRow
from greenhouse_desk.ui.style import Palette, serif
from greenhouse_desk.ui.words import measured


def figures(step: ProtocolStep, agents: Mapping[str, Agent]) -> str:
    """The step's figures in a line: target, agent and strength, contact, hands time, amount."""
    said = []
    if step.on:
        said.append("on " + ", ".join(part.value for part in step.on))
    if step.agent:
        agent = agents.get(step.agent)
        strength = f" {step.strength:g} {agent.percent.value if agent else '%'}" if step.strength is not None else ""
        said.append(f"{agent.name if agent else step.agent}{strength}")
    if step.amount_ml:
        said.append(f"{step.amount_ml:g} ml")
    if step.work is Work.SOAK:
        said.append(f"soak, least {step.least_min:g}, most {step.most_min:g} min")
    said.append(f"hands {step.minutes:g} min")
    return "; ".join(said)


def leaves(step: ProtocolStep) -> str:
    """What the step makes wet, asks, and leaves owing, in words."""
    said = []
    if step.only_if:
        said.append(f"Only where {step.only_if} were seen.")
    if step.wets:
        said.append(f"Makes wet: {', '.join(part.value for part in step.wets)}.")
    if step.asks:
        said.append(f"Records: {', '.join(ask.value for ask in step.asks)}.")
    if step.owes:
        said.append(f"Leaves owing: {', '.join(step.owes)}.")
    said += [f"{check.what} after {', '.join(str(day) for day in check.days)} days." for check in step.checks]
    return " ".join(said)


class StepRow(QFrame):
    """One step: its number, the sentence for the wall, the longer one, figures, caution, source."""

    def __init__(self, number: int, step: ProtocolStep, protocol: Protocol, agents: Mapping[str, Agent]) -> None:
        super().__init__()
        self.setProperty("edge", "top")
        grid = QGridLayout(self)
        grid.setContentsMargins(0, 10, 0, 12)
        grid.setHorizontalSpacing(14)
        grid.setVerticalSpacing(3)
        place = QLabel(str(number))
        place.setFont(serif(24, 600))
        place.setFixedWidth(40)
        place.setAlignment(Qt.AlignmentFlag.AlignTop | Qt.AlignmentFlag.AlignRight)
        grid.addWidget(place, 0, 0, 2, 1)
        for row, words in enumerate(self._lines(step, protocol, agents)):
            words.setTextInteractionFlags(Qt.TextInteractionFlag.TextSelectableByMouse)
            grid.addWidget(words, row, 1)
        grid.setColumnStretch(1, 1)

    def _lines(self, step: ProtocolStep, protocol: Protocol, agents: Mapping[str, Agent]) -> list[QLabel]:
        said = heading(step.say, 18)
        found = [said, label(step.page, px=15), label(figures(step, agents), bold=True)]
        titles = {one.id: f"{n}" for n, one in enumerate(protocol.steps, 1)}
        before = ", ".join(titles.get(name, name) for name in step.after)
        rest = " ".join(part for part in (f"Comes after step {before}." if before else "", leaves(step)) if part)
        if rest:
            found.append(label(rest))
        if step.caution:
            found.append(label(f"Caution: {step.caution}", "madder", bold=True))
        if step.source:
            found.append(label(f"Source: {plainly(step.source)}", "second", px=13))
        return found


def amount(material: Material) -> str:
    """How much of a material: for each plant or once a session."""
    much = measured(material.amount, material.unit)
    return f"{much} {'for each plant' if material.each else 'a session'}"


class ProtocolPage(QWidget):
    """The reading page. Rebuilt whenever another one is opened."""

    def __init__(self, row: ShelfRow, agents: Mapping[str, Agent], palette: Palette) -> None:
        super().__init__()
        self._look = palette
        self._column = QVBoxLayout(self)
        self._column.setContentsMargins(28, 20, 28, 28)
        self._column.setSpacing(8)
        self._column.addWidget(heading(row.title, 26))
        self._column.addWidget(label(f"{row.kind.capitalize()}: {row.file}", "second"))
        for fault in sorted(row.faults, key=lambda fault: not fault.grave):
            self._column.addWidget(self._fault(fault, row.protocol is None))
        if row.protocol is not None:
            self._add_protocol(row.protocol, agents)
        self._column.addStretch(1)

    def _add_protocol(self, protocol: Protocol, agents: Mapping[str, Agent]) -> None:
        self._column.addWidget(label(protocol.purpose, px=16))
        both = QHBoxLayout()
        both.setSpacing(32)
        kit = [f"{one.what}: {amount(one)}{_note(one)}" for one in protocol.materials]
        both.addWidget(self._list("Lay out", kit), 1)
        both.addWidget(self._list("Cautions", list(protocol.cautions)), 1)
        self._column.addLayout(both)
        self._column.addSpacing(10)
        self._column.addWidget(heading("Steps", 20))
        for number, step in enumerate(protocol.steps, 1):
            self._column.addWidget(StepRow(number, step, protocol, agents))

    def _list(self, title: str, lines: list[str]) -> QWidget:
        made = QWidget()
        column = QVBoxLayout(made)
        column.setContentsMargins(0, 6, 0, 0)
        column.setSpacing(4)
        column.addWidget(heading(title, 18))
        for line in lines:
            column.addWidget(label(line))
        if not lines:
            column.addWidget(label("Nothing is listed.", "second"))
        column.addStretch(1)
        return made

    def _fault(self, fault: Fault, aside: bool) -> QFrame:
        frame = QFrame()
        grave = fault.grave or aside
        frame.setProperty("edge", "urgent" if grave else "due")
        column = QVBoxLayout(frame)
        column.setContentsMargins(12, 8, 12, 8)
        column.setSpacing(1)
        lead = "Set aside: " if aside else "Cannot be started: " if fault.grave else "Look again: "
        column.addWidget(label(f"{lead}{fault.message}", "madder" if grave else "due", bold=True))
        column.addWidget(label(f"{fault.file}, {fault.path}"))
        frame.setAccessibleName(f"{lead}{fault.message} {fault.file}, {fault.path}")
        return frame


def _note(material: Material) -> str:
    return f". {material.note}" if material.note else ""
