"""Care that falls due while bench mode fills the screen: said there, and quieted by the next press."""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import dataclass
from datetime import datetime, timedelta

MOST_TOLD = 2
STAYS_S = 60.0


def _nobody() -> None:
    """Where no bell hangs there is none to quiet."""


@dataclass(frozen=True)
class CareBell:
    """The bell of the window as the bench reaches it: what rings now, each in words, and that it was heard."""

    ringing: Callable[[], tuple[str, ...]] = tuple
    heard: Callable[[], None] = _nobody


class DueLines:
    """What bench mode says of it: while it rings, and a minute longer once a press has quieted it."""

    def __init__(self, bell: CareBell) -> None:
        self._bell = bell
        self._kept: tuple[str, ...] = ()
        self._until: datetime | None = None

    @property
    def rings(self) -> bool:
        """Whether something rings now."""
        return bool(self._bell.ringing())

    def on_press(self, now: datetime) -> None:
        """Whoever presses a key has heard it."""
        ringing = self._bell.ringing()
        if ringing:
            self._kept, self._until = ringing, now + timedelta(seconds=STAYS_S)
            self._bell.heard()

    def lines(self, now: datetime) -> tuple[str, ...]:
        """The line to show at `now` (aware UTC), () for none."""
        ringing = self._bell.ringing()
        if ringing:
            return (f"Due now: {_few(ringing)}. The next press quiets the bell.",)
        if self._until is not None and now < self._until:
            return (f"Still due: {_few(self._kept)}. It stands in the care list.",)
        return ()


def _few(cares: tuple[str, ...]) -> str:
    more = len(cares) - MOST_TOLD
    return "; ".join(cares[:MOST_TOLD]) + (f"; and {more} more" if more > 0 else "")
