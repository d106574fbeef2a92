"""Deciding at the bench: go on with a plant or stop, leave a soak out and why, end with something open and why.

Each is a question with choices whose first one is the safe way; nothing is decided by a second press.
"""

from __future__ import annotations

from greenhouse_desk.domain.bench_values import Question
from greenhouse_desk.domain.journal_words import NOT_TRIED
from greenhouse_desk.domain.protocol_steps import Asks, Deed, ProtocolStep

GOES_ON = ("go on with this plant", "stop with this plant")
STOP = 1
BACK = 0
"""The first choice of every question why something is left: it is not left after all."""

AGENT_MISSING, TOO_WEAK, DONE_BEFORE, OTHER = (
    "it is not at hand", "the plant is too weak for it", "it was done before", "another reason")
LEFT_OPEN = ("no: see to it first", "it is seen to, not written down here", "it is seen to right after this",
             "it must wait", "another reason")


def go_on(living: int | None, dead: int | None) -> Question:
    """Go on with this plant, or stop here; with a root count the question says what it tells."""
    if living is None or dead is None:
        return Question("Go on with this plant?", high=1, choices=GOES_ON, asks=Asks.GO_ON)
    return Question(
        f"{dead} of {living + dead} roots dead: the culture. Go on?", high=1, choices=GOES_ON, asks=Asks.GO_ON,
        page="More than a third dead points at the culture, not at bad luck: water, salt or air was wrong, and the "
             "same again will end the same. Stopping leaves the plant as it is; what it is owed stays on the board.")


def why_left_out(step: ProtocolStep) -> Question:
    """Why a soak is left out; the first choice is to do it after all."""
    things = step.deed in (Deed.SOAK_TOOLS, Deed.SCRUB)
    reasons: tuple[str, ...] = (NOT_TRIED,) if step.deed is Deed.WASH else ()
    reasons += (AGENT_MISSING, DONE_BEFORE) if things else (AGENT_MISSING, TOO_WEAK, DONE_BEFORE)
    return _choice("Leave this out? Why?", ("no: do it now", *reasons, OTHER),
                   f"To be left out: {step.say}. It is written down with the reason.")


def why_ended() -> Question:
    """Why the session ends with something open; the first choice is to see to it first."""
    return _choice("End with this open? Why?", LEFT_OPEN)


def _choice(prompt: str, choices: tuple[str, ...], page: str = "") -> Question:
    return Question(prompt, high=len(choices) - 1, choices=choices, page=page)
