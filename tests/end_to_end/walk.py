"""The way of a grower through the window by keys alone: to the bench, three plants, the plan, the session, the record.

It only presses keys and looks at what stands on the screen. Who presses (Qt's own key events, or a real keyboard's on a
virtual screen) and how time passes is given, so that the played session and the window test go exactly the same way.
"""

from __future__ import annotations

from collections.abc import Callable, Sequence
from dataclasses import dataclass
from typing import Protocol

from greenhouse_desk.domain.bench import Key

KEYS = {Key.NEXT: "space", Key.SOAK: "s", Key.BACK: "b", Key.NOTE: "n", Key.UNDO: "u"}
"""Names of keys as xdotool has them."""

MOST_TABS = 60
MOST_PRESSES = 600


@dataclass(frozen=True, slots=True)
class Seen:
    """What stands on the screen: the focused control's accessible name, the page, and what the bench asks for.

    `key` is what a grower would press at the bench now, after `wait_s` seconds when `must` (a soak's least),
    `number` is what to type before, `asks` the instruction; all are empty where no session fills the screen.
    `lines` is the record, `care` the care strip.
    """

    focus: str = ""
    page: str = ""
    bench: bool = False
    key: str = ""
    wait_s: float = 0.0
    must: bool = False
    number: str = ""
    asks: str = ""
    chosen: tuple[str, ...] = ()
    lines: tuple[str, ...] = ()
    care: tuple[str, ...] = ()


class Person(Protocol):
    """Eyes, a finger, and patience."""

    def see(self) -> Seen:
        """What stands on the screen once it has settled."""

    def press(self, keys: str) -> None:
        """Press one key, by xdotool's name ("space", "Return", "ctrl+2"), and see it taken."""

    def wait(self, seconds: float, must: bool) -> None:
        """Let simulated time pass."""


def focus(person: Person, start: str) -> None:
    """Go by Tab to the control whose accessible name begins with `start`."""
    for _ in range(MOST_TABS):
        if person.see().focus.startswith(start):
            return
        person.press("Tab")
    raise AssertionError(f"no control named {start!r} was reached by Tab; focus is on {person.see().focus!r}")


def choose(person: Person, plants: Sequence[int]) -> None:
    """Go to the bench and choose plants by typing their numbers."""
    person.press("ctrl+3")
    focus(person, "Find a plant")
    for number, plant in enumerate(plants, start=1):
        for digit in str(plant):
            person.press(digit)
        person.press("Return")
        assert len(person.see().chosen) == number, f"{plant} was not chosen"


def pick(person: Person, plant: int, title: str) -> None:
    """Pick the protocol of a chosen plant by its first letters, as in any list."""
    for _ in range(len(title)):
        if f"{plant} {title}" in person.see().chosen:
            return
        focus(person, f"Protocol for {plant}")
        person.press(title[0].lower())
    raise AssertionError(f"{title} could not be picked for {plant}: {person.see().chosen}")


def plan(person: Person) -> None:
    """Open the page before the start."""
    focus(person, "Before you start")
    person.press("space")
    assert person.see().page == "BeforePage"


def begin(person: Person) -> None:
    """Start the session: bench mode fills the screen."""
    focus(person, "Begin at the bench")
    person.press("space")
    assert person.see().bench


def work(person: Person, looked: Callable[[Seen], None] = lambda _seen: None) -> int:
    """Do as the bench says until the session is over; returns the presses made. `looked` sees each instruction."""
    presses = 0
    for _ in range(10 * MOST_PRESSES):
        seen = person.see()
        if not seen.bench:
            return presses
        looked(seen)
        if seen.wait_s:
            person.wait(seen.wait_s, seen.must)
        if seen.key and not (seen.must and person.see() != seen):
            for key in (*seen.number, seen.key):
                person.press(key)
                presses += 1
        assert presses < MOST_PRESSES, f"no end to the session: {seen.asks}"
    raise AssertionError("the session did not come to its end")
