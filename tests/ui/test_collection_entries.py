"""Entries written by hand from the drawer, mended and taken back; photos that come in."""

from __future__ import annotations

from datetime import timedelta
from pathlib import Path

import pytest
from pytestqt.qtbot import QtBot

from greenhouse_desk import app
from greenhouse_desk.domain.journal import Dressed, Kind, Light, Note, Part, Phase, Purpose, Sharing, Stage, Wetted
from greenhouse_desk.domain.journal_course import Leaves, Stand
from greenhouse_desk.services import records, shelf, treatments
from greenhouse_desk.services.treatments import Choice
from greenhouse_desk.ui.collection.drawer_journal import JournalLine
from greenhouse_desk.ui.collection.screen import CollectionScreen
from tests.builders import NOW
from tests.ui.house import fill, form, picture, wet, words_of


@pytest.mark.parametrize(("kind", "values", "title"), [
    (Kind.NOTE, {"text": "leans to the left"}, "note"),
    (Kind.LOOKED, {"clean": True, "lens": "10x"}, "clean look"),
    (Kind.SIGHTED, {"what": "mealybug", "stage": "adult", "where": "leaf axil", "count": 3}, "mealybug seen"),
    (Kind.ROOTS, {"living": 7, "dead": 2, "new_tips": 3, "removed_percent": 10}, "roots: 7 living, 2 dead"),
    (Kind.POURED, {"feed": True, "half_strength": True, "ml": 300}, "poured, half-strength feed"),
    (Kind.CUT, {"part": Part.SPIKE, "count": 2}, "2 cuts on the spike"),
    (Kind.TESTED, {"what": "virus signs", "positive": False, "by": "a laboratory", "test": "strip test"},
     "virus signs: tested negative"),
    (Kind.SHARED, {"how": Sharing.TRAY, "plants": "102, 104-105", "days": 3},
     "shared a tray with 102, 104 and 105"),
    (Kind.UNPOTTED, {}, "unpotted"),
    (Kind.SIGNS, {"leaves": Leaves.LIMP, "stand": Stand.LOOSE}, "signs seen"),
    (Kind.TREATED, {"agent": "hydrogen peroxide", "purpose": Purpose.ROOT_DISINFECTION, "parts": (Part.ROOTS,),
                    "strength": 3.0, "minutes": 10.0}, "roots disinfected"),
    (Kind.FLOWERING, {"stage": Stage.SPIKE, "count": 2}, "spike seen"),
    (Kind.RESTING, {"phase": Phase.BEGINS, "dry": True}, "rest begins"),
    (Kind.LIGHT, {"to": Light.SHADE}, "into more shade"),
    (Kind.POTTED, {"medium": "pumice", "pot": "clear pot 12 cm", "transition": True}, "potted in pumice"),
])
def test_entries_are_written_by_hand(screen: CollectionScreen, kind: Kind, values: dict[str, object],
                                     title: str) -> None:
    screen.open_drawer(101)
    screen.entries.add(kind, 101)
    fill(**values)
    lines = screen.drawer.findChildren(JournalLine)
    assert title in [line.line.title for line in lines]


def test_an_entry_is_corrected_withdrawn_and_brought_back(running: app.Program) -> None:
    screen = running.collection
    screen.open_drawer(101)
    screen.entries.add(Kind.POURED, 101)
    fill(ml=250)
    entry = screen.drawer.drawer.lines[0].entry  # type: ignore[union-attr]
    screen.entries.correct(entry)
    assert form().rows.values()["ml"] == 250
    fill(ml=300)
    assert "300 ml" in words_of(screen.drawer)
    screen.entries.withdraw(screen.drawer.drawer.lines[0].entry)  # type: ignore[union-attr]
    assert "300 ml" not in words_of(screen.drawer)
    running.window.undo()
    assert "300 ml" in words_of(screen.drawer)


def test_a_photo_comes_in_off_the_window(running: app.Program, tmp_path: Path, qtbot: QtBot) -> None:
    screen = running.collection
    screen.open_drawer(101)
    with qtbot.waitSignal(running.signals.changed, timeout=20_000):
        screen.entries.take_photos(101, [picture(tmp_path / "leaf.png")])
    photo = screen.view.cards.seats[0].card.plant.photo
    assert photo is not None
    qtbot.waitUntil(lambda: screen.view._photo(screen.view.cards.seats[0]) is not None, timeout=20_000)


