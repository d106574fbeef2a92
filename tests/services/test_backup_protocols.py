"""A grower's own protocols travel with every backup, come back with it, and are looked at by the check."""

from __future__ import annotations

import json
from collections.abc import Callable
from pathlib import Path

import pytest

from greenhouse_desk.domain.faults import Refused
from greenhouse_desk.services import backup
from greenhouse_desk.services.desk import Desk
from greenhouse_desk.store.engine import open_store
from greenhouse_desk.store.folder import DATABASE
from tests.builders import NOW
from tests.services.own_files import HOUR, kept, made, text_of

MINE = text_of("protocols", "arrival-check.toml")


@pytest.fixture
def mine(desk: Desk) -> Path:
    """A protocol of the grower's own."""
    return kept(desk, "protocols", MINE)


def test_it_comes_back_as_it_was_and_one_made_since_goes_into_the_copy(desk: Desk, mine: Path) -> None:
    name = made(desk)
    mine.write_text("changed", "utf-8")
    (mine.parent / "later.toml").write_text("later", "utf-8")
    (mine.parent / "reading list.txt").write_text("no protocol", "utf-8")
    desk.store.close()
    replaced = backup.restore(desk.store.folder, name, NOW + HOUR).replaced
    assert {path.name: path.read_text("utf-8") for path in mine.parent.iterdir()} == {
        "mine.toml": MINE, "reading list.txt": "no protocol"}
    backup.restore(desk.store.folder, replaced, NOW + 2 * HOUR)
    assert mine.read_text("utf-8") == "changed"
    assert (mine.parent / "later.toml").read_text("utf-8") == "later"


def test_a_changed_protocol_alone_is_worth_a_backup(desk: Desk, mine: Path) -> None:
    made(desk)
    assert backup.make(desk.store, NOW + HOUR) is None
    mine.write_text(MINE + "\n", "utf-8")
    made(desk, 2 * HOUR)
    mine.unlink()
    made(desk, 3 * HOUR)


def test_a_backup_made_without_protocols_leaves_them_alone(desk: Desk, mine: Path) -> None:
    name = made(desk)
    manifest = desk.store.folder / "backups" / name / "manifest.json"
    told = json.loads(manifest.read_text("utf-8"))
    del told["protocols"]
    manifest.write_text(json.dumps(told), "utf-8")
    desk.store.close()
    backup.restore(desk.store.folder, name, NOW + HOUR)
    assert mine.read_text("utf-8") == MINE


def spoil(packed: Path) -> None:
    (packed / "protocols" / "mine.toml").write_text("other", "utf-8")


def lose(packed: Path) -> None:
    (packed / "protocols" / "mine.toml").unlink()


def name_oddly(packed: Path) -> None:
    manifest = packed / "manifest.json"
    told = json.loads(manifest.read_text("utf-8"))
    told["protocols"] = {"../../escaped.toml": next(iter(told["protocols"].values()))}
    manifest.write_text(json.dumps(told), "utf-8")


def list_nothing(packed: Path) -> None:
    manifest = packed / "manifest.json"
    manifest.write_text(json.dumps({**json.loads(manifest.read_text("utf-8")), "protocols": 3}), "utf-8")


@pytest.mark.parametrize("harm", [spoil, lose, name_oddly, list_nothing])
def test_a_backup_whose_protocols_are_not_whole_replaces_nothing(
        desk: Desk, mine: Path, harm: Callable[[Path], None]) -> None:
    name = made(desk)
    harm(desk.store.folder / "backups" / name)
    mine.write_text("now", "utf-8")
    desk.store.close()
    with pytest.raises(Refused, match="not whole"):
        backup.restore(desk.store.folder, name, NOW + HOUR)
    assert mine.read_text("utf-8") == "now"


def test_those_of_a_damaged_collection_are_kept_beside_it(desk: Desk, mine: Path) -> None:
    folder, name = desk.store.folder, made(desk)
    mine.write_text("now", "utf-8")
    desk.store.close()
    (folder / DATABASE).write_bytes(b"this is not a database" * 500)
    aside = backup.restore(folder, name, NOW + HOUR).replaced
    assert (folder / "backups" / aside / "protocols" / "mine.toml").read_text("utf-8") == "now"
    open_store(folder).close()


def test_the_check_names_its_faults_with_file_and_path(desk: Desk, mine: Path) -> None:
    assert backup.check(desk.store) == ()
    mine.write_text(MINE.replace("title =", "heading =", 1), "utf-8")
    told = backup.check(desk.store)
    assert any(words.startswith("protocols/mine.toml: title: ") for words in told), told
    assert any("heading" in words for words in told), told
