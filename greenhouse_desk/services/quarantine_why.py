"""Why a plant stands as it does with one pest or disease: the entry, the looks, the house rules, the conclusion."""

from __future__ import annotations

from collections.abc import Sequence
from datetime import date, datetime

from greenhouse_desk.domain.care import Reason
from greenhouse_desk.domain.care_day import care_day, day_words
from greenhouse_desk.domain.origins import DaysApart
from greenhouse_desk.domain.quarantine import Standing, Status
from greenhouse_desk.domain.sentences import capital
from greenhouse_desk.domain.settings import RULES, HouseRules
from greenhouse_desk.services import house
from greenhouse_desk.services.records_words import listed
from greenhouse_desk.store.engine import Session

SO = "worked out from the steps above"
BY_TEST = Reason("Whether it carries a virus is told by a test alone; no clean look and no time apart tells it.",
                 "house rule")


def standing_reasons(session: Session, now: datetime, standing: Standing) -> tuple[Reason, ...]:
    """The steps to a plant's standing over all pests and diseases; one status after another, the worst first."""
    rules = house.rules(session)
    today = care_day(now, house.zone(session), rules)
    if not standing.statuses:
        return (Reason(_sentence(standing.why), "the plant's journal and its neighbours'"),
                Reason(f"So: {standing.word}.", SO))
    steps = [reason for status in standing.statuses for reason in _of(status)]
    apart = next((status.apart for status in standing.statuses if status.apart is not None), None)
    tested = [BY_TEST] if any(status.by_test for status in standing.statuses) else []
    looked = _rules(rules, apart) if any(not status.by_test for status in standing.statuses) else ()
    return (*steps, *tested, *looked, Reason(_so(standing, today), SO))


def _of(status: Status) -> list[Reason]:
    about = f"{status.named}: " if status.what and status.named not in status.why else ""
    source = _met(status) if status.behind else entry_words(status.entry)
    return [Reason(_sentence(about + status.why), source),
            *(Reason(_sentence(why), "a look or a test in the journal, and the rules below") for why in status.ignored)]


def entry_words(entry: int | None) -> str:
    """An entry as the source of a reason."""
    return f"journal entry {entry}" if entry is not None else "the plant's journal"


def _met(status: Status) -> str:
    """The entries of the contact and of what was found on the others."""
    contacts = list(dict.fromkeys(one.contact for one in status.behind if one.contact is not None))
    met = f"{_entries(contacts)}: how they met" if contacts else "no entry tells how they met"
    return "; ".join([met, *(f"journal entry {one.find}: found on {one.plant}" for one in status.behind)])


def _entries(ids: Sequence[int]) -> str:
    return f"journal {'entry' if len(ids) == 1 else 'entries'} {listed([str(one) for one in ids])}"


def _rules(rules: HouseRules, apart: DaysApart | None) -> tuple[Reason, ...]:
    told = [("clean_looks", f"{rules.clean_looks} clean looks are needed."),
            ("looks_apart_days", f"They count when {rules.looks_apart_days} days lie between them, and after a find."),
            ("masked_days", f"A spray masks signs for {rules.masked_days} days."),
            ("isolation_days", f"The last look lies on day {rules.isolation_days} or later; a find starts it again.")]
    if apart is not None and apart.why:
        told.append((apart.rule, f"As a newcomer it stands apart for {apart.days} days: {apart.why}."))
    return tuple(Reason(words, f"{RULES[name].metadata['label']}: {RULES[name].metadata['source']}")
                 for name, words in told)


def _so(standing: Standing, today: date) -> str:
    return f"So: {standing.word}. {_sentence(standing.next)}{_earliest(standing.earliest, today)}".strip()


def _earliest(day: date | None, today: date) -> str:
    return f" Not before {day_words(day, today)}." if day is not None else ""


def _sentence(words: str) -> str:
    return f"{capital(words).rstrip('.')}." if words else ""
