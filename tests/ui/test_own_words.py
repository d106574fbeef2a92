"""Own words on the screens: asked where a find is written down, and set right from the Quarantine screen."""

from __future__ import annotations

from greenhouse_desk import app
from greenhouse_desk.domain.journal import Sighted
from greenhouse_desk.domain.own_words import OwnKind
from greenhouse_desk.services import own_words
from greenhouse_desk.services.desk import Desk
from greenhouse_desk.store import journal
from greenhouse_desk.ui.quarantine.screen import QuarantineScreen
from tests.services.outbreak_house import add
from tests.ui.house import fill, form, pressed, words_of
from tests.ui.test_quarantine_screen import screen, signals

__all__ = ["screen", "signals"]


def test_a_find_under_an_own_word_is_asked_what_it_is(screen: QuarantineScreen, desk: Desk) -> None:
    assert not screen.own_words.isVisible()
    screen.deeds.sighting(103, "10x")
    fill(what="yellow streak")
    assert "Is yellow streak a pest, a virus or another disease?" in words_of(form())
    fill(own=OwnKind.VIRUS)
    assert any(row.word == "suspect" and row.plant == 103 for row in screen.model.rows)
    assert screen.own_words.isVisible()


def test_an_old_word_is_set_right(screen: QuarantineScreen, desk: Desk) -> None:
    add(desk, 103, Sighted("brown edge"))
    pressed(screen, "Your own words…")
    assert "brown edge" in words_of(form())
    fill(**{"brown edge": OwnKind.DISEASE})
    assert desk.read(own_words.used) == {"brown edge": OwnKind.DISEASE}


def test_a_find_is_corrected_to_an_own_word_and_asked_what_it_is(running: app.Program) -> None:
    entry = add(running.desk, 103, Sighted("mealybug"))
    (one,) = (one for one in running.desk.read(journal.of_plant, 103) if one.id == entry)
    running.collection.entries.correct(one)
    fill(what="yellow streak")
    assert "Is yellow streak a pest, a virus or another disease?" in words_of(form())
    fill(own=OwnKind.VIRUS)
    assert running.desk.read(own_words.used) == {"yellow streak": OwnKind.VIRUS}
