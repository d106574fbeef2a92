"""The shelf of layouts: own ones beside the shipped, faults told, kept and read back, never over a shipped one."""

from __future__ import annotations

from dataclasses import replace
from pathlib import Path

import pytest

from greenhouse_desk.domain.faults import Refused
from greenhouse_desk.domain.labels import Box, What
from greenhouse_desk.services import labels_shelf
from greenhouse_desk.services.labels_shelf import FIRST, layouts
from greenhouse_desk.shipped import folder as shipped

SHIPPED = layouts(None)
TEXT = (shipped("labels") / "roll-57x32.toml").read_text("utf-8")


def test_what_is_shipped_is_sound() -> None:
    assert SHIPPED.faults == ()
    assert len(SHIPPED.all) == len(list(shipped("labels").glob("*.toml")))
    assert SHIPPED.named(FIRST).grid is not None
    with pytest.raises(Refused, match="no layout 'nobody'"):
        SHIPPED.named("nobody")


def test_own_files_stand_beside_the_shipped_and_faults_are_told(tmp_path: Path) -> None:
    (tmp_path / "labels").mkdir()
    (tmp_path / "labels" / "mine.toml").write_text(TEXT, "utf-8")
    (tmp_path / "labels" / "roll-57x32.toml").write_text(TEXT, "utf-8")
    (tmp_path / "labels" / "wide.toml").write_text(TEXT.replace("width_mm = 57", "width_mm = 20"), "utf-8")
    (tmp_path / "labels" / "no.toml").write_text("title =", "utf-8")
    found = layouts(tmp_path)
    assert [one.id for one in found.all if one.own] == ["mine"]
    assert found.all[:len(SHIPPED.all)] == SHIPPED.all
    assert {fault.file for fault in found.faults} == {"labels/roll-57x32.toml", "labels/wide.toml", "labels/no.toml"}


def test_a_changed_shipped_layout_is_kept_as_an_own_one_and_changed_again_in_place(tmp_path: Path) -> None:
    roll = SHIPPED.named("roll-57x32")
    kept = labels_shelf.keep(tmp_path, replace(roll, title="Für Töpfe: 57 x 32", width=60.0))
    assert (kept.id, kept.own, kept.width) == ("fur-topfe-57-x-32", True, 60)
    assert layouts(tmp_path).named(kept.id) == kept
    again = labels_shelf.keep(tmp_path, replace(kept, width=61.0))
    assert (again.id, layouts(tmp_path).named(kept.id).width) == (kept.id, 61)
    other = labels_shelf.keep(tmp_path, replace(roll, title=kept.title))
    assert other.id == "fur-topfe-57-x-32-2"
    labels_shelf.forget(tmp_path, again)
    assert [one.id for one in layouts(tmp_path).all if one.own] == [other.id]
    with pytest.raises(Refused):
        labels_shelf.forget(tmp_path, roll)


def test_sizes_that_do_not_go_together_are_not_kept(tmp_path: Path) -> None:
    roll = SHIPPED.named("roll-57x32")
    small = Box(What.CODE, 0, 0, 5, 5)
    for wrong in (replace(roll, width=30.0), replace(roll, boxes=()), replace(roll, title=" "),
                  replace(roll, boxes=(*roll.boxes, small))):
        with pytest.raises(Refused, match="does not go together"):
            labels_shelf.keep(tmp_path, wrong)
    assert not (tmp_path / "labels").exists()


@pytest.mark.parametrize("title", ["סחלב", "…", "a" * 200])
def test_a_title_always_gives_a_file_name(tmp_path: Path, title: str) -> None:
    name = labels_shelf.free_name(tmp_path, title)
    assert 0 < len(name) <= 40
    assert name.isascii()
