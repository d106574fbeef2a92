"""The round on paper: plants in the order they are walked, each with what is owed, a box to tick and room to write.

Isolation places come last, whatever their place in the house: nothing may be carried from them to the others.
"""

from __future__ import annotations

from collections import defaultdict
from collections.abc import Iterable, Iterator, Mapping, Sequence
from dataclasses import dataclass
from datetime import date, datetime
from itertools import groupby

from greenhouse_desk.domain import care as rules_of_care
from greenhouse_desk.domain.care import Care, CareKind, Turn
from greenhouse_desk.domain.figures import counted
from greenhouse_desk.domain.names_genera import Genera
from greenhouse_desk.domain.paper import A4, HAIR, Face, Line, Measure, Page, Words
from greenhouse_desk.domain.paper_text import fitted, listed
from greenhouse_desk.services import collection_reading, house, inspections, shelf
from greenhouse_desk.services.page_flow import BODY, LEADING, SMALL, Flow, day_words
from greenhouse_desk.services.page_parts import TICK, Wordings, head, name_in, place_head, tick_box, wordings, writing
from greenhouse_desk.store import plants
from greenhouse_desk.store.engine import Session

NUMBER = Face(3.6, "serif", True)
NUMBER_WIDE, WRITE_SHARE = 20.0, 0.4
ROW, NAME_HIGH = 5.4, 4.6
NO_PLACE = "No place"
TODAY = ("Tick what was done or seen, write beside it what is to go into the journal, and enter it afterwards: this "
         "sheet keeps nothing.")
LAST = "Isolation comes last: wash your hands after it, and go back to no other plant."
LOOKS = ("The cleanest plants come first: do not go back. Tick clean, or write down what was seen, where and how many; "
         "wash your hands where something was found.")
SEEN = ("clean", "something seen:")
FEET = ((CareKind.DRY_REST, False, "Rest dry, do not water"),
        (CareKind.DRY_REST, True, "Their genus usually rests dry now; look whether these do before you water"),
        (CareKind.PLAIN_WATER, False, "Plain water only, no feed, besides"))
"""What is said under a place of the plants on hold, each hold apart, and whether only a genus says so."""


@dataclass(frozen=True, slots=True)
class Stop:
    """One plant of a round: what is to be done, each with a box, and what holds besides (plain water, a dry
    rest). `abreast` sets the boxes beside each other."""

    number: int
    name: Wordings
    tasks: tuple[str, ...]
    notes: tuple[str, ...] = ()
    abreast: bool = False


@dataclass(frozen=True, slots=True)
class Part:
    """The stops at one place; `feet` say what holds there besides, a line for each hold."""

    place: str
    isolation: bool
    stops: tuple[Stop, ...]
    feet: tuple[str, ...] = ()


@dataclass(frozen=True, slots=True)
class Round:
    """A round of a day: its title, how it is used, and its stops by place in the order they are walked."""

    title: str
    day: date
    words: tuple[str, ...]
    parts: tuple[Part, ...]


def todays_round(session: Session, now: datetime) -> Round:
    """What needs hands at the aware `now` or by the end of the care day, bench by bench as they stand."""
    seen = collection_reading.overview(session, now)
    rules, genera = house.rules(session), shelf.genera(session)
    today = rules_of_care.care_day(now, seen.zone, rules)
    owed: dict[int, list[Care]] = defaultdict(list)
    for care in (care for turn, cares in seen.turns if turn in (*rules_of_care.TONIGHT, Turn.HOLD) for care in cares):
        owed[care.plant].append(care)

    def stop(card: collection_reading.Card) -> Stop:
        said = [(care.hold, rules_of_care.words(care, now, seen.zone, rules).text) for care in owed[card.plant.number]]
        return Stop(card.plant.number, wordings(card.plant.name, genera),
                    tuple(text for hold, text in said if not hold), tuple(text for hold, text in said if hold))

    rows = [(row.path, row.place.isolation, row.cards) for row in seen.benches] + [(NO_PLACE, False, seen.homeless)]
    parts = [_part(path, apart, [stop(card) for card in cards], owed) for path, apart, cards in rows]
    walked = tuple(sorted((part for part in parts if part.stops or part.feet), key=lambda part: part.isolation))
    return Round(f"Round of {day_words(today)}", today, _how(TODAY, walked), walked)


def _part(path: str, apart: bool, stops: Sequence[Stop], owed: Mapping[int, Sequence[Care]]) -> Part:
    """A place's stops: those with something to do; of the others only what must not be given to whom."""
    held = [one.number for one in stops if one.notes and not one.tasks]
    return Part(path, apart, tuple(one for one in stops if one.tasks), tuple(_feet(held, owed)))


