"""What a plant's past says before the bench: pests and diseases seen, the last treatment, and what to propose."""

from __future__ import annotations

from dataclasses import dataclass
from datetime import date, datetime, tzinfo

from greenhouse_desk.domain.bench_facts import PELLETS, in_pellets
from greenhouse_desk.domain.bench_order import PEST_STANDINGS
from greenhouse_desk.domain.care import Care, CareKind
from greenhouse_desk.domain.care_day import day_words, full_day
from greenhouse_desk.domain.care_reasons import NOT_NAMED
from greenhouse_desk.domain.courses_start import Answer, Start
from greenhouse_desk.domain.journal import Entry, Looked, Potted, Roots, Sighted, Treated
from greenhouse_desk.domain.journal_words import FOR_NOW
from greenhouse_desk.domain.plants import History
from greenhouse_desk.domain.quarantine import Standing
from greenhouse_desk.domain.roots import many_dead
from greenhouse_desk.services.records import Labels

WASH, ARRIVAL, TRANSITION, TRIM = "pest-wash", "arrival-check", "transition-repot", "root-trim-and-repot"

ROTTING = ("bark", "moss", "sphagnum", "peat", "coco", "coir", "fern", "fibre", "wood", "humus", "soil")
"""Words of media that break down: a plant in them has the move to pellets before it; one in pumice or lava has not."""



HANDS = (CareKind.POT_UP, CareKind.STEP_IN)
NOTHING = "nothing is owed that needs the bench: choose what you want"


@dataclass(frozen=True, slots=True)
class Asking:
    """What a proposal is made from: the plant's past and standing, its next wash, all it is owed, and, for one in a
    medium that rots, whether its move may start."""

    history: History
    standing: Standing
    wash: Care | None
    owed: tuple[Care, ...]
    start: Start | None
    today: date


def past(history: History, zone: tzinfo, names: Labels) -> str:
    """Every pest and disease seen on the plant, newest first, with day; "no pest seen" or "never looked at" else."""
    seen = [(entry, entry.facts) for entry in history.entries if isinstance(entry.facts, Sighted)]
    if not seen:
        looked = any(isinstance(entry.facts, Looked) for entry in history.entries)
        return "no pest seen" if looked else "never looked at"
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


def proposal(of: Asking) -> tuple[str, str]:
    """The id of the protocol to propose and why; "" where nothing asks for one: the grower chooses.

    Hands where care asks for them now, a wash owed today, a look at newcomers and suspects, a trim where the last root
    count asks for it, and the move out of a medium that rots once it may start.
    """
    standing = of.standing
    hands = next((care for care in of.owed if care.kind in HANDS and day(care) <= of.today), None)
    if hands is not None:
        return TRIM, hands.what
    if of.wash is not None and day(of.wash) <= of.today:
        return WASH, f"{of.wash.what}: {standing.why}"
    if standing.word in ("newcomer", "suspect"):
        return ARRIVAL, standing.why
    protocol, why = _by_roots(of)
    return protocol, "; ".join(filter(None, (why, wash_words(of.wash, standing, of.today))))


def wash_words(wash: Care | None, standing: Standing, today: date) -> str:
    """What is said of the wash of a plant that has or had pests while none is owed today, else ""."""
    if wash is not None:
        first = day(wash)
        return f"wash not due yet: from {day_words(first, today)}" if first > today else ""
    return "no wash is owed" if standing.word in PEST_STANDINGS else ""


def _by_roots(of: Asking) -> tuple[str, str]:
    """What the journal says of roots and medium."""
    dead = _dead(of.history)
    if dead:
        return TRIM, dead
    medium = of.history.plant.medium
    if of.start is None:
        return "", NOTHING
    if of.start.answer is Answer.YES:
        return TRANSITION, f"stands in {medium}, not in {PELLETS}; {of.start.why[-1].text.rstrip('.')}"
    return "", f"stands in {medium}, but the move should wait: {against(of.start)}"


def rotting(medium: str) -> bool:
    """Whether a plant in this medium has the move to pellets before it."""
    return not in_pellets(medium) and any(word in medium.lower() for word in ROTTING)


def against(start: Start) -> str:
    """What speaks against a move, in words; what is not known where nothing does."""
    no = [one for one in start.asked if one.answer is Answer.NO]
    unknown = [one for one in start.asked if one.answer is Answer.UNKNOWN]
    return "; ".join(one.words.rstrip(".") for one in no or unknown)


def _dead(history: History) -> str:
    """The last root count where more than a third was dead and nothing was done about it since, else ""."""
    counted = [entry for entry in history.entries if isinstance(entry.facts, Roots)]
    if not counted or not isinstance(facts := counted[-1].facts, Roots) or not many_dead(facts.living, facts.dead):
        return ""
    if any(_potted_for_good(entry) for entry in history.entries if entry.at >= counted[-1].at):
        return ""
    return f"{facts.dead} of {facts.dead + facts.living} roots were dead at the last count"


def _potted_for_good(entry: Entry) -> bool:
    """Whether an entry tells of a potting on its own day that was not only for now."""
    return isinstance(entry.facts, Potted) and entry.facts.day_known and entry.note != FOR_NOW


def day(care: Care) -> date:
    """The day a care opens."""
    return care.opens.date() if isinstance(care.opens, datetime) else care.opens


def _day(entry: Entry, zone: tzinfo) -> str:
    return full_day(entry.at, zone)
