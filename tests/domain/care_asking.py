"""Asking the rules of care in one line: a journal in, the cares of one kind out."""

from __future__ import annotations

from collections.abc import Mapping
from datetime import datetime, time, timedelta
from zoneinfo import ZoneInfo

from greenhouse_desk.domain import care
from greenhouse_desk.domain.airflow import Around
from greenhouse_desk.domain.care import Care, CareKind
from greenhouse_desk.domain.journal import Answer, Entry, Facts, Purpose, Reply, Treated
from greenhouse_desk.domain.pests import Pest, PestKind, Repeat
from greenhouse_desk.domain.pests_climate import Climate
from greenhouse_desk.domain.plants import Air, History, Home
from greenhouse_desk.domain.settings import HouseRules
from greenhouse_desk.domain.year import NO_YEARS, Years
from tests import builders

LONDON = ZoneInfo("Europe/London")
HOME = Home(51.5, -0.12, "Europe/London")
STILL = Air(builders.ago(hours=4), 22.0, 0.55, 0.1)

def pest(key: str, repeat: Repeat | None) -> Pest:
    """A pest of which only the wash interval matters."""
    return Pest(key, key.replace("-", " "), PestKind.PEST, (), "", "", "", repeat=repeat)


MITES = {"two-spotted-mite": pest("two-spotted-mite", Repeat(4, 5, 3, 3, "a published interval"))}
PEROXIDE = Treated("hydrogen-peroxide", Purpose.ROOT_DISINFECTION, strength=3.0)
WASH = Treated("alcohol-soap-wash", Purpose.PEST_WASH)


def owed(history: History, kind: CareKind, now: datetime = builders.NOW, rules: HouseRules | None = None,
         air: Air | None = STILL, lights_out: time | None = None, home: Home = HOME, zone: ZoneInfo = LONDON,
         pests: Mapping[str, Pest] = MITES, climate: Climate | None = None,
         years: Years = NO_YEARS) -> tuple[Care, ...]:
    """What is owed of one kind, soonest first."""
    around = Around(air, lights_out, home)
    return tuple(one for one in care.owed(history, around, rules or HouseRules(), now, zone, pests, climate,
                                                 years=years)
                 if one.kind is kind)


def days(cares: tuple[Care, ...]) -> list[int]:
    """Days from NOW's date until each is due."""
    return [(care.day_of(one.due, LONDON, HouseRules()) - builders.NOW.date()).days for one in cares]


def text(one: Care) -> str:
    """The whole reasoning in one string."""
    return " | ".join(f"{reason.text} [{reason.source}]" for reason in one.why)


def answered(one: Care, reply: Reply, at: datetime, days: int | None = None,
             reason: str = "") -> tuple[datetime, Facts]:
    """The answer to a care, to be written into a history; put off by `days` from `at`."""
    until = None if days is None else (at + timedelta(days=days)).date()
    return at, Answer(one.kind.value, one.origin, one.nth, reply, until, reason)


def told(*written: tuple[datetime, Facts]) -> History:
    """A history numbered in the order written, so that an answer may name an entry by it."""
    entries = [Entry(number, at, facts, builders.PLANT.number) for number, (at, facts) in enumerate(written, start=1)]
    return History(builders.PLANT, tuple(sorted(entries, key=lambda one: (one.at, one.id))))
