"""How long a soak lasts still, told by the clock: never a time that has come already, the last minute in seconds."""

from __future__ import annotations

from dataclasses import replace
from datetime import timedelta
from zoneinfo import ZoneInfo

import pytest

from greenhouse_desk.domain.bench import Soak, State, ToolUse, board
from greenhouse_desk.domain.protocols import Deed, ProtocolStep
from tests.builders import NOW
from tests.domain.test_bench_order import run, sitting, steeping

ZONE = ZoneInfo("Europe/London")
CUT = ProtocolStep("cut", "Cut", "", Deed.CUT, tool=True)


@pytest.mark.parametrize(("seconds", "keep"), [
    (0, "cutter A stays in its soak until 15:33"), (119.5, "cutter A stays in its soak until 15:33"),
    (120.5, "cutter A stays in its soak for 1 min more"), (145.2, "cutter A stays in its soak for 35 s more"),
    (179.5, "cutter A stays in its soak for 1 s more"), (180, "cutter A may come out of its soak now"),
    (900, "cutter A may come out of its soak now")])
def test_a_tool_that_stays_in_its_soak(seconds: float, keep: str) -> None:
    soak = Soak(1, "70 % ethanol", "ethanol", NOW, 180, 7200, tool="cutter A")
    at = replace(sitting(run(2, CUT), soaks=(soak,)), tool_uses=(ToolUse("cutter A", 101, NOW - timedelta(minutes=5)),))
    panel = board(at, NOW + timedelta(seconds=seconds), ZONE).tool
    assert panel is not None
    assert (panel.tool, panel.keep) == ("cutter B", keep)


@pytest.mark.parametrize(("left", "words"), [
    (61, "soaking, least at 15:50"), (35.2, "soaking, least in 36 s"), (0, "soaking, least reached at 15:50")])
def test_a_plant_in_its_soak(left: float, words: str) -> None:
    one, soak = steeping(1)
    assert one.steps[0].state is State.SOAKING
    seen = board(sitting(one, soaks=(soak,)), soak.least_at - timedelta(seconds=left), ZONE)
    assert seen.queue[0].words.endswith(words.removeprefix("soaking, ")), seen.queue[0].words
