"""Moving air on a wetted crown or wetted leaves until a "dry" entry: the span, the limit, and blotting a pool first.

The airing begins with the first wetting after the last "dry" entry and only another such entry ends it (or a declined
answer, with its reason); no estimate does, and it cannot be put off. The newest wetting names it and starts the
estimate, since drying starts again; the limit is that of the first one, so that a crown wet through a night stays late.
"""

from __future__ import annotations

import math
from datetime import datetime

from greenhouse_desk.domain import airflow
from greenhouse_desk.domain.care_asked import Asked, in_time, pairs
from greenhouse_desk.domain.care_day import clock_words, time_words
from greenhouse_desk.domain.care_open import agents_on
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
    drying, estimate = _drying(ask, wet)
    due = max(drying.limit or drying.wet_since, drying.wet_since)
    subject = "crown and axils are" if _crown(wet) else "the leaves are"
    what = f"Moving air on it until {subject} dry"
    if drying.pool:
        what = f"Blot the crown first: a pool takes far longer than a film. Then moving air until {subject} dry"
    if agents_on(ask):
        what = f"Rinse off the agent first. {what}"
    missed = [entry.at for entry, answer in said if answer.reply is Reply.MISSED]
    why = (*_entries(ask, wet, drying), *estimate,
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


def _drying(ask: Asked, wet: list[Entry]) -> tuple[Drying, tuple[Reason, ...]]:
    """The airing in figures, and the reasoning behind its estimate: what is known now about water and air."""
    since, layer = _water(ask, wet)
    aired = _after(ask, Aired, wet)
    air = airflow.fresh(ask.around.air, wet[-1].at, ask.rules)
    fan_at = aired[0].at if aired and not _moves_as_read(air, aired[-1].at) else None
    fan = fan_at is not None
    before, after = airflow.drying_span(air, layer), airflow.drying_span(air, layer, fan)
    low = airflow.dry_at(since, before.low, fan_at, after.low)
    high = airflow.dry_at(since, before.high, fan_at, after.high)
    limit, name = airflow.limit(ask.around, wet[0].at, ask.rules)
    found = airflow.helps(air, layer, fan)
    pool = layer == airflow.POOL
    gain = next((one.gain_hours for one in found if one.what == (airflow.BLOT if pool else airflow.FAN)), 0.0)
    why = (*airflow.estimate_reasons(ask.around.air, air, ask.zone, ask.now, layer, fan), *_fan(fan_at, since, ask),
           airflow.span_reason(airflow.Span(_hours(since, low), _hours(since, high))),
           airflow.limit_reason(ask.around, limit, name, ask.rules, ask.now), *airflow.home_reasons(ask.around),
           *airflow.help_reasons(found))
    return Drying(wet[-1].at, low, high, limit, name, pool, bool(aired), gain, bool(agents_on(ask))), why


def _moves_as_read(air: Air | None, fan_at: datetime) -> bool:
    """Whether a reading since the fan came on tells itself how the air moves; one of warmth and damp alone does not."""
    return air is not None and air.at >= fan_at and (air.air_speed_m_s is not None or air.moving is not None)


def _water(ask: Asked, wet: list[Entry]) -> tuple[datetime, airflow.Span]:
    """How thick the water lies, mm, and since when it has dried so: a pool, a film, or what blotting left."""
    blotted = _after(ask, Blotted, wet)
    pools = [entry for entry, facts in pairs(wet, Wetted) if facts.pool]
    if pools and not (blotted and in_time(blotted[-1]) > in_time(pools[-1])):
        return wet[-1].at, airflow.POOL
    if blotted and in_time(blotted[-1]) > in_time(wet[-1]):
        return blotted[-1].at, airflow.BLOTTED
    return wet[-1].at, airflow.FILM


def _after(ask: Asked, kind: type[Blotted] | type[Aired], wet: list[Entry]) -> list[Entry]:
    return [entry for entry in ask.of(kind) if in_time(entry) > in_time(wet[0])]


def _hours(since: datetime, end: datetime | None) -> float:
    return math.inf if end is None else (end - since).total_seconds() / 3600.0


def _fan(fan_at: datetime | None, since: datetime, ask: Asked) -> tuple[Reason, ...]:
    """That the fan came on some time after the wetting: until then the air was as read."""
    if fan_at is None or fan_at <= since:
        return ()
    return (Reason(f"The fan came on at {time_words(fan_at, ask.now, ask.zone)}; until then the air is taken as read, "
                   "and the fan dries what was left.", airflow.SAME),)


def _entries(ask: Asked, wet: list[Entry], drying: Drying) -> tuple[Reason, ...]:
    """What the journal tells: the wettings, and what was done about them."""
    reasons = [*told(ask, wet[-1], entry_words(ask, wet[-1]))]
    if len(wet) > 1:
        first = f"{on(ask.day(wet[0].at), ask)} {clock_words(wet[0].at, ask.zone)}"
        reasons.append(Reason(f"It has been wet since {first}; no \"dry\" entry lies between.",
                              f"journal entry {wet[0].id}"))
    for kind, words in ((Blotted, "blotted: no pool stands any more"), (Aired, "moving air put on")):
        reasons += [reason for entry in _after(ask, kind, wet)[-1:] for reason in told(ask, entry, words)]
    return tuple(reasons)


def _conclusion(ask: Asked, drying: Drying, first: datetime) -> Reason:
    by = "" if drying.limit is None else time_words(drying.limit, ask.now, ask.zone)
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
    return conclusion(f"Likely dry between {time_words(drying.earliest or drying.latest, ask.now, ask.zone)} and "
                      f"{time_words(drying.latest, ask.now, ask.zone)}, before {by}. {end}")
