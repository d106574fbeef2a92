"""Undo and redo: whatever a deed wrote comes back exactly, in any order of deeds, also after a restart."""

from __future__ import annotations

import random
from collections.abc import Callable
from datetime import datetime, timedelta
from pathlib import Path
from tempfile import TemporaryDirectory
from typing import Any

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st
from sqlalchemy import select, text
from sqlalchemy.exc import IntegrityError

from greenhouse_desk.domain.faults import Refused
from greenhouse_desk.domain.journal import Note
from greenhouse_desk.services.clock import SteppedClock
from greenhouse_desk.services.desk import Changed, Desk, Done
from greenhouse_desk.store import journal, undo
from greenhouse_desk.store.engine import Session, Store, open_store
from greenhouse_desk.store.tables import EntryRow, PlaceRow, PlantRow, RuleRow, SessionRow, SoakRow, SourceRow
from tests.builders import NOW

Dump = dict[str, list[tuple[Any, ...]]]


def dump(store: Store) -> Dump:
    """Every row of every watched table, exactly as SQLite keeps it, with its type."""
    return {table.name: sorted(tuple((type(value).__name__, repr(value)) for value in row)
                               for row in store.raw.execute(f'SELECT * FROM "{table.name}"'))
            for table in undo.watched()}


def note(session: Session, now: datetime, words: str) -> Done[int]:
    return Done(f"Note {words}", frozenset({"journal"}), journal.add(session, now, Note(words)))


floats = st.floats(allow_nan=False, allow_infinity=False)
words = st.text(st.characters(exclude_categories=["Cs"]), max_size=12) | st.sampled_from(
    ["it's", '"x"', "a;--", "ö\n", "nul\0nul", ""])
named = words.filter(bool)
Write = Callable[[Session], object]


@st.composite
def writes(draw: st.DrawFn) -> Write:
    """One write with awkward values; some the database refuses, and that is a case too."""
    kind = draw(st.sampled_from(
        ["place", "source", "plant", "plant", "entry", "entry", "rule", "soak", "change", "drop"]))
    key, number = draw(st.integers(1, 6)), draw(st.integers(1, 6))
    rows: dict[str, Callable[[], object]] = {
        "place": lambda: PlaceRow(id=key, name=draw(named), position=draw(floats), parent=None, lights_out=draw(
            st.none() | words)),
        "source": lambda: SourceRow(id=key, name=draw(named), notes=draw(words)),
        "plant": lambda: PlantRow(number=number, name=draw(named), notes=draw(words)),
        "entry": lambda: EntryRow(at=NOW, kind="note", plant=draw(st.none() | st.just(number)),
                                  facts={"text": draw(words), "x": draw(floats)}, note=draw(words)),
        "rule": lambda: RuleRow(name=draw(named), value=draw(st.none() | floats | words)),
    }
    if kind in rows:
        row = rows[kind]()
        return lambda session: session.merge(row)
    if kind == "soak":
        return _soak(key, draw(words), abs(draw(floats)), abs(draw(floats)))
    value = draw(floats)
    change = draw(st.sampled_from(CHANGES)) if kind == "change" else draw(st.sampled_from(DROPS))
    return lambda session: session.execute(text(change), {"key": key, "value": value, "other": number})


CHANGES = [
    "UPDATE place SET position = position + :value WHERE id > :key",
    "UPDATE plant SET number = number + 10 WHERE number = :key",
    "UPDATE source SET notes = notes || '''' || :value", "UPDATE place SET parent = :other WHERE id = :key",
    "UPDATE entry SET note = '', plant = NULL WHERE id % 2 = :key % 2",
    "UPDATE house SET name = name || :key, value = :value",
    "INSERT OR REPLACE INTO source (id, name, notes) VALUES (:key, 'again', :value)"]
DROPS = ["DELETE FROM entry WHERE id % 3 = :key % 3", "DELETE FROM place WHERE id = :key",
         "DELETE FROM plant WHERE number = :key", "DELETE FROM house", "DELETE FROM source WHERE id >= :key"]


