"""Names set by the naming codes, against published examples."""

from __future__ import annotations

import pytest

from greenhouse_desk.domain.names import parse


@pytest.mark.parametrize(("typed", "html"), [
    ("Pleione forrestii 'Buttercup'", "<i>Pleione forrestii</i> 'Buttercup'"),
    ("Pleione Fujiyama 'Teal'", "<i>Pleione</i> Fujiyama 'Teal'")])
def test_genus_and_species_italic_grex_roman_clone_quoted(typed: str, html: str) -> None:
    """A society's page after the ICNCP."""
    assert parse(typed).html == html


@pytest.mark.parametrize("typed", ["×Brassocattleya Maikai", "× Brassocattleya Maikai", "x Brassocattleya Maikai",
                                   "xBrassocattleya Maikai"])
def test_the_hybrid_sign_stands_before_an_intergeneric_name_and_is_ignored_in_sorting(typed: str) -> None:
    """ICN Art. H.3: the sign before the name, ignored in sorting; a lower-case x is accepted on input."""
    name = parse(typed)
    assert name.plain.startswith("×")
    assert name.plain.removeprefix("×").strip() == "Brassocattleya Maikai"
    assert name.sort_key == parse("Brassocattleya Maikai").sort_key
    assert name.hybrid
    assert name.typed == typed


def test_a_grex_is_set_in_roman_after_its_genus() -> None:
    """Darwin Core's example of a grex, Paphiopedilum Atlantis (TDWG); set as the ICNCP does."""
    name = parse("Paphiopedilum Atlantis")
    assert name.html == "<i>Paphiopedilum</i> Atlantis"
    assert name.grex == "Atlantis"


@pytest.mark.parametrize(("typed", "html"), [
    ("Phalaenopsis amabilis x Phalaenopsis aphrodite",
     "<i>Phalaenopsis amabilis</i> × <i>Phalaenopsis aphrodite</i>"),
    ("Phalaenopsis x intermedia", "<i>Phalaenopsis</i> × <i>intermedia</i>")])
def test_a_cross_names_the_seed_parent_first_and_a_hybrid_species_takes_the_sign(typed: str, html: str) -> None:
    """ICN Art. H.2 and H.3, from memory: the sign itself is roman, in a cross it stands between the parents."""
    assert parse(typed).html == html
