"""The note that tells who holds a collection: written while it is open, gone afterwards, never in the way."""

from __future__ import annotations

import json
import os
from pathlib import Path

import pytest

from greenhouse_desk.domain.faults import Held
from greenhouse_desk.store import holder
from greenhouse_desk.store.engine import open_store


def noted(folder: Path, **changed: object) -> None:
    told = {"who": holder.WINDOW, "process": 7, "computer": "elsewhere", **changed}
    (folder / holder.NOTE).write_text(json.dumps(told), "utf-8")


def test_it_is_there_while_the_collection_is_open_and_no_longer(tmp_path: Path) -> None:
    store = open_store(tmp_path, create=True, who="a test")
    assert holder.told(tmp_path) == (f"a test (process {os.getpid()})", "Wait until that has ended, then try again.")
    store.close()
    assert not (tmp_path / holder.NOTE).exists()
    assert holder.told(tmp_path) == holder.UNKNOWN


def test_another_computer_is_named(tmp_path: Path) -> None:
    noted(tmp_path)
    assert holder.told(tmp_path)[0] == "the window (process 7 on the computer elsewhere)"


@pytest.mark.parametrize("spoilt", ["", "[]", "3", '{"who": "x"}'])
def test_a_note_that_cannot_be_read_tells_of_a_copy_all_the_same(tmp_path: Path, spoilt: str) -> None:
    (tmp_path / holder.NOTE).write_text(spoilt, "utf-8")
    assert holder.told(tmp_path) == holder.UNKNOWN


def test_one_that_a_killed_program_left_stops_nobody(tmp_path: Path) -> None:
    open_store(tmp_path, create=True).close()
    noted(tmp_path)
    store = open_store(tmp_path, who="the next")
    with pytest.raises(Held, match="the next"):
        open_store(tmp_path)
    assert holder.told(tmp_path)[0].startswith("the next"), "whoever was refused left the note alone"
    store.close()


def test_a_note_that_cannot_be_written_keeps_nobody_out(tmp_path: Path) -> None:
    open_store(tmp_path, create=True).close()
    (tmp_path / holder.NOTE).mkdir()
    (tmp_path / holder.NOTE / "x").touch()
    store = open_store(tmp_path)
    assert holder.told(tmp_path) == holder.UNKNOWN
    store.close()