def test_what_is_no_photo_is_refused_and_nothing_is_written(running: app.Program, tmp_path: Path,
                                                            qtbot: QtBot) -> None:
    screen, bad = running.collection, tmp_path / "leaf.png"
    bad.write_text("no picture")
    with qtbot.waitSignal(running.signals.refused, timeout=20_000):
        screen.entries.take_photos(101, [bad])
    assert running.window.messages.isVisible()
    assert screen.view.cards.seats[0].card.plant.photo is None


def lines(screen: CollectionScreen) -> list[str]:
    """Titles and details of the journal in the open drawer."""
    return [f"{line.line.title}: {line.line.detail}" for line in screen.drawer.findChildren(JournalLine)]


def test_a_cut_is_dressed_with_a_powder_by_name_and_only_once(screen: CollectionScreen) -> None:
    screen.open_drawer(101)
    screen.entries.add(Kind.DRESSED, 101)
    refused = fill(agent="cinnamon powder")
    assert "No cut is open." in words_of(refused)
    refused.reject()
    screen.entries.add(Kind.CUT, 101)
    fill(part=Part.ROOTS)
    screen.entries.add(Kind.DRESSED, 101)
    fill(agent="cinnamon powder")
    entry = screen.drawer.drawer.lines[0].entry  # type: ignore[union-attr]
    assert entry.facts == Dressed("cinnamon")
    assert lines(screen)[0] == "cuts dressed: with cinnamon powder"


def test_what_is_not_wet_is_not_blotted_and_what_is_out_is_not_unpotted(screen: CollectionScreen) -> None:
    screen.open_drawer(101)
    for kind in (Kind.BLOTTED, Kind.AIRED, Kind.DRY):
        screen.entries.add(kind, 101)
        shown = fill()
        assert "It is not wet." in words_of(shown), kind
        shown.reject()
    wet(screen.deeds.desk, 101, pool=True)
    for kind in (Kind.BLOTTED, Kind.AIRED, Kind.DRY, Kind.UNPOTTED):
        screen.entries.add(kind, 101)
        fill()
    assert [line.split(":")[0] for line in lines(screen)[:4]] == ["unpotted", "crown dry", "moving air on",
                                                                  "crown and axils blotted"]
    screen.entries.add(Kind.UNPOTTED, 101)
    shown = fill()
    assert "out of its pot already" in words_of(shown)
    shown.reject()


def test_a_pesticide_keeps_its_label_s_words_and_none_is_proposed(running: app.Program) -> None:
    screen = running.collection
    screen.open_drawer(101)
    screen.entries.add(Kind.TREATED, 101)
    assert form().rows.values()["agent"] == ""
    assert form().rows.values()["strength"] is None
    shown = fill(agent="a product of mine", parts=(Part.LEAVES,), wets=(Part.LEAVES,))
    assert "label's words are missing" in words_of(shown)
    fill(label="Ornamentals under glass: 5 ml in 1 l", note="calm evening")
    assert lines(screen)[1] == ("washed against pests: a product of mine, on leaves; label: Ornamentals under glass: "
                                "5 ml in 1 l; calm evening")
    assert lines(screen)[0].startswith("leaves wetted")
    assert screen.drawer.panels()[0].row.care.drying is not None, "a wash wets, and wet leaves are owed air"
    running.window.undo()
    assert not any("washed" in line or "wetted" in line for line in lines(screen)), "one deed"


def test_what_must_stay_days_apart_is_said_over_the_form(screen: CollectionScreen) -> None:
    screen.open_drawer(101)
    screen.entries.add(Kind.TREATED, 101)
    assert "days must lie between" not in words_of(form())
    fill(agent="sulfur", parts=(Part.LEAVES,), label="Ornamentals: dust thinly")
    for kind in (Kind.TREATED, Kind.DRESSED):
        shown = screen.entries.add(kind, 101)
        assert "no horticultural oil before" in words_of(shown)
        assert "30 days must lie between" in words_of(shown)
        shown.reject()
    shown = screen.entries.add(Kind.NOTE, 101)
    assert "days must lie between" not in words_of(shown)
    shown.reject()
    screen.entries.add(Kind.TREATED, 101)
    fill(agent="a product of mine", parts=(Part.LEAVES,), label="Ornamentals: 5 ml in 1 l")
    new = max((line.entry for line in screen.drawer.drawer.lines), key=lambda entry: entry.id)  # type: ignore[union-attr]
    shown = screen.entries.correct(new)
    assert "no horticultural oil before" in words_of(shown), "the same when it is corrected"
    shown.reject()


