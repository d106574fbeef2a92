"""The timeline in words: when something was, what a mark stands for, and what stretch of time is in view."""

from __future__ import annotations

from datetime import datetime

from greenhouse_desk.domain import timeline_dusk
from greenhouse_desk.domain.timeline_values import DAY, HOUR, Box, Item, Row, View
from greenhouse_desk.services.timeline import Head
from greenhouse_desk.ui import words
from greenhouse_desk.ui.timeline.lanes import Lanes

KEYS = ("Left and Right go along the time, Page Up and Page Down by a whole view, Plus and Minus zoom, Home goes to "
        "now, Up and Down choose a plant, Tab goes through the marks of its lane, Return opens one, Escape lets it go.")


def moment(at: datetime, today: datetime) -> str:
    """ "18 Nov 15:30", with the year when it is another than today's."""
    return f"{words.day(at.date(), today.date())} {at.hour}:{at.minute:02d}"


def when(item: Item, lanes: Lanes, ahead: bool) -> str:
    """When it was, or when it falls due with the window there is for it."""
    today = lanes.local(lanes.now)
    if not ahead:
        return moment(lanes.local(item.at), today)
    due = words.day(lanes.local(item.at).date(), today.date())
    ends = [words.day(lanes.local(at).date(), today.date()) for at in (item.opens, item.latest)]
    return f"due {due}" if ends[0] == ends[1] else f"due {due}, from {ends[0]} to {ends[1]}"


def box(of: Box, lanes: Lanes) -> str:
    """A mark or group in words."""
    if of.count == 1:
        return f"{when(of.item, lanes, of.ahead)}: {of.told}"
    today = lanes.local(lanes.now)
    first, last = moment(lanes.local(of.start), today), moment(lanes.local(of.end), today)
    return f"{first}: {of.told}" if first == last else f"{of.told}, {first} to {last}"


def head(of: Head) -> str:
    """A lane's plant in words."""
    where = "left the collection" if of.left else of.place
    return ", ".join(filter(None, (f"{of.number} {of.name.plain}", where)))


def row(of: Row, lanes: Lanes) -> str:
    """What a lane shows, in words."""
    counted = words.counted(sum(one.count for one in of.boxes), "entry", "entries")
    return f"{counted} in view, {of.earlier} earlier, {of.later} later"


def stretch(view: View, lanes: Lanes) -> str:
    """ "15 Feb to 1 Dec 2026": the stretch of time in view."""
    first, last = lanes.local(view.start), lanes.local(view.end)
    if view.end - view.start < 2 * DAY:
        until = f"{last.hour}:{last.minute:02d}" if first.date() == last.date() else moment(last, first)
        return f"{words.weekday(first.date())} {first.year}, {first.hour}:{first.minute:02d} to {until}"
    return f"{words.day(first.date(), last.date())} to {words.day(last.date())} {last.year}"


def nights(view: View, lanes: Lanes) -> str:
    """ "Dusk 18:05." where the view is near enough to show it, else nothing."""
    if lanes.home is None:
        return ""
    found = [one.words for one in timeline_dusk.nights(view, lanes.home, lanes.home_set, lanes.zone)
             if view.start <= one.start <= view.end]
    return f" {', '.join(found).capitalize()}." if found else ""


SPANS: dict[str, tuple[float, float]] = {
    "Ten years": (8.5 * 365.25 * DAY, 1.5 * 365.25 * DAY), "Year": (280 * DAY, 85 * DAY), "Month": (22 * DAY, 8 * DAY),
    "Evening": (3.5 * HOUR, 6.5 * HOUR)}
"""What the zooms show: so much before now, and so much after it: an evening reaches past dusk."""
