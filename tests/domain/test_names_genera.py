"""Genera behind short forms: several for one, one for several, and the grower's own first."""

from __future__ import annotations

import tomllib
from pathlib import Path

import pytest

from greenhouse_desk.domain.names_genera import Genera, Genus, full_genus, read_genera
from greenhouse_desk.services.shelf import shelf
from greenhouse_desk.shipped import folder

SHIPPED = (Genus("Epidendrum", ("Epi.", "E."), "from memory"), Genus("Encyclia", ("E.",), "from memory"),
           Genus("Dendrobium", ("Den.", "Dend."), "from memory"))
KNOWN = Genera(SHIPPED, (Genus("Encyclia", ("E.", "Enc."), "house rule"),))


def test_several_short_forms_stand_for_one_genus() -> None:
    assert [Genera(SHIPPED).full(short) for short in ("Den.", "Dend", "dend.", "DEN.")] == ["Dendrobium"] * 4


def test_a_short_form_of_several_genera_is_left_as_typed() -> None:
    assert Genera(SHIPPED).behind("E.") == ("Epidendrum", "Encyclia")
    assert Genera(SHIPPED).full("E.") == "E."


def test_the_growers_own_comes_first() -> None:
    assert KNOWN.full("E.") == KNOWN.full("Enc.") == "Encyclia"
    assert KNOWN.full("Epi.") == "Epidendrum"
    assert KNOWN.shorts("encyclia") == ("E.", "Enc.")
    assert KNOWN.shorts("Vanda") == ()


@pytest.mark.parametrize("typed", ["", "Vanda", "Xyz.", "."])
def test_what_is_not_known_stays_as_typed(typed: str) -> None:
    assert KNOWN.full(typed) == typed


def test_the_genus_of_a_plant_is_spelled_out_from_whatever_was_typed() -> None:
    assert [full_genus(name, KNOWN) for name in ("Den. kingianum", "Dendrobium kingianum", "DENDROBIUM kingianum",
                                                 "dendrobium kingianum")] == ["Dendrobium"] * 4
    assert full_genus("Vanda tricolor", KNOWN) == "Vanda"
    assert full_genus("Xyz. tricolor", KNOWN) == "Xyz."
    assert [full_genus(name, KNOWN) for name in ("no label", "", "vanda tricolor")] == ["", "", ""]


@pytest.mark.parametrize(("text", "path", "message"), [
    ('[Vanda]\nsource = "from memory"', "Vanda.short", "missing"),
    ('[Vanda]\nshort = ["V."]', "Vanda.source", "missing"),
    ('[Vanda]\nshort = ["V."]\nsource = "heard"', "Vanda.source", "begins with its mark"),
    ('[Vanda]\nshort = ["V.", 3]\nsource = "from memory"', "Vanda.short[2]", "text was expected"),
    ('[Vanda]\nshort = []\nsource = "from memory"', "Vanda.short", "at least one"),
    ('[vanda]\nshort = ["V."]\nsource = "from memory"', "vanda", "one capital"),
    ('[VAnda]\nshort = ["V."]\nsource = "from memory"', "VAnda", "one capital"),
    ('["Vanda x"]\nshort = ["V."]\nsource = "from memory"', "Vanda x", "one capital"),
    ('[Vanda]\nshort = ["V."]\nsource = "from memory"\nlong = 1', "Vanda.long", "unknown key"),
    ('Vanda = 1', "Vanda", "a table was expected")])
def test_every_fault_is_told_and_the_others_stay(text: str, path: str, message: str) -> None:
    sound = '[Dracula]\nshort = ["Drac."]\nsource = "from memory"\n'
    found, faults = read_genera(tomllib.loads(f"{text}\n{sound}"), "genera.toml")
    assert [genus.name for genus in found] == ["Dracula"]
    assert ("genera.toml", path) in {(fault.file, fault.path) for fault in faults}
    assert message in next(fault.message for fault in faults if fault.path == path)


def test_the_shipped_list_is_sound_and_each_genus_has_its_source() -> None:
    found, faults = read_genera(tomllib.loads(folder("genera.toml").read_text("utf-8")), "genera.toml")
    assert faults == ()
    assert len(found) >= 30
    assert all(genus.source for genus in found)
    assert shelf(None).genera == Genera(found)


def test_the_growers_own_list_is_read_and_a_bad_one_told(tmp_path: Path) -> None:
    mine = tmp_path / "genera.toml"
    mine.write_text('[Pleione]\nshort = ["P."]\nsource = "house rule"\n', "utf-8")
    assert shelf(tmp_path).genera.full("P.") == "Pleione"
    assert shelf(None).genera.full("P.") == "P."
    mine.write_text("[Pleione", "utf-8")
    found = shelf(tmp_path)
    assert found.genera.own == ()
    assert [fault.file for fault in found.faults] == ["your genera.toml"]
