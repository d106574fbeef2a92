"""Printed codes read by an independent reader from the page as a label printer draws it, whole and spoilt."""

from __future__ import annotations

from pathlib import Path

import pytest

from greenhouse_desk.domain.labels import Layout
from greenhouse_desk.ui import paper
from tests.benchmarks.label_codes import BORNE, DAMAGE, DOTS, numbers, printings, reads
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
    for name in BORNE:
        assert [label.number for label in told if not reads(label, DAMAGE[name](label))] == [], name


def test_a_code_without_a_corner_pattern_is_not_read(tmp_path: Path) -> None:
    """That the reader really looks: 30 % of a corner that holds a pattern, and nothing is found."""
    for label in printings(LAYOUTS[0], 300, EACH, tmp_path):
        assert not reads(label, DAMAGE["upper left gone"](label))
