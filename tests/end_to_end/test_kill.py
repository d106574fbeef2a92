"""Kill the program at any instant: nothing confirmed is lost, the soaks have gone on, and the bench is as it was.

A process crash is what this proves, not a power cut: that rests on SQLite's WAL with synchronous=FULL.
"""

from __future__ import annotations

import json
import random
import subprocess
import sys
from collections import Counter
from dataclasses import dataclass, field
from datetime import datetime, timedelta
from itertools import pairwise
from pathlib import Path
from typing import Any

import pytest
from sqlalchemy import text

from greenhouse_desk.domain import bench
from greenhouse_desk.domain.bench_values import LEAVING
from greenhouse_desk.services import backup, collection, treatments
from greenhouse_desk.services.clock import SteppedClock
from greenhouse_desk.services.desk import Desk
from greenhouse_desk.store.engine import Store, open_store
from tests.builders import NOW
from tests.end_to_end.scripted import BACK, CHOICES, LEAVE, NOTE, TAKE_UP, UNDO, WORK, ZONE, snapshot

CHECKOUT = Path(__file__).parents[2]
KILLS, KILLS_LONG = 50, 1000
MOST_STATEMENTS = 600
AWAY = timedelta(minutes=7)
"""How long the program is gone after each kill."""

STATES = ("open", "soaking", "done", "skipped")


def kept(told: dict[str, Any]) -> dict[str, Any]:
    """What a marker tells of the session's state."""
    return {name: told[name] for name in ("session", "deed", "ended", "steps", "soaks", "entries")}


def went_on(found: dict[str, Any], told: dict[str, Any]) -> None:
    """A press of the work: nothing is lost, no step goes back."""
    assert set(told["entries"]) <= set(found["entries"])
    for key, (before, done, answers) in told["steps"].items():
        after, still_done, more = found["steps"][key]
        if [after, still_done, more] != [before, done, answers] and answers != list(LEAVING):
            assert STATES.index(after) >= STATES.index(before)
            assert done is None or still_done is not None
            assert more[: len(answers)] == answers


def noted(found: dict[str, Any], told: dict[str, Any]) -> None:
    """A note: one entry more and nothing else."""
    assert len(set(found["entries"]) - set(told["entries"])) == 1
    assert kept({**found, "entries": 0, "deed": 0}) == kept({**told, "entries": 0, "deed": 0})


def stood(found: dict[str, Any], told: dict[str, Any]) -> None:
    """Left or taken up: the work stands where it stood."""
    assert kept({**found, "deed": 0}) == kept({**told, "deed": 0})


def went_back(found: dict[str, Any], told: dict[str, Any]) -> None:
    """One step is open or soaks again, and with it what was skipped because of it; only its entries are gone."""
    again = [key for key in told["steps"] if found["steps"][key] != told["steps"][key]]
    assert {found["steps"][key][0] for key in again} <= {"open", "soaking"}
    assert sum(told["steps"][key][1] is not None for key in again) == 1, "the others were skipped with it"
    assert set(found["entries"]) <= set(told["entries"])


DEEDS = {NOTE: noted, LEAVE: stood, TAKE_UP: stood, BACK: went_back}


