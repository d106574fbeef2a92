"""Fitting text: wrapped at the sign first, then shortened, then set smaller, then refused; never out of its box."""

from __future__ import annotations

import pytest

from greenhouse_desk.domain.labels import GOOD_LETTER, Align
from greenhouse_desk.domain.labels_fit import Fitted, Setter
from greenhouse_desk.domain.labels_names import forms, plain
from greenhouse_desk.domain.names import parse
from tests.domain.label_builders import SHORTS, box, lines_of, square_face


def fit(name: str, width: float, height: float, shorts: bool = True) -> Fitted | None:
    wordings = [(form,) for form in forms(parse(name), dict(SHORTS if shorts else ()))]
    return Setter(box(width, height), square_face).fit(wordings)


def must(name: str, width: float, height: float, shorts: bool = True) -> Fitted:
    found = fit(name, width, height, shorts)
    assert found is not None
    return found


FORMULA = "Vanda alba x Vanda rosea"


def test_on_one_line_where_there_is_room() -> None:
    fitted = must(FORMULA, 48, 2)
    assert (lines_of(fitted), fitted.letter, fitted.wording) == (["Vanda alba × Vanda rosea"], 2.0, 0)


def test_a_formula_breaks_at_the_sign_where_that_is_enough() -> None:
    assert lines_of(must(FORMULA, 30, 10)) == ["Vanda alba", "× Vanda rosea"], "21 letters' room, but no half epithets"


def test_and_between_epithets_where_it_is_not() -> None:
    assert lines_of(must(FORMULA, 16, 30)) == ["Vanda", "alba", "× Vanda", "rosea"]


def test_shortened_before_it_is_set_smaller() -> None:
    fitted = must("Phalaenopsis amabilis", 28, 2)
    assert (lines_of(fitted), fitted.letter, fitted.wording) == (["Phal. amabilis"], 2.0, 1)


def test_set_smaller_only_when_nothing_else_is_left_and_not_below_the_least() -> None:
    fitted = must("Phalaenopsis amabilis", 21, 1.5, shorts=False)
    assert (lines_of(fitted), 1.0 <= fitted.letter < 1.01) == (["Phalaenopsis amabilis"], True)
    assert fit("Phalaenopsis amabilis", 20, 1.5, shorts=False) is None, "the least height does not go on one line"


def test_no_epithet_is_ever_broken() -> None:
    assert fit("Vanda longissimepetalata", 14, 30) is None
    assert lines_of(must("Vanda longissimepetalata", 18, 30)) == ["Vanda", "longissimepetalata"]


@pytest.mark.parametrize(("align", "x"), [(Align.LEFT, 10), (Align.CENTRE, 15), (Align.RIGHT, 20)])
def test_where_a_short_line_stands(align: Align, x: float) -> None:
    fitted = Setter(box(20, 4, align=align), square_face).fit([(plain("Vanda"),)])
    assert fitted is not None
    assert fitted.words[0].x == pytest.approx(x)
    assert fitted.words[0].y == pytest.approx(23 if align is Align.CENTRE else 22), "centred both ways"


def test_text_that_may_be_cut_says_so() -> None:
    setter = Setter(box(10, 1), square_face)
    fitted = setter.fit([(plain("from the autumn swap"),)], may_cut=True)
    assert fitted is not None
    assert (lines_of(fitted), fitted.cut) == (["from the…"], True)
    assert setter.fit([(plain("from the autumn swap"),)]) is None
    word = setter.fit([(plain("unbreakableword"),)], may_cut=True)
    assert word is not None
    assert lines_of(word) == ["unbreakab…"]


def test_a_cut_never_parts_a_letter_from_its_accent_nor_a_joined_emoji() -> None:
    joined = "ab\N{COMBINING ACUTE ACCENT}cd👩\u200d👩\u200d👧👍🏽🇳🇿gh"
    whole = {0, 1, 3, 4, 5, 10, 12, 14, 15}
    for width in range(2, 15):
        fitted = Setter(box(width, 1), square_face).fit([(plain(joined),)], may_cut=True)
        assert fitted is not None
        assert len(lines_of(fitted)[0].removesuffix("…")) in whole


def test_no_word_is_lost_for_letters_that_are_higher_than_reads_well() -> None:
    """3 mm are wanted and 2.33 read well: the full name is set at what fits between, and shortened only below that."""
    def at(width: float, name: str = "Phalaenopsis amabilis") -> Fitted:
        wordings = [(form,) for form in forms(parse(name), dict(SHORTS))]
        found = Setter(box(width, 3.2, letter_mm=3.0), square_face).fit(wordings)
        assert found is not None
        return found

    whole = at(50)
    assert (lines_of(whole), whole.wording) == (["Phalaenopsis amabilis"], 0)
    assert GOOD_LETTER <= whole.letter < 50 / 21
    short = at(48)
    assert (lines_of(short), short.wording) == (["Phal. amabilis"], 1)
    assert short.letter == 3.0, "once shortened, as high as there is room"
    assert at(41).letter == pytest.approx(2.82), "the first smaller step"
