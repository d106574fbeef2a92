"""Questions about the collection: the benches as they stand, one plant's drawer, and finding plants."""

from __future__ import annotations

from collections import defaultdict
from collections.abc import Mapping, Sequence
from dataclasses import dataclass, field
from datetime import datetime, timedelta
from zoneinfo import ZoneInfo

from rapidfuzz import fuzz, utils

from greenhouse_desk.domain import airflow, names
from greenhouse_desk.domain import care as rules_of_care
from greenhouse_desk.domain.care import Care, CareWords, Turn
from greenhouse_desk.domain.faults import Refused
from greenhouse_desk.domain.journal import Entry, Kind, Placed, Unpotted
from greenhouse_desk.domain.names import BotanicalName
from greenhouse_desk.domain.plants import Air, Home, Place, Plant
from greenhouse_desk.domain.quarantine import Standing
from greenhouse_desk.domain.settings import HouseRules
from greenhouse_desk.domain.transitions import SETTLED_WEEKS
from greenhouse_desk.services import care as services_care
from greenhouse_desk.services import quarantine, records
from greenhouse_desk.services.house import zone as zone
from greenhouse_desk.services.records_words import Line
from greenhouse_desk.store import air, house, journal, plants
from greenhouse_desk.store.engine import Session
from greenhouse_desk.store.kept import Told

TRACE = timedelta(hours=24)
TRACE_APART_S = 600
"""What a bench's head has room to draw of a logger that writes more often."""
STAGES = frozenset((Kind.POTTED, Kind.UNPOTTED, Kind.SETTLED, Kind.PLACED))
"""The kinds of entry that a card's stage rests on."""
Turns = tuple[tuple[Turn, tuple[Care, ...]], ...]
ALIKE = 78.0  # of 100: how alike a word must be for a name to be found by it


@dataclass(frozen=True, slots=True)
class Card:
    """One plant as its card shows it. `stage` is empty when there is nothing to say; `care` is the most urgent one."""

    plant: Plant
    name: BotanicalName
    stage: str
    standing: Standing
    care: Care | None
    words: CareWords | None


@dataclass(frozen=True, slots=True)
class BenchRow:
    """One bench: its place, the path to it ("Landing, window"), the newest air there or above it, 24 h of readings.

    `holds`: the newest reading is not older than the house rule lets one tell of the air.
    """

    place: Place
    path: str
    air: Air | None
    trace: tuple[Air, ...]
    cards: tuple[Card, ...]
    holds: bool = True


@dataclass(frozen=True, slots=True)
class Overview:
    """The whole collection as it stands; `homeless` grow but stand on no bench; `departed` counts those that left.

    `turns` groups `care` by when it needs hands.
    """

    benches: tuple[BenchRow, ...]
    care: tuple[Care, ...]
    turns: Turns
    homeless: tuple[Card, ...]
    departed: int
    home: Home
    zone: ZoneInfo
    rules: HouseRules = field(default_factory=HouseRules)


@dataclass(frozen=True, slots=True)
class Drawer:
    """One plant opened: its card, its journal newest first, what it is owed, where it came from, where it stands."""

    card: Card
    lines: tuple[Line, ...]
    care: tuple[Care, ...]
    source_name: str
    place_path: str


@dataclass(frozen=True, slots=True)
class Scene:
    """What a card needs besides its plant, read once for all of them."""

    now: datetime
    zone: ZoneInfo
    rules: HouseRules
    places: Mapping[int, Place]
    told: Mapping[int, Told]
    standings: Mapping[int, Standing]
    owed: Mapping[int, Sequence[Care]] = field(default_factory=dict)


