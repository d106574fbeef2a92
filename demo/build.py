"""Builds the demo: an empty folder in, a collection with a year and a half of journal and pictures out."""

from __future__ import annotations

import random
from dataclasses import dataclass
from datetime import datetime
from pathlib import Path
from tempfile import TemporaryDirectory
from zoneinfo import ZoneInfo

from greenhouse_desk.domain.care import Moment
from greenhouse_desk.domain.faults import Refused
from greenhouse_desk.domain.journal import Reply
from greenhouse_desk.domain.plants import Place
from greenhouse_desk.services import backup, care, collection, photos
from greenhouse_desk.store import house, journal
from greenhouse_desk.store.engine import Session, open_store

from . import logger
from .album import Shot, drawing, shots
from .days import Days
from .outbreak import share_the_snips
from .rounds import everyday
from .setting import BENCHES, HOME, ROOMS, Given, air, plants
from .stories import told_of

SEED = "an evening in the lean-to"
ROUNDS_OF_ANSWERS = 6


@dataclass(frozen=True, slots=True)
class Built:
    """What the demo holds."""

    plants: int
    benches: int
    entries: int
    pictures: int


def build(folder: Path, now: datetime) -> Built:
    """Build the demo in `folder`, made when missing, for the aware instant `now`. Raises Refused unless it is empty."""
    if folder.exists() and (not folder.is_dir() or any(folder.iterdir())):
        raise Refused("That folder is not empty", f"{folder} holds something already.",
                      "Name a folder that is empty or not there yet.")
    wanted = [shot for plant in plants() for shot in shots(plant, _dice(plant, "album"))]
    with TemporaryDirectory(prefix="greenhouse-demo-") as scratch, drawing(wanted, Path(scratch)) as drawn:
        store = open_store(folder, create=True)
        try:
            days = Days(now, ZoneInfo(HOME.zone))
            with store.session() as session, session.begin():
                entries = _write(session, days, Path(scratch))
                for shot, path, ready in drawn:
                    ready.result()
                    _hang(session, days, shot, path)
            backup.make(store, now)  # so that putting one back can be tried at once
        finally:
            store.close()
    return Built(len(plants()), len(BENCHES), entries + len(drawn), len(drawn))


def _dice(plant: Given, what: str) -> random.Random:
    return random.Random(f"{SEED}, {plant.number}, {what}")


def _write(session: Session, days: Days, scratch: Path) -> int:
    house.save_home(session, HOME)
    places = _places(session, days)
    for bench in BENCHES:
        for told in air(bench, days, random.Random(f"{SEED}, {bench.name}")):
            journal.add(session, told.at, told.facts, place=places[bench.name])
    logger.take_in(session, days, places, scratch, SEED)
    for plant in plants():
        _plant(session, days, plant, places)
    share_the_snips(session, days, [plant.number for plant in plants() if plant.days_of("snipped")])
    _answer_the_past(session, days)
    return len(journal.everything(session))


def _places(session: Session, days: Days) -> dict[str, int]:
    start = days.at(548, 12)
    rooms = {name: collection.save_place(session, start, Place(0, name, position=nth, bench=False)).value
             for nth, name in enumerate(ROOMS)}
    return {bench.name: collection.save_place(session, start, Place(
        0, bench.name, rooms[bench.room], nth, bench.isolation, True, bench.lights_out)).value
            for nth, bench in enumerate(BENCHES)}


def _plant(session: Session, days: Days, plant: Given, places: dict[str, int]) -> None:
    new = collection.NewPlant(plant.name, plant.number, plant.habit, source=plant.source,
                              acquired_on=days.day(plant.arrived))
    collection.add_plant(session, days.now, new)
    dice = _dice(plant, "journal")
    for told in everyday(plant, days, dice, told_of(plant, days, dice), places):
        journal.add(session, told.at, told.facts, plant=plant.number, note=told.note)


def _answer_the_past(session: Session, days: Days) -> None:
    """Answer every care whose last day has passed, as a grower did at the time; what is owed tonight stays open."""
    for _ in range(ROUNDS_OF_ANSWERS):
        late = [owed for owed in care.due(session, days.now) if _is_past(owed.latest or owed.due, days)]
        if not late:
            return
        for owed in late:
            last = owed.latest or owed.due
            at = last if isinstance(last, datetime) else days.at((days.today - last).days, 18, 40)
            care.answer(session, at, owed, Reply.DONE)


def _is_past(last: Moment, days: Days) -> bool:
    return last < days.at(1, 12) if isinstance(last, datetime) else last < days.day(1)


def _hang(session: Session, days: Days, shot: Shot, path: Path) -> None:
    photos.add(session, days.now, shot.number, path, taken_at=days.at(shot.days_ago, 13, shot.number % 60))
