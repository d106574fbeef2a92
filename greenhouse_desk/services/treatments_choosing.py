"""Before the bench: which plants could be treated and with what, what that takes, and the start of a session."""

from __future__ import annotations

from collections import defaultdict
from collections.abc import Iterable, Mapping, Sequence
from dataclasses import dataclass, replace
from datetime import datetime, timedelta

from greenhouse_desk.domain import names
from greenhouse_desk.domain.airflow import Verdict, can_dry, limit
from greenhouse_desk.domain.bench import Job, Plan, Run, State, plan
from greenhouse_desk.domain.bench_facts import DRIES_IN_AIR
from greenhouse_desk.domain.bench_start import copies
from greenhouse_desk.domain.care_day import care_day
from greenhouse_desk.domain.faults import Fault, Refused
from greenhouse_desk.domain.journal import Entry
from greenhouse_desk.domain.names import BotanicalName
from greenhouse_desk.domain.plants import History, Plant
from greenhouse_desk.domain.protocols import KitLine, Protocol, cautions, materials, mixing_faults
from greenhouse_desk.domain.quarantine import Standing
from greenhouse_desk.services import care, quarantine, records, treatments_apart
from greenhouse_desk.services.desk import Done
from greenhouse_desk.services.shelf import Shelf
from greenhouse_desk.services.treatments_ending import SITS
from greenhouse_desk.services.treatments_proposal import WASHES, last_treatment, past, proposal
from greenhouse_desk.services.treatments_sitting import PEST_STANDINGS, agent_names
from greenhouse_desk.store import bench, journal, plants
from greenhouse_desk.store.engine import Session

NOTHING_CHOSEN = Refused("Nothing to start", "No plant was chosen.", "Choose plants and a protocol for each.")

AFTER_APART = "it stands apart: after it wash your hands, soak its tools and wipe the bench before the next plant"
"""What must be done after a plant in isolation was picked up; house custom."""


@dataclass(frozen=True, slots=True)
class Candidate:
    """A plant that could come to the bench: its standing, pest past, last treatment, notes, and what is proposed."""

    plant: int
    name: BotanicalName
    standing: Standing
    past: str
    last_treatment: str
    notes: str
    proposed: str
    proposed_why: str


@dataclass(frozen=True, slots=True)
class Choice:
    """A plant and the protocol chosen for it."""

    plant: int
    protocol_id: str


@dataclass(frozen=True, slots=True)
class Preparation:
    """The page before the start. `order` tells each plant with words; instants aware UTC; `drying` the worst verdict.

    `startable` is False while a grave fault stands among `faults`.
    """

    kit: tuple[KitLine, ...]
    cautions: tuple[str, ...]
    faults: tuple[Fault, ...]
    order: tuple[tuple[int, str], ...]
    starts_at: datetime
    ends_at: datetime
    limit: datetime | None
    limit_name: str
    drying: Verdict
    startable: bool
    plan: Plan


@dataclass(frozen=True, slots=True)
class Chosen:
    """One choice with what was found about it."""

    plant: Plant
    protocol: Protocol
    standing: Standing


def candidates(session: Session, now: datetime) -> tuple[Candidate, ...]:
    """All growing plants by number, each with what is proposed for it and why."""
    histories = _histories(session)
    standing = quarantine.standings(session, histories, now)
    around, labels = care.surroundings(session), records.labels(session)
    zone, today = around.zone, care_day(now, around.zone, around.rules)
    washes = {owed.plant: owed for owed in reversed(care.due(session, now)) if owed.kind in WASHES}
    found = []
    for one in histories:
        if one.plant.left is None:
            stands = standing[one.plant.number]
            protocol, why = proposal(one, stands, washes.get(one.plant.number), today)
            found.append(Candidate(one.plant.number, names.parse(one.plant.name), stands, past(one, zone, labels),
                                   last_treatment(one, zone, labels), one.plant.notes, protocol, why))
    return tuple(found)


def preparation(session: Session, now: datetime, choices: Sequence[Choice], shelf: Shelf,
                order: Sequence[int] = ()) -> Preparation:
    """What these choices take, in the queue's order (`order`: the grower's own). Raises Refused as `start` does, but
    tells grave faults instead of refusing them."""
    chosen = _chosen(session, now, choices, shelf, order)
    protocols = [one.protocol for one in chosen]
    found = (*_faults(protocols, shelf), *_too_close(session, now, chosen, shelf))
    timed = plan(_jobs(chosen), names=agent_names())
    around = care.surroundings(session)
    limits = [limit(around.around(one.plant.place), now, around.rules) for one in chosen]
    by, name = min(limits, key=lambda item: (item[0] is None, item[0] or now))
    return Preparation(
        materials(protocols, shelf.agents), cautions(protocols, shelf.agents), found,
        tuple((one.plant.number, f"{one.standing.word}: {one.standing.why}") for one in chosen), now,
        now + timedelta(minutes=timed.makespan_minutes), by, name, _drying(session, now, chosen, timed),
        not any(fault.grave for fault in found), timed)


