"""What is kept of the journal never differs from what the rows say: after any change, by whomever, also taken back."""

from __future__ import annotations

from collections.abc import Callable
from datetime import UTC, timedelta, timezone
from pathlib import Path
from tempfile import TemporaryDirectory

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from greenhouse_desk.domain.journal import Entry, Kind, Note, Potted, Poured, ProtocolCheck
from greenhouse_desk.domain.plants import Habit
from greenhouse_desk.services.clock import SteppedClock
from greenhouse_desk.services.desk import Desk, Done
from greenhouse_desk.store import journal, plants
from greenhouse_desk.store.engine import Session, Store, open_store
from greenhouse_desk.store.kept import Told
from tests.builders import NOW

PLANTS = (101, 102, 103)
Journals = dict[int, list[Entry]]
Deed = Callable[[Desk], object]


def kept(session: Session) -> Journals:
    """Every plant's journal as the program reads it, plants without an entry left out."""
    return {plant: list(told.entries) for plant, told in journal.told(session).items() if told.entries}


def rows(session: Session) -> Journals:
    """The same, read from the rows at once."""
    found: Journals = {}
    for entry in journal.everything(session):
        if entry.plant is not None:
            found.setdefault(entry.plant, []).append(entry)
    return found


def agree(session: Session) -> bool:
    """Whether both say the same of all plants, and of each by itself."""
    first = kept(session)  # before anything else is asked of the session
    said = rows(session)
    return first == said and all(list(journal.of_plant(session, plant)) == said.get(plant, [])
                                         for plant in PLANTS)


def planted(folder: Path) -> tuple[Store, Desk]:
    store = open_store(folder, create=True)
    with store.transaction() as session:
        for number in PLANTS:
            plants.add_plant(session, number, "Laelia anceps", Habit.UNKNOWN)
    return store, Desk(store, SteppedClock(NOW).now)


def tell(session: Session, now: object, plant: int, words: str, also: int | None = None) -> Done[None]:
    """Two entries, what is kept looked at in between: within the transaction too it must say what the rows say."""
    journal.add(session, NOW, Note(words), plant)
    assert agree(session)
    journal.add(session, NOW, Poured(also or 1), also or plant)
    assert agree(session)
    return Done("tell", frozenset({"journal"}), None)


def mend(session: Session, now: object, nth: int) -> Done[None]:
    told = journal.everything(session)
    if told:
        journal.correct(session, told[nth % len(told)].id, NOW, Note("corrected"), "")
    assert agree(session)
    return Done("mend", frozenset({"journal"}), None)


def drop(session: Session, now: object, nth: int) -> Done[None]:
    told = journal.everything(session)
    journal.withdraw(session, [told[nth % len(told)].id] if told else [])
    assert agree(session)
    return Done("drop", frozenset({"journal"}), None)


def fail(desk: Desk, plant: int) -> None:
    """A deed that reads what it wrote and then breaks off: nothing of it stays."""
    with pytest.raises(Broken):
        desk.run(break_off, plant)


def break_off(session: Session, now: object, plant: int) -> Done[None]:
    journal.add(session, NOW, Note("never"), plant)
    assert agree(session)
    raise Broken


class Broken(Exception):
    """What a bug in a deed would raise."""


def bare(desk: Desk, plant: int) -> None:
    """A row changed past the program's own functions."""
    desk.store.raw.execute("UPDATE entry SET plant = ? WHERE id = (SELECT min(id) FROM entry)", (plant,))


plant, nth = st.sampled_from(PLANTS), st.integers(0, 9)
deeds = st.one_of(
    st.builds(lambda one, also: lambda desk: desk.run(tell, one, "x", also), plant, st.none() | plant),
    st.builds(lambda one: lambda desk: desk.run(mend, one), nth),
    st.builds(lambda one: lambda desk: desk.run(drop, one), nth),
    st.builds(lambda one: lambda desk: fail(desk, one), plant),
    st.builds(lambda one: lambda desk: bare(desk, one), plant),
    st.just(lambda desk: desk.undo()), st.just(lambda desk: desk.redo()))


@given(st.lists(deeds, max_size=12))
@settings(max_examples=60, deadline=None)
def test_what_is_kept_says_what_the_rows_say_after_any_deed(done: list[Deed]) -> None:
    with TemporaryDirectory() as folder:
        store, desk = planted(Path(folder) / "collection")
        for deed in done:
            deed(desk)
            assert desk.read(agree)
        store.close()


def test_a_plant_that_did_not_change_is_not_read_again(tmp_path: Path) -> None:
    store, desk = planted(tmp_path / "collection")
    for number in PLANTS:
        desk.run(tell, number, "first")
    desk.read(kept)
    desk.run(tell, 102, "second")
    asked: list[str] = []
    store.raw.set_trace_callback(lambda words: asked.append(words))
    desk.read(kept)
    desk.read(kept)
    assert [words[words.index("WHERE"):][:27] for words in asked if "entry" in words] == ["WHERE entry.plant IN (102) "]
    store.close()


def test_checks_of_a_copied_step_follow_the_step(tmp_path: Path) -> None:
    store, desk = planted(tmp_path / "collection")
    with store.transaction() as session:
        for statement in (
                "INSERT INTO bench_session (id, started_at, loose_ends) VALUES (1, '2026-11-18', '[]')",
                "INSERT INTO run (id, session, plant, protocol, title, position, standing, standing_why) "
                "VALUES (1, 1, 101, 'p', 'P', 0, 'clear', '')",
                "INSERT INTO run_step (id, run, ordinal, step, state, found) VALUES (1, 1, 0, '{}', 'done', '[]')"):
            session.connection().exec_driver_sql(statement)
        journal.add(session, NOW, Note("x"), 101, run=1, step=1)
    assert [entry.checks for entry in desk.read(journal.of_plant, 101)] == [()]
    store.raw.execute("""UPDATE run_step SET step = '{"checks":[{"what":"look","days":[3],"why":""}]}' WHERE id = 1""")
    assert [entry.checks for entry in desk.read(journal.of_plant, 101)] == [(ProtocolCheck("look", (3,)),)]
    assert desk.read(agree)
    store.close()


def test_entries_of_some_kinds_and_the_newest_of_each() -> None:
    told = [Entry(1, NOW, Note("a"), 101), Entry(2, NOW, Poured(10), 101), Entry(3, NOW, Note("b"), 101)]
    one = Told(tuple(told))
    assert one.of(frozenset({Kind.NOTE})) == (told[0], told[2])
    assert one.newest == {Kind.NOTE: told[2], Kind.POURED: told[1]}


def test_a_plant_is_told_by_its_row_as_it_is_now(tmp_path: Path) -> None:
    """Its name stands in its own row, which no entry tells of; its days follow the zone."""
    store, desk = planted(tmp_path / "house")
    with store.transaction() as session:
        journal.add(session, NOW.replace(hour=23), Potted("bark", "9 cm"), 101)
    first = desk.read(plants.plants, UTC)[0]
    with store.transaction() as session:
        plants.change_plant(session, 101, "Vanda tricolor", Habit.MONOPODIAL, "")
    second, east = desk.read(plants.plants, UTC)[0], desk.read(plants.plants, timezone(timedelta(hours=5)))[0]
    store.close()
    assert (first.name, second.name, second.habit) == ("Laelia anceps", "Vanda tricolor", Habit.MONOPODIAL)
    assert (first.potted_on, east.potted_on) == (NOW.date(), NOW.date() + timedelta(days=1))
