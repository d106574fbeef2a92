"""Reading a bench session: the whole sitting as the board needs it, its plan, and sessions not ended yet."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass, replace
from datetime import datetime, timedelta, tzinfo
from functools import cache

from greenhouse_desk.domain import bench_plan
from greenhouse_desk.domain.airflow import limit
from greenhouse_desk.domain.bench import TOOLS, LooseEnd, LooseKind, PestChoice, Plan, Run, Sitting, Soak, ToolUse
from greenhouse_desk.domain.bench_board import span
from greenhouse_desk.domain.bench_facts import open_in, uncounted_cuts
from greenhouse_desk.domain.bench_open import loose_ends
from greenhouse_desk.domain.bench_order import PEST_STANDINGS
from greenhouse_desk.domain.bench_turns import ALL_TOOLS, Blocked, running, turn, whose
from greenhouse_desk.domain.contacts import is_virus
from greenhouse_desk.domain.countdown import Phase, elapsed, next_said, view
from greenhouse_desk.domain.faults import Refused
from greenhouse_desk.domain.journal import Entry, Kind, Sighted
from greenhouse_desk.domain.own_words import OwnWords
from greenhouse_desk.services import care, house, own_words, shelf, treatments_virus
from greenhouse_desk.store import bench, journal, plants, undo
from greenhouse_desk.store.engine import Session

PRESSES = frozenset({"bench", "journal"})
SITS_AT_MOST = timedelta(hours=18)

Steady = tuple[str, float]


@dataclass(frozen=True, slots=True)
class OpenSitting:
    """A bench session that was not ended: when it began, when it was left (None: broken off), and words on it.

    `over` tells that a soak of it runs past its most; `renew_at` is when the words are next other ones, None for never.
    """

    id: int
    started_at: datetime
    left_at: datetime | None
    words: str
    over: bool = False
    renew_at: datetime | None = None


def sitting(session: Session, session_id: int, now: datetime | None = None, steady: Steady | None = None) -> Sitting:
    """The bench session as stored. Raises Refused when there is none.

    With `now` (aware) and `steady` (boot id and seconds) running soaks are shown by the steady clock where the wall
    clock was changed, and the notices say so.
    """
    at = at_bench(session, session_id, now, steady)
    last = undo.next_undo(session)
    pressed = last if last is not None and last.kinds == PRESSES else None
    since = at.started_at if now is None or now - at.started_at < SITS_AT_MOST else now
    by, name = _limit(session, [run.plant for run in at.runs], since)
    return replace(at, limit=by, limit_name=name, undo_label=pressed.label if pressed else "",
                   undo_at=pressed.at if pressed else None, undo_deed=pressed.id if pressed else None)


def at_bench(session: Session, session_id: int, now: datetime | None = None, steady: Steady | None = None) -> Sitting:
    """The sitting without its limit and its last press: what a press needs."""
    kept = kept_session(session, session_id)
    runs = bench.runs(session, session_id)
    standing = open_in(journal.of_runs(session, [run.id for run in runs], [run.plant for run in runs], kept.started_at))
    standing.cuts_open |= uncounted_cuts(runs)
    soaks, notices = by_steady(bench.soaks(session, session_id), now, steady)
    elsewhere = _used_elsewhere(session, kept)
    seen, own = journal.of_kinds(session, [Kind.SIGHTED]), own_words.known(session)
    virus = _with_virus(standing.seen, own) | _virus_before(seen, own, {run.plant for run in runs}
                                                            | {use.plant for use in elsewhere})
    return Sitting(
        session_id, kept.started_at, runs, soaks, bench.tool_uses(session, session_id), frozenset(standing.cuts_open),
        frozenset(standing.wet), frozenset(standing.pools), frozenset(standing.aired), frozenset(standing.unpotted),
        frozenset(standing.seen) | _suspected(runs), frozenset(standing.seen),
        virus, _not_made_good(session, kept, elsewhere, virus), virus_agents(),
        bool(kept.loose_ends) and kept.left_at is None and kept.ended_at is None, choices=choices(), notices=notices,
        left_at=kept.left_at, ended_at=kept.ended_at, known=_known(seen, runs),
        own_blade=treatments_virus.own_blades(session, [run.plant for run in runs], now or kept.started_at))


def _used_elsewhere(session: Session, kept: bench.Sat) -> tuple[ToolUse, ...]:
    """The last use of each tool in other sessions. What an earlier session did came before this one began, whatever
    a wall clock that was set back meanwhile says."""
    found = [use for name in TOOLS if (use := bench.last_use(session, name, kept.id)) is not None]
    return tuple(replace(use, at=min(use.at, kept.started_at)) if earlier else use for use, earlier in found)


def _not_made_good(session: Session, kept: bench.Sat, uses: tuple[ToolUse, ...],
                   virus: frozenset[int]) -> tuple[ToolUse, ...]:
    """Those uses in other sessions that no whole soak of that tool followed in any other session."""
    return tuple(use for use in uses if not any(
        tool != ALL_TOOLS or use.plant not in virus or agent in virus_agents()
        for tool, agent in bench.soaked_since(session, (use.tool, ALL_TOOLS), use.at, kept.id)))


def plan_left(session: Session, session_id: int, now: datetime, steady: Steady | None = None) -> Plan:
    """What is left of the session at `now` (aware), planned anew: minutes from now. Raises Refused where there is none.
    """
    return bench_plan.plan_left(at_bench(session, session_id, now, steady), now, care.agent_names())


def by_steady(soaks: tuple[Soak, ...], now: datetime | None,
              steady: Steady | None) -> tuple[tuple[Soak, ...], tuple[str, ...]]:
    """Running soaks as the steady clock has them where the wall clock was changed, and words on what was found."""
    if now is None or steady is None:
        return soaks, ()
    shown, notices = [], []
    for soak in soaks:
        told = elapsed(soak, now, *steady) if soak.ended_at is None else None
        shown.append(replace(soak, started_at=now - timedelta(seconds=told.seconds))
                     if told is not None and told.used == "steady clock" else soak)
        if told is not None and told.words:
            notices.append(told.words)
    return tuple(shown), tuple(dict.fromkeys(notices))


def open_sittings(session: Session, now: datetime | None = None) -> tuple[OpenSitting, ...]:
    """Bench sessions that were not ended, newest first; with `now`, soaks that ended meanwhile are told."""
    return tuple(_opened(session, kept, now) for kept in bench.unended(session))


def _opened(session: Session, kept: bench.Sat, now: datetime | None) -> OpenSitting:
    at = at_bench(session, kept.id, now)
    soaks = running(at) if now is not None else ()
    over = any(view(soak, now).phase is Phase.OVER for soak in soaks if now is not None)
    renew_at = min((next_said(soak, now) for soak in soaks if now is not None), default=None)
    return OpenSitting(kept.id, kept.started_at, kept.left_at, _words(session, at, now), over, renew_at)


@cache
def choices() -> tuple[PestChoice, ...]:
    """The pests and diseases that can be named at the bench, pests first, as shipped."""
    pests = sorted(shelf.shelf(None).pests.values(), key=lambda pest: (pest.kind == "disease", pest.name))
    return tuple(PestChoice(pest.key, pest.name, pest.stages) for pest in pests)


@cache
def virus_agents() -> frozenset[str]:
    """The agents that clear viruses from a tool, as shipped."""
    return frozenset(key for key, agent in shelf.shelf(None).agents.items() if agent.clears_virus)


def kept_session(session: Session, session_id: int) -> bench.Sat:
    """The session's own row. Raises Refused when there is none."""
    kept = bench.one(session, session_id)
    if kept is None:
        raise Refused("There is no such bench session", f"Session {session_id} is not in this collection.")
    return kept


