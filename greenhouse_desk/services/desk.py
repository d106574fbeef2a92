"""The one door for writes: a verb in, one transaction, a commit, and word of what changed."""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import dataclass
from datetime import datetime
from typing import Concatenate, Generic, ParamSpec, TypeVar

from greenhouse_desk.store import undo
from greenhouse_desk.store.engine import Session, Store
from greenhouse_desk.store.undo import Deed

P = ParamSpec("P")
T = TypeVar("T")


@dataclass(frozen=True, slots=True)
class Done(Generic[T]):
    """What a verb returns: its label ("Move 104 to North sill"), the kinds it touched, and a value for the caller.

    `own` False marks an entry the program writes by itself (a missed alarm): it is kept, but is nobody's deed, so undo
    passes it by. Such a verb may only add.
    """

    label: str
    kinds: frozenset[str]
    value: T
    own: bool = True


@dataclass(frozen=True, slots=True)
class Changed:
    """Word that the store changed: under which label, and which kinds ("plants", "journal", "bench", "house", ...).

    `plants` are those whose own rows changed, as the store recorded it; None where it may concern any plant.
    """

    label: str
    kinds: frozenset[str]
    plants: frozenset[int] | None = None


Verb = Callable[Concatenate[Session, datetime, P], Done[T]]
Question = Callable[Concatenate[Session, P], T]


class Desk:
    """Runs verbs and questions on one store. `clock` gives the aware UTC now; `listeners` hear every change."""

    def __init__(self, store: Store, clock: Callable[[], datetime]) -> None:
        self.store = store
        self.clock = clock
        self.listeners: list[Callable[[Changed], None]] = []

    def run(self, verb: Verb[P, T], *args: P.args, **kwargs: P.kwargs) -> T:
        """Run `verb(session, now, *args)` in one transaction, record it for undo, commit, then tell the listeners.

        Raises Refused, with nothing changed, when the verb or the disk refuses. A verb that changed nothing leaves no
        deed.
        """
        now = self.clock()
        with self.store.transaction() as session:
            deed = undo.begin(session, now)
            done = verb(session, now, *args, **kwargs)
            plants = undo.plants_of(session, deed)
            changed = undo.finish(session, deed, done.label, done.kinds, done.own)
            if not changed:
                session.rollback()
        if changed:
            self._tell(Changed(done.label, done.kinds, plants))
        return done.value

    def read(self, question: Question[P, T], *args: P.args, **kwargs: P.kwargs) -> T:
        """Ask `question(session, *args)`; nothing it does is kept."""
        with self.store.reading() as session:
            return question(session, *args, **kwargs)

    def next_undo(self) -> Deed | None:
        """What undo would take back: its label and when it was done."""
        return self.read(undo.next_undo)

    def next_redo(self) -> Deed | None:
        """What redo would do again."""
        return self.read(undo.next_redo)

    def undo(self, expect: int | None = None) -> Deed | None:
        """Take back the last deed; returns it, or None when there is none, or when it is not the deed `expect`."""
        return self._flip(undo.next_undo, "Undo", True, expect)

    def redo(self) -> Deed | None:
        """Do the last undone deed again; returns it, or None when there is none."""
        return self._flip(undo.next_redo, "Redo", False)

    def _flip(self, find: Callable[[Session], Deed | None], word: str, undone: bool,
              expect: int | None = None) -> Deed | None:
        with self.store.transaction() as session:
            deed = find(session)
            if deed is not None and expect is not None and deed.id != expect:
                return None
            if deed is not None:
                undo.flip(session, deed, undone)
                plants = undo.plants_of(session, deed.id)
        if deed is not None:
            self._tell(Changed(f"{word}: {deed.label}", deed.kinds, plants))
        return deed

    def _tell(self, changed: Changed) -> None:
        for listener in self.listeners:
            listener(changed)