def _feet(held: Sequence[int], owed: Mapping[int, Sequence[Care]]) -> Iterator[str]:
    """Each hold with the plants it is on; no water outranks plain water, but not where only a genus says so."""
    dry = {number for number in held if any(care.kind is CareKind.DRY_REST and not care.usual for care in owed[number])}
    for kind, usual, words in FEET:
        mine = [number for number in held if any(care.kind is kind and care.usual is usual for care in owed[number])
                and (kind is CareKind.DRY_REST or number not in dry)]
        if mine:
            yield f"{words}: {listed(mine)}."


def _how(words: str, parts: Iterable[Part]) -> tuple[str, ...]:
    return (words, LAST) if any(part.isolation for part in parts) else (words,)


def round_of_looks(session: Session, now: datetime, numbers: Sequence[int] = ()) -> Round:
    """A round of looks, the cleanest first: of these plants in this order, or of those whose turn it is at `now`."""
    every = inspections.turns(session, now)
    known = {turn.plant: turn for turn in every}
    chosen = [known[number] for number in numbers if number in known] or inspections.round_of(every)
    zone, genera = house.zone(session), shelf.genera(session)
    apart = {place.name for place in plants.places(session) if place.isolation}
    today = rules_of_care.care_day(now, zone, house.rules(session))
    parts = tuple(Part(place or NO_PLACE, place in apart, tuple(_look(turn, genera) for turn in turns))
                  for place, turns in groupby(chosen, key=lambda turn: turn.place))
    return Round(f"Looks of {day_words(today)}", today, _how(LOOKS, parts), parts)


def _look(turn: inspections.Turn, genera: Genera) -> Stop:
    last = f"last look {day_words(turn.last)}" if turn.last else "never looked at"
    notes = [f"{turn.standing.word}, {last}", *([f"does not count today: {turn.not_now}"] if turn.not_now else [])]
    return Stop(turn.plant, wordings(turn.name.plain, genera), SEEN, tuple(notes), abreast=True)


def pages(made: Round, measure: Measure, size: tuple[float, float] = A4) -> tuple[Page, ...]:
    """The round on sheets of `size`."""
    flow = Flow(measure, size)
    stops = sum(len(part.stops) for part in made.parts)
    head(flow, made.title, (*made.words, f"{counted(stops, 'plant')}." if stops else "Nothing needs hands today."))
    for part in made.parts:
        place_head(flow, part.place, part.isolation, 3 * ROW)
        for stop in part.stops:
            _stop(flow, stop)
        for foot in part.feet:
            flow.gap(1)
            flow.line(foot, BODY)
    flow.again = ""
    return flow.done(made.title)


def _stop(flow: Flow, stop: Stop) -> None:
    """A row: number, name and tasks at the left, lines to write on at the right."""
    left, write = flow.left + NUMBER_WIDE, flow.right - (flow.right - flow.left) * WRITE_SHARE
    tasks = [fitted(task, BODY, write - left - TICK - 6, 2, flow.measure) for task in stop.tasks]
    notes = [row for note in stop.notes for row in fitted(note, SMALL, write - left - 3, 2, flow.measure)]
    beyond = LEADING * BODY.letter * sum(len(rows) - 1 for rows in tasks)
    high = NAME_HIGH + ROW * (1 if stop.abreast else len(tasks)) + beyond + LEADING * SMALL.letter * len(notes) + 3
    flow.room(high)
    top = flow.y
    flow.items.append(Words(flow.left, top + 1 + NUMBER.letter, str(stop.number), NUMBER))
    flow.items += name_in((left, top + 1.2, write - left - 3, NAME_HIGH), stop.name, BODY.letter, flow.measure)
    flow.y = top + NAME_HIGH
    _tasks(flow, stop, tasks, left)
    flow.items += list(_rows(notes, left, flow.y + LEADING * SMALL.letter, SMALL))
    flow.items += [writing(write, flow.right, base) for base in _bases(top, high)]
    flow.y = top + high
    flow.items.append(Line(flow.left, flow.y, flow.right, flow.y, HAIR))


def _tasks(flow: Flow, stop: Stop, tasks: Sequence[Sequence[str]], left: float) -> None:
    """The boxes with their words, below each other or abreast."""
    for place, rows in enumerate(tasks):
        x = left
        if stop.abreast and place:
            flow.y -= ROW
            x += place * (TICK + 4 + max(flow.measure(row, BODY).advance for row in tasks[place - 1]))
        flow.y += ROW
        flow.items.append(tick_box(x, flow.y))
        flow.items += list(_rows(rows, x + TICK + 2, flow.y, BODY))
        flow.y += LEADING * BODY.letter * (len(rows) - 1)


def _rows(rows: Sequence[str], left: float, base: float, face: Face) -> Iterator[Words]:
    for place, text in enumerate(rows):
        yield Words(left, base + place * LEADING * face.letter, text, face)


def _bases(top: float, high: float) -> list[float]:
    """Where the lines to write on stand: as many as fit a hand's writing, the last above the row's own line."""
    count = max(1, int((high - 1.5) // 7))
    return [top + high - 1.8 - 7 * nth for nth in range(count)]
