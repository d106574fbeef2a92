"""Builders of bench sessions: own protocols, a stocked collection, and a grower who presses keys by a stepped clock."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass, field
from datetime import datetime
from typing import Any
from zoneinfo import ZoneInfo

from greenhouse_desk.domain.bench import Action, Board, Key, Sitting, board
from greenhouse_desk.domain.bench_deciding import OTHER
from greenhouse_desk.domain.journal import Arrived, Entry, Facts, Part, Placed, Potted
from greenhouse_desk.domain.plants import Habit, Place
from greenhouse_desk.domain.protocols import Asks, Deed, Protocol, ProtocolStep, Work
from greenhouse_desk.services import treatments
from greenhouse_desk.services.clock import SteppedClock
from greenhouse_desk.services.desk import Desk, Done
from greenhouse_desk.services.shelf import Shelf, shelf
from greenhouse_desk.services.treatments import Choice, Pressed
from greenhouse_desk.store import journal, plants
from greenhouse_desk.store.engine import Session

ZONE = ZoneInfo("Europe/London")
KINDS = frozenset({"plants"})


def step(id: str, deed: Deed, after: Sequence[str] = (), **fields: Any) -> ProtocolStep:
    """A step that says its own id; `fields` are fields of ProtocolStep."""
    return ProtocolStep(id, id.capitalize(), f"{id.capitalize()} with care.", deed, after=tuple(after), **fields)


def soak(id: str, deed: Deed, after: Sequence[str] = (), least_min: float = 10, most_min: float = 12,
         **fields: Any) -> ProtocolStep:
    """A soak of 10 to 12 minutes unless said otherwise."""
    return step(id, deed, after, work=Work.SOAK, least_min=least_min, most_min=most_min, **fields)


ROOTS, LEAVES, POT = (Part.ROOTS,), (Part.LEAVES,), (Part.POT,)
REPOT = Protocol("repot-trial", "Repot", "For tests.", (
    step("lay out", Deed.PREPARE),
    step("unpot", Deed.UNPOT, ["lay out"]),
    step("look", Deed.INSPECT, ["unpot"], asks=(Asks.SIGHTINGS,)),
    step("count", Deed.COUNT_ROOTS, ["look"], asks=(Asks.LIVING, Asks.DEAD, Asks.NEW_TIPS)),
    step("cut", Deed.CUT, ["count"], on=ROOTS, tool=True, asks=(Asks.CUTS, Asks.REMOVED)),
    soak("mist", Deed.TREAT, ["cut"], on=ROOTS, agent="hydrogen-peroxide", strength=3.0, wets=ROOTS, amount_ml=60),
    soak("wash", Deed.WASH, ["cut"], on=LEAVES, agent="alcohol-soap-wash", strength=20.0, wets=LEAVES, meanwhile=True,
         only_if="pests", amount_ml=100),
    step("scrub", Deed.SCRUB, ["unpot"], on=POT, meanwhile=True),
    step("rinse", Deed.RINSE, ["mist", "wash"], wets=(Part.ROOTS, Part.LEAVES, Part.CROWN)),
    step("pot", Deed.POT, ["rinse", "scrub"], medium="expanded clay pellets", transition=True),
    step("dress", Deed.DRESS, ["pot"], agent="cinnamon"),
    step("pour", Deed.POUR, ["pot"], amount_ml=150),
    step("blot", Deed.BLOT, ["rinse"], asks=(Asks.POOL,)),
    step("air", Deed.AIR, ["blot"]),
))
DIP = Protocol("dip-trial", "Dip", "For tests.", (
    soak("dip", Deed.TREAT, on=ROOTS, agent="hydrogen-peroxide", strength=3.0, wets=ROOTS),
    step("swill", Deed.RINSE, ["dip"], wets=ROOTS)))
CUT_ONLY = Protocol("cut-trial", "Cut", "For tests.", (
    step("snip", Deed.CUT, on=(Part.SPIKE,), tool=True), step("tidy", Deed.HYGIENE, ["snip"])))


def shelf_of(*protocols: Protocol) -> Shelf:
    """A shelf with these protocols and the shipped agents and pests."""
    shipped = shelf(None)
    return Shelf(protocols or (REPOT, DIP, CUT_ONLY), shipped.agents, shipped.pests)


def stock(session: Session, now: datetime, numbers: Sequence[int], medium: str = "bark") -> Done[None]:
    """A verb: plants standing on one bench."""
    place = plants.save_place(session, Place(0, "Long bench"))
    for order, number in enumerate(numbers):
        plants.add_plant(session, number, f"Phalaenopsis equestris {number}", Habit.MONOPODIAL)
        for facts in (Arrived(), Placed(place, float(order)), Potted(medium, "12 cm")):
            journal.add(session, now, facts, number)
    return Done("Stock", KINDS, None)


def tell(session: Session, now: datetime, plant: int, facts: Facts) -> Done[int]:
    """A verb: one entry."""
    return Done("Tell", frozenset({"journal"}), journal.add(session, now, facts, plant))


@dataclass
class Grower:
    """Someone at the bench, by their keys alone."""

    desk: Desk
    clock: SteppedClock
    session: int = 0
    log: list[str] = field(default_factory=list)

    def begins(self, choices: dict[int, str], shelf: Shelf | None = None, order: Sequence[int] = ()) -> Grower:
        """Take plants to the bench, each with a protocol."""
        chosen = [Choice(plant, protocol, reason="for the test") for plant, protocol in choices.items()]
        self.session = self.desk.run(treatments.start, chosen, shelf or shelf_of(), order)
        return self

    @property
    def sitting(self) -> Sitting:
        return self.desk.read(treatments.sitting, self.session, self.clock.now(), self.clock.steady())

    @property
    def board(self) -> Board:
        return board(self.sitting, self.clock.now(), ZONE)

    @property
    def says(self) -> tuple[int | None, str]:
        """Plant and words of the instruction."""
        wanted = self.board.instruction
        return wanted.plant, wanted.say

    def press(self, key: Key, value: int | None = None, sure: bool = False, text: str = "",
              expect: str = "") -> Pressed:
        return self.desk.run(treatments.press, self.session, key, value=value, sure=sure, text=text, expect=expect,
                             steady=self.clock.steady())

    def obeys(self, minutes: float = 1.0) -> Board:
        """Do what the board says, taking `minutes` over hands work; waiting lasts to the least. Returns the board.

        Where the dial stands at no answer the lowest is given, or the first choice.
        """
        seen = self.board
        wanted = seen.instruction
        self.log.append(f"{wanted.action} {wanted.plant} {wanted.tool} {wanted.say}")
        if wanted.action is Action.WAIT:
            waited = min(cell.view.to_least_s for cell in seen.cells)
            self.clock.advance(max(1.0, waited))
        elif wanted.action in (Action.START_SOAK, Action.END_SOAK):
            self.clock.advance(5)
            self.press(Key.SOAK)
        else:
            self.clock.advance(60 * minutes if wanted.action is Action.HANDS else 2)
            asked = wanted.question
            self.press(Key.NEXT, asked.low if asked is not None and asked.start is None else None)
        return seen

    def leaves_out(self, why: str = OTHER) -> None:
        """Leave the soak out that the board asks for, and say why."""
        self.press(Key.NEXT)
        self.answers(why)

    def answers(self, choice: str) -> Pressed:
        """Take a choice of the question that is asked, by its words."""
        asked = self.board.instruction.question
        assert asked is not None
        return self.press(Key.NEXT, asked.kept(asked.choices.index(choice)))

    def obeys_until(self, action: Action, plant: int | None = None, most: int = 300) -> Board:
        """Obey until the board wants `action` (of `plant`)."""
        for _ in range(most):
            seen = self.board
            if seen.instruction.action is action and plant in (None, seen.instruction.plant):
                return seen
            self.obeys()
        raise AssertionError(f"never came to {action}: {self.log[-20:]}")

    def comes_to(self, asks: Asks, most: int = 300) -> Board:
        """Obey until the board asks for `asks`."""
        for _ in range(most):
            asked = self.board.instruction.question
            if asked is not None and asked.asks is asks:
                return self.board
            self.obeys()
        raise AssertionError(f"{asks} was never asked: {self.log[-20:]}")

    def finishes(self, most: int = 500) -> Grower:
        """Obey until the session is over."""
        for _ in range(most):
            if self.sitting.ended_at is not None:
                return self
            self.obeys()
        raise AssertionError(f"never came to an end: {self.log[-20:]}")

    def told(self, plant: int) -> list[Entry]:
        """What the session wrote on a plant."""
        return [entry for entry in self.desk.read(journal.of_plant, plant) if entry.run is not None]

    def facts(self, plant: int) -> list[Facts]:
        return [entry.facts for entry in self.told(plant)]


def grower(desk: Desk, clock: SteppedClock, numbers: Sequence[int] = (101, 102, 103), **choice: Any) -> Grower:
    """A grower with a stocked collection, not yet at the bench."""
    desk.run(stock, numbers, **choice)
    return Grower(desk, clock)
