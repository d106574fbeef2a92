"""A plant's record: its values, what stays out, and its pages read back from the PDF against the journal."""

from __future__ import annotations

import json
import re
from collections.abc import Sequence
from itertools import pairwise
from pathlib import Path
from unicodedata import normalize

import numpy as np
import pytest
from PIL import Image
from pypdf import PdfReader

from greenhouse_desk import cli
from greenhouse_desk.domain.faults import Refused
from greenhouse_desk.domain.journal import Kind, Leaving, Left
from greenhouse_desk.domain.paper import Extent, Face, Picture, Words
from greenhouse_desk.services import collection, photos, plant_record, record_pages, records
from greenhouse_desk.services.desk import Desk
from greenhouse_desk.services.plant_record import NO_CERTIFICATE, SECTIONS
from greenhouse_desk.store import journal
from greenhouse_desk.ui import fonts, paper
from tests.benchmarks.label_codes import drawn
from tests.builders import NOW, ago
from tests.services.outbreak_house import BUG, CLEAN, WASH, add, furnished

PRIVATE = "paid 40 for it"
DOTS = 50
MARGINS_AT = (20.0, 190.0, 290.0)
"""mm: where the margins of the left, the right and the bottom begin."""


def _storied(desk: Desk) -> None:
    """102 with a find, washes, looks, a remark and a private note."""
    furnished(desk)
    desk.run(collection.edit_plant, 102, notes=PRIVATE)
    desk.run(collection.repot, 102, "clay pellets", "12 cm clear pot", True)
    add(desk, 102, BUG, ago(days=60))
    for days in (58, 47):
        add(desk, 102, WASH, ago(days=days))
    for nth in range(40):
        add(desk, 102, CLEAN, ago(days=38, minutes=nth))
    desk.run(records.add, 102, CLEAN, ago(days=9), "the neighbour saw it too")


def _flat(text: str) -> str:
    return re.sub(r"\s+", " ", normalize("NFKC", text))


def _told(desk: Desk, number: int) -> list[str]:
    """Every entry that belongs in a record, as its day and its title, straight from the journal."""
    kinds = {kind for _, part in SECTIONS for kind in part}
    labels = desk.read(records.labels)
    return [f"{entry.at.day} {entry.at:%b} {entry.at.year} {records.words(entry.facts, labels).title}"
            for entry in desk.read(journal.of_plant, number) if entry.kind in kinds]


@pytest.mark.usefixtures("qapp")  # one application for this process, of the kind the window's tests need
def test_the_pdf_says_what_the_journal_says_on_every_page(desk: Desk, tmp_path: Path,
                                                          capsys: pytest.CaptureFixture[str]) -> None:
    fonts.load()
    _storied(desk)
    wanted = _told(desk, 102)
    desk.store.close()
    file = tmp_path / "record.pdf"
    assert cli.main(["--store", str(desk.store.folder), "--now", NOW.isoformat(), "record", "102", "-o",
                     str(file)]) == 0
    assert "no phytosanitary certificate" in capsys.readouterr().out
    read = PdfReader(file)
    assert len(read.pages) > 1
    text = _flat(" ".join(page.extract_text() for page in read.pages))
    assert NO_CERTIFICATE in text
    left = text
    for words in wanted:
        assert words in left, words
        left = left.replace(words, "", 1)
    assert "102" in text
    assert "Stelis gelida" in text
    assert "mealybug seen, 2 adults, axils" in text
    assert re.search(r"\b\d+ % before any look", text)
    assert f"page 2 of {len(read.pages)}" in text
    assert PRIVATE not in text
    assert "the neighbour saw it too" not in text
    _seen_whole(file, len(read.pages))


