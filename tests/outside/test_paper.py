"""Paper, reading distance, codes and set names on labels, against published values."""

from __future__ import annotations

import pytest

from greenhouse_desk.domain.labels_code import QUIET, code
from greenhouse_desk.domain.labels_names import LONGEST_GREX, forms
from greenhouse_desk.domain.names import parse
from greenhouse_desk.domain.paper import SIZES, letter_for
from tests.domain.label_builders import LAYOUTS
from tests.outside.published import Published

ISO_216 = "ISO 216, sizes in mm as commonly tabled"
ISO_18004 = "ISO/IEC 18004, as summed up in open guides"
ISO_9241 = "ISO 9241-3, as quoted by display guides"
SOCIETY = "a society's page on orchid names, after the ICNCP"
ICN_2 = "International Code of Nomenclature for algae, fungi, and plants, Art. H.2"
ICN_3 = "International Code of Nomenclature for algae, fungi, and plants, Art. H.3"
TEMPLATE = "open template data for sheets of labels"

PAPER = [Published(name, size, ISO_216) for name, size in (
    ("A0", (841, 1189)), ("A1", (594, 841)), ("A2", (420, 594)), ("A3", (297, 420)), ("A4", (210, 297)),
    ("A5", (148, 210)), ("A6", (105, 148)), ("A7", (74, 105)), ("A8", (52, 74)), ("A9", (37, 52)), ("A10", (26, 37)),
    ("B0", (1000, 1414)), ("B1", (707, 1000)), ("B2", (500, 707)), ("B3", (353, 500)), ("B4", (250, 353)),
    ("B5", (176, 250)), ("B6", (125, 176)), ("B7", (88, 125)), ("B8", (62, 88)), ("B9", (44, 62)), ("B10", (31, 44)))]


@pytest.mark.parametrize("row", PAPER, ids=str)
def test_sizes_of_paper(row: Published) -> None:
    assert SIZES[row.what] == row.value


@pytest.mark.parametrize("name", [f"{series}{nth}" for series in "AB" for nth in range(10)])
def test_each_size_is_half_the_one_before(name: str) -> None:
    """ISO 216: the next size is the half of the long side, rounded down to a whole mm; within 1 mm for tables."""
    (wide, high), (next_wide, next_high) = SIZES[name], SIZES[f"{name[0]}{int(name[1:]) + 1}"]
    assert next_high == wide
    assert 0 <= high / 2 - next_wide <= 0.5


CODES = [Published("quiet zone of a code, modules", 4, ISO_18004),
         Published("modules a side of version 1, 11 capitals or digits at level M, with its quiet zone", 29, ISO_18004)]


@pytest.mark.parametrize("row", CODES[:1], ids=str)
def test_the_quiet_zone(row: Published) -> None:
    assert row.value == QUIET.value
    for number in (101, 999_999):
        made = code(number, 20)
        assert made is not None
        assert (20 - len(made.rows) * made.module) / 2 / made.module == pytest.approx(row.value)


@pytest.mark.parametrize("row", CODES[1:], ids=str)
def test_the_modules_a_side(row: Published) -> None:
    """PLANT 12345 is such a text of 11; on its smallest square a level of at least M still fits version 1."""
    made = code(12345, 10.9)
    assert made is not None
    assert len(made.rows) + 2 * QUIET.value == row.value
    assert made.level in "MQH"


DISTANCES = [Published("least letter height at 1 m, mm", 4.65, ISO_9241, (1000,), 0.01),
             Published("least letter height at 0.5 m, mm", 2.33, ISO_9241, (500,), 0.01)]


@pytest.mark.parametrize("row", DISTANCES, ids=str)
def test_letters_for_a_distance(row: Published) -> None:
    assert row.agrees(letter_for(float(str(row.given[0]))))


SHEETS = [Published("3 x 9 labels of 70 x 30 mm on A4: mm from the top to the first", 13.5, TEMPLATE)]


@pytest.mark.parametrize("row", SHEETS, ids=str)
def test_the_sheet_of_27(row: Published) -> None:
    (layout,) = [one for one in LAYOUTS if one.id == "a4-70x30"]
    grid = layout.grid
    assert grid is not None
    assert (grid.top, grid.left, grid.across, grid.down) == (row.value, 0, 3, 9)
    assert grid.left + grid.across * grid.step_x == grid.width, "they fill its width"
    assert 2 * grid.top + grid.down * grid.step_y == grid.height, "and lie in its middle"


SET = [
    Published("Pleione forrestii 'Buttercup'", "_Pleione_ _forrestii_ ‘Buttercup’", SOCIETY),
    Published("Pleione Fujiyama 'Teal'", "_Pleione_ Fujiyama ‘Teal’", SOCIETY),
    Published("Agrostis stolonifera L. x Polypogon monspeliensis (L.) Desf.",
              "_Agrostis_ _stolonifera_ L. × _Polypogon_ _monspeliensis_ (L.) Desf.", ICN_2),
    Published("Salix ×capreola Andersson", "_Salix_ ×_capreola_ Andersson", ICN_3),
    Published("×Agropogon littoralis (Sm.) C. E. Hubb.", "×_Agropogon_ _littoralis_ (Sm.) C. E. Hubb.", ICN_3)]


@pytest.mark.parametrize("row", SET, ids=str)
def test_names_on_labels_are_set_as_published(row: Published) -> None:
    (form, *_) = forms(parse(row.what), {})
    assert " ".join("".join(f"_{text}_" if italic else text for text, italic in part.pieces)
                    for part in form) == row.value


LONGEST = [Published("the longest name of a grex, characters", 30, "ICNCP 9th edition 2016, as summed up in "
                     "Guidelines for Orchid Hybrids 2017")]


@pytest.mark.parametrize("row", LONGEST, ids=str)
def test_the_longest_grex_stays_on_one_line(row: Published) -> None:
    assert row.value == LONGEST_GREX.value
    epithet = "Abcdefghij Klmnopqrst Uvwxyzabc"[:30]
    assert epithet in [part.text for part in forms(parse(f"Vanda {epithet}"), {})[0]]
