"""The evening plan for a plant held back by a virus: a blade of its own, and an agent that clears it, are laid out."""

from __future__ import annotations

from greenhouse_desk.domain.journal import Shared, Sharing, Sighted, VirusTested
from greenhouse_desk.services import treatments
from greenhouse_desk.services.clock import SteppedClock
from greenhouse_desk.services.desk import Desk
from greenhouse_desk.services.shelf import shelf
from greenhouse_desk.services.treatments import Choice
from greenhouse_desk.store import bench
from tests.services.sittings import CUT_ONLY, Grower, shelf_of, stock, tell

SIGNS = Sighted("virus-signs", "streaks or rings")


def test_a_suspect_has_its_own_blade_and_what_clears_it_laid_out(desk: Desk, clock: SteppedClock) -> None:
    desk.run(stock, [101, 102, 103])
    desk.run(tell, 102, SIGNS)
    desk.run(tell, 103, SIGNS)
    both = [Choice(number, "spike-cut") for number in (101, 102, 103)]
    told = desk.read(treatments.preparation, clock.now(), both, shelf(None))
    blades = next(line for line in told.kit if line.what == "blade of its own")
    assert blades.amount == 2
    assert blades.note.startswith("For 102 and 103 alone, as the plan says")
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


def lanes(told: treatments.Preparation) -> dict[int, set[str]]:
    """The tools in the plan's hands work, by plant."""
    found: dict[int, set[str]] = {}
    for bar in told.plan.steps:
        if bar.tool and bar.plant is not None:
            found.setdefault(bar.plant, set()).add(bar.tool)
    return found


def test_the_plan_and_the_board_name_the_blade_that_the_kit_lays_out(desk: Desk, clock: SteppedClock) -> None:
    desk.run(stock, [101, 102, 103, 104])
    desk.run(tell, 102, SIGNS)
    desk.run(tell, 103, VirusTested("virus-signs", True))
    desk.run(tell, 104, Shared(Sharing.WATER, (103,)))
    picked = {number: CUT_ONLY.id for number in (101, 102, 103, 104)}
    told = desk.read(treatments.preparation, clock.now(), [Choice(*one) for one in picked.items()], shelf_of())
    wanted = {101: {"cutter A"}, 102: {"blade of 102"}, 103: {"blade of 103"}, 104: {"blade of 104"}}
    assert lanes(told) == wanted, "suspected, proven and exposed"
    assert not any(bar.tool.startswith("blade") for bar in told.plan.steps if bar.lane == "tool soak")
    grower = Grower(desk, clock).begins(picked)
    panels = set()
    while grower.sitting.ended_at is None:
        panel = grower.board.tool
        if panel is not None:
            panels.add((panel.tool, panel.detail.partition(":")[0]))
        left = desk.read(treatments.plan_left, grower.session, clock.now())
        assert all(bar.plant is None or bar.tool in wanted[bar.plant] for bar in left.steps if bar.tool)
        grower.obeys()
    assert {(f"blade of {number}", "for this plant alone") for number in (102, 103, 104)} <= panels
    touched = {use.plant: {use.tool} for use in desk.read(bench.tool_uses, grower.session)}
    assert touched == wanted
