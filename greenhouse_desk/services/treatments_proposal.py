"""What a plant's past says before the bench: pests and diseases seen, the last treatment, and what to propose."""

from __future__ import annotations

from datetime import date, datetime, tzinfo

from greenhouse_desk.domain.bench_facts import PELLETS, in_pellets
from greenhouse_desk.domain.care import Care, CareKind
from greenhouse_desk.domain.care_reasons import NOT_NAMED
from greenhouse_desk.domain.journal import Entry, Looked, Roots, Sighted, Treated
from greenhouse_desk.domain.plants import History
from greenhouse_desk.domain.quarantine import Standing
from greenhouse_desk.domain.roots import many_dead
from greenhouse_desk.services.records import Labels

WASH, ARRIVAL, TRANSITION, TRIM = "pest-wash", "arrival-check", "transition-repot", "root-trim-and-repot"
WASHES = (CareKind.FIRST_WASH, CareKind.WASH_REPEAT)
ROTTING = ("bark", "moss", "sphagnum", "peat", "coco", "coir", "fern", "fibre", "wood", "humus", "soil")
"""Words of media that break down: a plant in them has the move to pellets before it; one in pumice or lava has not."""


def past(history: History, zone: tzinfo, names: Labels) -> str:
    """Every pest and disease seen on the plant, newest first, with day; "none seen" or "never looked at" else."""
    seen = [(entry, entry.facts) for entry in history.entries if isinstance(entry.facts, Sighted)]
    if not seen:
        return "none seen" if any(isinstance(entry.facts, Looked) for entry in history.entries) else "never looked at"
    newest: dict[str, Entry] = {facts.what: entry for entry, facts in seen}
    rows = sorted(newest.items(), key=lambda item: item[1].at, reverse=True)
    counts = {what: sum(facts.what == what for _, facts in seen) for what in newest}
    return "; ".join(f"{names.pest(what)}, {'' if counts[what] == 1 else f'{counts[what]} times, last '}"
                     f"{_day(entry, zone)}" for what, entry in rows)


def last_treatment(history: History, zone: tzinfo, names: Labels) -> str:
    """The newest treatment with its day, "" when there is none."""
    treated = [(entry, entry.facts) for entry in history.entries if isinstance(entry.facts, Treated)]
    if not treated:
        return ""
    entry, facts = treated[-1]
    agent = names.agent(facts.agent) or NOT_NAMED
    return f"{facts.purpose.value} with {agent}, {_day(entry, zone)}"


def proposal(history: History, standing: Standing, wash: Care | None, today: date) -> tuple[str, str]:
    """The id of the protocol to propose and why: a wash that is owed today (`wash`: the plant's next one), a check for
    newcomers, the move out of a medium that rots, else by roots."""
    due = None if wash is None else wash.opens.date() if isinstance(wash.opens, datetime) else wash.opens
    if wash is not None and due is not None and due <= today:
        return WASH, f"{wash.what}: {standing.why}"
    if standing.word in ("newcomer", "suspect"):
        return ARRIVAL, standing.why
    protocol, why = _by_roots(history)
    if due is not None:
        return protocol, f"the next wash is not due before {due.day} {due:%b}; {why}"
    return protocol, f"{standing.why}, no wash is owed; {why}" if standing.word in TREATED else why


TREATED = ("infested", "under treatment", "under watch")


def _by_roots(history: History) -> tuple[str, str]:
    medium = history.plant.medium
    if not in_pellets(medium) and any(word in medium.lower() for word in ROTTING):
        return TRANSITION, f"stands in {medium}, not in {PELLETS}"
    counts = [entry.facts for entry in history.entries if isinstance(entry.facts, Roots)]
    if counts and many_dead(counts[-1].living, counts[-1].dead):
        return TRIM, f"{counts[-1].dead} of {counts[-1].dead + counts[-1].living} roots were dead at the last count"
    return TRIM, "nothing in its past asks for another"


def _day(entry: Entry, zone: tzinfo) -> str:
    day = entry.at.astimezone(zone)
    return f"{day.day} {day:%b %Y}"
