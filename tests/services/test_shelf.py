"""The shelf: what is shipped, what is the grower's own, and what had to be set aside."""

from __future__ import annotations

import tomllib
from pathlib import Path

import pytest

from greenhouse_desk.services.shelf import LARGEST_BYTES, Shelf, shelf
from greenhouse_desk.shipped import folder
from tests.domain.protocol_sound import SOUND

SHIPPED = {"root-trim-and-repot", "pest-wash", "transition-repot", "spike-cut", "tools-and-pots", "arrival-check"}


def own(home: Path, name: str, text: str | bytes) -> Path:
    place = home / "protocols"
    place.mkdir(exist_ok=True)
    (place / name).write_bytes(text.encode() if isinstance(text, str) else text)
    return home


def ids(found: Shelf) -> set[str]:
    return {protocol.id for protocol in found.protocols}


@pytest.mark.parametrize("home", [None, Path("/nowhere/at/all")])
def test_the_shipped_shelf_is_whole_and_without_a_fault(home: Path | None) -> None:
    found = shelf(home)
    assert ids(found) == SHIPPED
    assert found.faults == ()
    assert found.set_aside == ()
    assert all(found.startable(protocol) and not protocol.own for protocol in found.protocols)
    assert "hydrogen-peroxide" in found.agents
    assert "mealybug" in found.pests


def test_an_own_protocol_stands_beside_the_shipped_ones(tmp_path: Path) -> None:
    found = shelf(own(tmp_path, "my-trim.toml", SOUND))
    assert ids(found) == SHIPPED | {"my-trim"}
    mine = found.protocol("my-trim")
    assert mine is not None
    assert mine.own
    assert mine.file == "protocols/my-trim.toml"
    assert found.faults == ()


def test_what_was_shipped_is_read_once_and_the_growers_own_each_time(
        tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    """Five rooms ask for the shipped pests and agents; each start of the program read all files for each of them."""
    first, reads = shelf(None), list[str]()

    def loads(text: str) -> dict[str, object]:
        reads.append(text)
        return {}

    monkeypatch.setattr(tomllib, "loads", loads)
    assert shelf(None) is first
    assert reads == []
    shelf(tmp_path)
    assert len(reads) > len(first.protocols)


def test_the_name_of_a_shipped_protocol_is_taken(tmp_path: Path) -> None:
    found = shelf(own(tmp_path, "pest-wash.toml", SOUND))
    assert ids(found) == SHIPPED
    assert [aside.file for aside in found.set_aside] == ["protocols/pest-wash.toml"]
    assert "a shipped protocol is called 'pest-wash'" in found.set_aside[0].faults[0].message
    shipped = found.protocol("pest-wash")
    assert shipped is not None
    assert not shipped.own


def test_a_protocol_with_a_fault_that_is_not_grave_is_shown_and_explained(tmp_path: Path) -> None:
    found = shelf(own(tmp_path, "long.toml", SOUND.replace("most_min = 12", "most_min = 40")))
    mine = found.protocol("long")
    assert mine is not None
    assert [str(fault) for fault in found.faults] == [str(fault) for fault in found.faults_of(mine)]
    assert found.faults[0].path == "step[4].most_min"
    assert found.startable(mine)


def test_a_protocol_that_breaks_a_do_not_mix_rule_is_shown_and_never_startable(tmp_path: Path) -> None:
    bleach = SOUND.replace('agent = "ethanol"\nstrength = 70', 'agent = "bleach"\nstrength = 0.5')
    more = '\n[[step]]\nid = "m"\nsay = "Wipe"\npage = "So."\ndeed = "hygiene"\non = ["tools"]\nagent = "ethanol"\n' \
           'strength = 70\namount_ml = 10\n'
    text = bleach.replace("least_min = 3\nmost_min = 60", "least_min = 10\nmost_min = 20") + more
    found = shelf(own(tmp_path, "gas.toml", text))
    mine = found.protocol("gas")
    assert mine is not None
    assert [fault.grave for fault in found.faults] == [True]
    assert not found.startable(mine)


@pytest.mark.parametrize(("text", "path", "message"), [
    ('title = "a"\npurpose = \n', "line 2", "TOML was expected"),
    ('title = "a"\ntitle = "b"\n', "line 2", "TOML was expected"),
    (b'title = "\xe9"\n', "byte 10", "UTF-8"),
    ("a = " + "[" * 5000 + "]" * 5000, "file", "fewer brackets"),
    ("a = " + "9" * 5000, "file", "TOML was expected"),
    ("# " + "x" * LARGEST_BYTES, "file", "at most 1000 kB"),
], ids=["syntax", "key twice", "encoding", "deep", "endless number", "too large"])
def test_a_file_that_is_not_toml_is_one_fault_and_stops_nothing(tmp_path: Path, text: str | bytes, path: str,
                                                                message: str) -> None:
    own(tmp_path, "good.toml", SOUND)
    found = shelf(own(tmp_path, "bad.toml", text))
    assert ids(found) == SHIPPED | {"good"}
    assert [(fault.file, fault.path) for fault in found.faults] == [("protocols/bad.toml", path)]
    assert message in found.faults[0].message
    assert found.set_aside[0].faults == found.faults


def test_a_folder_where_a_file_was_expected_is_a_fault(tmp_path: Path) -> None:
    (tmp_path / "protocols" / "odd.toml").mkdir(parents=True)
    found = shelf(tmp_path)
    assert [fault.path for fault in found.faults] == ["file"]
    assert ids(found) == SHIPPED


def test_an_unreadable_file_gives_all_its_faults_and_is_set_aside(tmp_path: Path) -> None:
    text = SOUND.replace('title = "Trim"', 'titel = "Trim"').replace('deed = "blot"', 'deed = "dab"')
    found = shelf(own(tmp_path, "typo.toml", text))
    assert {fault.path for fault in found.faults} == {"title", "titel", "step[8].deed"}
    assert found.protocol("typo") is None


def test_other_files_in_the_folder_are_left_alone(tmp_path: Path) -> None:
    assert ids(shelf(own(tmp_path, "notes.txt", "not a protocol"))) == SHIPPED


def test_shipped_files_are_found() -> None:
    assert folder("agents.toml").is_file()
    assert folder("pests.toml").is_file()
