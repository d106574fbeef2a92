"""What the naming code would say: several remarks at once, and never a refusal."""

from __future__ import annotations

import pytest
from hypothesis import given
from hypothesis import strategies as st

from greenhouse_desk.domain.names import parse
from greenhouse_desk.domain.names_check import epithet_remarks, remarks


def test_the_grex_and_the_clone_are_both_looked_at() -> None:
    assert remarks(parse("Disa Penelope Disa 'my clone'")) == (
        "Grex 'Penelope Disa': repeats the genus", "Clone 'my clone': does not begin with a capital or a number")
    assert remarks(parse("Pleione Fujiyama 'Teal'")) == ()
    assert remarks(parse("Pleione forrestii")) == ()
    assert remarks(parse("no label")) == ()


def test_all_that_is_wrong_is_told() -> None:
    found = epithet_remarks("a fine hybrid strain with a name that never ends #1!!")
    assert len(found) == 5
    assert "uses hybrid, strain, which the code keeps for itself" in found


@pytest.mark.parametrize(("epithet", "told"), [
    ("What!", False), ("What! Again!", False), ("What!!", True), ("Oh! Oh! Oh!", True), ("Mother's Day", False),
    ("Zoë", False), ("A/B-C\\D, E.", False), ("A (B)", True), ("12 34", True), ("12 A", False), ("花", True),
    ("花子", False), ("4th Street", False), ("Groups", False), ("Grouping", False), ("", False), (" ", False)])
def test_punctuation_numbers_and_other_scripts(epithet: str, told: bool) -> None:
    assert bool(epithet_remarks(epithet)) == told


@given(st.text(max_size=60), st.text(max_size=20))
def test_no_text_is_refused(epithet: str, genus: str) -> None:
    assert isinstance(epithet_remarks(epithet, genus), tuple)
    assert isinstance(remarks(parse(f"{genus} {epithet}")), tuple)
