"""The demo: its size, its outbreak, and that enough is owed tonight whenever it is built."""

from __future__ import annotations

import random
from datetime import datetime
from pathlib import Path

import pytest
from PIL import Image

from demo import build as building
from demo.pictures import ALL_HABITS, Subject, picture, save
from demo.setting import BENCHES, plants
from greenhouse_desk.domain.care import care_day, day_of
from greenhouse_desk.domain.faults import Refused
from greenhouse_desk.domain.journal import Kind, Leaving, Left, Sighted
from greenhouse_desk.services import backup, care, collection, demo, outbreaks
from greenhouse_desk.services.desk import Desk
from greenhouse_desk.store import house, journal
from greenhouse_desk.store.engine import Session, open_store
from tests.builders import NOW
from tests.demo_built import Built

NOWS = [
    "2026-11-18T15:30:00+00:00", "2026-06-21T20:00:00+00:00", "2026-01-01T00:00:00+01:00", "2027-03-28T01:59:00+01:00",
    "2027-03-28T03:01:00+02:00", "2026-10-25T02:30:00+02:00", "2026-10-25T02:30:00+01:00", "2028-02-29T12:00:00+00:00",
    "2028-03-01T03:59:00+01:00", "2028-03-01T04:01:00+01:00", "2031-12-31T23:59:59+00:00", "2026-07-04T08:00:00-07:00",
]


def _tonight(session: Session, now: datetime) -> list[str]:
    zone, rules = collection.zone(session), house.rules(session)
    today = care_day(now, zone, rules)
    return [one.kind.value for one in care.due(session, now) if one.hold or day_of(one.due, zone, rules) <= today]


@pytest.mark.parametrize("now", NOWS)
def test_enough_is_owed_tonight_at_any_hour(now: str, built: Built) -> None:
    at = datetime.fromisoformat(now)
    with built(at) as desk:
        tonight = desk.read(_tonight, at)
        assert len(tonight) >= 10
        assert len(set(tonight)) >= 5
        late = [entry.id for entry in desk.read(journal.everything) if entry.at > at]
        assert late == [], "nothing in the journal is still to come"


def test_the_collection_is_large_old_and_eventful(built: Built) -> None:
    with built(NOW) as desk:
        seen, told = desk.read(collection.overview, NOW), desk.read(journal.everything)
        cards = [card for bench in seen.benches for card in bench.cards]
        numbers = sorted({entry.plant for entry in told if entry.plant is not None})
        assert numbers == list(range(101, 101 + len(numbers)))
        assert len(numbers) >= 60
        assert len({plant.name.split()[0] for plant in plants()}) >= 25
        assert seen.homeless == ()
        assert len({bench.path.split(", ")[0] for bench in seen.benches}) >= 4
        assert any(bench.place.isolation for bench in seen.benches)
        assert min(entry.at for entry in told if entry.kind is Kind.POURED) < NOW
        assert (NOW - min(entry.at for entry in told if entry.kind is Kind.POTTED)).days > 540
        left = [entry.facts.how for entry in told if isinstance(entry.facts, Left)]
        assert left.count(Leaving.DEAD) == 2
        assert len(left) == 4
        assert {card.standing.word for card in cards} >= {"clear", "exposed", "newcomer", "under treatment"}
        seen_pests = {entry.facts.what for entry in told if isinstance(entry.facts, Sighted)}
        assert seen_pests >= {"thrips", "mealybug", "soft-rot"}
        assert all(len(bench.trace) >= 20 for bench in seen.benches)


def test_the_outbreak_followed_the_snips(built: Built) -> None:
    with built(NOW) as desk:
        told = desk.read(journal.everything)
        snipped = {entry.plant: entry.at for entry in told if entry.kind is Kind.CUT and entry.run is not None}
        found = {entry.plant: entry.at for entry in told
                 if isinstance(entry.facts, Sighted) and entry.facts.what == "mealybug"}
        assert set(found) < set(snipped), "some that were cut stayed clean"
        assert len(found) == 3
        assert all(found[plant] > snipped[plant] for plant in found)
        clean = [at for plant, at in snipped.items() if plant not in found]
        assert max(snipped[plant] for plant in found) < min(clean), "the clean ones were cut after the soak"


def test_the_outbreak_is_open_and_followed(built: Built) -> None:
    with built(NOW) as desk:
        (one,) = desk.read(outbreaks.followed, NOW)
        assert (one.plant, one.what, one.over) == (112, "mealybug", None)
        assert set(one.washed) == {112, 127, 149}
        assert one.watched, "neighbours wait for looks"


@pytest.mark.usefixtures("unpictured")
def test_the_same_moment_builds_the_same_journal(tmp_path: Path) -> None:
    journals = []
    for name in ("one", "two"):
        building.build(tmp_path / name, NOW)
        store = open_store(tmp_path / name)
        journals.append(Desk(store, lambda: NOW).read(journal.everything))
        store.close()
    assert journals[0] == journals[1]


def test_a_folder_that_holds_something_is_refused_untouched(tmp_path: Path) -> None:
    (tmp_path / "mine.txt").write_text("keep", "utf-8")
    with pytest.raises(Refused, match="not empty"):
        demo.build(tmp_path, NOW)
    assert [path.name for path in tmp_path.iterdir()] == ["mine.txt"]


def test_the_door_builds_it_whole_with_every_picture_in_place(tmp_path: Path) -> None:
    built = demo.build(tmp_path / "demo", NOW)
    store = open_store(tmp_path / "demo")
    try:
        assert backup.check(store) == ()
        seen = Desk(store, lambda: NOW).read(collection.overview, NOW)
    finally:
        store.close()
    (told,) = backup.told(tmp_path / "demo")
    assert (told.backup.made, told.soundness) == (NOW, backup.Soundness(())), "one to try putting back"
    assert built.pictures >= 100
    assert all(card.plant.photo for bench in seen.benches for card in bench.cards)


@pytest.mark.parametrize("form", sorted(ALL_HABITS))
def test_a_picture_is_drawn_alive_and_the_same_each_time(form: str, tmp_path: Path) -> None:
    dice = random.Random(form)
    bench = dice.choice(BENCHES)
    subject = Subject(120, form, "#c77bc4", bench.scene, "clay pellets", "12 cm clear pot", 0.8, True, 1.0)
    first, again = picture(subject), picture(subject)
    assert first.size == (960, 720)
    assert first.tobytes() == again.tobytes()
    small = picture(Subject(120, form, "#c77bc4", bench.scene, "clay pellets", "12 cm clear pot", 0.2, False, 1.0))
    assert small.tobytes() != first.tobytes(), "a young plant out of flower looks different"
    save(subject, tmp_path / "one.jpg")
    with Image.open(tmp_path / "one.jpg") as kept:
        assert (kept.format, kept.size) == ("JPEG", (960, 720))
        colours = kept.resize((96, 72)).getcolors(96 * 72)
    assert colours is not None
    assert len(colours) > 1500, "a photograph, not a flat drawing"


def test_every_plant_of_the_list_has_a_form_that_can_be_drawn() -> None:
    assert {plant.form for plant in plants()} == set(ALL_HABITS)
    assert {plant.bench for plant in plants()} == {bench.name for bench in BENCHES}
