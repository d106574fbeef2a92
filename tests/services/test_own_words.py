"""A grower's own words: what each names is asked once, quarantine follows it, and old ones are set right."""

from __future__ import annotations

import pytest

from greenhouse_desk.domain.faults import Refused
from greenhouse_desk.domain.journal import Sighted, VirusTested
from greenhouse_desk.domain.own_words import OwnKind
from greenhouse_desk.services import inspections, own_words, quarantine, records, records_written
from greenhouse_desk.services.desk import Desk
from greenhouse_desk.store import journal
from tests.builders import NOW, ago
from tests.services.outbreak_house import CLEAN, WASH, add, furnished

STREAK = Sighted("yellow streak")


def word(desk: Desk, plant: int) -> str:
    return desk.read(quarantine.status, NOW)[plant].word


def test_an_unknown_own_word_is_asked_about_and_nothing_is_written_until_told(desk: Desk) -> None:
    furnished(desk)
    with pytest.raises(Refused, match="Is yellow streak a pest, a virus or another disease"):
        desk.run(inspections.sight, 101, STREAK)
    with pytest.raises(Refused, match="Is yellow streak a pest"):
        desk.run(records_written.write, 101, [STREAK])
    assert word(desk, 101) == "clear"
    desk.run(inspections.sight, 101, STREAK, "10x", OwnKind.VIRUS)
    assert (word(desk, 101), word(desk, 102)) == ("suspect", "clear"), "it does not pass by standing together"
    desk.run(inspections.sight, 102, Sighted(" Yellow Streak "))
    assert desk.read(quarantine.status, NOW)[102].statuses[0].what == "yellow streak", "as it was first written"
    desk.run(records.add, 101, VirusTested("yellow streak", False, "a laboratory"))
    assert word(desk, 101) == "clear"


def test_an_old_word_is_set_right_and_what_rested_on_it_follows(desk: Desk) -> None:
    furnished(desk)
    add(desk, 101, STREAK, ago(days=60))
    add(desk, 101, WASH, ago(days=59))
    for days in (40, 30, 10):
        add(desk, 101, CLEAN, ago(days=days))
    assert (word(desk, 101), desk.read(own_words.used)) == ("clear", {"yellow streak": None}), "taken for a pest"
    desk.run(own_words.set_right, {"yellow streak": OwnKind.VIRUS})
    assert (word(desk, 101), desk.read(own_words.used)) == ("suspect", {"yellow streak": OwnKind.VIRUS})
    with pytest.raises(Refused):
        desk.run(quarantine.release, 101, "it looks well")
    desk.undo()
    assert word(desk, 101) == "clear"


def test_a_find_corrected_to_an_own_word_is_asked_about_too(desk: Desk) -> None:
    furnished(desk)
    entry = desk.run(inspections.sight, 101, Sighted("mealybug"))
    with pytest.raises(Refused, match="Is yellow streak a pest"):
        desk.run(records.correct, entry, NOW, STREAK, "")
    desk.run(records.correct, entry, NOW, STREAK, "", OwnKind.VIRUS)
    assert (word(desk, 101), desk.read(own_words.used)) == ("suspect", {"yellow streak": OwnKind.VIRUS})


def test_an_old_find_under_an_own_word_is_corrected_without_being_asked(desk: Desk) -> None:
    furnished(desk)
    add(desk, 101, STREAK, ago(days=3))
    (entry,) = (one for one in desk.read(journal.of_plant, 101) if one.facts == STREAK)
    desk.run(records.correct, entry.id, entry.at, Sighted("yellow streak", count=4), "")
    assert desk.read(own_words.used) == {"yellow streak": None}


@pytest.mark.parametrize("known", ["mealybug", "virus-signs", "CymMV"])
def test_what_says_itself_what_it_is_needs_no_kind(desk: Desk, known: str) -> None:
    furnished(desk)
    desk.run(inspections.sight, 101, Sighted(known))
    assert desk.read(own_words.used) == {}
