"""What the hands set before a press, and what the board is made to say: the dial, notes, keys bound anew, alarms."""

from __future__ import annotations

from datetime import timedelta
from pathlib import Path
from zoneinfo import ZoneInfo

import pytest
from PySide6.QtCore import Qt

from greenhouse_desk.domain.bench import Board, Key, Question, Sitting, board
from greenhouse_desk.domain.faults import Refused
from greenhouse_desk.ui.bench import callings, keymap
from greenhouse_desk.ui.bench.dial import PHRASES, Dial, Jotter
from greenhouse_desk.ui.bench.keymap import KeyMap
from greenhouse_desk.ui.bench.queue import window
from tests.builders import NOW
from tests.ui.bench_builders import run, sitting, soak

NUMBER = Question("How many?", "roots", 0, 40, 3)
CHOICES = Question("Which?", high=11, choices=tuple(f"choice {n}" for n in range(12)))
ZONE = ZoneInfo("Europe/London")


def shown(of: Sitting) -> Board:
    return board(of, NOW, ZONE)


def test_more_and_less_stay_in_the_range() -> None:
    dial = Dial.of(NUMBER)
    assert dial.more().more().value == 5
    assert dial.less().less().less().less().value == 0
    assert Dial(NUMBER, 40).more().value == 40


def test_digits_in_a_row_make_a_number_and_too_high_begins_anew() -> None:
    assert Dial.of(NUMBER).digit(1).digit(2).value == 12
    assert Dial.of(NUMBER).digit(4).digit(7).value == 7
    assert Dial.of(NUMBER).digit(1).more().digit(2).value == 2


def test_backspace_goes_back_to_the_start() -> None:
    dial = Dial.of(NUMBER).digit(1).digit(2)
    assert dial.erased().value == 1
    assert dial.erased().erased().value == NUMBER.start


def test_a_digit_goes_to_a_choice_counted_from_one() -> None:
    assert Dial.of(CHOICES).digit(3).words == "choice 2"
    assert Dial.of(CHOICES).digit(1).digit(2).words == "choice 11"
    assert Dial.of(CHOICES).digit(0) == Dial.of(CHOICES)


def test_steps_of_a_question_are_kept() -> None:
    assert Dial.of(Question("Share?", "%", 0, 100, 30, by=5)).more().value == 35


def test_phrases_go_round_and_typing_takes_over() -> None:
    jotter = Jotter(104).phrases()
    assert jotter.stepped(-1).text == PHRASES[-1]
    assert jotter.stepped(-1).stepped(1).text == PHRASES[0]
    assert jotter.typed("so").typed("ft").erased().text == "sof"
    assert jotter.typed("").text == ""


def test_a_pedal_is_bound_and_a_key_is_bound_once() -> None:
    keys = KeyMap()
    assert keys.deed(Qt.Key.Key_PageDown) is Key.NEXT
    assert keys.deed(Qt.Key.Key_PageUp) is Key.SOAK
    assert keys.deed(Qt.Key.Key_X) is None
    bound = keys.bound(Key.UNDO, Qt.Key.Key_X)
    assert bound.deed(Qt.Key.Key_X) is Key.UNDO
    assert bound.cap(Key.UNDO) == "X"
    with pytest.raises(Refused, match="bound already"):
        keys.bound(Key.UNDO, Qt.Key.Key_S)
    with pytest.raises(Refused, match="cannot be bound"):
        keys.bound(Key.UNDO, Qt.Key.Key_7)


def test_bound_keys_are_kept_in_a_file(tmp_path: Path) -> None:
    path = tmp_path / "settings" / "keys.toml"
    keymap.write(path, KeyMap().bound(Key.NOTE, Qt.Key.Key_F5))
    again, told = keymap.read(path)
    assert again.deed(Qt.Key.Key_F5) is Key.NOTE
    assert again.deed(Qt.Key.Key_PageDown) is Key.NEXT
    assert told == ""


@pytest.mark.parametrize("text", ["next = 3", "what", "next=['S']\nsoak=['S']\nback=['B']\nnote=['N']\nundo=['U']",
                                  "next=['7']\nsoak=['S']\nback=['B']\nnote=['N']\nundo=['U']"])
