"""Notes made at the bench, leaving it and coming back, and the end of a session."""

from __future__ import annotations

from collections.abc import Iterator

import pytest
from PySide6.QtCore import Qt
from PySide6.QtTest import QTest
from pytestqt.qtbot import QtBot

from greenhouse_desk.domain.bench import Key, Ring
from greenhouse_desk.domain.journal import Note, Treated
from greenhouse_desk.services import treatments
from greenhouse_desk.services.clock import SteppedClock
from greenhouse_desk.services.desk import Desk
from greenhouse_desk.store import journal
from tests.ui.bench_hands import Bench, question, soaking

K = Qt.Key


@pytest.fixture
def bench(qtbot: QtBot, desk: Desk, clock: SteppedClock) -> Iterator[Bench]:
    made = Bench(desk, clock)
    yield made
    made.close()


def test_a_ready_phrase_is_kept_without_a_clean_finger(bench: Bench) -> None:
    bench.key(K.Key_N)
    bench.key(K.Key_Space)
    assert bench.answer.startswith("Note: Look at this one again tomorrow.")
    bench.key(K.Key_S)
    phrase = bench.answer.removeprefix("Note: ")
    bench.key(K.Key_Space)
    assert phrase in [fact.text for fact in bench.facts(Note) if isinstance(fact, Note)]
    assert f"Noted: {phrase}" in bench.notices


@pytest.mark.parametrize("words", ["sub nubs", "broken leaf", "new roots", "up to the rim", "algae in the pot"])
def test_every_letter_of_a_note_is_text_from_the_first_one(bench: Bench, words: str) -> None:
    """S, B, N and U too: no phrase is kept, no second note opened, no step confirmed; Esc drops it, Enter keeps it."""
    before = bench.mode.board.instruction
    for end in (K.Key_Escape, K.Key_Return):
        bench.key(K.Key_N)
        assert "every letter is text" in bench.mode.face.detail.accessibleDescription()
        QTest.keyClicks(bench.mode, words)
        assert bench.answer == f"Note: {words}"
        assert not bench.facts(Note)
        bench.key(end)
    assert bench.facts(Note) == [Note(words)]
    assert bench.mode.board.instruction == before, "no step was confirmed"


def test_from_the_phrases_the_note_key_goes_back_to_the_line(bench: Bench) -> None:
    bench.key(K.Key_N)
    bench.key(K.Key_Space)
    bench.key(K.Key_A)
    assert bench.answer.startswith("Note: Look at this"), "among the phrases only the five keys act"
    bench.key(K.Key_N)
    QTest.keyClicks(bench.mode, "new")
    assert bench.answer == "Note: new"


def test_by_touch_alone_a_phrase_is_kept(bench: Bench) -> None:
    for key in (Key.NOTE, Key.NEXT, Key.SOAK, Key.NEXT):
        QTest.mouseClick(bench.mode.face.keys[key], Qt.MouseButton.LeftButton)
    assert len(bench.facts(Note)) == 1


@pytest.mark.parametrize("key", [K.Key_Return, K.Key_Backspace, K.Key_F5, K.Key_Shift])
def test_a_key_that_types_nothing_leaves_the_ready_phrases(bench: Bench, key: Qt.Key) -> None:
    bench.key(K.Key_N)
    bench.key(K.Key_Space)
    phrase = bench.answer
    bench.key(key)
    assert bench.answer == phrase
    assert not bench.facts(Note)


def test_a_note_stays_with_the_plant_it_was_begun_on(bench: Bench) -> None:
    first = soaking(bench)
    bench.until(lambda: bench.mode.board.instruction.plant not in (first, None) and not question(bench), 12)
    other = bench.mode.board.instruction.plant
    bench.key(K.Key_N)
    bench.key(K.Key_Space)
    bench.wait(11 * 60 + 40)
    assert bench.mode.board.instruction.plant == first
    bench.key(K.Key_Space)
    with bench.desk.store.session() as session:
        assert [one.plant for one in journal.everything(session) if isinstance(one.facts, Note)] == [other]


def test_leaving_names_what_stands_open_and_the_session_is_taken_up_where_it_was(bench: Bench) -> None:
    plant = soaking(bench)
    at = bench.mode.board.instruction
    bench.key(K.Key_Escape)
    assert bench.says == "Leave for another day?"
    said = bench.mode.face.detail.accessibleDescription()
    assert f"{plant} is still in its soak" in said
    assert f"{plant} is out of its pot, its roots bare: Pot {plant} up" in said
    for stays in (K.Key_B, K.Key_U, K.Key_Space):
        bench.key(stays)
        assert bench.says != "Leave for another day?"
        bench.key(K.Key_Escape)
    bench.key(K.Key_N)
    assert bench.closed == [False]
    assert bench.awake[-1] is False
    bench.desk.run(treatments.take_up, bench.session)
    again = bench.open()
    assert again.board.instruction == at
    assert len(again.board.cells) >= 1


def test_the_main_key_stays_when_asked_to_leave(bench: Bench) -> None:
    """Space is what the hands press by habit: asked to leave with roots bare, it must be the safe answer."""
    bench.until(lambda: bool(bench.mode.board.loose_ends))
    at = bench.mode.board.instruction
    bench.key(K.Key_Escape)
    main = [view.face.word for view in bench.mode.face.keys.values() if view.face.main]
    assert main == ["Stay"]
    assert bench.mode.face.keys[Key.NOTE].accessibleName() == "Leave, key N"
    bench.key(K.Key_Space)
    assert not bench.closed
    assert bench.mode.board.instruction == at
    bench.key(K.Key_Escape)
    bench.key(K.Key_S)
    assert bench.says == "Leave for another day?", "the soak key does nothing here: an alarm may have called for it"


def test_the_touch_target_does_what_esc_does_and_says_so(bench: Bench) -> None:
    """Asked to leave it stays, and a note begun it drops: its word changes with it."""
    leave = bench.mode.face.leave_key
    QTest.mouseClick(leave, Qt.MouseButton.LeftButton)
    assert leave.accessibleName() == "Stay, key Esc"
    QTest.mouseClick(leave, Qt.MouseButton.LeftButton)
    assert not bench.closed
    assert bench.says != "Leave for another day?"
    bench.key(K.Key_N)
    assert leave.accessibleName() == "Drop, key Esc"
    QTest.mouseClick(leave, Qt.MouseButton.LeftButton)
    assert not bench.answer.startswith("Note")
    assert bench.says != "Leave for another day?"


def test_the_touch_target_asks_first_too(bench: Bench) -> None:
    QTest.mouseClick(bench.mode.face.leave_key, Qt.MouseButton.LeftButton)
    assert bench.says == "Leave for another day?"
    assert not bench.closed


def test_a_whole_session_to_its_end(bench: Bench) -> None:
    bench.until(lambda: bool(bench.closed), 300)
    assert bench.closed == [True]
    assert len([fact for fact in bench.facts(Treated) if isinstance(fact, Treated) and not fact.early]) >= 2
    assert bench.rings[-1] is Ring.SILENT


def test_a_press_on_a_session_ended_elsewhere_is_refused_calmly(bench: Bench) -> None:
    bench.desk.run(treatments.end, bench.session, "another reason")
    bench.key(K.Key_Space)
    assert "This session is over" in bench.below
