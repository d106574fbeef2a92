"""A list of choices too long for the screen says so, as loud as a choice, and how to come to the rest."""

from __future__ import annotations

from greenhouse_desk.domain.bench import Question
from greenhouse_desk.ui.bench.detail import pages
from greenhouse_desk.ui.bench.dial import Dial

ASKED = Question("Pests or diseases seen?", high=16, start=0, choices=tuple(f"pest {n}" for n in range(1, 18)))


def test_the_first_page_says_how_many_more_there_are_and_how_to_come_to_them() -> None:
    assert pages(Dial.of(ASKED), 7, "B", "S") == "1 to 7 of 17; 10 more: S, or type 8"


def test_the_last_page_leads_back() -> None:
    assert pages(Dial.of(ASKED).digit(1).digit(5), 7, "B", "S") == "15 to 17 of 17; 14 before: B, or type 1"


def test_what_is_typed_comes_to_the_page_it_names() -> None:
    assert pages(Dial.of(ASKED).digit(8), 7, "less", "more") == "8 to 14 of 17; 3 more: more, or type 15"
