"""Water and feed after a root disinfection: the plain-water hold, and half-strength feed when it ends.

The newest root disinfection sets the hold: a second one extends it. Its care day is day 0 and feed may resume on day
`plain_water_days`. A hold cannot be put off; declining it, with a reason, ends it early. Half feed is owed from the
day the hold ends (or was declined) and ends with the first feed poured on or after that day; it lapses like a look.
Feed poured during the hold does not end anything: the hold tells of it.
"""

from __future__ import annotations

from datetime import date, timedelta

from greenhouse_desk.domain.care_asked import Asked, pairs
from greenhouse_desk.domain.care_reasons import answer_reason, conclusion, entry_words, figure, on, told
from greenhouse_desk.domain.care_settled import Window, over, owe
from greenhouse_desk.domain.care_values import Care, CareKind, Reason
from greenhouse_desk.domain.figures import Constant
from greenhouse_desk.domain.journal import Entry, Poured, Purpose, Reply, Treated

HALF_FEED_DAYS = Constant(7, "days", "how long the first feed after plain water may wait", "house rule")


def plain_water(ask: Asked) -> tuple[Care, ...]:
    """The hold, while it runs."""
    last = _last_disinfection(ask)
    if last is None or ask.today >= (resumes := _resumes(ask, last)) or _declined_on(ask, last) is not None:
        return ()
    why = (*_reasons(ask, last, resumes), *_fed_meanwhile(ask, last),
           conclusion(f"Plain low-salt water, never softened, and no feed until {on(resumes, ask)}."))
    return (Care(ask.plant.number, CareKind.PLAIN_WATER,
                 "Plain low-salt water only, no feed: bare roots burn, and what makes feed usable was killed too",
                 "plain water", ask.day(last.at), resumes, None, why, last.id, hold=True, place=ask.plant.place),)


def half_feed(ask: Asked) -> tuple[Care, ...]:
    """Half-strength feed once the hold has ended."""
    last = _last_disinfection(ask)
    if last is None:
        return ()
    resumes = _declined_on(ask, last) or _resumes(ask, last)
    if any(facts.feed and ask.day(entry.at) >= resumes for entry, facts in pairs(ask.of(Poured), Poured)):
        return ()
    what = "Resume feed, at half strength first"
    window = Window(resumes, resumes, resumes + timedelta(days=HALF_FEED_DAYS.value))
    if over(ask, CareKind.HALF_FEED, window, last):
        return ()
    why = (*_reasons(ask, last, _resumes(ask, last)), *_ended_early(ask, last),
           Reason("After a stretch of plain water the first feed is given at half strength.", "common practice"))
    return owe(ask, CareKind.HALF_FEED, what, "half feed", window, why, last, lapses=True)


def _last_disinfection(ask: Asked) -> Entry | None:
    found = [entry for entry, facts in pairs(ask.of(Treated), Treated) if facts.purpose is Purpose.ROOT_DISINFECTION]
    return found[-1] if found and ask.rules.plain_water_days else None


def _resumes(ask: Asked, last: Entry) -> date:
    return ask.day(last.at) + timedelta(days=ask.rules.plain_water_days)


def _declined_on(ask: Asked, last: Entry) -> date | None:
    """The day the grower ended the hold early."""
    said = [ask.day(entry.at) for entry, answer in ask.answers(CareKind.PLAIN_WATER, last.id, 0)
            if answer.reply is Reply.DECLINED]
    return said[0] if said else None


def _ended_early(ask: Asked, last: Entry) -> tuple[Reason, ...]:
    return tuple(answer_reason(ask, entry, answer) for entry, answer in ask.answers(CareKind.PLAIN_WATER, last.id, 0)
                 if answer.reply is Reply.DECLINED)


def _reasons(ask: Asked, last: Entry, resumes: date) -> tuple[Reason, ...]:
    days = ask.rules.plain_water_days
    earlier = [entry for entry, facts in pairs(ask.of(Treated), Treated)
               if facts.purpose is Purpose.ROOT_DISINFECTION and ask.day(entry.at) < ask.day(last.at) < resumes
               and ask.day(entry.at) + timedelta(days=days) > ask.day(last.at)]
    extended = tuple(conclusion(f"It extends the hold from {on(ask.day(entry.at), ask)}, which would have ended on "
                                f"{on(ask.day(entry.at) + timedelta(days=days), ask)}.") for entry in earlier[-1:])
    rule = figure(ask, "plain_water_days", f"Plain water for {days} days after it; that day is day 0, so feed may "
                                           f"resume on {on(resumes, ask)}.")
    return (*told(ask, last, entry_words(ask, last)), *extended, rule)


def _fed_meanwhile(ask: Asked, last: Entry) -> tuple[Reason, ...]:
    fed = [entry for entry, facts in pairs(ask.of(Poured), Poured) if facts.feed and entry.at > last.at]
    return tuple(Reason(f"Feed was poured on {on(ask.day(entry.at), ask)} although the hold ran: go on with plain "
                        "water.", f"journal entry {entry.id}") for entry in fed[-1:])
