"""What the grower has chosen for the bench so far: plants, each with its protocol, and what was said against a rule."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from dataclasses import dataclass, field, replace

from greenhouse_desk.domain.protocols import Deed, Protocol
from greenhouse_desk.services.treatments import Choice


@dataclass(frozen=True)
class Choices:
    """The choices by plant, in the order they were made; `order` is the queue as the grower set it, () by rule."""

    of: Mapping[int, Choice] = field(default_factory=dict)
    order: tuple[int, ...] = ()

    @property
    def all(self) -> tuple[Choice, ...]:
        return tuple(self.of.values())

    @property
    def undecided(self) -> tuple[int, ...]:
        """Plants without a protocol yet."""
        return tuple(plant for plant, choice in self.of.items() if not choice.protocol_id)

    def added(self, plant: int, protocol: str) -> Choices:
        """With this plant too; what was chosen for it before stays."""
        return self if plant in self.of else Choices({**self.of, plant: Choice(plant, protocol)}, ())

    def washing(self, plant: int, protocol: str, why: str) -> Choices:
        """With this plant, to be washed by `protocol` because of `why`, whatever was chosen for it before."""
        return replace(self, of={**self.of, plant: Choice(plant, protocol, wash=True, wash_why=why)}, order=())

    def without(self, plant: int) -> Choices:
        """The same without this plant."""
        return Choices({one: choice for one, choice in self.of.items() if one != plant}, ())

    def kept(self, plants: Sequence[int]) -> Choices:
        """Only those of `plants`."""
        return replace(self, of={plant: choice for plant, choice in self.of.items() if plant in plants})

    def with_protocol(self, plant: int, protocol: str) -> Choices:
        """Another protocol for this plant; what was said against a rule was said of the one before."""
        return self._changed(Choice(plant, protocol))

    def with_wash(self, plant: int, wash: bool) -> Choices:
        """Washed though no wash is owed, or not."""
        return self._changed(replace(self.of[plant], wash=wash, wash_why=""))

    def with_reason(self, plant: int, reason: str) -> Choices:
        """Why its move starts all the same."""
        return self._changed(replace(self.of[plant], reason=reason))

    def _changed(self, choice: Choice) -> Choices:
        return replace(self, of={**self.of, choice.plant: choice})


def may_wash(protocol: Protocol | None) -> bool:
    """Whether a protocol has a wash of its own that is only for plants with pests."""
    return protocol is not None and any(step.deed is Deed.WASH and step.only_if for step in protocol.steps)


def moves(protocol: Protocol | None) -> bool:
    """Whether a protocol moves the plant to another kind of medium."""
    return protocol is not None and any(step.transition for step in protocol.steps)
