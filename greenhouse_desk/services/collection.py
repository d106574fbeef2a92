"""The collection: adding, editing, moving, repotting and parting with plants; its places and their air."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from datetime import date, datetime
from zoneinfo import ZoneInfo

from greenhouse_desk.domain.care_day import dated
from greenhouse_desk.domain.faults import Refused
from greenhouse_desk.domain.journal import Arrived, Kind, Leaving, Left, Placed, Potted
from greenhouse_desk.domain.plants import Habit, Place, Plant, Source
from greenhouse_desk.services.collection_places import known_place, order_before, stays
from greenhouse_desk.services.collection_places import place_named as place_named
from greenhouse_desk.services.collection_places import record_air as record_air
from greenhouse_desk.services.collection_places import remove_place as remove_place
from greenhouse_desk.services.collection_places import save_place as save_place
from greenhouse_desk.services.collection_reading import BenchRow as BenchRow
from greenhouse_desk.services.collection_reading import Card as Card
from greenhouse_desk.services.collection_reading import Drawer as Drawer
from greenhouse_desk.services.collection_reading import Overview as Overview
from greenhouse_desk.services.collection_reading import drawer as drawer
from greenhouse_desk.services.collection_reading import find as find
from greenhouse_desk.services.collection_reading import house_order as house_order
from greenhouse_desk.services.collection_reading import overview as overview
from greenhouse_desk.services.collection_reading import path_of as path_of
from greenhouse_desk.services.collection_reading import zone as zone
from greenhouse_desk.services.desk import Done
from greenhouse_desk.services.records import moment_of
from greenhouse_desk.services.records_checks import check
from greenhouse_desk.store import journal, plants
from greenhouse_desk.store.engine import Session

PLANTS = frozenset({"plants", "journal"})
HIGHEST_NUMBER = 999_999
LONGEST_NAME = 400


@dataclass(frozen=True, slots=True)
class NewPlant:
    """A plant to add. `number` None takes the next free one; a day that is None is unknown, and nothing counts from it.

    `source` is a name, known or new; `place` the key of a bench or None.
    """

    name: str
    number: int | None = None
    habit: Habit = Habit.UNKNOWN
    place: int | None = None
    medium: str = ""
    pot: str = ""
    potted_on: date | None = None
    source: str = ""
    acquired_on: date | None = None
    notes: str = ""


def places_of(session: Session) -> tuple[Place, ...]:
    """All places, every place before what lies in it."""
    return tuple(house_order(plants.places(session)))


def sources_of(session: Session) -> tuple[Source, ...]:
    """All sources by name."""
    return plants.sources(session)


def next_number(session: Session) -> int:
    """The number after the highest ever given."""
    return plants.next_number(session)


def add_plant(session: Session, now: datetime, new: NewPlant) -> Done[int]:
    """Take a plant into the collection. Returns its number.

    Raises Refused for a number taken or below 1, an empty name, an unknown place, or a day to come.
    """
    number = plants.next_number(session) if new.number is None else new.number
    check_number(session, number)
    plants.add_plant(session, number, checked_name(new.name), new.habit, new.notes)
    arrive(session, now, number, new.source, new.acquired_on)
    if new.medium.strip():
        at = moment_of(session, now, new.potted_on or new.acquired_on)
        journal.add(session, at, Potted(new.medium.strip(), new.pot.strip(), day_known=new.potted_on is not None),
                    plant=number)
    if new.place is not None:
        known_place(session, new.place)
        order = order_before(session, new.place, [number], None)[0]
        journal.add(session, moment_of(session, now, new.acquired_on), Placed(new.place, order), plant=number)
    return Done(f"Add {number}", PLANTS, number)


def arrive(session: Session, now: datetime, number: int, source: str, acquired_on: date | None) -> None:
    """Write the arrival of a plant, or correct the one written; nothing when neither source nor day is known."""
    old = [entry for entry in journal.of_plant(session, number) if entry.kind is Kind.ARRIVED]
    key = plants.source_named(session, source.strip()) if source.strip() else None
    facts = Arrived(key, day_known=acquired_on is not None)
    if old:
        at = moment_of(session, now, acquired_on) if acquired_on is not None else old[-1].at
        journal.correct(session, old[-1].id, at, facts, old[-1].note)
    elif key is not None or acquired_on is not None:
        journal.add(session, moment_of(session, now, acquired_on), facts, plant=number)


def edit_plant(session: Session, now: datetime, number: int, name: str | None = None, habit: Habit | None = None,
               notes: str | None = None, source: str | None = None, acquired_on: date | None = None) -> Done[None]:
    """Rewrite what is kept of a plant; what is None stays as it is. Raises Refused as `add_plant` does."""
    old = one(session, number)
    plants.change_plant(session, number, old.name if name is None else checked_name(name), habit or old.habit,
                        old.notes if notes is None else notes)
    known = {item.id: item.name for item in plants.sources(session)}
    told = (known.get(old.source or 0, ""), old.acquired_on)
    new = (told[0] if source is None else source.strip(), acquired_on or old.acquired_on)
    if new != told:
        arrive(session, now, number, *new)
    return Done(f"Edit {number}", PLANTS, None)


def move(session: Session, now: datetime, numbers: Sequence[int], place: int, before: int | None = None) -> Done[None]:
    """Move plants, in this order, to a bench: in front of plant `before`, or to the end of the bench when None.

    Where they stand there in this order already, nothing is written. Raises Refused for an unknown plant or place, a
    place without a bench, or a plant that left.
    """
    bench = known_place(session, place)
    wanted = list(dict.fromkeys(numbers))
    moved = [growing(session, number) for number in wanted]
    if not moved:
        raise Refused("No plant was chosen", "", "Choose the plants to move.")
    if all(plant.place == place for plant in moved) and stays(session, place, wanted, before):
        return Done("Move nothing", frozenset(), None)
    for plant, order in zip(moved, order_before(session, place, wanted, before), strict=True):
        journal.add(session, now, Placed(place, order), plant=plant.number)
    whom = str(wanted[0]) if len(wanted) == 1 else f"{len(wanted)} plants"
    way = "along" if all(plant.place == place for plant in moved) else "to"
    return Done(f"Move {whom} {way} {bench.name}", PLANTS, None)


def repot(session: Session, now: datetime, number: int, medium: str, pot: str = "", transition: bool = False,
          day: date | None = None, note: str = "") -> Done[int]:
    """Pot a plant into `medium` and `pot` on the local `day` (now when None). Returns the entry.

    `transition` marks the move to another kind of medium. Raises Refused for an empty medium or a day to come.
    """
    growing(session, number)
    facts = Potted(medium.strip(), pot.strip(), transition)
    check(facts)
    entry = journal.add(session, moment_of(session, now, day), facts, plant=number, note=note.strip())
    return Done(f"Repot {number} in {facts.medium}", PLANTS, entry)


def part_with(session: Session, now: datetime, number: int, how: Leaving, reason: str,
              day: date | None = None) -> Done[None]:
    """Write down that a plant was traded, given away or died, on the local `day` (now when None), and why or to whom.

    Its number is never given again. Raises Refused when it left already, the reason is empty, or the day is to come or
    before it arrived.
    """
    plant = growing(session, number)
    if not reason.strip():
        raise Refused("A reason is missing", "Why a plant left is what one learns from later.",
                      "Say why or to whom, in short; \"not known\" will do.")
    if day is not None and plant.acquired_on is not None and day < plant.acquired_on:
        raise Refused(f"{number} came after that day", f"It arrived on {dated(plant.acquired_on)}.",
                      "Name a day after its arrival.")
    journal.add(session, moment_of(session, now, day), Left(how, reason.strip()), plant=number)
    deed = {Leaving.DEAD: "died", Leaving.TRADED: "traded", Leaving.GIVEN_AWAY: "given away"}[how]
    return Done(f"{number} {deed}", PLANTS, None)


def check_number(session: Session, number: int) -> None:
    """Raise Refused unless `number` can be given to a new plant."""
    if not 0 < number <= HIGHEST_NUMBER:
        raise Refused(f"A plant cannot be number {number}", f"Numbers run from 1 to {HIGHEST_NUMBER}.",
                      f"The next free number is {plants.next_number(session)}.")
    taken = plants.plants(session, ZoneInfo("UTC"), [number])
    if taken:
        left = f", {taken[0].left.value}" if taken[0].left else ""
        raise Refused(f"Number {number} is taken", f"It is {taken[0].name}{left}; numbers are never given twice.",
                      f"The next free number is {plants.next_number(session)}.")


def checked_name(name: str) -> str:
    """The name as typed. Raises Refused when it is empty, too long, or holds a line break or control character."""
    if not name.strip():
        raise Refused("The name is empty", "Every plant needs a name.", "Type one, even a genus alone.")
    if len(name) > LONGEST_NAME or any(ord(sign) < 32 for sign in name):
        raise Refused("That is no plant's name", f"At most {LONGEST_NAME} characters on one line.", "Shorten it.")
    return name


def one(session: Session, number: int) -> Plant:
    """The plant as it stands. Raises Refused when there is none of that number."""
    found = plants.plants(session, zone(session), [number])
    if not found:
        raise Refused(f"There is no plant {number}", "Nothing was changed.", "Check the number.")
    return found[0]


def growing(session: Session, number: int) -> Plant:
    """The plant, which must not have left. Raises Refused otherwise."""
    plant = one(session, number)
    if plant.left is not None:
        day = f" on {dated(plant.left_on)}" if plant.left_on else ""
        raise Refused(f"{number} has left the collection", f"{plant.left.value}{day}.", "Withdraw that entry first.")
    return plant