def _suspected(runs: tuple[Run, ...]) -> frozenset[int]:
    return frozenset(run.plant for run in runs if run.standing in PEST_STANDINGS)


def _with_virus(seen: dict[int, set[str]], own: OwnWords) -> frozenset[int]:
    return frozenset(plant for plant, found in seen.items() if any(is_virus(what, own) for what in found))


def _known(seen: Sequence[Entry], runs: Sequence[Run]) -> dict[int, tuple[str, ...]]:
    """What may be on each plant, by key: what was found on it, the newest first, then what its standing names."""
    found: dict[int, list[str]] = {run.plant: [] for run in runs}
    for entry in reversed(seen):
        if entry.plant in found and isinstance(entry.facts, Sighted):
            found[entry.plant].append(entry.facts.what)
    for run in runs:
        found[run.plant] += [one.key for one in choices() if one.name in run.standing_why]
    return {plant: tuple(dict.fromkeys(keys)) for plant, keys in found.items() if keys}


def _virus_before(seen: Sequence[Entry], own: OwnWords, here: set[int]) -> frozenset[int]:
    """Those plants on which virus signs were ever seen: nothing but a test ends that suspicion."""
    return frozenset(entry.plant for entry in seen if entry.plant in here
                     and entry.plant is not None and isinstance(entry.facts, Sighted)
                     and is_virus(entry.facts.what, own))


