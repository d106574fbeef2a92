"""Moving air on a wetted crown or wetted leaves until a "dry" entry: the span, the limit, and blotting a pool first.

The airing begins with the first wetting after the last "dry" entry and only another such entry ends it (or a declined
answer, with its reason); no estimate does, and it cannot be put off. The newest wetting names it and starts the
estimate, since drying starts again; the limit is that of the first one, so that a crown wet through a night stays late.
"""

from __future__ import annotations

import math
from datetime import datetime, timedelta

from greenhouse_desk.domain import airflow
from greenhouse_desk.domain.care_asked import Asked, in_time, pairs
from greenhouse_desk.domain.care_day import clock_words
from greenhouse_desk.domain.care_reasons import answer_reason, conclusion, entry_words, on, told
from greenhouse_desk.domain.care_values import Care, CareKind, Drying, Reason
from greenhouse_desk.domain.journal import Aired, Blotted, Dry, Entry, Part, Reply, Wetted
from greenhouse_desk.domain.plants import Air

LEAF_PARTS = {Part.CROWN, Part.LEAVES, Part.PLANT}
CROWN_PARTS = {Part.CROWN, Part.PLANT}


def airing(ask: Asked) -> tuple[Care, ...]:
    """The open airing of a plant; none or one."""
    wet = _wet(ask)
    if not wet:
        return ()
    said = ask.answers(CareKind.AIR, wet[-1].id, 0)
    if any(answer.reply is Reply.DECLINED for _, answer in said):
        return ()
    drying, air = _drying(ask, wet)
    due = max(drying.limit or drying.wet_since, drying.wet_since)
    subject = "crown and axils are" if _crown(wet) else "the leaves are"
    what = f"Moving air on it until {subject} dry"
    if drying.pool:
        what = f"Blot the crown first: no fan dries a pool before night. Then moving air until {subject} dry"
    missed = [entry.at for entry, answer in said if answer.reply is Reply.MISSED]
    why = (*_entries(ask, wet, drying), *_estimate(ask, drying, air),
           *(answer_reason(ask, entry, answer) for entry, answer in said), _conclusion(ask, drying, wet[0].at))
    return (Care(ask.plant.number, CareKind.AIR, what, "crown dry" if _crown(wet) else "leaves dry", drying.wet_since,
                 due, due, why, wet[-1].id, drying=drying, place=ask.plant.place,
                 missed=missed[-1] if missed else None),)


def _wet(ask: Asked) -> list[Entry]:
    """Wettings of leaves or crown since the last "dry" entry, oldest first."""
    dry = ask.of(Dry)
    return [entry for entry, facts in pairs(ask.of(Wetted), Wetted)
            if LEAF_PARTS & set(facts.parts) and (not dry or in_time(entry) > in_time(dry[-1]))]


def _crown(wet: list[Entry]) -> bool:
    return any(CROWN_PARTS & set(facts.parts) or facts.pool for _, facts in pairs(wet, Wetted))


def _drying(ask: Asked, wet: list[Entry]) -> tuple[Drying, Air | None]:
    """The airing in figures, and the air its estimate rests on (None: no reading that can be used)."""
    blotted, aired = _after(ask, Blotted, wet), _after(ask, Aired, wet)
    pools = [entry for entry, facts in pairs(wet, Wetted) if facts.pool]
    pool = bool(pools) and not (blotted and in_time(blotted[-1]) > in_time(pools[-1]))
    since = wet[-1].at
    air = airflow.fresh(ask.around.air, since, ask.rules)
    if air is not None and aired and air.at < aired[-1].at:
        air = airflow.with_fan(air)
    span = airflow.drying_span(air, pool)
    limit, name = airflow.limit(ask.around, wet[0].at, ask.rules)
    return Drying(since, _later(since, span.low), _later(since, span.high), limit, name, pool, bool(aired)), air


def _after(ask: Asked, kind: type[Blotted] | type[Aired], wet: list[Entry]) -> list[Entry]:
    return [entry for entry in ask.of(kind) if in_time(entry) > in_time(wet[0])]


def _later(since: datetime, hours: float) -> datetime | None:
    return None if math.isinf(hours) else since + timedelta(hours=hours)


def _entries(ask: Asked, wet: list[Entry], drying: Drying) -> tuple[Reason, ...]:
    """What the journal tells: the wettings, and what was done about them."""
    reasons = [*told(ask, wet[-1], entry_words(wet[-1]))]
    if len(wet) > 1:
        first = f"{on(ask.day(wet[0].at), ask)} {clock_words(wet[0].at, ask.zone)}"
        reasons.append(Reason(f"It has been wet since {first}; no \"dry\" entry lies between.",
                              f"journal entry {wet[0].id}"))
    for kind, words in ((Blotted, "blotted: no pool stands any more"), (Aired, "moving air put on")):
        reasons += [reason for entry in _after(ask, kind, wet)[-1:] for reason in told(ask, entry, words)]
    if drying.pool:
        reasons.append(Reason("Water stands in the crown. A pool of 3 mm takes more than a day even with a fan: blot "
                              "it first.", airflow.DERIVED))
    return tuple(reasons)


def _estimate(ask: Asked, drying: Drying, air: Air | None) -> tuple[Reason, ...]:
    low, high = ((None if end is None else (end - drying.wet_since).total_seconds() / 3600.0)
                 for end in (drying.earliest, drying.latest))
    span = airflow.Span(math.inf if low is None else low, math.inf if high is None else high)
    reading = airflow.air_reason(ask.around.air, None if air is None else ask.around.air, ask.zone)
    fan: tuple[Reason, ...] = ()
    if air is not None and air != ask.around.air:
        fan = (Reason(f"Moving air was put on after that reading: {airflow.FAN_M_S:g} m/s is taken, the slower end "
                      "of a fan.", "from memory"),)
    return (reading, *fan, airflow.span_reason(span),
            airflow.limit_reason(ask.around, drying.limit, drying.limit_name, ask.rules))


def _conclusion(ask: Asked, drying: Drying, first: datetime) -> Reason:
    by = "" if drying.limit is None else clock_words(drying.limit, ask.zone)
    end = "Only a \"crown dry\" entry ends this, no estimate does."
    if drying.limit is not None and first >= drying.limit:
        return conclusion(f"Night had fallen ({drying.limit_name} {by}) before it was wet: blot it and keep air "
                          f"moving until it is dry. {end}")
    if drying.limit is not None and ask.now >= drying.limit:
        return conclusion(f"It is past {drying.limit_name} ({by}) and not yet dry: blot it and keep air moving. {end}")
    if drying.pool:
        return conclusion(f"Blot the crown now, then air until dry, by {by}. {end}")
    if drying.latest is None or (drying.limit is not None and drying.latest > drying.limit):
        return conclusion(f"It may still be wet at {by} in this air: blot it and move more air. {end}")
    return conclusion(f"Likely dry between {clock_words(drying.earliest or drying.latest, ask.zone)} and "
                      f"{clock_words(drying.latest, ask.zone)}, before {by}. {end}")


