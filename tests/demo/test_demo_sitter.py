"""The sitter's sheet of the whole demo: one page that shows every plant to look at, in letters no sheet goes below."""

from __future__ import annotations

from dataclasses import replace
from datetime import datetime, timedelta

import pytest
from PySide6.QtWidgets import QApplication

from greenhouse_desk.domain.paper import Picture, Words, flat
from greenhouse_desk.services import sitter_pages, sitter_sheet
from greenhouse_desk.services.page_flow import SMALL
from greenhouse_desk.services.photos import Printable
from greenhouse_desk.ui import paper
from tests.builders import NOW
from tests.demo_built import Built
from tests.services import sheet_checks

LEAST_SIDE = 14.0


@pytest.mark.parametrize("now", [NOW, NOW + timedelta(days=120)])
def test_two_weeks_of_the_demo_are_one_page_with_every_plant_to_look_at_pictured(
        built: Built, qapp: QApplication, monkeypatch: pytest.MonkeyPatch, now: datetime) -> None:
    paper.ready()
    with built(now) as desk:
        sheet = desk.read(sitter_sheet.sitter_sheet, now, *desk.read(sitter_sheet.first_days, now))
    looked_at = {number for row in sheet.rows for number in row.plants}
    assert len(looked_at) > 15
    sheet = replace(sheet, photos={number: str(number) for number in looked_at})
    (page,) = sitter_pages.pages(sheet, paper.measure, {str(one): Printable(b"", 220, 165) for one in looked_at})
    drawn = [item for item in flat(page.items) if isinstance(item, Picture)]
    assert len(drawn) == len(looked_at)
    assert min(one.width for one in drawn) >= LEAST_SIDE - 0.001
    said = [item for item in flat(page.items) if isinstance(item, Words)]
    assert {str(one) for one in looked_at} <= {one.text for one in said}, "each with its number"
    assert min(one.face.letter for one in said) >= SMALL.letter
    assert {"Never", "Each time you come", "Looks"} <= {one.text for one in said}
    assert any(one.text.startswith(sitter_pages.REPORT) for one in said)
    assert all(sitter_pages.LEFT_OFF not in one.text for one in said)
    monkeypatch.setattr(sheet_checks, "measure", paper.measure)
    assert sheet_checks.faults([page], sitter_pages.MARGINS) == []
