"""What a step asks at the bench: one question at a time, and how the accepted answers are read back."""

from __future__ import annotations

from collections.abc import Collection, Mapping, Sequence
from dataclasses import dataclass, replace
from types import MappingProxyType

from greenhouse_desk.domain.bench_deciding import STOP, STOP_OPEN, go_on, why_left_out
from greenhouse_desk.domain.bench_values import LooseKind, PestChoice, Question, Run, RunStep, State
from greenhouse_desk.domain.faults import within
from greenhouse_desk.domain.journal import Sighted
from greenhouse_desk.domain.protocols import Asks
from greenhouse_desk.domain.roots import many_dead

NOT_LOOKED = "not looked at now"
NOTHING_SEEN = "looked: nothing seen"
NOTHING_MORE = "nothing more"
NOT_TOLD = "not told"
WHERE = ("leaves", "axils", "crown", "roots", "bulbs or stems", "spike or flowers", "pot or medium")
COUNTS = {Asks.LIVING: "How many living roots?", Asks.DEAD: "How many dead roots?",
          Asks.NEW_TIPS: "How many new root tips?"}
REMOVED_BY = 5


@dataclass(frozen=True, slots=True)
class Answers:
    """The answers of a step: numbers by what was asked, what was seen, whether anybody looked."""

    numbers: dict[Asks, int]
    sighted: tuple[Sighted, ...]
    looked: bool = False

    @property
    def stops(self) -> bool:
        """Whether the work on this plant is to stop with this step."""
        return self.numbers.get(Asks.GO_ON) in (STOP, STOP_OPEN)

    @property
    def leaves_open(self) -> bool:
        """Whether it stops with what stands open on the plant left so knowingly."""
        return self.numbers.get(Asks.GO_ON) == STOP_OPEN


NOTHING: Mapping[Asks, int] = MappingProxyType({})


def question(step: RunStep, choices: Sequence[PestChoice], before: Mapping[Asks, int] = NOTHING,
             still: Collection[LooseKind] = (), known: Sequence[str] = ()) -> Question | None:
    """The next question of `step`, None once all are answered; `before` is what earlier steps of the run counted,
    `still` what stands open on the plant should the work on it stop here, `known` the keys of what may be on it."""
    if step.leaving:
        return why_left_out(step.step)
    left = list(step.found)
    numbers: dict[Asks, int] = {}
    for asks in _asked(step):
        if asks is Asks.SIGHTINGS:
            open_question = _sightings(left, choices, known)
            if open_question is not None:
                return open_question
        elif _needless(asks, numbers):
            continue
        elif not left:
            counted = {**before, **numbers}
            if asks is Asks.GO_ON:
                return go_on(numbers.get(Asks.LIVING), numbers.get(Asks.DEAD), still)
            return _number(asks, counted)
        else:
            numbers[asks] = left.pop(0)
    return None


def answers(step: RunStep, choices: Sequence[PestChoice]) -> Answers:
    """What the accepted answers say."""
    left = [] if step.leaving else list(step.found)
    numbers: dict[Asks, int] = {}
    sighted: list[Sighted] = []
    looked = False
    for asks in _asked(step):
        if asks is Asks.SIGHTINGS:
            looked |= bool(left) and left[0] > 0
            sighted += _read_sightings(left, choices)
        elif left and not _needless(asks, numbers):
            numbers[asks] = left.pop(0)
    return Answers(numbers, tuple(sighted), looked)


def counted_before(run: Run, step: RunStep, choices: Sequence[PestChoice]) -> dict[Asks, int]:
    """What the steps of this run that were done before `step` counted."""
    numbers: dict[Asks, int] = {}
    for earlier in run.steps:
        if earlier.state is State.DONE and earlier.ordinal < step.ordinal:
            numbers |= answers(earlier, choices).numbers
    return numbers


def accepted(asked: Question, value: int | None) -> int | None:
    """The answer to keep: `value`, or where the dial started; None while it stands at no answer. OutOfRange outside."""
    at = asked.start if value is None else value
    return None if at is None else int(within("answer", at, asked.low, asked.high))