def overview(session: Session, now: datetime) -> Overview:
    """All the collection screen shows at the aware instant `now`: benches in house order, plants as they stand."""
    local = zone(session)
    everyone = plants.plants(session, local)
    growing = [plant for plant in everyone if plant.left is None]
    owed = services_care.due(session, now)
    told = journal.told(session)
    standings = quarantine.standings(session, quarantine.with_entries(everyone, told), now)
    scene = _scene(session, now, told, standings, owed)
    cards = [_card(plant, scene) for plant in growing]
    standing_at: dict[int | None, list[Card]] = defaultdict(list)
    for card in sorted(cards, key=lambda card: (card.plant.order, card.plant.number)):
        standing_at[card.plant.place].append(card)
    order = house_order(tuple(scene.places.values()))
    newest = air.newest(session)
    benches = tuple(_bench(session, place, scene, newest, standing_at.pop(place.id, []))
                    for place in order if place.bench)
    homeless = tuple(card for card in cards if card.plant.place in standing_at)
    turns = turns_of(owed, now, local, scene.rules)
    return Overview(benches, owed, turns, homeless, len(everyone) - len(growing), house.home(session), local,
                    scene.rules)


def drawer(session: Session, number: int, now: datetime) -> Drawer:
    """The drawer of plant `number` at `now`. Raises Refused when there is no such plant."""
    local = zone(session)
    found = plants.plants(session, local, [number])
    if not found:
        raise Refused(f"There is no plant {number}", "", "Check the number.")
    plant = found[0]
    owed = services_care.of_plant(session, number, now) if plant.left is None else ()
    scene = _scene(session, now, journal.told(session, [number]), {
        number: quarantine.standing(session, plant, now)}, owed)
    named = records.labels(session)
    lines = [records.line(entry, named, now, local) for entry in reversed(journal.of_plant(session, number))]
    return Drawer(_card(plant, scene), tuple(lines), owed, named.sources.get(plant.source or 0, ""),
                  path_of(plant.place, scene.places))


def find(session: Session, text: str) -> tuple[int, ...]:
    """Numbers of plants that `text` finds, best first: by number's beginning, by name (slips forgiven), by place.

    Plants that left are found too, after those that grow. Nothing is found by an empty text.
    """
    wanted = text.strip()
    if not wanted:
        return ()
    where = {place.id: place for place in plants.places(session)}
    paths = {key: path_of(key, where) for key in where}
    ranked = [(plant.left is not None, -score, plant.number) for plant in plants.plants(session, zone(session))
              if (score := _score(wanted, plant, paths.get(plant.place or 0, ""))) > 0]
    return tuple(number for _, _, number in sorted(ranked))


def path_of(place: int | None, places: Mapping[int, Place]) -> str:
    """The names from the outermost place to this one, joined by commas; empty for None."""
    path: list[str] = []
    while place is not None and place in places and len(path) < len(places):
        path.append(places[place].name)
        place = places[place].parent
    return ", ".join(reversed(path))


def air_place(place: int | None, places: Mapping[int, Place], newest: Mapping[int, Air]) -> int | None:
    """The place whose air readings hold for `place`: its own, else those of the nearest place around it."""
    for _ in places:
        if place is None or place in newest:
            return place
        place = places[place].parent
    return None


def house_order(places: Sequence[Place]) -> list[Place]:
    """Places as one walks the house: every place before what lies in it, siblings by position."""
    children: dict[int | None, list[Place]] = defaultdict(list)
    for place in sorted(places, key=lambda place: (place.position, place.id)):
        children[place.parent].append(place)
    walked: list[Place] = []
    waiting = list(reversed(children[None]))
    while waiting:
        place = waiting.pop()
        walked.append(place)
        waiting.extend(reversed(children[place.id]))
    return walked


