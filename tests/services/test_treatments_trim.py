"""The shipped root trim by its keys: which cuts are powdered when, and a crown wetted only to take a wash off."""

from __future__ import annotations

import pytest

from greenhouse_desk.domain.bench import Action, Key
from greenhouse_desk.domain.journal import Cut, Dressed, Facts, Part, Potted, Sighted, Step, Wetted
from greenhouse_desk.domain.protocols import Asks
from greenhouse_desk.services.clock import SteppedClock
from greenhouse_desk.services.desk import Desk
from greenhouse_desk.services.shelf import shelf
from tests.services.sittings import Grower, grower, tell

TRIM = "root-trim-and-repot"


def begun(desk: Desk, clock: SteppedClock, pests: bool = False) -> Grower:
    at = grower(desk, clock, [101])
    if pests:
        desk.run(tell, 101, Sighted("mealybug", "adult", "axils", 2))
        clock.advance(60)
    return at.begins({101: TRIM}, shelf(None))


def cuts(at: Grower, roots: int, spike: int) -> list[Facts]:
    """Cut so many roots and spikes, work to the end; what was cut, powdered and potted, in its order."""
    at.comes_to(Asks.CUTS)
    at.press(Key.NEXT, roots)
    if roots:
        at.press(Key.NEXT, 20)
    at.comes_to(Asks.CUTS)
    at.press(Key.NEXT, spike)
    at.finishes()
    powdered = [facts for facts in at.facts(101) if isinstance(facts, Step) and "Powder" in facts.title]
    return [facts for facts in at.facts(101) if isinstance(facts, (Cut, Dressed, Potted)) or facts in powdered]


POT = Potted("expanded clay pellets", "12 cm", True)
ROOTS, SPIKE, POWDER = Cut(Part.ROOTS, 2), Cut(Part.SPIKE, 1), Dressed("cinnamon")


@pytest.mark.parametrize(("roots", "spike", "told"), [
    (0, 0, [POT]), (2, 0, [ROOTS, POWDER, POT]), (0, 1, [SPIKE, POT, POWDER]),
    (2, 1, [ROOTS, SPIKE, Step("Powder the cut root ends, nothing else"), POT, POWDER])])
def test_root_ends_are_powdered_in_the_hand_and_a_spike_after_potting(
        roots: int, spike: int, told: list[Facts], desk: Desk, clock: SteppedClock) -> None:
    assert cuts(begun(desk, clock), roots, spike) == told


def test_a_cut_spike_stays_open_while_only_the_roots_are_powdered(desk: Desk, clock: SteppedClock) -> None:
    at = begun(desk, clock)
    at.comes_to(Asks.CUTS)
    for value in (2, 20):
        at.press(Key.NEXT, value)
    at.comes_to(Asks.CUTS)
    at.press(Key.NEXT, 1)
    while at.board.instruction.say != "Pot up: plant set back, pellets around":
        at.obeys()
    assert at.sitting.cuts_open == {101}


def wetted(at: Grower) -> list[tuple[Part, ...]]:
    return [facts.parts for facts in at.facts(101) if isinstance(facts, Wetted)]


def test_without_a_wash_the_crown_stays_dry(desk: Desk, clock: SteppedClock) -> None:
    assert wetted(begun(desk, clock).finishes()) == [(Part.ROOTS,), (Part.ROOTS,)]


def test_a_wash_is_rinsed_off_at_once_while_the_roots_still_soak(desk: Desk, clock: SteppedClock) -> None:
    at = begun(desk, clock, pests=True)
    at.obeys_until(Action.END_SOAK, 101)
    while at.board.instruction.say != "End the soak: leaves in alcohol-and-soap wash":
        at.obeys()
    at.press(Key.SOAK)
    assert at.says == (101, "Rinse the wash off the leaves")
    at.finishes()
    assert wetted(at)[-2:] == [(Part.LEAVES, Part.CROWN), (Part.ROOTS,)]


def test_a_wash_left_out_leaves_the_crown_dry_and_the_record_with_sighting_and_reason(
        desk: Desk, clock: SteppedClock) -> None:
    at = begun(desk, clock, pests=True)
    while at.says != (101, "Wash leaves and axils, keep off the crown"):
        at.obeys()
    at.leaves_out("no leaf was tried: a drop is on now")
    at.finishes()
    assert wetted(at) == [(Part.ROOTS,), (Part.ROOTS,)]
    assert Step("Left out: Wash leaves and axils, keep off the crown: no leaf was tried: a drop is on now") in (
        at.facts(101))
