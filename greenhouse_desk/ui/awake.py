"""Keeps screen and machine awake while a soak runs, and says so when the desktop does not let it."""

from __future__ import annotations

import logging
from contextlib import ExitStack
from dataclasses import dataclass, field

log = logging.getLogger(__name__)

HELD = "Screen and machine are kept awake while a soak runs."
MACHINE_ONLY = "The screen may go dark: this desktop does not let a program keep it on."
NOT_HELD = "The machine may fall asleep, and then no alarm sounds: set it to stay on, or use a kitchen timer too."


@dataclass(slots=True)
class Awake:
    """Whether the machine is held awake, in a word fit for the grower; `release` lets it sleep again."""

    held: bool
    words: str
    _hold: ExitStack = field(default_factory=ExitStack, repr=False)

    def release(self) -> None:
        """Let screen and machine sleep again; twice is harmless."""
        self._hold.close()
        self.held = False


def keep_awake() -> Awake:
    """Ask for screen and machine, then for the machine alone. Never raises: a refusal is told in `words`."""
    from wakepy import keep

    for mode, words in ((keep.presenting, HELD), (keep.running, MACHINE_ONLY)):
        hold = ExitStack()
        entered = hold.enter_context(mode(on_fail="pass"))
        if entered.active:
            return Awake(True, words, hold)
        hold.close()
        log.info("not kept awake by %s", mode.__name__)
    return Awake(False, NOT_HELD)
