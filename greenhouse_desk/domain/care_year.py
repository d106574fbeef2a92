"""What a plant's year owes: water held back in a dry rest, and the months in which it is best repotted.

- A dry rest runs through the months its genus rests dry, unless the grower wrote that its rest ended; where the grower
  wrote that a dry rest began, from that day, whatever the genus and the house rule, which is only asked of what a
  genus usually does. It is a hold: it asks for no hands and never rings.
- It is not asked of a plant that was potted lately: its roots cannot bear it; nor of one in spike.
- The repotting window is told some weeks before its months, for a plant that has stood in its medium long enough. It is
  open for whole months, lies under "later" until its last week, and is gone when the months are over.
- Nothing is told of one in spike or flower, nor of one whose move to another medium is under way.
"""

from __future__ import annotations

from collections.abc import Iterable, Iterator
from dataclasses import replace
from datetime import date, timedelta

from greenhouse_desk.domain.care_asked import Asked, in_time
from greenhouse_desk.domain.care_day import MONTHS
from greenhouse_desk.domain.care_reasons import answer_reason, conclusion, figure, on
from greenhouse_desk.domain.care_settled import Window
from greenhouse_desk.domain.care_values import Care, CareKind, Reason
from greenhouse_desk.domain.figures import Constant
from greenhouse_desk.domain.journal import Arrived, Entry, Potted, Reply
from greenhouse_desk.domain.journal_year import Flowering, Phase, Resting
from greenhouse_desk.domain.sentences import capital
from greenhouse_desk.domain.year import GenusYear
from greenhouse_desk.domain.year_state import RESTS, Standing, standing

REST_WHAT = ("Dry rest: no feed, and only so much water that the bulbs do not shrivel; shrivelling bulbs ask for water "
             "whatever the month")
REPOT_WHAT = "Its months to be repotted: best when new roots start"
DAYS_A_MONTH = Constant(30.44, "days", "a month, where months in a medium are counted", "derived here")
TOLD_AHEAD = Constant(60, "days", "how long before its months a repotting window is told at the earliest", "house rule")
BEGINS_EARLY = Constant(60, "days", "how long before its genus's months a rest that begins is taken as theirs",
                        "house rule")
KINDS_DIFFER = "Kinds of one genus differ: decline it, with a reason, where this plant rests otherwise."
NOT_FIRM = ("Until you write that its rest began, a sitter's sheet says of it that others ask you before they water; "
            "your own year of the genus, on the House page, counts as your word too.")


def dry_rest(ask: Asked) -> tuple[Care, ...]:
    """The hold of water and feed, while it runs."""
    state = standing(ask.of(Flowering, Resting), ask.now)
    if (state.spike is not None and state.spike.so) or _potted_lately(ask):
        return ()
    if state.rest is not None and state.rest.so:
        return _begun(ask, state) if state.dry else ()
    return _usual_rest(ask) if ask.rules.dry_rest_told else ()


def dry_rests(ask: Asked, days: Iterable[date]) -> Iterator[tuple[date, Care]]:
    """Each of these days, today or later, with the dry rest held on it if nothing more is written down until then."""
    for day in days:
        yield from ((day, care) for care in dry_rest(replace(ask, now=ask.now + (day - ask.today), today=day)))


def _begun(ask: Asked, state: Standing) -> tuple[Care, ...]:
    """The rest that the grower wrote down, to the end of its genus's months or as long as such an entry counts."""
    assert state.rest is not None
    start = ask.day(state.rest.at)
    first = Reason(f"On {on(start, ask)} you wrote that a dry rest begins.", state.rest.source)
    end, until = _until(start, _year(ask), ask.south)
    return _hold(ask, (first, until), start, end, state.rest.entry, 0)


def _until(start: date, year: GenusYear | None, south: bool) -> tuple[date, Reason]:
    """The last day of a rest written down, and why: that of its genus's months where it began in them or not long
    before, but never later than such an entry counts."""
    counts = start + timedelta(days=RESTS.value)
    months = None if year is None or year.rest is None else year.rest.local(south)
    if months is None or year is None:
        return counts, _at_most("No rest of its genus is known")
    begins, ends = months.around(start)
    usual = capital(f"{year.who} usually rests {months.words}")
    if (begins - start).days > BEGINS_EARLY.value:
        return counts, _at_most(f"{usual}, and this one began out of those months")
    return (ends, Reason(f"{usual}.", year.source)) if ends <= counts else (counts, _at_most(usual))


def _at_most(words: str) -> Reason:
    return Reason(f"{words}: it is held for {RESTS.value:g} days at the most, or until you write that it ended.",
                  RESTS.source)


