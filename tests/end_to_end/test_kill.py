"""Kill the program at any instant: nothing confirmed is lost, the soaks have gone on, and the bench is as it was.

A process crash is what this proves, not a power cut: that rests on SQLite's WAL with synchronous=FULL.
"""

from __future__ import annotations

import json
import random
import subprocess
import sys
from dataclasses import dataclass, field
from datetime import datetime, timedelta
from pathlib import Path
from typing import Any

import pytest
from sqlalchemy import text

from greenhouse_desk.domain import bench
from greenhouse_desk.services import backup, collection, treatments
from greenhouse_desk.services.clock import SteppedClock
from greenhouse_desk.services.desk import Desk
from greenhouse_desk.store.engine import Store, open_store
from tests.builders import NOW
from tests.end_to_end.scripted import CHOICES, ZONE, snapshot

CHECKOUT = Path(__file__).parents[2]
KILLS, KILLS_LONG = 50, 1000
MOST_STATEMENTS = 600
AWAY = timedelta(minutes=7)
"""How long the program is gone after each kill."""

STATES = ("open", "soaking", "done", "skipped")


@dataclass
class Campaign:
    """A collection that is worked on, killed, and looked at, again and again."""

    folder: Path
    markers: Path
    dice: random.Random
    now: datetime = NOW
    last: dict[str, Any] = field(default_factory=dict)
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
        self.seen, self.last = len(whole), json.loads(whole[-1])
        self.now = datetime.fromisoformat(self.last["at"]) + AWAY

    def look(self) -> None:
        """Open what was left, as the next start does, and compare it with the last marker."""
        store = open_store(self.folder)
        try:
            self._sound(store)
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
        found, told = snapshot(desk, self.last["session"]), self.last
        assert set(told["entries"]) <= set(found["entries"])
        changed = [key for key in told["steps"] if found["steps"][key] != told["steps"][key]]
        for key in changed:
            (before, done, answers), (after, still_done, more) = told["steps"][key], found["steps"][key]
            assert STATES.index(after) >= STATES.index(before)
            assert done is None or still_done is not None
            assert more[: len(answers)] == answers
        for key, (started, ended) in told["soaks"].items():
            assert found["soaks"][key][0] == started
            assert ended is None or found["soaks"][key][1] == ended
        further = found["deed"] - told["deed"]
        assert 0 <= further <= 1 + told["ended"], "only the deed under way may stand there beyond the last marker"
        self.between += further
        if further == 0:
            assert {**found, "at": None} == {**told, "at": None}, "the session is as it was, at the step it was in"

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
            f"marker, {campaign.soaks_running} running soaks gone on, {campaign.ended} sessions ended\n")
    assert campaign.seen > 2 * kills
    assert campaign.soaks_running > kills / 10


def test_fifty_kills_lose_nothing(campaign: Campaign, capsys: pytest.CaptureFixture[str]) -> None:
    hunt(campaign, KILLS, capsys)


@pytest.mark.long
def test_a_thousand_kills_lose_nothing(campaign: Campaign, capsys: pytest.CaptureFixture[str]) -> None:
    hunt(campaign, KILLS_LONG, capsys)