def stage_of(plant: Plant, entries: Sequence[Entry], scene: Scene) -> str:
    """The plant's stage in words, "" when it is settled and at home: unpotted, in isolation, or settling."""
    today = scene.now.astimezone(scene.zone).date()
    pots = [entry for entry in entries if entry.kind in (Kind.POTTED, Kind.UNPOTTED)]
    if pots and isinstance(pots[-1].facts, Unpotted):
        return "unpotted"
    place = scene.places.get(plant.place or 0)
    if place is not None and place.isolation:
        since = _here_since(entries, place.id)
        return f"day {(today - since.astimezone(scene.zone).date()).days} here" if since else ""
    if pots and any(entry.kind is Kind.SETTLED and entry.at >= pots[-1].at for entry in entries):
        return ""
    if plant.transition and plant.potted_on is not None and (today - plant.potted_on).days < 7 * SETTLED_WEEKS.value:
        return f"settling, week {(today - plant.potted_on).days // 7 + 1}"
    return ""


def most_urgent(owed: Sequence[Care], now: datetime, local: ZoneInfo, rules: HouseRules) -> Care | None:
    """The care a card shows: what needs hands by tomorrow, most in need first; else a running hold; else the next."""
    in_need = rules_of_care.by_need(owed, now, local, rules)
    soon = (*rules_of_care.TONIGHT, Turn.TOMORROW)
    first = next((care for care in in_need if rules_of_care.turn_of(care, now, local, rules) in soon), None)
    return first or next((care for care in in_need if care.hold), in_need[0] if in_need else None)


def turns_of(owed: Sequence[Care], now: datetime, local: ZoneInfo, rules: HouseRules) -> Turns:
    """What is owed, grouped by when it needs hands, in order of need; a turn with nothing in it is left out."""
    groups: dict[Turn, list[Care]] = defaultdict(list)
    for care in rules_of_care.by_need(owed, now, local, rules):
        groups[rules_of_care.turn_of(care, now, local, rules)].append(care)
    return tuple((turn, tuple(cares)) for turn, cares in groups.items())


def _scene(session: Session, now: datetime, told: Mapping[int, Told], standings: Mapping[int, Standing],
           owed: Sequence[Care]) -> Scene:
    where = {place.id: place for place in plants.places(session)}
    by_plant: dict[int, list[Care]] = defaultdict(list)
    for care in owed:
        by_plant[care.plant].append(care)
    return Scene(now, zone(session), house.rules(session), where, told, standings, by_plant)


def _card(plant: Plant, scene: Scene) -> Card:
    urgent = most_urgent(scene.owed.get(plant.number, ()), scene.now, scene.zone, scene.rules)
    said = rules_of_care.words(urgent, scene.now, scene.zone, scene.rules) if urgent is not None else None
    told = scene.told.get(plant.number)
    return Card(plant, names.parse(plant.name), stage_of(plant, told.of(STAGES) if told is not None else (), scene),
                scene.standings[plant.number], urgent, said)


def _bench(session: Session, place: Place, scene: Scene, newest: Mapping[int, Air], cards: Sequence[Card]) -> BenchRow:
    measured = air_place(place.id, scene.places, newest)
    trace = air.record(session, measured, scene.now - TRACE, TRACE_APART_S) if measured is not None else ()
    read = newest[measured] if measured is not None else None
    holds = airflow.fresh(read, scene.now, scene.rules) is not None
    return BenchRow(place, path_of(place.id, scene.places), read, trace, tuple(cards), holds)


def _here_since(entries: Sequence[Entry], place: int) -> datetime | None:
    since = None
    for entry in entries:
        if isinstance(entry.facts, Placed):
            since = (since or entry.at) if entry.facts.place == place else None
    return since


def _score(wanted: str, plant: Plant, path: str) -> float:
    if wanted.isdigit():
        number = str(plant.number)
        return 300.0 if number == wanted else 200.0 if number.startswith(wanted) else 0.0
    text, name = utils.default_process(wanted), utils.default_process(plant.name)
    if text and text in name:
        return 150.0
    if text and text in utils.default_process(path):
        return 110.0
    likeness = max((fuzz.ratio(text, word) for word in name.split()), default=0.0) if text else 0.0
    whole = max(likeness, fuzz.partial_ratio(text, name) if len(text) > 4 else 0.0)
    return whole if whole >= ALIKE else 0.0


