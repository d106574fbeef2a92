"""Places: naming and nesting them, removing empty ones, their air, and where along a bench a plant goes."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from dataclasses import replace
from datetime import datetime

from greenhouse_desk.domain.care_day import moment_words
from greenhouse_desk.domain.faults import Refused
from greenhouse_desk.domain.journal import Kind, Moving, Placed, Reading
from greenhouse_desk.domain.plants import Place, Plant
from greenhouse_desk.services.desk import Done
from greenhouse_desk.services.house import zone
from greenhouse_desk.services.records_checks import check
from greenhouse_desk.store import air, journal, plants
from greenhouse_desk.store.engine import Session

PLACES = frozenset({"places", "plants"})
PATH_JOINT = ">"  # joins a place's path in exchanged files, so no name may hold it
LEAST_GAP = 1e-6


def save_place(session: Session, now: datetime, place: Place) -> Done[int]:
    """Write a place; a new one when its id is 0. Returns its id.

    Raises Refused for an empty name, a name its neighbours bear, an unknown parent, a place that would lie in itself,
    or a bench that plants stand on and that would be none.
    """
    name = place.name.strip()
    known = {item.id: item for item in plants.places(session)}
    if place.id and place.id not in known:
        raise Refused("There is no such place", "It was removed meanwhile.", "Look at the places again.")
    _check_name(name, place, known)
    _check_parent(place, known)
    if place.id and not place.bench and _standing(session, place.id):
        raise Refused(f"Plants stand on {name}", "Without a bench it cannot hold plants.", "Move the plants first.")
    key = plants.save_place(session, replace(place, name=name))
    return Done(f"{'Edit' if place.id else 'Add'} place {name}", PLACES, key)


def remove_place(session: Session, now: datetime, place: int) -> Done[None]:
    """Remove a place nothing stands in and no entry tells of.

    Raises Refused when plants or other places are in it, or the journal names it: history must stay readable.
    """
    known = {item.id: item for item in plants.places(session)}
    if place not in known:
        raise Refused("There is no such place", "It was removed already.", "Look at the places again.")
    name = known[place].name
    here = _standing(session, place)
    if here:
        raise Refused(f"{len(here)} plants stand on {name}", ", ".join(str(plant.number) for plant in here[:8]),
                      "Move them to another bench first.")
    inside = [item.name for item in known.values() if item.parent == place]
    if inside:
        raise Refused(f"{name} holds other places", ", ".join(inside), "Remove or move those first.")
    if _told_of(session, place) or air.imports(session, place):
        raise Refused(f"The journal tells of {name}", "Plants stood there, or its air was read; that stays readable.",
                      "Leave it empty, or give it another name.")
    plants.remove_place(session, place)
    return Done(f"Remove place {name}", PLACES, None)


def record_air(session: Session, now: datetime, place: int, temp_c: float, rh: float,
               air_speed_m_s: float | None = None, at: datetime | None = None,
               moving: Moving | None = None) -> Done[int]:
    """Write an air reading of a place: deg C, relative humidity 0 to 1, m/s (None: not measured). Returns the entry.

    `moving` says how the air moves where its speed was not measured; a measured speed stands before it. Raises
    Refused for an unknown place, a figure that cannot be, or a moment to come.
    """
    known = {item.id: item for item in plants.places(session)}
    if place not in known:
        raise Refused("There is no such place", "", "Choose a place from the list.")
    facts = Reading(temp_c, rh, air_speed_m_s, moving if air_speed_m_s is None else None)
    check(facts)
    if at is not None and at > now:
        raise Refused("That moment is still to come", f"{moment_words(at, zone(session))} is later than now.",
                      "Name an earlier moment.")
    entry = journal.add(session, at or now, facts, place=place)
    return Done(f"Air at {known[place].name}", frozenset({"journal", "air"}), entry)


def known_place(session: Session, place: int) -> Place:
    """The bench with this key. Raises Refused when there is none, or when it is a room without a bench of its own."""
    found = next((item for item in plants.places(session) if item.id == place), None)
    if found is None:
        raise Refused("There is no such place", f"Place {place} is not known.", "Choose a place from the list.")
    if not found.bench:
        raise Refused(f"{found.name} is no bench", "Plants stand on benches inside it.", "Choose one of its benches.")
    return found


def place_named(places: Sequence[Place], text: str) -> int:
    """The key of the place that `text` names: by its own name, or by the way to it (room > bench).

    Raises Refused where none or several are so called.
    """
    found = named({one.id: one for one in places}, split(text))
    if len(found) != 1:
        raise Refused(f"{len(found) or 'No'} place{'s are' if len(found) > 1 else ' is'} called {text}",
                      ", ".join(one.name for one in places[:12]), f"Name one, with the way to it: room {PATH_JOINT} "
                      "bench.")
    return found[0]


def split(text: str) -> tuple[str, ...]:
    """The names along a way as it is written: room > bench."""
    return tuple(name.strip() for name in text.split(PATH_JOINT))


def named(known: Mapping[int, Place], names: Sequence[str]) -> tuple[int, ...]:
    """The keys of the places that these names along a way may mean, whoever wrote them: the one whose whole way it is,
    else every one whose way ends so. Capitals do not matter."""
    wanted = [name.casefold() for name in names]
    ways = {key: _way(place, known) for key, place in known.items()}
    whole = [key for key, way in ways.items() if way == wanted]
    return tuple(whole or [key for key, way in ways.items() if way[-len(wanted):] == wanted])


def _way(place: Place, known: Mapping[int, Place]) -> list[str]:
    """The folded names from the outermost place to this one."""
    names = [place.name.casefold()]
    while place.parent is not None and len(names) <= len(known):
        place = known[place.parent]
        names.insert(0, place.name.casefold())
    return names


def order_before(session: Session, place: int, numbers: Sequence[int], before: int | None) -> list[float]:
    """Order values that put `numbers` in front of plant `before` on the bench, or at its end when None.

    Raises Refused when `before` does not stand there. Where neighbours have come too close, the bench is numbered anew.
    """
    bench = [plant for plant in _standing(session, place) if plant.number not in numbers]
    if before is None or before in numbers:
        last = bench[-1].order if bench else 0.0
        return [last + 1.0 + step for step in range(len(numbers))]
    at = next((n for n, plant in enumerate(bench) if plant.number == before), None)
    if at is None:
        raise Refused(f"{before} does not stand there", "It was moved meanwhile.", "Choose the spot again.")
    high = bench[at].order
    low = bench[at - 1].order if at else high - 1.0
    if (high - low) / (len(numbers) + 1) < LEAST_GAP:
        _number_anew(session, bench)
        low, high = float(at), float(at + 1)
    return [low + (high - low) * (step + 1) / (len(numbers) + 1) for step in range(len(numbers))]


def stays(session: Session, place: int, numbers: Sequence[int], before: int | None) -> bool:
    """Whether `numbers` stand on the bench in this order, in front of `before` or at its end, already."""
    bench = [plant.number for plant in _standing(session, place)]
    left = [number for number in bench if number not in numbers]
    at = left.index(before) if before in left else len(left)
    return bench == [*left[:at], *numbers, *left[at:]]


def _number_anew(session: Session, bench: Sequence[Plant]) -> None:
    for nth, plant in enumerate(bench):
        entry = next(entry for entry in reversed(journal.of_plant(session, plant.number))
                     if entry.kind is Kind.PLACED)
        assert isinstance(entry.facts, Placed)
        journal.correct(session, entry.id, entry.at, replace(entry.facts, order=nth + 1.0), entry.note)


def _standing(session: Session, place: int) -> list[Plant]:
    everyone = plants.plants(session, zone(session))
    here = [plant for plant in everyone if plant.place == place and plant.left is None]
    return sorted(here, key=lambda plant: (plant.order, plant.number))


def _told_of(session: Session, place: int) -> bool:
    told = journal.of_kinds(session, (Kind.PLACED, Kind.READING))
    return any(entry.place == place or (isinstance(entry.facts, Placed) and entry.facts.place == place)
               for entry in told)


def _check_name(name: str, place: Place, known: dict[int, Place]) -> None:
    if not name or PATH_JOINT in name or any(ord(sign) < 32 for sign in name):
        raise Refused("That is no name for a place", f"It must hold something, and no {PATH_JOINT}.", "Type another.")
    twins = [item for item in known.values() if item.id != place.id and item.parent == place.parent]
    if any(item.name.casefold() == name.casefold() for item in twins):
        raise Refused(f"There is a {name} here already", "Places side by side need different names.", "Type another.")


def _check_parent(place: Place, known: dict[int, Place]) -> None:
    parent = place.parent
    if parent is not None and parent not in known:
        raise Refused("There is no such place around it", "", "Choose a place from the list.")
    while parent is not None:
        if parent == place.id:
            raise Refused(f"{place.name} cannot lie in itself", "The place chosen around it lies inside it.",
                          "Choose a place outside it.")
        parent = known[parent].parent
