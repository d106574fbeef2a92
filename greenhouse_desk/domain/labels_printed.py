"""Whether a label in its pot still says what is so: what the last one said, against what one would say now."""

from __future__ import annotations

from collections.abc import Iterable, Sequence

from greenhouse_desk.domain.journal import Entry
from greenhouse_desk.domain.journal_labels import Labelled
from greenhouse_desk.domain.labels import Layout, Told, What

TOLD = (What.NAME, What.ISOLATION, What.DATE, What.SOURCE, What.MEDIUM, What.PARENTAGE)
"""What may change on a label; its number and code never do, and free lines are no facts of the plant."""


def labelled(layout: Layout, told: Told) -> Labelled:
    """What the journal keeps of a printed label."""
    there = {box.what for box in layout.boxes}
    shows = tuple(what.value for what in TOLD if what in there)
    return Labelled(layout.title, shows, says(told, shows))


def says(told: Told, shows: Sequence[str]) -> tuple[str, ...]:
    """What a label that shows these things says of a plant, one line each; what is not known is left out."""
    words = {
        What.NAME: told.name.typed, What.ISOLATION: "stands apart" if told.isolation else "",
        What.DATE: told.dates[0] if told.dates else "", What.SOURCE: told.source, What.MEDIUM: told.medium,
        What.PARENTAGE: told.name.typed}
    return tuple(f"{what.value}: {words[what]}" for what in TOLD if what.value in shows and words[what])


def changed(told: Told, entries: Iterable[Entry]) -> bool:
    """Whether the plant's newest label (entries oldest first) says something else than is so now, or there is none."""
    printed = [entry.facts for entry in entries if isinstance(entry.facts, Labelled)]
    return not printed or printed[-1].says != says(told, printed[-1].shows)