@dataclass
class Campaign:
    """A collection that is worked on, killed, and looked at, again and again."""

    folder: Path
    markers: Path
    dice: random.Random
    now: datetime = NOW
    last: dict[str, Any] = field(default_factory=dict)
    told: list[dict[str, Any]] = field(default_factory=list)
    moves: Counter[str] = field(default_factory=Counter)
    looked: int = 0
    seen: int = 0
    between: int = 0
    ended: int = 0
    soaks_running: int = 0

    def kill_once(self) -> None:
        """Let a child work from `now` on, kill it at a statement picked at random, and read the markers it wrote."""
        command = [sys.executable, "-m", "tests.end_to_end.scripted", str(self.folder), str(self.markers),
                   self.now.isoformat()]
        child = subprocess.Popen(command, cwd=CHECKOUT, stdout=subprocess.PIPE, stderr=subprocess.PIPE)
        assert child.stdout is not None
        assert child.stderr is not None
        wanted = self.dice.randrange(1, MOST_STATEMENTS)
        told = child.stdout.read(wanted)
        child.kill()
        child.wait(timeout=60)
        assert len(told) == wanted, f"the child ended by itself: {child.stderr.read().decode()}"
        child.stdout.close()
        child.stderr.close()
        lines = self.markers.read_text("utf-8").splitlines(keepends=True)
        whole = [line for line in lines if line.endswith("\n")]
        self.markers.write_text("".join(whole), "utf-8")
        self.ended += sum(json.loads(line)["ended"] for line in whole[self.seen:])
        self.told += [json.loads(line) for line in whole[self.seen:]]
        self.seen, self.last = len(whole), self.told[-1]
        self.now = datetime.fromisoformat(self.last["at"]) + AWAY

    def look(self) -> None:
        """Open what was left, as the next start does, and compare it with the last marker."""
        store = open_store(self.folder)
        try:
            self._sound(store)
            self._each_follows()
            self._nothing_lost(Desk(store, SteppedClock(datetime.fromisoformat(self.last["at"])).now))
            self._soaks_go_on(Desk(store, SteppedClock(self.now).now))
        finally:
            store.close()

    def _sound(self, store: Store) -> None:
        with store.session() as session:
            assert session.execute(text("PRAGMA integrity_check")).scalars().all() == ["ok"]
            assert session.execute(text("PRAGMA foreign_key_check")).all() == []
        assert backup.check(store) == ()

    def _nothing_lost(self, desk: Desk) -> None:
        """What stands there is the last marker, or that and the whole of the one deed that was under way."""
        found, told = snapshot(desk, self.last["session"]), self.last
        self.moves[told["next"]] += 1
        if kept(found) == kept(told):
            assert found["wanted"] == told["wanted"], "the session is as it was, at the step it was in"
            return
        self.between += 1
        self._follows(found, told)

    def _each_follows(self) -> None:
        """Every marker since the last look tells what the deed before it was to do, and no more."""
        for told, found in pairwise(self.told[self.looked:]):
            if kept(found) != kept(told) and found["session"] == told["session"]:
                self._follows(found, told)
        self.looked = len(self.told) - 1

    def _follows(self, found: dict[str, Any], told: dict[str, Any]) -> None:
        for key, (started, ended) in told["soaks"].items():
            if key in found["soaks"]:
                assert found["soaks"][key][0] == started
                assert ended is None or told["next"] in (BACK, UNDO) or found["soaks"][key][1] == ended
        if told["next"] == UNDO:
            assert kept(found) in [kept(before) for before in self.told if before["deed"] == found["deed"]]
            return
        newer = [deed for deed in found["deeds"] if deed > told["deed"]]
        # where it ended the session, the next one may have been begun before its marker
        assert len(newer) in (1, 1 + found["ended"]), "only the deed under way may stand there"
        DEEDS.get(told["next"], went_on)(found, told)

    def _soaks_go_on(self, desk: Desk) -> None:
        sitting = desk.read(treatments.sitting, self.last["session"], self.now)
        board = bench.board(sitting, self.now, ZONE)
        running = {str(soak.id): soak for soak in sitting.soaks if soak.ended_at is None}
        for cell in board.cells:
            assert cell.view.elapsed_s == (self.now - cell.soak.started_at).total_seconds() > 0
        for key, (started, ended) in self.last["soaks"].items():
            if ended is None and key in running:
                self.soaks_running += 1
                assert running[key].started_at == datetime.fromisoformat(started)
                assert running[key].started_at <= self.now - AWAY


@pytest.fixture
def campaign(tmp_path: Path) -> Campaign:
    folder = tmp_path / "collection"
    store = open_store(folder, create=True)
    desk = Desk(store, SteppedClock(NOW).now)
    for plant, _ in CHOICES:
        desk.run(collection.add_plant, collection.NewPlant("Phalaenopsis amabilis", number=plant, medium="LECA"))
    store.close()
    return Campaign(folder, tmp_path / "markers", random.Random(20261118))


def hunt(campaign: Campaign, kills: int, capsys: pytest.CaptureFixture[str]) -> None:
    """Kill that many times; says what was met, so that an empty campaign cannot pass unseen."""
    for _ in range(kills):
        campaign.kill_once()
        campaign.look()
    with capsys.disabled():
        sys.stdout.write(
            f"\n{kills} kills: {campaign.seen} presses confirmed and kept, {campaign.between} kills between commit and "
            f"marker, {campaign.soaks_running} running soaks gone on, {campaign.ended} sessions ended\n"
            f"killed at: {', '.join(f'{count} {what}' for what, count in sorted(campaign.moves.items()))}\n")
    assert campaign.seen > 2 * kills
    assert campaign.soaks_running > kills / 10
    assert {told["next"] for told in campaign.told} >= {WORK, BACK, UNDO, NOTE, LEAVE, TAKE_UP}


def test_fifty_kills_lose_nothing(campaign: Campaign, capsys: pytest.CaptureFixture[str]) -> None:
    hunt(campaign, KILLS, capsys)


@pytest.mark.long
def test_a_thousand_kills_lose_nothing(campaign: Campaign, capsys: pytest.CaptureFixture[str]) -> None:
    hunt(campaign, KILLS_LONG, capsys)
