"""Reading names: what each part becomes, and that no text ever fails."""

from __future__ import annotations

import html
import re

import pytest
from hypothesis import given
from hypothesis import strategies as st

from greenhouse_desk.domain.names import genus_of, parse

CROSS = "Phalaenopsis (amabilis x aphrodite) x Phal. Sogo Yukidian 'V3'"
SAMPLES = ["Pleione forrestii 'Buttercup'", "x Brassocattleya Maikai", CROSS, "Paph. aff. delenatii", "NOID", "(", "'",
           "Vanda coerulea Griff. ex Lindl.", "Phal. Mother's Day 'Mother's Pride' AM/XOS", "<b>Vanda</b> & \"Co\""]
WORDS = [*"x×X()'\"‘’“” ", "Phal.", "Vanda", "coerulea", "var.", "alba", "sp.", "AM/XOS", "<i>", "(x", "x)"]
TEXTS = st.one_of(st.text(max_size=60), st.lists(st.sampled_from(WORDS), max_size=30).map(" ".join))


@pytest.mark.parametrize(("typed", "expected"), [
    ("Paph. aff. delenatii", "<i>Paph.</i> aff. <i>delenatii</i>"),
    ("Dendrobium cf. kingianum", "<i>Dendrobium</i> cf. <i>kingianum</i>"),
    ("Dendrobium sp.", "<i>Dendrobium</i> sp."),
    ("Paphiopedilum rothschildianum var. album f. virens",
     "<i>Paphiopedilum rothschildianum</i> var. <i>album</i> f. <i>virens</i>"),
    ("Dracula vampira subsp. foo", "<i>Dracula vampira</i> subsp. <i>foo</i>"),
    ("Cattleya “Big One” FCC/YHS", "<i>Cattleya</i> 'Big One' FCC/YHS"),
    ("Paphiopedilum (Maudiae x Makuli) 'Red'", "<i>Paphiopedilum</i> (Maudiae × Makuli) 'Red'"),
    ("Paph. (Maudiae x callosum)", "<i>Paph.</i> (Maudiae × <i>callosum</i>)"),
    ("Paph. (Maudiae X callosum) 'Dark'", "<i>Paph.</i> (Maudiae × <i>callosum</i>) 'Dark'"),
    ("Paph. ((Maudiae x callosum) x delenatii)",
     "<i>Paph.</i> ((Maudiae × <i>callosum</i>) × <i>delenatii</i>)"),
    ("Paph. delenatii x (Maudiae × callosum)", "<i>Paph. delenatii</i> × (Maudiae × <i>callosum</i>)"),
    ("Phal. delenatii x (Phal. x intermedia)", "<i>Phal. delenatii</i> × (<i>Phal.</i> × <i>intermedia</i>)"),
    (CROSS, "<i>Phalaenopsis</i> (<i>amabilis</i> × <i>aphrodite</i>) × <i>Phal.</i> Sogo Yukidian 'V3'"),
    ("Phalaenopsis amabilis x aphrodite", "<i>Phalaenopsis amabilis</i> × <i>aphrodite</i>"),
    ("Vanda coerulea Griff. ex Lindl.", "<i>Vanda coerulea</i> Griff. ex Lindl."),
    ("NOID white phal", "NOID white phal"), ("phalaenopsis amabilis", "phalaenopsis amabilis"),
    ("Vanda <b>blue</b> & co", "<i>Vanda</i> &lt;b&gt;blue&lt;/b&gt; &amp; co"), ("x", "x"), ("", "")])
def test_set_as_the_codes_do(typed: str, expected: str) -> None:
    assert parse(typed).html == expected


def test_the_parts_are_named() -> None:
    name = parse("Phalaenopsis amabilis var. alba 'Mother's Pride' AM/XOS")
    assert (name.genus, name.epithet, name.infraspecific) == ("Phalaenopsis", "amabilis", (("var.", "alba"),))
    assert (name.clone, name.awards) == ("Mother's Pride", "AM/XOS")
    assert [piece.text for piece in name.pieces if piece.clone] == ["'Mother's Pride'"]
    assert parse("Vanda Mother's Day").grex == "Mother's Day"
    for cross in (CROSS, "Paph. (Maudiae x callosum)", "Paph. (Maudiae × callosum) 'Dark'", "Paph. Maudiae x callosum",
                  "Paph. delenatii x (Maudiae x callosum)", "Phal. (amabilis x aphrodite)"):
        assert parse(cross).formula
        assert parse(cross).hybrid
    assert not parse("Phalaenopsis x intermedia").formula
    assert (genus_of("Phal. amabilis"), genus_of("no label"), genus_of("xBrassocattleya Maikai")) == (
        "Phal.", "", "Brassocattleya")