def _usual_rest(ask: Asked) -> tuple[Care, ...]:
    """The rest that its genus usually takes, unless the grower wrote that it ended."""
    year, origin = _year(ask), _first(ask)
    if year is None or year.rest is None or not year.dry or origin is None:
        return ()
    stretch = year.rest.local(ask.south)
    start, end = stretch.around(ask.today)
    ended = [entry for entry in ask.of(Resting) if isinstance(entry.facts, Resting)
             and entry.facts.phase is Phase.ENDS and start <= ask.day(entry.at)]
    if not start <= ask.today <= end or ended:
        return ()
    why = (*_reasons(ask, year, capital(f"{year.who} usually rests dry {stretch.words}.")),
           Reason("In its rest it makes no roots that could take water up; in cold or dim weeks it rots what stands "
                  "wet.", "from memory"), *(() if year.finer else (Reason(KINDS_DIFFER, "from memory"),)))
    usual = year.genus not in ask.years.own
    if usual:
        why = (*why, Reason(NOT_FIRM, "house rule"))
    return tuple(replace(care, usual=usual) for care in _hold(ask, why, start, end, origin.id, start.year))


def _hold(ask: Asked, why: tuple[Reason, ...], start: date, end: date, origin: int, nth: int) -> tuple[Care, ...]:
    answers = ask.answers(CareKind.DRY_REST, origin, nth)
    if end < ask.today or any(answer.reply is Reply.DECLINED for _, answer in answers):
        return ()
    last = conclusion(f"Kept dry until {on(end, ask)}, or until you write that its rest ended.")
    return (Care(ask.plant.number, CareKind.DRY_REST, REST_WHAT, "dry rest", start, end, None, (*why, last), origin,
                 nth, hold=True, place=ask.plant.place),)


def repot_window(ask: Asked) -> tuple[Care, ...]:
    """The months in which the plant is best repotted, once it has stood long enough in its medium."""
    origin, months = _stands_since(ask), ask.rules.repot_after_months
    if not months or origin is None:
        return ()
    since, told = ask.day(origin.at), ask.today + timedelta(days=TOLD_AHEAD.value)
    year = _year(ask) if _months(since, told) >= months else None  # looked up for few: it is asked for every plant
    state = standing(ask.of(Flowering, Resting), ask.now)
    if year is None or year.repot is None or (state.spike is not None and state.spike.so):
        return ()
    start, end = year.repot.local(ask.south).around(ask.today)
    if start > told or _months(since, start) < months:
        return ()
    why = (*_reasons(ask, year, capital(f"{year.who} is best repotted {year.repot.local(ask.south).words}.")),
           Reason(f"It stands in {ask.plant.medium or 'its medium'} since {on(since, ask)}, as far as is written down.",
                  f"journal entry {origin.id}"),
           figure(ask, "repot_after_months", f"A window is told once it has stood there {months} months."))
    return _window(ask, Window(start, start, end), why, origin)


def _months(first: date, last: date) -> float:
    return (last - first).days / DAYS_A_MONTH.value


def _window(ask: Asked, window: Window, why: tuple[Reason, ...], origin: Entry) -> tuple[Care, ...]:
    nth, last = window.opens.year, window.latest
    for entry, answer in ask.answers(CareKind.REPOT_WINDOW, origin.id, nth):
        if answer.reply in (Reply.DONE, Reply.DECLINED):
            return ()
        why = (*why, answer_reason(ask, entry, answer))
        if answer.reply is Reply.PUT_OFF and answer.until is not None:
            window = Window(answer.until, answer.until, max(answer.until, last))
    if window.latest < ask.today:
        return ()
    said = f"Open from {on(window.opens, ask)} to the end of {MONTHS[window.latest.month - 1]}; any day of it will do."
    return (Care(ask.plant.number, CareKind.REPOT_WINDOW, REPOT_WHAT, "repot window", window.opens, window.due,
                 window.latest, (*why, conclusion(said)), origin.id, nth, place=ask.plant.place),)


def _reasons(ask: Asked, year: GenusYear, first: str) -> tuple[Reason, ...]:
    south = (Reason("Your home lies south of the equator: its months are half a year later than in the north.",
                    "derived here"),) if ask.south else ()
    return (Reason(first, year.source), *south, *((Reason(year.note, year.source),) if year.note else ()))


def _year(ask: Asked) -> GenusYear | None:
    return ask.years.of_plant(ask.plant.number, ask.plant.name, ask.genera)


def _first(ask: Asked) -> Entry | None:
    """The entry a rest by the months of its genus hangs on: how the plant came, else its first potting."""
    return next(iter((*ask.of(Arrived), *ask.of(Potted))), None)


def _stands_since(ask: Asked) -> Entry | None:
    """The potting it stands in, or how it came where that day is not known."""
    pots = [entry for entry in ask.of(Potted) if isinstance(entry.facts, Potted) and entry.facts.day_known]
    came = [entry for entry in ask.of(Arrived) if isinstance(entry.facts, Arrived) and entry.facts.day_known]
    return max((*pots[-1:], *came[:1]), key=in_time, default=None)


def _potted_lately(ask: Asked) -> bool:
    """Whether its roots are too new for a rest: within the weeks in which repotted roots are looked at."""
    pots = [entry for entry in ask.of(Potted) if isinstance(entry.facts, Potted) and entry.facts.day_known]
    return bool(pots) and ask.day(pots[-1].at) + timedelta(days=max(ask.rules.root_check_days)) >= ask.today
