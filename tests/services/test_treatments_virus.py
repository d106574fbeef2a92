"""The evening plan for a plant held back by a virus: a blade of its own, and an agent that clears it, are laid out."""

from __future__ import annotations

from greenhouse_desk.domain.journal import Sighted
from greenhouse_desk.services import treatments
from greenhouse_desk.services.clock import SteppedClock
from greenhouse_desk.services.desk import Desk
from greenhouse_desk.services.shelf import shelf
from greenhouse_desk.services.treatments import Choice
from tests.services.sittings import stock, tell

SIGNS = Sighted("virus-signs", "streaks or rings")


def test_a_suspect_has_its_own_blade_and_what_clears_it_laid_out(desk: Desk, clock: SteppedClock) -> None:
    desk.run(stock, [101, 102, 103])
    desk.run(tell, 102, SIGNS)
    desk.run(tell, 103, SIGNS)
    both = [Choice(number, "spike-cut") for number in (101, 102, 103)]
    told = desk.read(treatments.preparation, clock.now(), both, shelf(None))
    blades = next(line for line in told.kit if line.what == "blade of its own")
    assert blades.amount == 2
    assert blades.note.startswith("For 102 and 103 alone, instead of the tools of the plan")
    jars = [line.what for line in told.kit if "virus" in line.what]
    assert jars == ["milk with surfactant, for virus tools, 20 % by volume"], "bleach must not stand beside ethanol"
    assert not any("bleach" in line.what for line in told.kit)
    assert [note.partition(":")[0] for note in told.notes if "Its own blade for every cut" in note] == ["102", "103"]


def test_without_a_suspect_or_a_blade_nothing_more_is_laid_out(desk: Desk, clock: SteppedClock) -> None:
    desk.run(stock, [101, 102])
    desk.run(tell, 102, SIGNS)
    for choice in (Choice(101, "spike-cut"), Choice(102, "arrival-check")):
        told = desk.read(treatments.preparation, clock.now(), [choice], shelf(None))
        assert not any(line.what == "blade of its own" for line in told.kit), choice
        assert not any("Its own blade" in note for note in told.notes)
