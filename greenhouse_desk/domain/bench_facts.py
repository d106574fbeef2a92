"""What a confirmed bench step writes into the journal, and what the journal says still stands open."""

from __future__ import annotations

from collections.abc import Callable, Iterable, Sequence
from dataclasses import dataclass, field

from greenhouse_desk.domain.bench_cuts import others_open
from greenhouse_desk.domain.bench_questions import Answers, answers, counted_before
from greenhouse_desk.domain.bench_rinse import rinse_after
from greenhouse_desk.domain.bench_values import PestChoice, Run, RunStep
from greenhouse_desk.domain.journal import (
    Aired,
    Blotted,
    Cut,
    Dressed,
    Dry,
    Entry,
    Facts,
    Looked,
    Part,
    Potted,
    Poured,
    Purpose,
    Roots,
    Sighted,
    Step,
    Treated,
    Unpotted,
    Wetted,
)
from greenhouse_desk.domain.protocols import Asks, Deed, ProtocolStep

DRIES_IN_AIR = frozenset({Part.LEAVES, Part.CROWN, Part.PLANT})
PELLETS = "expanded clay pellets"
PELLET_WORDS = ("pellet", "leca", "expanded clay")
OF_ROOTS = (Asks.LIVING, Asks.DEAD, Asks.NEW_TIPS, Asks.REMOVED)


@dataclass(frozen=True, slots=True)
class Kept:
    """How a soak was kept: minutes of contact (None for hands work), and whether it ended early on purpose."""

    minutes: float | None = None
    early: bool = False


@dataclass(frozen=True, slots=True)
class Potting:
    """What the plant stands in now: medium and pot, "" when unknown."""

    medium: str = ""
    pot: str = ""


@dataclass(slots=True)
class Standing:
    """What is open on plants, by number; built up from their entries, oldest first."""

    cuts_open: set[int] = field(default_factory=set)
    wet: set[int] = field(default_factory=set)
    pools: set[int] = field(default_factory=set)
    aired: set[int] = field(default_factory=set)
    unpotted: set[int] = field(default_factory=set)
    seen: dict[int, set[str]] = field(default_factory=dict)


def facts_of_step(run: Run, step: RunStep, kept: Kept, potting: Potting,
                  choices: Sequence[PestChoice]) -> tuple[Facts, ...]:
    """The facts of `step` once its work is done and its questions are answered: a pool found, then the deed's own.

    Wetting by a soak is not among them: it is written when the soak starts.
    """
    told = answers(step, choices)
    pool = bool(told.numbers.get(Asks.POOL))
    stood = wetted(step.step, pool) if pool else ()  # it stood there before the step: blotting takes it away
    facts: list[Facts] = [*stood]
    if step.step.deed is not Deed.DRESS or not others_open(run, step, choices):
        facts += _own(step.step, kept, potting, told, rinse_after(run, step))
    facts += told.sighted
    facts += _roots(run, step, told, choices)
    if kept.minutes is None and not pool:
        facts += wetted(step.step)
    return tuple(facts) or (Step(_undone(step.step) + step.step.say),)


def _undone(step: ProtocolStep) -> str:
    """What to say before a step of which the answers tell that nothing was done."""
    if step.deed is Deed.CUT:
        return "No cut made: "
    return "Not looked: " if step.deed is Deed.INSPECT and Asks.SIGHTINGS in step.asks else ""


def wetted(step: ProtocolStep, pool: bool = False) -> tuple[Wetted, ...]:
    """What the step made wet."""
    parts = step.wets or ((Part.CROWN,) if pool else ())
    return (Wetted(parts, pool),) if parts else ()


def open_in(entries: Iterable[Entry]) -> Standing:
    """What stands open after `entries` (oldest first)."""
    standing = Standing()
    for entry in entries:
        if entry.plant is not None:
            _apply(standing, entry.plant, entry.facts)
    return standing


def uncounted_cuts(runs: Iterable[Run]) -> set[int]:
    """Plants on which a cut was made whose questions are not answered yet: it is open all the same."""
    return {run.plant for run in runs for step in run.steps if step.asking and step.step.deed is Deed.CUT}


def _own(step: ProtocolStep, kept: Kept, potting: Potting, told: Answers,
         rinse: RunStep | None) -> tuple[Facts, ...]:
    if step.deed in (Deed.TREAT, Deed.WASH):
        return (_treated(step, kept, None if rinse is None else rinse.id),)
    if step.deed is Deed.CUT:
        count = told.numbers.get(Asks.CUTS, 1)
        return (Cut(step.on[0] if step.on else Part.PLANT, count),) if count else ()
    if step.deed is Deed.INSPECT:
        return (Looked(not told.sighted),) if told.looked else ()
    if step.deed is Deed.POT:
        return (potted(step, potting),)
    if step.deed is Deed.POUR:
        return (Poured(round(step.amount_ml) or None),)
    plain: dict[Deed, Callable[[], Facts]] = {
        Deed.UNPOT: Unpotted, Deed.BLOT: Blotted, Deed.AIR: Aired, Deed.DRESS: lambda: Dressed(step.agent)}
    return (plain[step.deed](),) if step.deed in plain else ()


def potted(step: ProtocolStep, potting: Potting) -> Potted:
    """The potting a pot step makes: into its medium, or the one the plant stood in; the pot stays the plant's own."""
    medium = step.medium or potting.medium or PELLETS
    moved = in_pellets(medium) != in_pellets(potting.medium) if potting.medium else step.transition
    return Potted(medium, potting.pot, moved)


def in_pellets(medium: str) -> bool:
    """Whether a medium, as the grower calls it, is clay pellets."""
    return any(word in medium.lower() for word in PELLET_WORDS)


def _treated(step: ProtocolStep, kept: Kept, rinse: int | None) -> Treated:
    purpose = Purpose.PEST_WASH if step.deed is Deed.WASH else (
        Purpose.ROOT_DISINFECTION if Part.ROOTS in step.on else Purpose.DISINFECTION)
    minutes = None if kept.minutes is None else round(kept.minutes, 1)
    return Treated(step.agent, purpose, step.on, step.strength, minutes, kept.early, rinse)


def _roots(run: Run, step: RunStep, told: Answers, choices: Sequence[PestChoice]) -> tuple[Roots, ...]:
    """The root count with what earlier steps of this run counted; none where nobody counted living and dead ones."""
    if not any(asks in told.numbers for asks in OF_ROOTS):
        return ()
    numbers = counted_before(run, step, choices) | told.numbers
    if Asks.LIVING not in numbers or Asks.DEAD not in numbers:
        return ()
    return (Roots(*(numbers.get(asks, 0) for asks in OF_ROOTS)),)


def _apply(standing: Standing, plant: int, facts: Facts) -> None:
    if isinstance(facts, Wetted) and DRIES_IN_AIR.intersection(facts.parts):
        standing.wet.add(plant)
        standing.aired.discard(plant)
        if facts.pool:
            standing.pools.add(plant)
    elif isinstance(facts, Sighted):
        standing.seen.setdefault(plant, set()).add(facts.what)
    add = {Cut: standing.cuts_open, Unpotted: standing.unpotted, Aired: standing.aired}.get(type(facts))
    take = {Dressed: (standing.cuts_open,), Potted: (standing.unpotted,), Blotted: (standing.pools,),
            Dry: (standing.wet, standing.pools, standing.aired)}.get(type(facts), ())
    if add is not None:
        add.add(plant)
    for plants in take:
        plants.discard(plant)
