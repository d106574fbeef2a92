"""Looks of one plant that are to be moved together, and what the look after them becomes."""

from __future__ import annotations

from collections.abc import Sequence
from datetime import date, datetime

from greenhouse_desk.domain.care_day import day_words
from greenhouse_desk.domain.care_values import Care, Moment
from greenhouse_desk.domain.sentences import capital


def due_together(looks: Sequence[Care], today: date) -> tuple[Care, ...]:
    """The looks due on the same day as the soonest one; those that are late are due today."""
    days = [shown_on(look, today) for look in looks]
    return tuple(look for look, day in zip(looks, days, strict=True) if day == min(days))


def shown_on(look: Care, today: date) -> date:
    """The day a look stands on: its own, today where it is late."""
    return max(_day(look.due), today)


def earliest(looks: Sequence[Care]) -> date:
    """The first day all of these looks may be moved to; one that was put off may go back to where it came from."""
    return max(_day(look.opens) if look.put_off is None else min(look.put_off.was, _day(look.opens)) for look in looks)


def named(looks: Sequence[Care]) -> str:
    """"root check and look again"."""
    return " and ".join(dict.fromkeys(look.short for look in looks))


def after_moving(looks: Sequence[Care], moved: Sequence[Care], to: date, today: date) -> str:
    """What becomes of the look after those moved to the day `to`, in one sentence, "" where there is none.

    A look that is open by the time another one is taken is ended by it: `care_checks` has the rule.
    """
    after = min((look for look in looks if look not in moved), key=lambda look: _day(look.due), default=None)
    if after is None:
        return ""
    due = _day(after.due)
    told = f"the {after.short} due {day_words(due, today)}"
    if due < to:
        return f"{capital(told)} then comes first."
    if _day(after.opens) <= to:
        return f"Taken then, it counts as {told} too."
    return f"{capital(told)} stays."


def _day(moment: Moment) -> date:
    """Looks are due on care days; an instant counts as its own date."""
    return moment.date() if isinstance(moment, datetime) else moment
