"""Whose turn it is: care grouped by when it needs hands, and the order of need inside a group.

A care window has a day it is due and a last day. A short window asks for its due day; a long one may wait until its
last day, so that "today" means hands today and not "some day until the 1st". What stands open and harms while it
waits (a wet crown, bare roots, an open cut) comes before everything, late or not; holds ask for no hands.
"""

from __future__ import annotations

from collections.abc import Iterable
from datetime import date, datetime, timedelta, tzinfo
from enum import StrEnum

from greenhouse_desk.domain.care_day import day_of, when
from greenhouse_desk.domain.care_values import Care, CareKind
from greenhouse_desk.domain.figures import Constant
from greenhouse_desk.domain.settings import HouseRules

SHORT_WINDOW = Constant(2, "days", "a care window no longer than this is counted on its due day, a longer one on its "
                        "last", "house rule")
NEAR = Constant(2, "h", "a wet crown with no more time left to its limit comes before bare roots and open cuts, one "
                "with more after them", "house rule")
WEEK = Constant(7, "days", "how far \"this week\" reaches from today", "house rule")
OPEN = (CareKind.RINSE, CareKind.AIR, CareKind.POT_UP, CareKind.DRESS_CUT)
"""What stands open until hands close it, worst first: an agent left on, a wet crown near its limit, bare roots, an
undressed cut."""
CALM = (CareKind.REPOT_WINDOW,)
"""What may be done on any day of whole months: it is listed, no bell rings for it, and it is never late."""


class Turn(StrEnum):
    """When care needs hands, in the order it is listed."""

    NOW = "now"
    TODAY = "today"
    TOMORROW = "tomorrow"
    WEEK = "this week"
    LATER = "later"
    HOLD = "hold"


ORDER = tuple(Turn)
HEADINGS = {Turn.NOW: "Now", Turn.TODAY: "Today", Turn.TOMORROW: "Tomorrow", Turn.WEEK: "This week",
            Turn.LATER: "Later", Turn.HOLD: "Holds"}
HELP = {Turn.NOW: "wet, bare, open or late", Turn.WEEK: "any day until the day named",
        Turn.HOLD: "what must not be given"}
TONIGHT = (Turn.NOW, Turn.TODAY)


def counted_on(care: Care, zone: tzinfo, rules: HouseRules) -> date:
    """The care day on which it needs hands: its due day, or its last day where the window is long."""
    due, latest = day_of(care.due, zone, rules), last_day(care, zone, rules)
    return due if (latest - due).days <= SHORT_WINDOW.value else latest


def stands_on(care: Care, zone: tzinfo, rules: HouseRules) -> date:
    """The care day it stands on in a calendar or on paper: its due day, or the last day of what is calm."""
    return last_day(care, zone, rules) if care.kind in CALM else day_of(care.due, zone, rules)


def last_day(care: Care, zone: tzinfo, rules: HouseRules) -> date:
    """The last care day of its window; after it the care is over."""
    return day_of(care.due if care.latest is None else care.latest, zone, rules)


def turn_of(care: Care, now: datetime, zone: tzinfo, rules: HouseRules) -> Turn:
    """The group a care stands in at `now` (aware). Open harm and late care are `NOW`; a wet crown is, whenever its
    limit comes: lamps that go off in the morning do not make it tomorrow's work."""
    today = day_of(now, zone, rules)
    if care.hold:
        return Turn.HOLD
    stands_open = care.drying is not None or (care.kind in OPEN and day_of(care.due, zone, rules) <= today)
    if stands_open or last_day(care, zone, rules) < today:
        return Turn.NOW
    wait = counted_on(care, zone, rules) - today
    if wait <= timedelta(0):
        return Turn.TODAY
    if wait == timedelta(days=1):
        return Turn.TOMORROW
    return Turn.WEEK if wait.days <= WEEK.value else Turn.LATER


def by_need(cares: Iterable[Care], now: datetime, zone: tzinfo, rules: HouseRules) -> tuple[Care, ...]:
    """Cares in the order they need hands at `now` (aware): by turn, in it what stands open first, then the last day."""
    def key(care: Care) -> tuple[int, int, datetime, datetime, int]:
        last = when(care.due if care.latest is None else care.latest, zone, rules)
        turn = ORDER.index(turn_of(care, now, zone, rules))
        return turn, _worst(care, now), last, when(care.due, zone, rules), care.plant

    return tuple(sorted(cares, key=key))


def _worst(care: Care, now: datetime) -> int:
    """The harm of waiting, 0 most: an agent to rinse off, a pool in the crown, a wet crown near or past its limit in
    still air, one in moving air, what else stands open, wet crowns with hours left, then the rest."""
    if care.kind is CareKind.RINSE:
        return 0
    if care.drying is None:
        return 4 + (OPEN.index(care.kind) if care.kind in OPEN else len(OPEN) + 2)
    if care.drying.pool:
        return 1
    limit = care.drying.limit
    near = limit is None or limit - now <= timedelta(hours=NEAR.value)
    return (2 if near else 4 + len(OPEN)) + care.drying.aired