def start(session: Session, now: datetime, choices: Sequence[Choice], shelf: Shelf,
          order: Sequence[int] = ()) -> Done[int]:
    """Start a bench session: the protocols' steps are copied into the store. Returns the session's id.

    The queue goes from the cleanest to the most suspect, then by number, unless `order` names the plants in another.
    Raises Refused for no or double choices, plants that left or are in an open session, unknown protocols, and a
    protocol that breaks a do-not-mix rule by itself or with what the plant was given before.
    """
    chosen = _chosen(session, now, choices, shelf, order)
    protocols = [one.protocol for one in chosen]
    found = (*_faults(protocols, shelf), *_too_close(session, now, chosen, shelf))
    grave = [fault for fault in found if fault.grave]
    if grave:
        raise Refused("This cannot be started: agents would meet that must not", str(grave[0]),
                      "Choose another protocol, or correct the file.")
    _refuse_busy(session, [one.plant.number for one in chosen])
    sitting = bench.add_session(session, now)
    for place, (one, steps) in enumerate(zip(chosen, copies(protocols), strict=True)):
        bench.add_run(session, sitting, Run(0, one.plant.number, one.plant.name, one.protocol.id, one.protocol.title,
                                            steps, one.standing.word, one.standing.why, float(place)))
    numbers = ", ".join(str(one.plant.number) for one in chosen)
    return Done(f"Start at the bench: {numbers}", SITS, sitting)


def _chosen(session: Session, now: datetime, choices: Sequence[Choice], shelf: Shelf,
            order: Sequence[int]) -> list[Chosen]:
    """The choices in queue order; refuses what cannot be worked on."""
    if not choices:
        raise NOTHING_CHOSEN
    if len({choice.plant for choice in choices}) < len(choices):
        raise Refused("A plant was chosen twice", "", "Choose each plant once.")
    histories = _histories(session)
    growing = {one.plant.number: one.plant for one in histories if one.plant.left is None}
    standing = quarantine.standings(session, histories, now)
    apart = {place.id for place in plants.places(session) if place.isolation}
    found = []
    for choice in choices:
        protocol = shelf.protocol(choice.protocol_id)
        if choice.plant not in growing:
            raise Refused(f"Plant {choice.plant} is not growing here", "", "Check the number.")
        if protocol is None:
            raise Refused(f"There is no protocol {choice.protocol_id}", "", "Choose one from the shelf.")
        stands = standing[choice.plant]
        if growing[choice.plant].place in apart:
            stands = replace(stands, why=f"{stands.why}; {AFTER_APART}")
        found.append(Chosen(growing[choice.plant], protocol, stands))
    own = {plant: place for place, plant in enumerate(order)}
    return sorted(found, key=lambda one: (own.get(one.plant.number, len(own)), one.standing.rank, one.plant.number))


def _faults(protocols: Sequence[Protocol], shelf: Shelf) -> tuple[Fault, ...]:
    """The faults of each protocol, checked again now, and of working them one after the other."""
    each = [fault for protocol in dict.fromkeys(protocols) for fault in shelf.faults_of(protocol)]
    return tuple(dict.fromkeys([*each, *mixing_faults(protocols, shelf.agents)]))


def _too_close(session: Session, now: datetime, chosen: Sequence[Chosen], shelf: Shelf) -> tuple[Fault, ...]:
    """Agents too close to what a plant was given before, in another session or by hand."""
    return treatments_apart.faults(session, now, [(one.plant.number, one.protocol) for one in chosen], shelf)


def _refuse_busy(session: Session, numbers: Sequence[int]) -> None:
    for sat in bench.unended(session):
        for run in bench.runs(session, sat.id):
            if run.plant in numbers and not all(step.closed for step in run.steps):
                raise Refused(f"Plant {run.plant} is in a bench session that was not ended", run.title,
                              "Take that session up and end it first.")


def _jobs(chosen: Sequence[Chosen]) -> list[Job]:
    runs = copies([one.protocol for one in chosen])
    return [Job(one.plant.number, tuple(step.step for step in steps if step.state is not State.SKIPPED), place,
                one.standing.word in PEST_STANDINGS)
            for place, (one, steps) in enumerate(zip(chosen, runs, strict=True))]


def _drying(session: Session, now: datetime, chosen: Sequence[Chosen], timed: Plan) -> Verdict:
    """The worst verdict over the plants, each taken as wet from the last step that wets leaves or crown; its words name
    every plant that may not be dry in time."""
    around = care.surroundings(session)
    found = []
    for one in chosen:
        wets = {step.id for step in one.protocol.steps if DRIES_IN_AIR.intersection(step.wets)}
        ends = [bar.end_min for bar in timed.steps if bar.plant == one.plant.number and bar.step in wets]
        if ends:
            verdict = can_dry(around.around(one.plant.place), now + timedelta(minutes=max(ends)), around.rules)
            found.append(replace(verdict, words=f"{one.plant.number}: {verdict.words}"))
    if not found:
        return Verdict(True, "Nothing that has to dry is made wet.", ())
    worst = max(reversed(found), key=_badness)
    late = [verdict.words for verdict in found if _badness(verdict)]
    return replace(worst, words=" ".join(late) or worst.words)


def _badness(verdict: Verdict) -> int:
    return {True: 0, None: 1, False: 2}[verdict.ok]


def _histories(session: Session) -> list[History]:
    entries: Mapping[int, list[Entry]] = _by_plant(journal.everything(session))
    everyone = plants.plants(session, care.surroundings(session).zone)
    return [History(plant, tuple(entries.get(plant.number, ()))) for plant in everyone]


def _by_plant(entries: Iterable[Entry]) -> dict[int, list[Entry]]:
    found: dict[int, list[Entry]] = defaultdict(list)
    for entry in entries:
        if entry.plant is not None:
            found[entry.plant].append(entry)
    return found