def test_an_agent_too_soon_after_another_is_warned_of_as_it_is_typed(screen: CollectionScreen) -> None:
    screen.open_drawer(101)
    screen.entries.add(Kind.TREATED, 101)
    fill(agent="sulfur", parts=(Part.LEAVES,), label="Ornamentals: dust thinly")
    shown = screen.entries.add(Kind.TREATED, 101)
    assert shown.accept_button.text() == "Write it down"
    for typed, warned in (("Neem oil", True), ("mild soap", False), ("horticultural oil", True)):
        shown.set("agent", typed)
        assert ("What stands against it" in words_of(shown)) is warned, typed
        assert shown.accept_button.text() == f"Write it down{' all the same' if warned else ''}"
    shown.set("on", (NOW + timedelta(days=40)).date())
    assert "What stands against it" not in words_of(shown), "on that day it may be given"
    shown.reject()


def test_a_test_and_what_was_shared_are_refused_where_they_say_nothing(screen: CollectionScreen) -> None:
    screen.open_drawer(101)
    screen.entries.add(Kind.TESTED, 101)
    assert form().rows.values()["what"] == "virus signs", "the only one there is"
    shown = fill(by="")
    assert "name of who tested it is empty" in words_of(shown)
    shown = fill(what="mealybug", by="me")
    assert "mealybug is not known as a virus" in words_of(shown)
    shown.reject()
    for typed, refusal in (("", "No other plant is named"), ("101", "cannot share with itself"),
                           ("999", "There is no plant 999"), ("the next one", "is no plant number")):
        screen.entries.add(Kind.SHARED, 101)
        shown = fill(plants=typed)
        assert refusal in words_of(shown)
        shown.reject()


def test_correcting_an_entry_keeps_what_its_form_does_not_offer(screen: CollectionScreen) -> None:
    wet(screen.deeds.desk, 101)
    screen.open_drawer(101)
    entry = screen.drawer.drawer.lines[0].entry  # type: ignore[union-attr]
    screen.entries.correct(entry)
    fill(note="from the can")
    mended = screen.drawer.drawer.lines[0].entry  # type: ignore[union-attr]
    assert mended.facts == entry.facts == Wetted((Part.CROWN,))
    assert mended.note == "from the can"


def test_photos_are_gone_through_and_shown_large_and_a_new_one_shows_itself(running: app.Program, tmp_path: Path,
                                                                            qtbot: QtBot) -> None:
    screen = running.collection
    screen.open_drawer(101)
    assert "No photo of 101 yet." in words_of(screen.drawer)
    for colour in ("#5F8F45", "#A4532F"):
        with qtbot.waitSignal(running.signals.changed, timeout=20_000):
            screen.entries.take_photos(101, [picture(tmp_path / f"{colour[1:]}.png", colour)])
    photos = screen.drawer.photos
    assert photos is not None
    newest = photos.shown
    assert "18 Nov, 2 of 2" in words_of(photos)
    assert not photos.newer.isEnabled()
    photos.older.click()
    assert "18 Nov, 1 of 2" in words_of(photos)
    assert photos.shown != newest
    wet(running.desk, 104)
    assert screen.drawer.photos.shown != newest, "it stays where it was"  # type: ignore[union-attr]
    screen.drawer.photos.newer.click()  # type: ignore[union-attr]
    assert screen.drawer.photos.shown == newest  # type: ignore[union-attr]
    box = screen.drawer.photos.enlarge()  # type: ignore[union-attr]
    assert box.isVisible()
    assert box.windowTitle() == "101, 18 Nov"
    box.accept()


def test_a_note_written_at_the_bench_stands_in_the_drawer(running: app.Program) -> None:
    screen = running.collection
    session = running.desk.run(treatments.start, (Choice(101, "pest-wash"),), shelf.shelf(None), ())
    running.bench.open_session(session)
    running.desk.run(records.add, 101, Note("thin new root on the left"))
    assert running.bench.mode is not None
    running.bench.mode.close()
    screen.show_now()
    screen.open_drawer(101)
    assert "note: thin new root on the left" in lines(screen)