def dialled(asked: Question, value: int | None, steps: int) -> int:
    """`value` (or the start) dialled by `steps`, kept in the question's range; from no answer to the first one."""
    at = asked.start if value is None else value
    if at is None:
        return asked.low if asked.first is None else asked.first
    return min(asked.high, max(asked.low, at + steps * asked.by))


def _asked(step: RunStep) -> tuple[Asks, ...]:
    """What a step asks; a count of dead roots always asks whether to go on, when it tells that it should be asked."""
    asks = step.step.asks
    return asks if Asks.DEAD not in asks or Asks.GO_ON in asks else (*asks, Asks.GO_ON)


def _needless(asks: Asks, so_far: dict[Asks, int]) -> bool:
    """Whether a question answers itself: without a cut nothing was cut away, with few dead roots one goes on."""
    if asks is Asks.GO_ON and Asks.DEAD in so_far:
        return not many_dead(so_far.get(Asks.LIVING, 0), so_far[Asks.DEAD])
    return asks is Asks.REMOVED and so_far.get(Asks.CUTS) == 0


def _number(asks: Asks, in_run: Mapping[Asks, int]) -> Question:
    if asks in COUNTS:
        return Question(COUNTS[asks], asks=asks)
    if asks is Asks.REMOVED:
        return Question("How much of the roots came away?", "%", 0, 100, by=REMOVED_BY, asks=asks,
                        first=_dead_share(in_run))
    if asks is Asks.CUTS:
        return Question("How many cuts?", high=20, asks=asks)
    return Question("Does water stand in the crown?", high=1, choices=("no", "yes"), asks=asks)


def _dead_share(so_far: Mapping[Asks, int]) -> int:
    living, dead = so_far.get(Asks.LIVING, 0), so_far.get(Asks.DEAD, 0)
    return round(100 * dead / (living + dead) / REMOVED_BY) * REMOVED_BY if dead else 0


def _sightings(left: list[int], choices: Sequence[PestChoice], known: Sequence[str]) -> Question | None:
    """The open question of the loop of sightings; the answers used up are taken off `left`.

    It starts at "not looked at": an answer given without looking must not become a clean look.
    """
    ends: tuple[str, ...] = (NOT_LOOKED, NOTHING_SEEN)
    while left:
        what = left.pop(0)
        if what < len(ends):
            return None
        seen = choices[what - len(ends)]
        ends = (NOTHING_MORE,)
        if not left:
            return _choice(f"{seen.name}: which stage?", (NOT_TOLD, *seen.stages), 0)
        left.pop(0)
        if not left:
            return _choice(f"{seen.name}: where?", WHERE, None)
        left.pop(0)
        if not left:
            return Question(f"{seen.name}: how many?", start=1, asks=Asks.SIGHTINGS)
        left.pop(0)
    return _seen(ends, choices, known)


def _seen(ends: tuple[str, ...], choices: Sequence[PestChoice], known: Sequence[str]) -> Question:
    """What was seen: what is known of the plant stands first of all, so that a list on two pages hides none of it."""
    places = {choice.key: place for place, choice in enumerate(choices)}
    first = [places[key] for key in dict.fromkeys(known) if key in places]
    order = (*first, *(place for place in range(len(choices)) if place not in first))
    asked = _choice("Pests or diseases seen?", (*ends, *(choices[place].name for place in order)), 0)
    values = (*range(len(ends)), *(len(ends) + place for place in order))
    return replace(asked, values=values) if first else asked


def _choice(prompt: str, choices: tuple[str, ...], start: int | None) -> Question:
    return Question(prompt, high=len(choices) - 1, start=start, choices=choices, asks=Asks.SIGHTINGS)


def _read_sightings(left: list[int], choices: Sequence[PestChoice]) -> list[Sighted]:
    found: list[Sighted] = []
    while left and (what := left.pop(0) - (1 if found else 2)) >= 0:
        if len(left) < 3:
            break
        stage, where, count = left.pop(0), left.pop(0), left.pop(0)
        seen = choices[what]
        found.append(Sighted(seen.key, (NOT_TOLD, *seen.stages)[stage] if stage else "", WHERE[where], count))
    return found
