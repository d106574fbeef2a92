"""The entries an exposure rests on, from the store to what a grower reads: why, the check list, the record."""

from __future__ import annotations

import json
from pathlib import Path

import pytest

from greenhouse_desk import cli
from greenhouse_desk.domain.journal import Cut, Kind, Sighted
from greenhouse_desk.services import collection_why, dealings, plant_record, quarantine, quarantine_why
from greenhouse_desk.services.clock import SteppedClock
from greenhouse_desk.services.desk import Desk
from greenhouse_desk.store import contacts, journal
from tests.builders import NOW, ago
from tests.services.outbreak_house import BUG, add, furnished
from tests.services.sittings import CUT_ONLY, Grower, stock

BEFORE = NOW.replace(year=2000)


def test_a_cut_by_a_blade_from_another_is_named_by_its_entry(desk: Desk, clock: SteppedClock) -> None:
    desk.run(stock, [101, 102])
    Grower(desk, clock).begins({101: CUT_ONLY.id, 102: CUT_ONLY.id}).finishes()
    entries = {number: desk.read(journal.of_plant, number) for number in (101, 102)}
    cuts = {number: next(one.id for one in told if isinstance(one.facts, Cut)) for number, told in entries.items()}
    assert [(one.plant, one.entry) for one in desk.read(contacts.touches, BEFORE)] == [*cuts.items()]
    last = {number: max(one.id for one in told if one.run is not None and one.kind is not Kind.STEP)
            for number, told in entries.items()}
    assert {one.plant: one.entry for one in desk.read(contacts.worked, BEFORE)} == last


def test_a_grower_reads_which_entries_an_exposure_rests_on(desk: Desk) -> None:
    furnished(desk)
    find = add(desk, 102, BUG, ago(days=3))
    standing = desk.read(quarantine.status, NOW)[101]
    (moved,) = [entry.id for entry in desk.read(journal.of_plant, 101) if entry.kind is Kind.PLACED]
    came = max(moved, *(entry.id for entry in desk.read(journal.of_plant, 102) if entry.kind is Kind.PLACED))
    why = desk.read(quarantine_why.standing_reasons, NOW, standing)
    assert why[0].shown == f"journal entry {came}: how they met; journal entry {find}: found on 102"
    assert desk.read(collection_why.standing, 101, NOW)[0].shown == f"journal entry {came}"
    checks = desk.read(dealings.before_trading, NOW, 101).checks
    assert [check.entry for check in checks if "Not exposed" in check.title] == [came]


def test_the_record_names_them_in_json(desk: Desk, tmp_path: Path, capsys: pytest.CaptureFixture[str]) -> None:
    furnished(desk)
    find = add(desk, 102, BUG, ago(days=3))
    told = desk.read(plant_record.plant_record, NOW, 101)
    assert told.exposures[0].finds == (find,)
    desk.store.close()
    assert cli.main(["--store", str(desk.store.folder), "--now", NOW.isoformat(), "record", "101", "--json"]) == 0
    read = json.loads(capsys.readouterr().out)
    assert (read["exposures"][0]["met"], read["exposures"][0]["finds"]) == (list(told.exposures[0].met), [find])
    assert read["standing_entry"] == told.exposures[0].met[0]


def told_of(desk: Desk, number: int) -> list[str]:
    """Why a plant stands as it does, step by step."""
    standing = desk.read(quarantine.status, NOW)[number]
    return [one.text for one in desk.read(quarantine_why.standing_reasons, NOW, standing)]


def test_a_virus_suspect_is_not_told_that_looks_end_it(desk: Desk) -> None:
    furnished(desk)
    add(desk, 104, Sighted("virus-signs", "streaks or rings"), ago(days=3))
    why = told_of(desk, 104)
    assert why[1] == "Whether it carries a virus is told by a test alone; no clean look and no time apart tells it."
    assert len(why) == 3, "what was seen, what tells, and so"
    add(desk, 104, BUG, ago(days=2))
    both = told_of(desk, 104)
    assert why[1] in both
    assert "2 clean looks are needed." in both, "the mealybug goes by looks"
