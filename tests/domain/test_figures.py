"""Figures in words: a count is told in full, however large; an amount without needless places."""

from __future__ import annotations

import pytest

from greenhouse_desk.domain.figures import counted


@pytest.mark.parametrize(("count", "words"), [
    (0, "0 readings"), (1, "1 reading"), (525_600, "525600 readings"), (1_051_200, "1051200 readings"),
    (1.0, "1 reading"), (2.5, "2.5 readings")])
def test_a_count_is_told_in_full(count: float, words: str) -> None:
    assert counted(count, "reading") == words
