"""Files written whole or not at all, for those who may not reach into the store: settings, key bindings, caches."""

from __future__ import annotations

from collections.abc import Sequence
from pathlib import Path

from greenhouse_desk.domain.faults import Refused
from greenhouse_desk.store.disk import put as put
from greenhouse_desk.store.disk import unwritten as unwritten
from greenhouse_desk.store.disk import whole as whole


def ending(path: Path, known: Sequence[str], what: str) -> str:
    """The ending of `path` in small letters (".pdf"), one of `known`. Raises Refused for another: a file is never of
    another kind than its name says; `what` is written there ("a record")."""
    found = path.suffix.casefold()
    if found not in known:
        ways = " or ".join(filter(None, (", ".join(known[:-1]), known[-1])))
        raise Refused(f"{path.name} is none of our kinds of file", f"Its ending does not say how to write {what}.",
                      f"End the name in {ways}.")
    return found
