"""The one door for writes: the verb gets time and facts, the caller a value, the listeners word after the commit."""

from __future__ import annotations

import sqlite3
from datetime import datetime, timedelta
from threading import Thread

import pytest

from greenhouse_desk.domain.faults import Refused
from greenhouse_desk.domain.journal import Note
from greenhouse_desk.services.clock import SteppedClock
from greenhouse_desk.services.desk import Changed, Desk, Done
from greenhouse_desk.store import journal
from greenhouse_desk.store.engine import Session
from tests.builders import NOW

KINDS = frozenset({"journal"})


def write(session: Session, now: datetime, words: str, *, twice: bool = False) -> Done[datetime]:
    for _ in range(1 + twice):
        journal.add(session, now, Note(words))
    return Done(f"Write {words}", KINDS, now)


def texts(session: Session) -> list[str]:
    return [getattr(entry.facts, "text", "") for entry in journal.everything(session)]


def test_a_verb_gets_the_clocks_now_and_its_arguments_and_gives_its_value(desk: Desk, clock: SteppedClock) -> None:
    assert desk.run(write, "one") == NOW
    clock.advance(30)
    assert desk.run(write, "two", twice=True) == NOW + timedelta(seconds=30)
    assert desk.read(texts) == ["one", "two", "two"]


def test_word_comes_after_the_commit_so_a_listener_reads_the_new_state(desk: Desk) -> None:
    seen: list[tuple[Changed, list[str]]] = []
    desk.listeners.append(lambda changed: seen.append((changed, desk.read(texts))))
    desk.run(write, "one")
    desk.undo()
    assert seen == [(Changed("Write one", KINDS), ["one"]), (Changed("Undo: Write one", KINDS), [])]


def test_a_listener_may_do_a_deed_of_its_own(desk: Desk) -> None:
    def answer(changed: Changed) -> None:
        if changed.label == "Write one":
            desk.run(write, "echo")

    desk.listeners.append(answer)
    desk.run(write, "one")
    assert desk.read(texts) == ["one", "echo"]


def test_a_bug_in_a_verb_passes_through_and_keeps_nothing(desk: Desk) -> None:
    def faulty(session: Session, now: datetime) -> Done[None]:
        journal.add(session, now, Note("half"))
        raise KeyError("a bug")

    with pytest.raises(KeyError, match="a bug"):
        desk.run(faulty)
    desk.run(write, "next")
    assert desk.read(texts) == ["next"]


def test_a_deed_inside_a_deed_is_a_bug_and_keeps_neither(desk: Desk) -> None:
    def nested(session: Session, now: datetime) -> Done[None]:
        journal.add(session, now, Note("outer"))
        desk.run(write, "inner")
        return Done("Nested", KINDS, None)

    with pytest.raises(Exception, match="within a transaction"):
        desk.run(nested)
    assert desk.read(texts) == []


def test_nothing_to_undo_or_redo_is_none(desk: Desk) -> None:
    assert (desk.undo(), desk.redo(), desk.next_undo(), desk.next_redo()) == (None, None, None, None)


def test_another_thread_cannot_use_the_store(desk: Desk) -> None:
    caught: list[BaseException] = []

    def meddle() -> None:
        try:
            desk.store.raw.execute("SELECT 1")
        except sqlite3.ProgrammingError as error:
            caught.append(error)

    thread = Thread(target=meddle)
    thread.start()
    thread.join()
    assert len(caught) == 1


def test_a_refusal_says_what_and_what_next(desk: Desk) -> None:
    def refuse(session: Session, now: datetime) -> Done[None]:
        raise Refused("No bench free", "All three are taken.", "Clear one first.")

    with pytest.raises(Refused) as caught:
        desk.run(refuse)
    assert (caught.value.title, caught.value.detail) == ("No bench free", "All three are taken.")
    assert str(caught.value) == "No bench free All three are taken. Clear one first."
