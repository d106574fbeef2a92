"""Before the bench: which plants could be treated and with what, what that takes, and the start of a session."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass, replace
from datetime import datetime, timedelta

from greenhouse_desk.domain.airflow import Verdict, limit
from greenhouse_desk.domain.bench import Job, Plan, Run, State, plan
from greenhouse_desk.domain.bench_order import AFTER_APART, PEST_STANDINGS, told_apart
from greenhouse_desk.domain.bench_start import copies
from greenhouse_desk.domain.care_day import care_day
from greenhouse_desk.domain.care_values import WASHES, Care
from greenhouse_desk.domain.faults import Fault, Refused
from greenhouse_desk.domain.journal import Note
from greenhouse_desk.domain.own_words import OwnWords
from greenhouse_desk.domain.plants import Plant
from greenhouse_desk.domain.protocols import Deed, KitLine, Protocol, cautions, materials, mixing_faults
from greenhouse_desk.domain.quarantine import NEVER_LOOKED, Standing
from greenhouse_desk.services import care, own_words, quarantine, transitions_start, treatments_apart, treatments_virus
from greenhouse_desk.services.desk import Done
from greenhouse_desk.services.records import histories
from greenhouse_desk.services.records_words import listed
from greenhouse_desk.services.shelf import Shelf
from greenhouse_desk.services.treatments_candidates import move
from greenhouse_desk.services.treatments_drying import drying_of
from greenhouse_desk.services.treatments_ending import SITS
from greenhouse_desk.services.treatments_proposal import wash_words
from greenhouse_desk.store import bench, journal, plants
from greenhouse_desk.store.engine import Session

NOTHING_CHOSEN = Refused("Nothing to start", "No plant was chosen.", "Choose plants and a protocol for each.")

UNSEEN = "never looked at"

@dataclass(frozen=True, slots=True)
class Choice:
    """A plant and the protocol chosen for it; `wash` to wash it though no wash is owed (`wash_why` by what, "" by the
    grower's word alone), `reason` why its move starts against what speaks against it."""

    plant: int
    protocol_id: str
    wash: bool = False
    reason: str = ""
    wash_why: str = ""


@dataclass(frozen=True, slots=True)
class Preparation:
    """The page before the start. `order` tells each plant with words; instants aware UTC; `drying` the worst verdict.

    `startable` is False while a grave fault stands among `faults`; `notes` say what is left out of the plan or in it
    though it is not owed, `waits` why a move may not start yet, `possible` when or how it would be possible, "" where
    it is; `overruled` what the grower's own order does against the rule, () where it keeps to it.
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
    notes: tuple[str, ...] = ()
    waits: tuple[str, ...] = ()
    possible: str = ""
    overruled: tuple[str, ...] = ()


@dataclass(frozen=True, slots=True)
class Chosen:
    """One choice with what was found about it."""

    plant: Plant
    protocol: Protocol
    standing: Standing
    choice: Choice
    wash_words: str = ""
    waits: str = ""
    wash: Care | None = None

    @property
    def washes(self) -> bool:
        """Whether what was seen before is reason enough for the protocol's wash."""
        return not self.wash_words or self.choice.wash

    @property
    def apart(self) -> str:
        """What must be done after a plant in isolation, "" for one that stands among the others."""
        return f"{AFTER_APART}." if AFTER_APART in self.standing.why else ""

    @property
    def note(self) -> str:
        """What is said of a wash that is not owed, "" where the protocol has none or it is owed."""
        washing = [step for step in self.protocol.steps if step.deed is Deed.WASH]
        if not washing or not self.wash_words:
            return ""
        does = self.choice.wash or any(not step.only_if for step in washing)
        return f"{self.wash_words}; " + (
            f"it is washed all the same, {self.choice.wash_why or 'as you chose'}." if does else
            "so the plan leaves it out. Should pests be seen at the look, the wash is asked for.")

    @property
    def wash_why(self) -> str:
        """Why the session's plan has a wash for the plant or leaves it out, for its journal; "" where nothing decided.
        """
        if self.note:
            return self.note
        if self.wash is None or not any(step.deed is Deed.WASH for step in self.protocol.steps):
            return ""
        return f"washed because it is owed: {self.wash.what}."


def preparation(session: Session, now: datetime, choices: Sequence[Choice], shelf: Shelf,
                order: Sequence[int] = ()) -> Preparation:
    """What these choices take, in the queue's order (`order`: the grower's own). Raises Refused as `start` does, but
    tells grave faults instead of refusing them."""
    chosen = _chosen(session, now, choices, shelf, order)
    protocols = [one.protocol for one in chosen]
    found = (*_faults(protocols, shelf), *_too_close(session, now, chosen, shelf))
    own = own_words.known(session)
    held = [one for one in chosen if treatments_virus.held_by_virus(one.standing, one.protocol, own)]
    timed = plan(_jobs(chosen, own), names=care.agent_names())
    around = care.surroundings(session)
    limits = [limit(around.around(one.plant.place), now, around.rules) for one in chosen]
    by, name = min(limits, key=lambda item: (item[0] is None, item[0] or now))
    drying, possible = drying_of(around, now, [(one.plant, one.protocol) for one in chosen], timed)
    return Preparation(
        (*materials(protocols, shelf.agents),
         *treatments_virus.kit([one.plant.number for one in held], protocols, shelf.agents)),
        cautions(protocols, shelf.agents), found,
        tuple((one.plant.number, f"{one.standing.word}: {one.standing.why}") for one in chosen), now,
        now + timedelta(minutes=timed.makespan_minutes), by, name, drying,
        not any(fault.grave for fault in found), timed,
        (*(treatments_virus.note(one.plant.number, one.standing, own) for one in held),
         *(f"{one.plant.number}: {words}" for one in chosen for words in (one.apart, one.note) if words)),
        tuple(f"{one.plant.number}: {one.waits}" for one in chosen if one.waits and not one.choice.reason.strip()),
        _apart(protocols, shelf) or possible, tuple(_overruled(chosen).values()))


def start(session: Session, now: datetime, choices: Sequence[Choice], shelf: Shelf,
          order: Sequence[int] = (), laid_out: str = "") -> Done[int]:
    """Start a bench session: the protocols' steps are copied into the store. Returns the session's id.

    The queue goes from the cleanest to the most suspect, then by number, unless `order` names the plants in another.
    Raises Refused for no or double choices, plants that left or are in an open session, unknown protocols, a protocol
    that breaks a do-not-mix rule by itself or with what the plant was given before, and a move that should wait and is
    given no reason for; the reason is written down, and so is what was `laid_out`, in words, why each plant's wash is
    in the plan or left out, and what an order of the grower's own does against the rule.
    """
    chosen = _chosen(session, now, choices, shelf, order)
    protocols = [one.protocol for one in chosen]
    found = (*_faults(protocols, shelf), *_too_close(session, now, chosen, shelf))
    grave = [fault for fault in found if fault.grave]
    if grave:
        raise Refused("This cannot be started: agents would meet that must not", str(grave[0]),
                      "Choose another protocol, or correct the file.")
    _refuse_busy(session, [one.plant.number for one in chosen])
    _refuse_early_moves(chosen)
    for one in chosen:
        if one.waits:
            transitions_start.start_anyway(session, now, one.plant.number, one.choice.reason)
    sitting = bench.add_session(session, now)
    kept, against = list[int](), _overruled(chosen)
    for place, (one, steps) in enumerate(zip(chosen, copies(protocols, _unwashed(chosen)), strict=True)):
        run = Run(0, one.plant.number, one.plant.name, one.protocol.id, one.protocol.title, steps, one.standing.word,
                  one.standing.why, float(place))
        kept.append(bench.add_run(session, sitting, run))
        for why in filter(None, (one.wash_why, against.get(one.plant.number))):
            journal.add(session, now, Note(f"At the start: {why}"), plant=one.plant.number, run=kept[-1])
    if laid_out:
        journal.add(session, now, Note(laid_out), run=kept[0])
    numbers = ", ".join(str(one.plant.number) for one in chosen)
    return Done(f"Start at the bench: {numbers}", SITS, sitting)


def _chosen(session: Session, now: datetime, choices: Sequence[Choice], shelf: Shelf,
            order: Sequence[int]) -> list[Chosen]:
    """The choices in queue order; refuses what cannot be worked on."""
    if not choices:
        raise NOTHING_CHOSEN
    if len({choice.plant for choice in choices}) < len(choices):
        raise Refused("A plant was chosen twice", "", "Choose each plant once.")
    everyone = histories(session)
    growing = {one.plant.number: one.plant for one in everyone if one.plant.left is None}
    standing = quarantine.standings(session, everyone, now)
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
            stands = replace(stands, why=told_apart(stands.why))
        found.append(_asked(session, now, Chosen(growing[choice.plant], protocol, stands, choice)))
    own = {plant: place for place, plant in enumerate(order)}
    return sorted(found, key=lambda one: (own.get(one.plant.number, len(own)), one.standing.rank, one.plant.number))


def _asked(session: Session, now: datetime, one: Chosen) -> Chosen:
    """The choice with what is said of a wash that is not owed, and of a move that should wait."""
    number, around = one.plant.number, care.surroundings(session)
    wash = next((owed for owed in care.of_plant(session, number, now) if owed.kind in WASHES), None)
    moves = any(step.transition for step in one.protocol.steps)
    said = move(session, now, number) if moves else None
    return replace(one, wash=wash, wash_words=wash_words(wash, one.standing, care_day(now, around.zone, around.rules)),
                   waits=said.words if said is not None and said.waits else "")


def _unwashed(chosen: Sequence[Chosen]) -> frozenset[int]:
    return frozenset(place for place, one in enumerate(chosen) if not one.washes)


def _refuse_early_moves(chosen: Sequence[Chosen]) -> None:
    for one in chosen:
        if one.waits and not one.choice.reason.strip():
            raise Refused(f"Better not move {one.plant.number} yet", one.waits,
                          "Write beside it why it is moved all the same, or choose another protocol.")


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


def _overruled(chosen: Sequence[Chosen]) -> dict[int, str]:
    """What it does that plants stand before cleaner ones in the grower's own order, by number."""
    found = {}
    for place, one in enumerate(chosen):
        cleaner = [other.plant.number for other in chosen[place + 1:] if other.standing.rank < one.standing.rank]
        if cleaner:
            found[one.plant.number] = (
                f"{one.plant.number} ({UNSEEN if one.standing.rank == NEVER_LOOKED else one.standing.word}) is worked "
                f"on before {listed([str(number) for number in cleaner])}, by your own order: what it carries can go "
                f"on to {'them' if len(cleaner) > 1 else 'it'} by hands, tools and splashes. The rule is cleanest "
                "first.")
    return found


def _jobs(chosen: Sequence[Chosen], own: OwnWords) -> list[Job]:
    runs = copies([one.protocol for one in chosen], _unwashed(chosen))
    return [Job(one.plant.number, tuple(step.step for step in steps if step.state is not State.SKIPPED), place,
                one.washes and one.standing.word in PEST_STANDINGS, one.standing.word,
                treatments_virus.held_by_virus(one.standing, one.protocol, own))
            for place, (one, steps) in enumerate(zip(chosen, runs, strict=True))]


def _apart(protocols: Sequence[Protocol], shelf: Shelf) -> str:
    """How agents that must not meet would not, "" where none do."""
    if any(fault.grave for protocol in protocols for fault in shelf.faults_of(protocol)):
        return "Possible with another protocol, or once the file is corrected: within one protocol the agents meet."
    if any(fault.grave for fault in mixing_faults(protocols, shelf.agents)):
        return ("Possible in two sessions on two days, each with one of the agents, tools, trays and bench rinsed and "
                "dried between; or with another protocol for one of the plants.")
    return ""
