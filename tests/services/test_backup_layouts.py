"""A grower's own label layouts travel with every backup, come back with it, and are looked at by the check."""

from __future__ import annotations

from pathlib import Path

import pytest

from greenhouse_desk.services import backup
from greenhouse_desk.services.desk import Desk
from tests.builders import NOW
from tests.services.own_files import HOUR, kept, made, text_of

MINE = text_of("labels", "roll-57x32.toml")


@pytest.fixture
def mine(desk: Desk) -> Path:
    """A layout of the grower's own."""
    return kept(desk, "labels", MINE)


def test_it_comes_back_as_it_was_and_one_made_since_stays(desk: Desk, mine: Path) -> None:
    name = made(desk)
    mine.write_text("changed", "utf-8")
    (mine.parent / "later.toml").write_text("later", "utf-8")
    desk.store.close()
    replaced = backup.restore(desk.store.folder, name, NOW + HOUR).replaced
    assert {path.name: path.read_text("utf-8") for path in mine.parent.iterdir()} == {
        "mine.toml": MINE, "later.toml": "later"}
    backup.restore(desk.store.folder, replaced, NOW + 2 * HOUR)
    assert mine.read_text("utf-8") == "changed"


def test_a_changed_layout_alone_is_worth_a_backup(desk: Desk, mine: Path) -> None:
    made(desk)
    assert backup.make(desk.store, NOW + HOUR) is None
    mine.write_text(MINE + "\n", "utf-8")
    made(desk, 2 * HOUR)


def test_a_backup_whose_layout_was_lost_or_changed_says_so(desk: Desk, mine: Path) -> None:
    name = made(desk)
    packed = desk.store.folder / "backups" / name / "labels" / "mine.toml"
    assert backup.faults(desk.store.folder, name) == ()
    packed.write_text("other", "utf-8")
    assert backup.faults(desk.store.folder, name) == (f"{name}: layout labels/mine.toml is missing or damaged",)
    packed.unlink()
    assert backup.faults(desk.store.folder, name)


def test_the_check_names_a_layout_that_cannot_be_used(desk: Desk, mine: Path) -> None:
    assert backup.check(desk.store) == ()
    mine.write_text(MINE.replace("width_mm = 57", "width_mm = 20"), "utf-8")
    faults = backup.check(desk.store)
    assert faults
    assert all(fault.startswith("labels/mine.toml: box") for fault in faults)
