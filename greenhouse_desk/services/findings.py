"""Findings: each question of what the collection teaches, read from the journal and answered with what it rests on."""

from __future__ import annotations

from collections.abc import Callable, Mapping
from dataclasses import dataclass, replace
from datetime import datetime, timedelta
from enum import StrEnum
from pathlib import Path

from greenhouse_desk.domain import (
    air_dark,
    findings_air,
    findings_pests,
    findings_settling,
    findings_tracks,
    findings_why,
    findings_year,
)
from greenhouse_desk.domain.air_dark import dark_at
from greenhouse_desk.domain.care_day import care_day
from greenhouse_desk.domain.care_values import Reason
from greenhouse_desk.domain.faults import Refused
from greenhouse_desk.domain.findings import Finding, Table
from greenhouse_desk.domain.findings_air import WetNight
from greenhouse_desk.domain.findings_settling import By
from greenhouse_desk.domain.findings_why import explained
from greenhouse_desk.domain.journal import Kind
from greenhouse_desk.domain.plants import History, Place, Plant
from greenhouse_desk.services import care, files, house, quarantine, transitions
from greenhouse_desk.services.dealings_sources import records_by_source
from greenhouse_desk.services.records import histories
from greenhouse_desk.store import air, journal, plants
from greenhouse_desk.store.engine import Session

AIR_DAYS = 400


class Topic(StrEnum):
    """What is asked of the record."""

    SETTLING = "How plants settle"
    ROOTS = "Roots of a plant"
    BY_MONTH = "Pests by month"
    BY_SOURCE = "Pests by source"
    LOSSES = "Losses by cause"
    WET_CROWNS = "Wet crowns"
    FLOWERING = "When they flowered"
    AIR = "Air of a place"


@dataclass(frozen=True, slots=True)
class Question:
    """A topic, and what it is asked of: a grouping for settling, a plant for roots, a place for the air."""

    topic: Topic
    by: By = By.ALL
    plant: int | None = None
    place: int | None = None


@dataclass(frozen=True, slots=True)
class Choices:
    """Plants whose roots were counted, and places whose air was read."""

    plants: tuple[Plant, ...]
    places: tuple[Place, ...]


def choices(session: Session) -> Choices:
    """What roots and air can be asked of: those there is a record of."""
    counted = {entry.plant for entry in journal.of_kinds(session, (Kind.ROOTS,))}
    read = {*air.newest(session), *(one.place for one in air.imports(session))}  # also where every day is damaged
    everyone = plants.plants(session, house.zone(session))
    return Choices(tuple(one for one in everyone if one.number in counted),
                   tuple(one for one in plants.places(session) if one.id in read))


def answer(session: Session, now: datetime, question: Question) -> Finding:
    """The finding at `now` (aware), its reasoning whole. Raises Refused for a plant or place that is not known."""
    found = ASKED[question.topic](session, now, question)
    return replace(found, why=explained(replace(found, why=HOW[question.topic])))


def _settling(session: Session, now: datetime, question: Question) -> Finding:
    known = transitions.record(session, now)
    names = {one.id: one.name for one in plants.sources(session)}
    sources = {plant.number: names[plant.source] for plant in known.plants.values() if plant.source in names}
    return findings_settling.settling(known.all, question.by, sources, known.around.home.latitude)


def _roots(session: Session, now: datetime, question: Question) -> Finding:
    found = plants.plants(session, house.zone(session), [question.plant or 0])
    if not found:
        raise Refused("There is no such plant", f"Number {question.plant} is not known.", "Choose one from the list.")
    return findings_tracks.roots(History(found[0], journal.of_plant(session, found[0].number)))


def _by_month(session: Session, now: datetime, question: Question) -> Finding:
    zone = house.zone(session)
    return findings_pests.by_month(quarantine.histories(session), _names(), care_day(now, zone, house.rules(session)),
                                   zone)


def _by_source(session: Session, now: datetime, question: Question) -> Finding:
    by = quarantine.counting(session)
    records = records_by_source(session, quarantine.histories(session), now, by)
    names = {one.id: one.name for one in plants.sources(session)}
    return findings_pests.by_source({names[key]: record for key, record in records.items()})


def _losses(session: Session, now: datetime, question: Question) -> Finding:
    return findings_pests.losses(histories(session), house.zone(session))


def _wet_crowns(session: Session, now: datetime, question: Question) -> Finding:
    return findings_pests.wet_crowns(histories(session), frozenset(transitions.rots()), now)


def _flowering(session: Session, now: datetime, question: Question) -> Finding:
    around = care.surroundings(session)
    return findings_year.flowering(histories(session), around.years, around.genera, around.south, now, around.zone)


def _air(session: Session, now: datetime, question: Question) -> Finding:
    place = next((one for one in plants.places(session) if one.id == question.place), None)
    if place is None:
        raise Refused("There is no such place", f"Place {question.place} is not known.", "Choose one from the list.")
    around, since = care.surroundings(session), now - timedelta(days=AIR_DAYS)
    wet = WetNight(around.rules.wet_night_percent / 100, around.rules.wet_night_hours)
    dark = dark_at(around.home, around.home_set, around.around(place.id).lights_out, around.zone)
    return findings_air.air(place.name, air.by_hand(session, place.id, since), around.zone, wet,
                            air.logged(session, place.id, since, now), dark, air.lost(session, place.id, since, now))


ASKED: Mapping[Topic, Callable[[Session, datetime, Question], Finding]] = {
    Topic.SETTLING: _settling, Topic.ROOTS: _roots, Topic.BY_MONTH: _by_month, Topic.BY_SOURCE: _by_source,
    Topic.LOSSES: _losses, Topic.WET_CROWNS: _wet_crowns, Topic.FLOWERING: _flowering,
    Topic.AIR: _air}


HOW: Mapping[Topic, tuple[Reason, ...]] = {
    Topic.SETTLING: findings_why.SETTLING, Topic.ROOTS: findings_why.ROOTS, Topic.BY_MONTH: findings_why.MONTHS,
    Topic.BY_SOURCE: findings_why.SOURCES, Topic.LOSSES: findings_why.LOSSES,
    Topic.WET_CROWNS: (*findings_why.rules(findings_pests.LOST_DAYS, findings_pests.ONE_SITTING),
                       findings_why.SOURCES[1]),
    Topic.FLOWERING: (*findings_why.FLOWERING, *findings_why.rules(findings_year.OPEN_FOR)),
    Topic.AIR: (*findings_why.AIR, *findings_why.rules(air_dark.NIGHT_FROM, air_dark.NIGHT_TO))}
"""How each topic is worked out."""


def _names() -> dict[str, str]:
    return {key: pest.name for key, pest in care.pests().items()}


def nothing(title: str, words: str) -> Finding:
    """What is told of a topic that there is no record of."""
    return Finding(title, "nothing yet", words, None, Table((), ()))


def write_table(finding: Finding, path: Path) -> None:
    """Write the figures behind a finding as CSV. Raises Refused where the file cannot be written."""
    try:
        files.put(path, finding.table.csv().encode("utf-8"))
    except OSError as error:
        raise files.unwritten(path, error, f"{path.name} cannot be written") from error
