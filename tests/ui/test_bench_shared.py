"""What two plants shared is written down between them, by the five keys, and taken back by one."""

from __future__ import annotations

from PySide6.QtCore import Qt

from greenhouse_desk.domain.journal import Note, Shared, Sharing
from greenhouse_desk.store import journal
from tests.ui.bench_hands import Bench
from tests.ui.test_bench_notes import bench

__all__ = ["bench"]
K = Qt.Key


def says_shared(bench: Bench, how: Sharing) -> None:
    """Turn to the ready phrase by the keys, and keep it."""
    bench.key(K.Key_N)
    bench.key(K.Key_Space)
    for _ in range(20):
        if bench.answer == f"Note: It shared {how.value} with the plant before":
            break
        bench.key(K.Key_S)
    bench.key(K.Key_Space)


def test_before_a_second_plant_was_touched_nothing_can_have_been_shared(bench: Bench) -> None:
    bench.step()
    says_shared(bench, Sharing.TRAY)
    assert "No plant was worked on before this one" in bench.below
    assert not bench.facts(Shared)


def test_what_was_shared_with_the_plant_before_is_written_and_taken_back(bench: Bench) -> None:
    first = bench.mode.board.instruction.plant
    bench.until(lambda: bench.mode.board.instruction.plant not in (None, first) and bench.plant_soak(), 200)
    bench.key(K.Key_S)
    says_shared(bench, Sharing.WATER)
    told = [entry for number in (101, 102, 103) for entry in bench.desk.read(journal.of_plant, number)
            if isinstance(entry.facts, Shared)]
    assert len(told) == 1
    facts = told[0].facts
    assert isinstance(facts, Shared)
    assert facts.how is Sharing.WATER
    assert first in (told[0].plant, *facts.plants)
    assert not bench.facts(Note)
    bench.key(K.Key_U)
    assert not bench.facts(Shared)
