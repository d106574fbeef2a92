"""A name on a label: what may break where, and what may be left out of it before it is set smaller."""

from __future__ import annotations

import pytest
from hypothesis import given
from hypothesis import strategies as st

from greenhouse_desk.domain.labels_names import forms, parentage
from greenhouse_desk.domain.names import parse
from tests.domain.label_builders import SHORTS

FORMULA = "Phalaenopsis amabilis 'Big One' x Paphiopedilum rothschildianum var. album"
WITH_PARENTS = "Pleione Fujiyama 'Teal' (P. El Pico x P. Shantung)"


def texts(name: str, parents: bool = True) -> list[str]:
    return [" ".join(part.text for part in form) for form in forms(parse(name), dict(SHORTS), parents)]


def parts(name: str) -> list[str]:
    return [part.text for part in forms(parse(name), {})[0]]


@pytest.mark.parametrize(("name", "expected"), [
    (FORMULA, ["Phalaenopsis", "amabilis", "‘Big One’", "× Paphiopedilum", "rothschildianum", "var. album"]),
    (WITH_PARENTS, ["Pleione", "Fujiyama", "‘Teal’", "(P. El Pico", "× P. Shantung)"]),
    ("Cattleya Circle of Life", ["Cattleya", "Circle of Life"]),
    ("x Brassocattleya Maikai 'Mayumi'", ["× Brassocattleya", "Maikai", "‘Mayumi’"]),
    ("Phalaenopsis x intermedia", ["Phalaenopsis", "× intermedia"]),
    ("white one from the swap", ["white", "one", "from", "the", "swap"])])
def test_epithets_ranks_and_signs_stay_whole(name: str, expected: list[str]) -> None:
    assert parts(name) == expected


def test_a_part_that_begins_with_the_sign_is_where_a_formula_may_break() -> None:
    assert [part.text for part in forms(parse(FORMULA), {})[0] if part.sign] == ["× Paphiopedilum"]


def test_shortened_awards_first_then_parents_then_genera() -> None:
    assert texts("Phalaenopsis Dawn 'Pearl' AM/ABC (Phalaenopsis Dusk x Phalaenopsis Noon)") == [
        "Phalaenopsis Dawn ‘Pearl’ AM/ABC (Phalaenopsis Dusk × Phalaenopsis Noon)",
        "Phalaenopsis Dawn ‘Pearl’ (Phalaenopsis Dusk × Phalaenopsis Noon)",
        "Phalaenopsis Dawn ‘Pearl’",
        "Phal. Dawn ‘Pearl’ AM/ABC (Phal. Dusk × Phal. Noon)",
        "Phal. Dawn ‘Pearl’ (Phal. Dusk × Phal. Noon)", "Phal. Dawn ‘Pearl’"]


def test_a_grex_that_looks_like_an_award_stays() -> None:
    assert texts("Vanda AM/ABC 'Pearl' AM/ABC")[-1] == "Vanda AM/ABC ‘Pearl’"


def test_a_formula_keeps_both_its_parents() -> None:
    assert texts(FORMULA) == [FORMULA.replace("'Big One'", "‘Big One’").replace(" x ", " × "),
                              "Phal. amabilis ‘Big One’ × Paph. rothschildianum var. album"]


def test_parents_that_have_a_box_of_their_own_are_not_said_twice() -> None:
    assert texts(WITH_PARENTS, parents=False) == ["Pleione Fujiyama ‘Teal’"]
    assert [part.text for part in parentage(parse(WITH_PARENTS))] == ["P. El Pico", "× P. Shantung"]
    assert parentage(parse("Phalaenopsis amabilis")) == ()


WORDS = ["Phalaenopsis", "Paph.", "amabilis", "x", "×", "(", ")", "var.", "album", "'Big One'", "AM/ABC", "Dawn", "of",
         "Griff.", "🌸", "שלום", "سحلبية"]
NAMES = st.one_of(st.text(max_size=60), st.lists(st.sampled_from(WORDS), max_size=20).map(" ".join))


@given(NAMES)
def test_nothing_is_lost_or_added_in_the_fullest_form(text: str) -> None:
    name = parse(text)
    fullest = forms(name, dict(SHORTS))[0] if forms(name, dict(SHORTS)) else ()
    letters = "".join("".join(part.text for part in fullest).split())
    assert letters.translate(str.maketrans("‘’", "''")) == "".join(name.plain.split()).translate(
        str.maketrans("‘’", "''"))


@given(NAMES)
def test_species_grex_and_clone_stay_in_the_shortest_form(text: str) -> None:
    name = parse(text)
    told = forms(name, dict(SHORTS))
    if not told or name.formula:
        return
    shortest = " ".join(part.text for part in told[-1])
    assert name.epithet in shortest
    assert name.clone in shortest
    assert all(word in shortest for word in name.grex.split())