def _limit(session: Session, numbers: list[int], since: datetime) -> tuple[datetime | None, str]:
    """The earliest limit among the places these plants stand at."""
    around = care.surroundings(session)
    places = {plant.place for plant in plants.plants(session, around.zone, numbers)}
    limits = [limit(around.around(place), since, around.rules) for place in places]
    return min(limits, key=lambda item: (item[0] is None, item[0] or since), default=(None, ""))


def _words(session: Session, at: Sitting, now: datetime | None) -> str:
    runs, left = at.runs, [end for end in loose_ends(at) if end.kind is not LooseKind.SOAK]
    still = {end.plant for end in left}
    done = sum(turn(at, run).blocked is Blocked.DONE and run.plant not in still for run in runs)
    words = f"{len(runs)} {'plant' if len(runs) == 1 else 'plants'}, {done} done"
    for soak in at.soaks:
        if soak.ended_at is None:
            words += f"; {_soak_words(soak, whose(at, soak), now, house.zone(session))}"
    return "; ".join((words, *_open_words(left)))


TOGETHER = {LooseKind.AGENT: "{} have their agent still on, not rinsed off",
            LooseKind.UNPOTTED: "{} are out of their pots, their roots bare",
            LooseKind.CUT: "{} have undressed cuts", LooseKind.WET: "{} are wet without moving air"}


def _open_words(left: Sequence[LooseEnd]) -> list[str]:
    """What stands open, the plants of which the same is to be said together."""
    words = []
    for kind, said in TOGETHER.items():
        same = [end for end in left if end.kind is kind]
        who = [str(end.plant) for end in same]
        words += [said.format(f"{', '.join(who[:-1])} and {who[-1]}")] if len(same) > 1 else [end.words for end in same]
    return words


def _soak_words(soak: Soak, who: str, now: datetime | None, zone: tzinfo) -> str:
    """How a running soak stands, by the clock: the words may be read a while after they were made."""
    shown = view(soak, now) if now is not None else None
    least, most = (f"{at.astimezone(zone):%H:%M}" for at in (soak.least_at, soak.most_at))
    if shown is None or shown.phase is Phase.LEAVE:
        stands = "are in their" if soak.tool == ALL_TOOLS else "is in its"
        return f"{who} {stands} soak, least at {least}, most at {most}"
    if shown.phase is Phase.OVER:
        return f"the soak of {who} passed its most at {most}, {span(-shown.to_most_s)} ago"
    return f"the soak of {who} reached its least at {least}, {span(-shown.to_least_s)} ago; most at {most}"