def _soak(key: int, words: str, one: float, other: float) -> Write:
    def write(session: Session) -> None:
        session.merge(SessionRow(id=key, started_at=NOW, loose_ends=[words, one]))
        session.flush()
        session.merge(SoakRow(id=key, session=key, what=words, started_at=NOW, least_s=min(one, other),
                              most_s=max(one, other), boot_s=one))
    return write


def verb(session: Session, now: datetime, todo: list[Write]) -> Done[None]:
    for one in todo:
        one(session)
        session.flush()
    return Done("A deed", frozenset({"any"}), None)


def run_all(desk: Desk, deeds: list[list[Write]]) -> None:
    for todo in deeds:
        before = dump(desk.store)
        try:
            desk.run(verb, todo)
        except IntegrityError:
            assert dump(desk.store) == before


Deeds = st.lists(st.lists(writes(), min_size=1, max_size=4), min_size=1, max_size=8)


@settings(max_examples=40, deadline=None)
@given(Deeds, st.integers(0, 8))
def test_undoing_and_redoing_any_deeds_is_exact(deeds: list[list[Write]], seeded: int) -> None:
    undo_and_redo(deeds, seeded)


@pytest.mark.long
@settings(max_examples=500, deadline=None)
@given(Deeds, st.integers(0, 8))
def test_undoing_and_redoing_any_deeds_is_exact_at_length(deeds: list[list[Write]], seeded: int) -> None:
    undo_and_redo(deeds, seeded)


def undo_and_redo(deeds: list[list[Write]], seeded: int) -> None:
    """The first deeds stand before the history begins; the others are undone and redone, also by a second program."""
    with TemporaryDirectory() as name:
        store = open_store(Path(name), create=True)
        desk = Desk(store, lambda: NOW)
        run_all(desk, deeds[:seeded])
        store.raw.execute("DELETE FROM deed")
        start = dump(store)
        states = [start]
        for todo in deeds[seeded:]:
            run_all(desk, [todo])
            if dump(store) != states[-1]:
                states.append(dump(store))
        check_walk(desk, states)
        store.close()
        desk = Desk(open_store(Path(name)), lambda: NOW)
        check_walk(desk, states)
        desk.store.close()


def check_walk(desk: Desk, states: list[Dump]) -> None:
    """Undo to the start and redo to the end twice, every state on the way as it was."""
    for _ in range(2):
        walked = [dump(desk.store)]
        while desk.undo():
            walked.append(dump(desk.store))
        steps = [state for state, later in zip(walked, [*walked[1:], None], strict=True) if state != later]
        assert steps == states[::-1]
        while desk.redo():
            pass
        assert dump(desk.store) == states[-1]
        assert not desk.store.raw.execute("PRAGMA foreign_key_check").fetchall()


def test_awkward_floats_come_back_to_the_last_bit(desk: Desk) -> None:
    """Zero's sign is lost when SQLite first stores it, before any undo; everything else is kept to the bit."""
    dice = random.Random(4)
    values = [0.1, 1 / 3, 5e-324, 1.7976931348623157e308, -0.0, 0.1 + 0.2, 1e22, 1e23, 2.0**53 + 2, 9.5e-310]
    values += [dice.uniform(-1, 1) * 10.0 ** dice.randint(-300, 300) for _ in range(3000)]

    def add(session: Session, now: datetime) -> Done[None]:
        session.add_all([PlaceRow(name=f"p{n}", position=value) for n, value in enumerate(values)])
        return Done("Places", frozenset(), None)

    def clear(session: Session, now: datetime) -> Done[None]:
        session.execute(text("DELETE FROM place"))
        return Done("Clear", frozenset(), None)

    def found() -> list[str]:
        query = select(PlaceRow.position).order_by(PlaceRow.id)
        return [value.hex() for value in desk.read(lambda session: session.scalars(query).all())]

    desk.run(add)
    stored = found()
    assert [value.hex() for value in values if value] == [value for value in stored if value != (0.0).hex()]
    desk.run(clear)
    desk.undo()
    assert found() == stored