@pytest.mark.parametrize(("typed", "grex"), [
    ("Cattleya Circle of Life", "Circle of Life"), ("Vanda Miss Joaquim of the", "Miss Joaquim"),
    ("Paphiopedilum Atlantis grex", "Atlantis"), ("Phal. Sogo Yukidian gx 'V3'", "Sogo Yukidian"),
    ("Vanda of the House", "House"), ("Phal. amabilis Big of Big", "")])
def test_small_words_belong_to_a_grex_only_between_its_words(typed: str, grex: str) -> None:
    assert parse(typed).grex == grex


@pytest.mark.parametrize(("typed", "html", "genus"), [
    ("(Vanda coerulea)", "(<i>Vanda coerulea</i>)", "Vanda"),
    ("(Vanda) coerulea (white)", "(Vanda) coerulea (white)", ""),
    ("VANDA coerulea", "VANDA coerulea", ""), ("V coerulea", "<i>V coerulea</i>", "V"),
    ("yVanda blue", "yVanda blue", ""), ("xA", "xA", ""), ("xVA coerulea", "xVA coerulea", ""),
    ("Vanda ab", "<i>Vanda ab</i>", "Vanda"), ("Vanda a", "<i>Vanda</i> a", "Vanda"),
    ("Vanda -ab", "<i>Vanda</i> -ab", "Vanda"), ("Vanda Mothers' Day", "<i>Vanda</i> Mothers' Day", "Vanda"),
    ("Vanda coerulea) x Vanda tricolor", "<i>Vanda</i> coerulea) × <i>Vanda tricolor</i>", "Vanda")])
def test_odd_spellings(typed: str, html: str, genus: str) -> None:
    name = parse(typed)
    assert (name.html, name.genus, name.clone) == (html, genus, "")


@pytest.mark.parametrize(("typed", "doubt", "epithet"), [
    ("Paph. aff. delenatii", "aff.", "delenatii"), ("Dendrobium cf. kingianum var. album", "cf.", "kingianum"),
    ("Dendrobium sp.", "sp.", ""), ("Bulbophyllum sp. aff. lobbii", "sp. aff.", "lobbii"),
    ("Phal. amabilis", "", "amabilis"), ("sp. of something", "", "")])
def test_what_is_not_certain_is_told(typed: str, doubt: str, epithet: str) -> None:
    name = parse(typed)
    assert (name.doubt, name.epithet) == (doubt, epithet)


@pytest.mark.parametrize(("typed", "awards"), [
    ("Lc. Derna 'Anderson' AM/XOS, HCC/XOS", ("AM/XOS", "HCC/XOS")), ("Lc. Derna 'Anderson' (FCC/YHS)", ("FCC/YHS",)),
    ("Lc. Derna 'Anderson' FCC/YHS AM/XOS (84 pts) in flower", ("FCC/YHS", "AM/XOS")),
    ("Lc. Derna 'Anderson' S-CHM/XPS-YOGA; CCM", ("S-CHM/XPS-YOGA", "CCM")), ("Lc. Derna 'Anderson' NOID", ()),
    ("Lc. Derna AM/XOS", ()), ("Lc. Derna 'Anderson'", ()), ("Lc. Derna 'AM/XOS'", ())])
def test_awards_one_by_one_and_only_as_typed_after_a_clone(typed: str, awards: tuple[str, ...]) -> None:
    assert parse(typed).each_award == awards


def test_sorting_ignores_case_accents_quotes_and_the_sign() -> None:
    assert parse("Vanda Zoë 'Élan'").sort_key == "vanda zoe elan"
    assert parse("Phalaenopsis × intermedia").sort_key == "phalaenopsis intermedia"


@pytest.mark.parametrize("typed", SAMPLES)
def test_what_is_shown_reads_the_same_again(typed: str) -> None:
    shown = parse(typed).plain
    assert parse(shown).plain == shown


@given(TEXTS)
def test_no_text_fails_and_nothing_but_i_is_a_tag(typed: str) -> None:
    name = parse(typed)
    assert name.typed == typed
    assert "".join(piece.text for piece in name.pieces) == name.plain
    tags = re.findall(r"<[^>]*>", name.html)
    assert set(tags) <= {"<i>", "</i>"}
    assert html.unescape(re.sub(r"</?i>", "", name.html)) == html.unescape(html.escape(name.plain, quote=False))
    assert isinstance(name.sort_key, str)
    letters = [char for char in typed.casefold() if char.isalpha() and char != "x"]
    kept = [char for char in name.plain.casefold() if char.isalpha() and char != "x"]
    assert len(kept) >= len(letters) - sum(not char.isascii() for char in typed)


def test_deep_brackets_and_long_texts_are_kept() -> None:
    assert parse("(" * 500 + ")" * 500).plain.count("(") == 500
    assert parse("Vanda " + "x " * 2000 + "coerulea").plain
