"""The journal: entries written, mended and withdrawn, care following them, and every kind of entry in words."""

from __future__ import annotations

from datetime import UTC, date, datetime, timedelta
from zoneinfo import ZoneInfo

import pytest

from greenhouse_desk.domain.faults import Refused
from greenhouse_desk.domain.journal import (
    FACTS,
    Aired,
    Answer,
    Arrived,
    Blotted,
    ClockChanged,
    Cut,
    Dressed,
    Dry,
    Facts,
    Flowering,
    Labelled,
    Leaving,
    Left,
    Light,
    Lit,
    Looked,
    Note,
    OutbreakOpened,
    Overruled,
    Part,
    Phase,
    Photo,
    Placed,
    Potted,
    Poured,
    Purpose,
    Reading,
    Released,
    Reply,
    Resting,
    Roots,
    Settled,
    Shared,
    Sharing,
    Sighted,
    Signs,
    Stage,
    Step,
    Treated,
    Unpotted,
    VirusTested,
    Wetted,
)
from greenhouse_desk.domain.journal_course import Growing, Leaves, Stand
from greenhouse_desk.services import care, collection, records
from greenhouse_desk.services.collection import NewPlant
from greenhouse_desk.services.desk import Desk
from greenhouse_desk.services.records_words import Labels, day_words, line, listed, words
from tests.builders import NOW, entry

SAID: list[tuple[Facts, str, str, str]] = [
    (Arrived(3), "arrived", "arrived", "from a fair"),
    (Arrived(), "arrived", "arrived", "source unknown"),
    (Arrived(9, day_known=False), "arrived", "arrived", "from a source since removed, day unknown"),
    (Placed(1, 2.0), "place", "to Sill", ""),
    (Potted("pumice", "9 cm", True), "potting", "potted in pumice", "9 cm, the move to another medium"),
    (Unpotted(), "potting", "unpotted", "roots bare"),
    (Left(Leaving.DEAD, "rot"), "left", "died", "rot"),
    (Left(Leaving.GIVEN_AWAY), "left", "given away", ""),
    (Looked(True, "10x"), "inspection", "clean look", "with a 10x lens"),
    (Looked(False), "inspection", "look, not clean", ""),
    (Sighted("two-spotted-mite", "adult", "leaf", 3), "sighting", "two spotted mite seen", "3 adults, leaf"),
    (Roots(5, 1, 1, 20), "roots", "roots: 5 living, 1 dead", "1 new tip, 20 % of all roots cut away"),
    (Released("clean throughout"), "released", "released", "clean throughout"),
    (Released("tested", "virus-signs"), "released", "released from virus signs", "tested"),
    (Cut(Part.SPIKE, 2), "cut", "2 cuts on the spike", ""),
    (Dressed("cinnamon"), "cut", "cuts dressed", "with cinnamon"),
    (Treated("hydrogen-peroxide", Purpose.ROOT_DISINFECTION, (Part.ROOTS,), 3.0, 10.0), "soak", "roots disinfected",
     "hydrogen peroxide 3 %, on roots, 10 min"),
    (Treated("mild-soap", Purpose.PEST_WASH, early=True), "soak", "washed against pests",
     "mild soap, ended before its least, on purpose"),
    (Wetted((Part.LEAVES, Part.CROWN), True), "plain water", "leaves and crown wetted", "water stands in the crown"),
    (Blotted(), "drying", "crown and axils blotted", ""),
    (Aired(), "drying", "moving air on", ""),
    (Dry(), "dry rest", "crown dry", "felt dry to the touch"),
    (Poured(300), "plain water", "poured, plain water", "300 ml"),
    (Poured(None, True, True), "pour", "poured, half-strength feed", ""),
    (Reading(20.04, 0.555, 0.2), "inspection", "20.0 C, 56 % RH", "air 0.2 m/s"),
    (Photo("ab" * 32, "a.jpg"), "photo", "photo", "a.jpg"),
    (Note("leans"), "note", "note", "leans"),
    (Step("Clean the bench"), "step", "Clean the bench", ""),
    (Answer("cut check", 4, 0, Reply.PUT_OFF, date(2026, 11, 20), "late"), "answer", "cut check: put off",
     "until 20 Nov, late"),
    (Answer("cut check", 4, 0, Reply.MISSED), "over", "cut check: missed", ""),
    (Signs(Leaves.LIMP, Stand.LOOSE, growing=Growing.REST), "inspection", "signs seen",
     "leaves limp; stands loose in the pot; at rest"),
    (Signs(), "inspection", "signs: nothing looked at", ""),
    (Overruled("verdict", "step in", "look again", "new root at the rim", 5), "answer",
     "look again instead of step in", "new root at the rim, look again in 5 days"),
    (Settled("four new roots"), "clear", "settled", "four new roots"),
    (Labelled("Roll, 57 x 32", ("name", "date"), ("name: Vanda",)), "note", "label printed",
     "Roll, 57 x 32; name: Vanda"),
    (Shared(Sharing.WATER, (102, 103)), "plain water", "shared wash water with 102 and 103", ""),
    (Shared(Sharing.TRAY, (102,), 14), "place", "shared a tray with 102", "for 14 days"),
    (VirusTested("virus-signs", False, "a laboratory", "strip test"), "clear", "virus signs: tested negative",
     "by a laboratory, strip test"),
    (VirusTested("virus-signs", True), "sighting", "virus signs: tested positive", ""),
    (Flowering(Stage.SPIKE, 2), "spike", "spike seen", "2 spikes"),
    (Flowering(Stage.OPEN, 1), "flower", "in flower", "1 flower"),
    (Flowering(Stage.OVER), "flowers over", "flowers over", ""),
    (Resting(Phase.BEGINS, dry=True), "dry rest", "rest begins", "kept dry"),
    (Resting(Phase.ENDS, dry=True), "dry rest", "rest ends", ""),
    (Lit(Light.SHADE), "light", "into more shade", ""),
    (Lit(Light.USUAL), "light", "back to its usual light", ""),
    (OutbreakOpened("mealybug"), "sighting", "outbreak of mealybug opened", ""),
    (ClockChanged(-3600.0, "steady clock"), "clock", "the wall clock jumped by -3600 s", "kept to the steady clock"),
]


