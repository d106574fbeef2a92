"""Names set by the naming codes, against published examples."""

from __future__ import annotations

import re

import pytest

from greenhouse_desk.domain.names import parse
from greenhouse_desk.domain.names_check import epithet_remarks
from greenhouse_desk.services.shelf import shelf
from tests.outside.published import How, Published

SOCIETY = "a society's page on orchid names, after the ICNCP"
ICN_2 = "International Code of Nomenclature for algae, fungi, and plants, Art. H.2"
ICN_3 = "International Code of Nomenclature for algae, fungi, and plants, Art. H.3"
ICNCP = "ICNCP 9th edition 2016, as summed up in Guidelines for Orchid Hybrids 2017"
BASICS = "a grower's introduction, Orchid Names: The Basics, October 2013"
DARWIN_CORE = "TDWG Darwin Core, cultivarEpithet"
GUIDE = "a beginner's table of orchid genera, short forms and pronunciation"
COLUMN = "a newspaper's garden column of 24 August 2007"

SET = [
    Published("Pleione forrestii 'Buttercup'", "<i>Pleione forrestii</i> 'Buttercup'", SOCIETY),
    Published("Pleione Fujiyama 'Teal'", "<i>Pleione</i> Fujiyama 'Teal'", SOCIETY),
    Published("Pleione Fujiyama 'Teal' (P. El Pico x P. Shantung)",
              "<i>Pleione</i> Fujiyama 'Teal' (<i>P.</i> El Pico × <i>P.</i> Shantung)", SOCIETY),
    Published("Cattleya mossiae", "<i>Cattleya mossiae</i>", BASICS),
    Published("Cattleya Circle of Life", "<i>Cattleya</i> Circle of Life", BASICS),
    Published("Agrostis L. x Polypogon Desf.", "<i>Agrostis</i> L. × <i>Polypogon</i> Desf.", ICN_2),
    Published("Agrostis stolonifera L. x Polypogon monspeliensis (L.) Desf.",
              "<i>Agrostis stolonifera</i> L. × <i>Polypogon monspeliensis</i> (L.) Desf.", ICN_2),
    Published("Salix aurita L. x S. caprea L.", "<i>Salix aurita</i> L. × <i>S. caprea</i> L.", ICN_2),
    Published("Mentha aquatica L. x M. arvensis L. x M. spicata L.",
              "<i>Mentha aquatica</i> L. × <i>M. arvensis</i> L. × <i>M. spicata</i> L.", ICN_2),
    Published("Polypodium vulgare subsp. prionodes (Asch.) Rothm. x P. vulgare L. subsp. vulgare",
              "<i>Polypodium vulgare</i> subsp. <i>prionodes</i> (Asch.) Rothm. × <i>P. vulgare</i> L. subsp. "
              "<i>vulgare</i>", ICN_2),
    Published("×Agropogon littoralis (Sm.) C. E. Hubb.", "×<i>Agropogon littoralis</i> (Sm.) C. E. Hubb.", ICN_3),
    Published("Salix ×capreola Andersson", "<i>Salix</i> ×<i>capreola</i> Andersson", ICN_3),
    Published("Mentha ×smithiana R. A. Graham", "<i>Mentha</i> ×<i>smithiana</i> R. A. Graham", ICN_3),
    Published("Polypodium vulgare nothosubsp. mantoniae (Rothm.) Schidlay",
              "<i>Polypodium vulgare</i> nothosubsp. <i>mantoniae</i> (Rothm.) Schidlay", ICN_3),
]


@pytest.mark.parametrize("row", SET, ids=str)
def test_set_as_published(row: Published) -> None:
    """Genus and species italic, grex and authors roman, the clone quoted, the sign roman."""
    name = parse(row.what)
    assert name.html == row.value
    assert name.typed == row.what
    assert name.plain == re.sub("</?i>", "", name.html)


CROSSES = [Published(row.what, row.what.count(" x ") > 0, row.source, how=How.WORKED_OUT) for row in SET
           if row.source in (ICN_2, ICN_3)]


@pytest.mark.parametrize("row", CROSSES, ids=str)
def test_formulas_and_names_of_hybrids_are_told_apart(row: Published) -> None:
    name = parse(row.what)
    assert name.formula == row.value
    assert name.hybrid == ("×" in name.plain)


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


GREXES = [
    Published("Paphiopedilum Atlantis grex", "Atlantis", DARWIN_CORE),
    Published("Pleione Fujiyama 'Teal'", "Fujiyama", SOCIETY),
    Published("Cattleya Circle of Life", "Circle of Life", BASICS),
    Published("Disa Penelope D. Krige", "Penelope D. Krige", ICNCP),
]


@pytest.mark.parametrize("row", GREXES, ids=str)
def test_the_grex_is_found(row: Published) -> None:
    assert parse(row.what).grex == row.value


EPITHETS = [
    *(Published(epithet, "", ICNCP) for epithet in (
        "100th Battalion", "Super 5", "Aurora Borealis", "T. Rex", "Lignum Vitae", "H.P. Norton", "Million Dollars",
        "Half Pint", "Taisuco")),
    Published("Penelope D. Krige", "", ICNCP, ("Disa",)),
    Published("Penelope Disa Krige", "repeats the genus", ICNCP, ("Disa",)),
    Published("$1,000,000", "has $, which the code does not allow", ICNCP),
    Published("$Million", "has $, which the code does not allow", ICNCP),
    Published("½ Pint", "has ½, which the code does not allow", ICNCP),
    *(Published(ours, told, ICNCP, how=How.WORKED_OUT) for ours, told in (
        *((f"Fine {word.title()}", f"uses {word}, which the code keeps for itself") for word in (
            "cultivar", "form", "grex", "group", "hybrid", "maintenance", "mixture", "selection", "sport", "series",
            "strain", "improved", "transformed")),
        ("A" * 31, "longer than 30 characters"), ("A" * 30, ""), ("A", "a single character"), ("1234", "only numbers"),
        ("fine day", "does not begin with a capital or a number"))),
]


@pytest.mark.parametrize("row", EPITHETS, ids=str)
def test_what_the_code_says_to_a_name(row: Published) -> None:
    """What it accepts and refuses by example; the words it bans, the length and the beginning by its rules."""
    remarks = epithet_remarks(row.what, *map(str, row.given))
    assert (row.value in remarks) if row.value else remarks == ()


SHORT = [*(Published(short, genus, GUIDE) for short, genus in (
    ("Bulb.", "Bulbophyllum"), ("Cym.", "Cymbidium"), ("Den.", "Dendrobium"), ("Onc.", "Oncidium"),
    ("Paph.", "Paphiopedilum"), ("Phal.", "Phalaenopsis"), ("Phrag.", "Phragmipedium"), ("Lc.", "Laeliocattleya"))),
    *(Published(short, genus, COLUMN) for short, genus in (
        ("Angcm.", "Angraecum"), ("Ascda.", "Ascocenda"), ("Drac.", "Dracula"), ("Dtps.", "Doritaenopsis")))]


@pytest.mark.parametrize("row", SHORT, ids=str)
def test_the_genus_behind_a_short_form(row: Published) -> None:
    assert shelf(None).genera.full(row.what) == row.value


def test_a_hybrid_species_takes_the_sign() -> None:
    """ICN Art. H.3, from memory for an orchid: the sign itself is roman."""
    assert parse("Phalaenopsis x intermedia").html == "<i>Phalaenopsis</i> × <i>intermedia</i>"
