"""Deciding at the bench: go on with a plant or stop, leave a soak out and why, end with something open and why.

Each is a question with choices whose first one is the safe way; nothing is decided by a second press.
"""

from __future__ import annotations

from collections.abc import Collection

from greenhouse_desk.domain.bench_values import LooseKind, Question
from greenhouse_desk.domain.journal_words import NOT_TRIED
from greenhouse_desk.domain.protocol_steps import Asks, Deed, ProtocolStep

GOES_ON = ("go on with this plant", "stop with this plant")
STOP, STOP_OPEN = 1, 2
"""Answers that stop: with what stands open on the plant seen to next, or left open knowingly."""
SEEN_TO = {LooseKind.AGENT: "rinse it", LooseKind.CUT: "dress its cuts", LooseKind.UNPOTTED: "pot it up for now"}
STANDS_OPEN = {LooseKind.AGENT: "its agent is not rinsed off", LooseKind.CUT: "its cuts are open",
               LooseKind.UNPOTTED: "its roots are bare"}
LEFT_SO = {LooseKind.AGENT: "its agent on", LooseKind.CUT: "its cuts open", LooseKind.UNPOTTED: "its roots bare"}
BACK = 0
"""The first choice of every question why something is left: it is not left after all."""

AGENT_MISSING, TOO_WEAK, DONE_BEFORE, OTHER = (
    "it is not at hand", "the plant is too weak for it", "it was done before", "another reason")
LEFT_OPEN = ("no: see to it first", "it is seen to, not written down here", "it is seen to right after this",
             "it must wait", "another reason")


def go_on(living: int | None, dead: int | None, left: Collection[LooseKind] = ()) -> Question:
    """Go on with this plant, or stop here; with a root count the question says what it tells.

    With roots bare or cuts open (`left`) stopping says so, and is to see to them first or to leave them knowingly.
    """
    choices, page = _stops([kind for kind in SEEN_TO if kind in left])
    if living is None or dead is None:
        return Question("Go on with this plant?", high=len(choices) - 1, choices=choices, asks=Asks.GO_ON, page=page)
    return Question(
        f"{dead} of {living + dead} roots dead: the culture. Go on?", high=len(choices) - 1, choices=choices,
        asks=Asks.GO_ON,
        page="More than a third dead points at the culture, not at bad luck: water, salt or air was wrong, and the "
             f"same again will end the same. {page or WHAT_STAYS}".strip())


WHAT_STAYS = "Stopping leaves the plant as it is; what it is owed stays on the board."


def _stops(left: list[LooseKind]) -> tuple[tuple[str, ...], str]:
    """The choices, and what is said of stopping where something stands open on the plant."""
    if not left:
        return GOES_ON, ""
    stop, leave = (" and ".join(words[kind] for kind in left) for words in (SEEN_TO, LEFT_SO))
    stands = " and ".join(STANDS_OPEN[kind] for kind in left)
    return (GOES_ON[0], f"stop: {stop}", f"stop: leave {leave}, knowingly"), (
        f"If you stop now, {stands}. It is seen to first, or left so knowingly and written down; the queue and the "
        "plant's care go on telling it.")


def left_knowingly(left: Collection[LooseKind]) -> str:
    """What the entry of a stop says of what is left open, "" when nothing is."""
    return " and ".join(STANDS_OPEN[kind] for kind in SEEN_TO if kind in left)


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