@pytest.fixture
def plant(desk: Desk) -> int:
    return desk.run(collection.add_plant, NewPlant("Phalaenopsis amabilis", 101))


@pytest.mark.parametrize(("facts", "mark", "title", "detail"), SAID)
def test_every_kind_of_entry_in_words(facts: Facts, mark: str, title: str, detail: str) -> None:
    assert tuple(words(facts, Labels({1: "Sill"}, {3: "a fair"}))) == (mark, title, detail)


def test_no_kind_of_entry_is_without_words() -> None:
    assert {type(facts) for facts, *_ in SAID} == set(FACTS.values())


def test_a_line_has_its_local_day_and_the_note() -> None:
    late = datetime(2026, 6, 30, 23, 30, tzinfo=UTC)
    said = line(entry(Roots(1, 0), late, note="firm"), Labels(), NOW, ZoneInfo("Europe/Madrid"))
    assert (said.day_words, said.detail) == ("1 Jul", "firm")
    assert day_words(date(2025, 12, 9), date(2026, 1, 2)) == "9 Dec 2025"
    assert (listed([]), listed(["a"]), listed(["a", "b", "c"])) == ("", "a", "a, b and c")


def test_correcting_an_entry_moves_the_care_that_rested_on_it(desk: Desk, plant: int) -> None:
    wash = Treated("hydrogen-peroxide", Purpose.ROOT_DISINFECTION, (Part.ROOTS,), 3.0, 10.0)
    made = desk.run(records.add, plant, wash, NOW - timedelta(days=1))
    before = desk.read(care.of_plant, plant, NOW)
    desk.run(records.correct, made, NOW - timedelta(days=4), wash, "it was Saturday")
    after = desk.read(care.of_plant, plant, NOW)
    hold = [next(one.due for one in owed if one.hold) for owed in (before, after)]
    assert str(hold[0])[:10] == "2026-12-01"
    assert str(hold[1])[:10] == "2026-11-28"


def test_withdrawing_an_entry_takes_its_care_along_and_undo_brings_both_back(desk: Desk, plant: int) -> None:
    made = desk.run(records.add, plant, Cut(Part.SPIKE))
    owed = desk.read(care.of_plant, plant, NOW)
    desk.run(records.withdraw, made)
    assert owed
    assert desk.read(care.of_plant, plant, NOW) == ()
    desk.undo()
    assert desk.read(care.of_plant, plant, NOW) == owed


@pytest.mark.parametrize("facts", [
    Roots(-1, 0), Roots(3, 1, 0, 140), Sighted(" "), Treated("", Purpose.PEST_WASH), Poured(-5), Cut(Part.SPIKE, 0),
    Potted(""), Note(""), Placed(77, 1.0), Treated("bleach", Purpose.DISINFECTION, (), float("nan"))])
def test_facts_that_cannot_be_are_refused_and_nothing_is_written(desk: Desk, plant: int, facts: Facts) -> None:
    before = desk.read(collection.drawer, plant, NOW).lines
    with pytest.raises(Refused):
        desk.run(records.add, plant, facts)
    assert desk.read(collection.drawer, plant, NOW).lines == before


def test_what_has_not_happened_yet_is_refused(desk: Desk, plant: int) -> None:
    with pytest.raises(Refused, match="still to come 18 Nov 2026, 16:30 is later than now"):
        desk.run(records.add, plant, Looked(True), NOW + timedelta(hours=1))
    made = desk.run(records.add, plant, Looked(True))
    with pytest.raises(Refused, match="still to come"):
        desk.run(records.correct, made, NOW + timedelta(hours=1), Looked(True), "")


def test_unknown_plants_and_entries_are_refused(desk: Desk) -> None:
    with pytest.raises(Refused, match="no plant 5"):
        desk.run(records.add, 5, Looked(True))
    with pytest.raises(Refused, match="gone"):
        desk.run(records.withdraw, 12)


def test_after_a_plant_left_only_words_and_pictures_are_written(desk: Desk, plant: int) -> None:
    desk.run(collection.part_with, plant, Leaving.DEAD, "rot", NOW.date() - timedelta(days=3))
    with pytest.raises(Refused, match="has left"):
        desk.run(records.add, plant, Poured(100))
    desk.run(records.add, plant, Poured(100), NOW - timedelta(days=9))
    desk.run(records.add, plant, Note("the label went to the compost"))
    assert desk.read(collection.drawer, plant, NOW).lines[0].mark == "note"


def test_the_drawer_says_agents_and_pests_by_their_names(desk: Desk, plant: int) -> None:
    desk.run(records.add, plant, Sighted("two-spotted-mite"))
    desk.run(records.add, plant, Treated("alcohol-soap-wash", Purpose.PEST_WASH, (Part.LEAVES,)))
    lines = desk.read(collection.drawer, plant, NOW).lines
    assert [(one.title, one.detail) for one in lines] == [
        ("washed against pests", "alcohol-and-soap wash, on leaves"), ("two-spotted mite seen", "")]


def test_undo_names_the_entry(desk: Desk, plant: int) -> None:
    desk.run(records.add, plant, Looked(True))
    deed = desk.next_undo()
    assert deed is not None
    assert deed.label == "101: clean look"
