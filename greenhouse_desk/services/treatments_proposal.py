"""What a plant's past says before the bench: pests and diseases seen, the last treatment, and what to propose."""

from __future__ import annotations

from datetime import tzinfo

from greenhouse_desk.domain.bench_facts import PELLETS, in_pellets
from greenhouse_desk.domain.journal import Entry, Looked, Roots, Sighted, Treated
from greenhouse_desk.domain.plants import History
from greenhouse_desk.domain.quarantine import Standing

WASH, ARRIVAL, TRANSITION, TRIM = "pest-wash", "arrival-check", "transition-repot", "root-trim-and-repot"
DEAD_SHARE = 1 / 3


def past(history: History, zone: tzinfo) -> str:
    """Every pest and disease seen on the plant, newest first, with day; "none seen" or "never looked at" else."""
    seen = [(entry, entry.facts) for entry in history.entries if isinstance(entry.facts, Sighted)]
    if not seen:
        return "none seen" if any(isinstance(entry.facts, Looked) for entry in history.entries) else "never looked at"
    newest: dict[str, Entry] = {facts.what: entry for entry, facts in seen}
    rows = sorted(newest.items(), key=lambda item: item[1].at, reverse=True)
    counts = {what: sum(facts.what == what for _, facts in seen) for what in newest}
    return "; ".join(f"{what.replace('-', ' ')}, {'' if counts[what] == 1 else f'{counts[what]} times, last '}"
                     f"{_day(entry, zone)}" for what, entry in rows)


def last_treatment(history: History, zone: tzinfo) -> str:
    """The newest treatment with its day, "" when there is none."""
    treated = [(entry, entry.facts) for entry in history.entries if isinstance(entry.facts, Treated)]
    if not treated:
        return ""
    entry, facts = treated[-1]
    return f"{facts.purpose.value} with {facts.agent.replace('-', ' ')}, {_day(entry, zone)}"


def proposal(history: History, standing: Standing) -> tuple[str, str]:
    """The id of the protocol to propose and why: a wash where pests are, a check for newcomers, else by roots."""
    if standing.word in ("infested", "under treatment"):
        return WASH, standing.why
    if standing.word in ("newcomer", "suspect"):
        return ARRIVAL, standing.why
    medium = history.plant.medium
    if medium and not in_pellets(medium):
        return TRANSITION, f"stands in {medium}, not in {PELLETS}"
    counts = [entry.facts for entry in history.entries if isinstance(entry.facts, Roots)]
    if counts and counts[-1].dead > DEAD_SHARE * (counts[-1].dead + counts[-1].living):
        return TRIM, f"{counts[-1].dead} of {counts[-1].dead + counts[-1].living} roots were dead at the last count"
    return TRIM, "nothing in its past asks for another"


def _day(entry: Entry, zone: tzinfo) -> str:
    day = entry.at.astimezone(zone)
    return f"{day.day} {day:%b %Y}"
