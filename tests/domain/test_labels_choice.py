"""Numbers typed for a print: spans and single ones, and which plants they name."""

from __future__ import annotations

import pytest

from greenhouse_desk.domain.faults import Refused
from greenhouse_desk.domain.labels_choice import chosen, numbers


@pytest.mark.parametrize(("text", "spans"), [
    ("101-140,150", ((101, 140), (150, 150))), ("101 - 140, 150", ((101, 140), (150, 150))), ("7", ((7, 7),)),
    ("3–5; 9", ((3, 5), (9, 9))), ("5 4 4", ((5, 5), (4, 4), (4, 4))), ("", ()), (" , ", ())])
def test_numbers_as_they_are_typed(text: str, spans: tuple[tuple[int, int], ...]) -> None:
    assert numbers(text) == spans


@pytest.mark.parametrize("text", ["101-", "-5", "a", "101-140-150", "1.5", "140-101", "1234567", "１０１", "101--140"])
def test_what_is_no_list_of_numbers_is_refused(text: str) -> None:
    with pytest.raises(Refused):
        numbers(text)


def test_of_a_span_only_what_grows_but_a_number_named_by_itself_may_have_left() -> None:
    known, growing = {101, 102, 103, 105}, {101, 103, 105}
    assert chosen(((101, 105),), known, growing) == (101, 103, 105)
    assert chosen(((102, 102), (101, 103), (101, 101)), known, growing) == (102, 101, 103)
    for nobody in (((104, 104),), ((102, 102), (106, 110)), ((102, 102), (104, 104))):
        with pytest.raises(Refused):
            chosen(nobody, known, growing)