def test_the_label_and_the_time_of_what_undo_would_take_back_survive_a_restart(
        desk: Desk, clock: SteppedClock, reopened: Callable[[], Desk]) -> None:
    desk.run(note, "one")
    clock.advance(90)
    desk.run(note, "two")
    desk.undo()
    again = reopened()
    deed, redo = again.next_undo(), again.next_redo()
    assert deed is not None
    assert redo is not None
    assert (deed.label, deed.at, deed.kinds) == ("Note one", NOW, frozenset({"journal"}))
    assert (redo.label, redo.at) == ("Note two", NOW + timedelta(seconds=90))
    assert again.redo() == redo
    assert again.next_redo() is None


def test_a_new_deed_ends_what_could_be_redone(desk: Desk) -> None:
    desk.run(note, "one")
    desk.undo()
    desk.run(note, "two")
    assert desk.redo() is None
    assert desk.store.raw.execute("SELECT label FROM deed").fetchall() == [("Note two",)]


def test_a_refused_verb_leaves_nothing_and_what_could_be_redone_stays(desk: Desk) -> None:
    def half(session: Session, now: datetime) -> Done[None]:
        journal.add(session, now, Note("half"))
        raise Refused("No", "not today")

    desk.run(note, "one")
    desk.undo()
    before = dump(desk.store)
    with pytest.raises(Refused, match="not today"):
        desk.run(half)
    assert dump(desk.store) == before
    redo = desk.redo()
    assert redo is not None
    assert redo.label == "Note one"


def test_a_verb_that_changes_nothing_is_no_deed_and_nobody_hears_of_it(desk: Desk) -> None:
    heard: list[Changed] = []
    desk.listeners.append(heard.append)
    desk.run(lambda session, now: Done("Nothing", frozenset(), None))
    assert desk.next_undo() is None
    assert heard == []


def test_listeners_hear_deeds_undos_and_redos(desk: Desk) -> None:
    heard: list[Changed] = []
    desk.listeners.append(heard.append)
    desk.run(note, "one")
    desk.undo()
    desk.redo()
    desk.redo()
    assert [changed.label for changed in heard] == ["Note one", "Undo: Note one", "Redo: Note one"]
    assert {changed.kinds for changed in heard} == {frozenset({"journal"})}


def test_what_a_question_does_is_not_kept(desk: Desk) -> None:
    desk.read(lambda session: journal.add(session, NOW, Note("sly")))
    assert desk.read(journal.everything) == ()


def test_only_the_newest_deeds_are_kept_with_their_images(desk: Desk, monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setattr(undo, "KEPT_DEEDS", 5)
    for n in range(9):
        desk.run(note, str(n))
        desk.run(lambda session, now: Done("Nothing", frozenset(), None))
    kept = [f"Note {n}" for n in range(4, 9)]
    assert [label for (label,) in desk.store.raw.execute("SELECT label FROM deed ORDER BY id")] == kept
    assert desk.store.raw.execute("SELECT count(*) FROM deed_change").fetchone() == (5,)
    assert len(iter_undo(desk)) == 5
    assert [entry.facts for entry in desk.read(journal.everything)] == [Note(str(n)) for n in range(4)]


def test_the_shipped_number_of_deeds_is_500() -> None:
    assert undo.KEPT_DEEDS == 500


def iter_undo(desk: Desk) -> list[str]:
    labels = []
    while (deed := desk.undo()) is not None:
        labels.append(deed.label)
    return labels


def test_references_hold_inside_an_undo(desk: Desk) -> None:
    """A deed's images that would leave an entry without its plant: the undo is refused whole."""
    desk.run(verb, [lambda session: session.add(PlantRow(number=7, name="Vanda tricolor"))])
    with desk.store.transaction() as session:  # behind the desk's back, as no verb can
        journal.add(session, NOW, Note("later"), 7)
    before = dump(desk.store)
    with pytest.raises(Refused, match="cannot be taken back"):
        desk.undo()
    assert dump(desk.store) == before
    deed = desk.next_undo()
    assert deed is not None
    assert not desk.store.raw.in_transaction
