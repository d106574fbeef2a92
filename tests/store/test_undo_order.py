"""Undo takes a deed's changes back from the last to the first, redo and a second undo too, also after a restart."""

from __future__ import annotations

from collections.abc import Callable, Sequence
from datetime import datetime

import pytest
from sqlalchemy import text

from greenhouse_desk.services.desk import Desk, Done
from greenhouse_desk.store.engine import Session
from tests.store.test_undo import Dump, dump

SHELF = ("INSERT INTO place (id, name, position, isolation, bench) VALUES (1, 'Sill', 1.0, 0, 1)",
         "INSERT INTO source (id, name, notes) VALUES (1, 'swap table', ''), (2, 'club sale', '')",
         "INSERT INTO plant (number, name, habit, notes) VALUES (101, 'Vanda tricolor', 'unknown', ''), "
         "(102, 'Stelis gelida', 'unknown', '')")
"""What stands before the deeds below. Taken back in the order in which they were made, the changes of none of them lead
back to it."""
DEEDS = {
    "one row changed three times": (
        "UPDATE place SET position = 2.0", "UPDATE place SET position = 3.0", "UPDATE place SET position = 4.0"),
    "two names swapped by way of a third": (
        "UPDATE source SET name = 'free' WHERE id = 1", "UPDATE source SET name = 'swap table' WHERE id = 2",
        "UPDATE source SET name = 'club sale' WHERE id = 1"),
    "two numbers swapped by way of a third": (
        "UPDATE plant SET number = 999 WHERE number = 101", "UPDATE plant SET number = 101 WHERE number = 102",
        "UPDATE plant SET number = 102 WHERE number = 999"),
    "gone and written anew under the same key": (
        "DELETE FROM source WHERE id = 2", "INSERT INTO source (id, name, notes) VALUES (2, 'fair', 'new')",
        "UPDATE source SET notes = 'newer' WHERE id = 2"),
    "added, changed and taken out again": (
        "INSERT INTO source (id, name, notes) VALUES (3, 'fair', '')", "UPDATE source SET name = 'market' WHERE id = 3",
        "DELETE FROM source WHERE id = 3", "UPDATE source SET notes = 'seen' WHERE id = 1"),
}


def run(desk: Desk, statements: Sequence[str]) -> Dump:
    """One deed of these statements; returns every row after it."""
    def verb(session: Session, now: datetime) -> Done[None]:
        for statement in statements:
            session.execute(text(statement))
        return Done("Several at once", frozenset({"any"}), None)

    desk.run(verb)
    return dump(desk.store)


@pytest.mark.parametrize("deed", DEEDS.values(), ids=list(DEEDS))
def test_changes_of_one_deed_go_back_last_first(desk: Desk, reopened: Callable[[], Desk], deed: Sequence[str]) -> None:
    before = run(desk, SHELF)
    after = run(desk, deed)
    assert before != after
    for _ in range(2):
        desk.undo()
        assert dump(desk.store) == before
        desk.redo()
        assert dump(desk.store) == after
    desk.undo()
    again = reopened()
    again.redo()
    assert dump(again.store) == after
    last = reopened()
    last.undo()
    assert dump(last.store) == before
