"""What is owed: care worked out from a plant's journal, its surroundings and the time. No care is ever stored."""

from __future__ import annotations

from collections.abc import Callable, Iterable, Iterator, Mapping
from datetime import date, datetime, tzinfo
from types import MappingProxyType

from greenhouse_desk.domain.airflow import Around
from greenhouse_desk.domain.care_air import airing
from greenhouse_desk.domain.care_asked import NO_GENERA, Asked, asked
from greenhouse_desk.domain.care_checks import crown_checks, cut_checks, protocol_checks, root_checks
from greenhouse_desk.domain.care_courses import course_care
from greenhouse_desk.domain.care_day import care_day, day_of, when
from greenhouse_desk.domain.care_open import dress_cuts, pot_up, rinse_off
from greenhouse_desk.domain.care_pests import against_pests
from greenhouse_desk.domain.care_turns import CALM, TONIGHT, Turn, by_need, stands_on, turn_of
from greenhouse_desk.domain.care_values import Care, CareKind, Drying, Moment, PutOff, Reason
from greenhouse_desk.domain.care_water import half_feed, plain_water
from greenhouse_desk.domain.care_words import CareWords, put_off_words, words
from greenhouse_desk.domain.care_year import dry_rest, dry_rests, repot_window
from greenhouse_desk.domain.names_genera import Genera
from greenhouse_desk.domain.pests import Pest
from greenhouse_desk.domain.pests_climate import Climate
from greenhouse_desk.domain.plants import History
from greenhouse_desk.domain.settings import HouseRules
from greenhouse_desk.domain.year import NO_YEARS, Years

__all__ = ["CALM", "RULES", "TONIGHT", "Around", "Care", "CareKind", "CareWords", "Drying", "Moment", "PutOff",
           "Reason", "Turn", "by_need", "care_day", "day_of", "owed", "put_off_words", "rests_ahead", "soonest",
           "stands_on", "turn_of", "when", "words"]

Rule = Callable[[Asked], tuple[Care, ...]]
RULES: tuple[Rule, ...] = (rinse_off, airing, dress_cuts, pot_up, against_pests, plain_water, half_feed,
                           crown_checks, cut_checks, root_checks, protocol_checks, course_care,
                           dry_rest, repot_window)
"""Every rule of care. A new one is a function from what is asked to what it finds owed, named here."""
NO_PESTS: Mapping[str, Pest] = MappingProxyType({})


def owed(history: History, around: Around, rules: HouseRules, now: datetime, zone: tzinfo,
         pests: Mapping[str, Pest] = NO_PESTS, climate: Climate | None = None,
         agents: Mapping[str, str] | None = None, genera: Genera = NO_GENERA,
         years: Years = NO_YEARS) -> tuple[Care, ...]:
    """Everything owed to one plant at `now` (aware), soonest first; nothing to a plant that has left.

    `pests` are the known ones by key; with the temperatures of `climate` they say when a wash is repeated.
    `agents` are the agents' names by key, for the reasons; `genera` the genera behind short forms, `years` the
    year of each genus.
    """
    if history.plant.left is not None:
        return ()
    ask = asked(history, around, rules, now, zone, pests, climate, agents, genera, years)
    return soonest((care for rule in RULES for care in rule(ask)), zone, rules)


def rests_ahead(history: History, around: Around, rules: HouseRules, now: datetime, zone: tzinfo, days: Iterable[date],
                genera: Genera = NO_GENERA, years: Years = NO_YEARS) -> Iterator[tuple[date, Care]]:
    """The dry rests of one plant on each of `days`, today or later, as far as its journal tells at `now` (aware)."""
    ask = asked(history, around, rules, now, zone, NO_PESTS, genera=genera, years=years)
    return dry_rests(ask, days)


def soonest(cares: Iterable[Care], zone: tzinfo, rules: HouseRules) -> tuple[Care, ...]:
    """Cares in the order they fall due, overdue ones first by that; a day's work is due by the end of its day.

    At a tie the order of the rules' kinds, then of plants. For who needs hands first see `by_need`.
    """
    return tuple(sorted(cares, key=lambda care: (when(care.due, zone, rules), _ORDER[care.kind], care.plant)))


_ORDER = {kind: place for place, kind in enumerate(CareKind)}
