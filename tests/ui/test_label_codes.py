"""Printed codes read by an independent reader from the page as a label printer draws it, whole and spoilt."""

from __future__ import annotations

from pathlib import Path

import pytest

from greenhouse_desk.domain.labels import Layout
from greenhouse_desk.ui import paper
from tests.benchmarks.label_codes import BORNE, DAMAGE, DOTS, borne, codes, numbers, printings, reads
from tests.domain.label_builders import LAYOUTS

EACH = 12


@pytest.fixture(scope="module", autouse=True)
def _faces(qapp: object) -> None:
    paper.ready()


def test_the_numbers_tried_have_one_to_six_digits() -> None:
    assert {len(str(number)) for number in numbers(EACH)} == set(range(1, 7))


@pytest.mark.parametrize("dots", DOTS)
@pytest.mark.parametrize("layout", LAYOUTS, ids=lambda layout: layout.id)
def test_every_code_is_read(layout: Layout, dots: int, tmp_path: Path) -> None:
    told = printings(layout, dots, EACH, tmp_path)
    assert len(told) >= EACH // 2, "a fold-round flag is too narrow for numbers of six digits at least size"
    for name in borne(layout):
        assert [label.number for label in told if not reads(label, DAMAGE[name](label))] == [], name


@pytest.mark.parametrize("name", [name for name in DAMAGE if "%" in name and name not in BORNE])
def test_a_lone_code_that_lost_part_of_a_corner_pattern_is_not_read(tmp_path: Path, name: str) -> None:
    """That the reader really looks: a third of one corner with a pattern, or all of it, and nothing is found."""
    alone = next(layout for layout in LAYOUTS if len(codes(layout)) == 1)
    for label in printings(alone, 300, 4, tmp_path):
        assert not reads(label, DAMAGE[name](label))


def test_two_layouts_have_room_for_a_second_code() -> None:
    assert {layout.id for layout in LAYOUTS if len(codes(layout)) > 1} == {"fold-over", "tag"}