def test_a_broken_keys_file_is_set_aside_with_words(tmp_path: Path, text: str) -> None:
    path = tmp_path / "keys.toml"
    path.write_text(text, "utf-8")
    keys, told = keymap.read(path)
    assert keys.bindings == KeyMap().bindings
    assert "keys.toml is set aside" in told


def test_the_alarm_names_plant_and_what_to_do() -> None:
    late = shown(sitting(run(104, 2, True), run(121, 2, True), soaks=(soak(104, 14.3), soak(121, 5))))
    assert callings.loud(late)
    assert callings.alarm(late) == "104, roots in peroxide, is 2 min 18 s over its most: press S to end it now."


def test_the_longest_overdue_is_named_first() -> None:
    late = shown(sitting(run(104, 2, True), run(121, 2, True), soaks=(soak(104, 13), soak(121, 20))))
    assert callings.alarm(late).startswith("121, roots in peroxide, is 8 min over its most and 104")


def test_a_small_screen_shows_what_needs_hands_first_in_the_order_of_start() -> None:
    many = shown(sitting(run(104, 2, True), run(121, 2, True), run(126, 2, True),
                         soaks=(soak(104, 1), soak(121, 9), soak(126, 5))))
    assert [cell.plant for cell in callings.shown_cells(many, 2)] == [121, 126]
    said = callings.notices(many, callings.Hands(), 2, ("The machine may fall asleep.",))
    assert said[0] == "The machine may fall asleep."
    assert "1 more soak runs than this screen can show." in said


def test_while_a_note_is_typed_its_keys_are_those_that_do_not_type() -> None:
    typing = callings.Hands(jotter=Jotter(104).typed("").typed("u"))
    words = callings.key_words(typing, KeyMap().cap)
    assert (callings.own_cap(typing, Key.NEXT), words[Key.NEXT]) == ("Enter", ("Keep", "this note"))
    assert words[Key.UNDO] == ("", "a letter now"), "U types its letter"
    assert callings.leave_words(typing) == ("Drop", "no note")
    empty = callings.Hands(jotter=Jotter(104).typed(""))
    assert callings.own_cap(empty, Key.NEXT) == "Space", "with nothing typed it shows the phrases, whatever is bound"
    assert callings.own_cap(callings.Hands(), Key.NEXT) == ""


def test_a_key_that_types_no_letter_is_not_said_to_type_one() -> None:
    typing = callings.Hands(jotter=Jotter(104).typed("").typed("u"))
    keys = KeyMap().bound(Key.SOAK, Qt.Key.Key_F5).bound(Key.BACK, Qt.Key.Key_Period).bound(Key.UNDO, Qt.Key.Key_F6)
    words = callings.key_words(typing, keys.cap)
    assert words[Key.SOAK] == words[Key.UNDO] == ("", "not while you type"), "a function key, a pedal"
    assert words[Key.BACK] == ("", "a sign now")
    assert words[Key.NOTE] == ("", "a letter now")


def test_space_on_another_deed_is_said_to_show_phrases_or_to_type_a_space() -> None:
    keys = KeyMap().bound(Key.NEXT, Qt.Key.Key_F9).bindings
    own = KeyMap({**keys, Key.NEXT: (Qt.Key.Key_F9,), Key.BACK: (Qt.Key.Key_Space,)})
    empty = Jotter(104).typed("")
    assert callings.key_words(callings.Hands(jotter=empty), own.cap)[Key.BACK] == ("", "phrases now")
    assert callings.key_words(callings.Hands(jotter=empty.typed("u")), own.cap)[Key.BACK] == ("", "a space now")


def test_what_waits_is_over_when_its_time_has_come() -> None:
    hands = callings.Hands(sure=callings.Sure(Key.SOAK, "short", NOW + timedelta(seconds=10)),
                           said=callings.Said("Done.", NOW + timedelta(seconds=3)))
    assert hands.at(NOW + timedelta(seconds=5)).sure is not None
    assert hands.at(NOW + timedelta(seconds=5)).said is None
    assert hands.at(NOW + timedelta(seconds=10)).sure is None


def test_a_long_queue_shows_the_plant_in_hand() -> None:
    runs = tuple(run(101 + n, 4 if n < 7 else 0) for n in range(12))
    rows = shown(sitting(*runs)).queue
    seen = window(rows, 4)
    assert [row.plant for row in seen.rows] == [107, 108, 109, 110]
    assert (seen.above, seen.below) == (6, 2)
    assert seen.rows[1].current