def _seen_whole(file: Path, pages: int) -> None:
    """As poppler draws it: every page has ink, and none of it in the margins."""
    sheets = drawn(file, DOTS)
    assert len(sheets) == pages
    for sheet in sheets:
        down, across = np.nonzero(np.asarray(sheet) < 128)
        left, right, bottom = (mm / 25.4 * DOTS for mm in MARGINS_AT)
        assert down.size > 500
        assert across.min() >= left - 1
        assert across.max() <= right + 1
        assert down.max() <= bottom + 1


def _photographed(desk: Desk, folder: Path, number: int, shades: Sequence[tuple[str, tuple[int, int]]]) -> None:
    """Plain photos of one shade each, the first the oldest, a day apart."""
    for nth, (shade, size) in enumerate(shades):
        Image.new("RGB", size, shade).save(folder / f"{nth}.png")
        desk.run(photos.add, number, folder / f"{nth}.png", ago(days=30 - nth))


@pytest.mark.usefixtures("qapp")
def test_the_newest_photos_are_printed_with_their_days_and_the_rest_counted(desk: Desk, tmp_path: Path) -> None:
    fonts.load()
    furnished(desk)
    shades = ["#101010", "#ff0000", "#00ff00", "#0000ff", "#ffff00", "#00ffff", "#ff00ff"]
    _photographed(desk, tmp_path, 104, [(shade, (1600, 1200) if nth % 2 else (600, 800))
                                        for nth, shade in enumerate(shades)])
    told = desk.read(plant_record.plant_record, NOW, 104)
    shown = photos.printable(desk.store.photos, record_pages.wanted(told))
    file = tmp_path / "record.pdf"
    paper.to_pdf(record_pages.pages(told, paper.measure, shown), file)
    read = PdfReader(file)
    found = [one.image for page in read.pages for one in page.images]
    assert all(one is not None and max(one.size) <= photos.PRINT_MOST for one in found)
    means = [[round(value / 255) for value in one.convert("RGB").resize((1, 1)).tobytes()]
             for one in found if one is not None]
    assert sorted(means) == sorted([int(shade[nth:nth + 2], 16) // 255 for nth in (1, 3, 5)] for shade in shades[1:])
    text = _flat(" ".join(page.extract_text() for page in read.pages))
    for days in range(24, 30):
        day = ago(days=days)
        assert f"{day.day} {day:%b} {day.year}" in text
    assert "1 older picture is in the journal." in text


def test_pictures_stand_inside_the_page_upright_and_a_lost_one_is_said(desk: Desk, tmp_path: Path) -> None:
    furnished(desk)
    _photographed(desk, tmp_path, 104, [("red", (1600, 1200)), ("blue", (600, 800)), ("green", (500, 500))])
    told = desk.read(plant_record.plant_record, NOW, 104)
    lost = photos.path(desk.store, told.photos[0][0])
    lost.chmod(0o600)
    lost.write_bytes(lost.read_bytes()[:-9])
    made = record_pages.pages(told, lambda text, face: Extent(0, len(text), -1, 0, len(text)),
                              photos.printable(desk.store.photos, record_pages.wanted(told)))
    drawn = [item for page in made for item in page.items if isinstance(item, Picture)]
    assert [round(one.width / one.height, 2) for one in drawn] == [0.75, 1.33], "the newest first"
    for one in drawn:
        assert one.x >= record_pages.LEFT
        assert one.x + one.width <= record_pages.RIGHT + 0.01
        assert one.y + one.height <= record_pages.BOTTOM
    pages = [[item for item in page.items if isinstance(item, Picture)
              or (isinstance(item, Words) and item.text == "Pictures")] for page in made]
    assert [len(page) for page in pages if page] == [3], "the heading on the page of its pictures"
    said = [item.text for page in made for item in page.items if isinstance(item, Words)]
    assert "1 picture is not there to print." in said


def test_json_holds_the_record_and_private_only_when_asked(desk: Desk, capsys: pytest.CaptureFixture[str]) -> None:
    _storied(desk)
    entries = {entry.id for entry in desk.read(journal.of_plant, 102) if entry.kind in (Kind.LOOKED, Kind.SIGHTED)}
    desk.store.close()
    call = ["--store", str(desk.store.folder), "--now", NOW.isoformat(), "record", "102", "--json"]
    assert cli.main(call) == 0
    plain = json.loads(capsys.readouterr().out)
    assert {line["entry"] for part in plain["parts"] for line in part["lines"]} >= entries
    assert plain["notice"] == NO_CERTIFICATE
    assert plain["notes"] == ""
    assert PRIVATE not in json.dumps(plain)
    assert plain["chance"].endswith("%")
    assert plain["chance"] not in ("0 %", "100 %")
    assert plain["assumptions"][-1]["text"].startswith("So the chance that it carries something is")
    assert cli.main([*call, "--private"]) == 0
    told = json.loads(capsys.readouterr().out)
    assert told["notes"] == PRIVATE
    assert "the neighbour saw it too" in json.dumps(told)


def test_the_record_in_words_says_what_the_pages_say(desk: Desk) -> None:
    furnished(desk)
    add(desk, 102, BUG, ago(days=3))
    told = desk.read(plant_record.plant_record, NOW, 101)
    said = plant_record.words(told).splitlines()
    at = said.index("Exposures that still count")
    assert said[at + 1] == f"  18 Nov 2026  {told.exposures[0].words}"
    assert said[said.index("Check list before handing on") + 1].startswith("  unknown: Nothing found that is not over.")
    assert sum(line.startswith(("  passed: ", "  failed: ", "  unknown: ")) for line in said) == len(told.checks)
    assert all(f"  {reason.text} [{reason.shown}]" in said for reason in told.assumptions)
    for line, following in pairwise(said):
        assert following.startswith("  ") or line not in {part.title for part in told.parts}, f"{line} says nothing"
    quiet = plant_record.words(desk.read(plant_record.plant_record, NOW, 104)).splitlines()
    assert quiet[quiet.index("Exposures that still count") + 1] == "  None on record."
    desk.run(collection.edit_plant, 104, notes=PRIVATE)
    assert PRIVATE in plant_record.words(desk.read(plant_record.plant_record, NOW, 104, True))


def test_an_unknown_plant_is_refused(desk: Desk, tmp_path: Path) -> None:
    furnished(desk)
    with pytest.raises(Refused, match="no plant 999"):
        desk.read(plant_record.plant_record, NOW, 999)
    desk.store.close()
    file = tmp_path / "x.pdf"
    folder = str(desk.store.folder)
    assert cli.main(["--store", folder, "--now", NOW.isoformat(), "record", "999", "-o", str(file)]) == 2
    assert not file.exists()


def test_one_that_left_keeps_its_record(desk: Desk) -> None:
    furnished(desk)
    add(desk, 104, BUG, ago(days=9))
    add(desk, 104, Left(Leaving.TRADED), ago(days=5))
    told = desk.read(plant_record.plant_record, NOW, 104)
    assert told.left == "traded on 13 Nov 2026"
    assert told.checks == ()
    parts = {part.title: [line.title for line in part.lines] for part in told.parts}
    assert parts["Pests and diseases seen"] == ["mealybug seen"]
    assert parts["Places"][-1] == "traded"


def test_a_word_wider_than_the_page_is_cut_and_nothing_is_lost(desk: Desk) -> None:
    furnished(desk)
    name = "W" * 180
    desk.run(collection.edit_plant, 104, name=name)

    def wide(text: str, face: Face) -> Extent:
        return Extent(0, len(text) * 2.0, -1, 0, len(text) * 2.0)

    made = record_pages.pages(desk.read(plant_record.plant_record, NOW, 104), wide)
    words = [item for page in made for item in page.items if isinstance(item, Words)]
    assert "".join(item.text for item in words if set(item.text) == {"W"}) == name
    assert all(item.x + len(item.text) * 2.0 <= record_pages.RIGHT + 30 for item in words)
    assert all(item.y <= 290 for item in words)
