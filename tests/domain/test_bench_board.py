"""The board is pure: one instruction, whatever stands; gloves between plants; rings and words."""

from __future__ import annotations

from dataclasses import replace
from datetime import timedelta
from zoneinfo import ZoneInfo

import pytest

from greenhouse_desk.domain.bench import (
    Action,
    Key,
    Ring,
    Run,
    RunStep,
    Sitting,
    Soak,
    State,
    ToolState,
    ToolUse,
    board,
)
from greenhouse_desk.domain.bench_facts import Kept, Potting, facts_of_step, in_pellets, open_in
from greenhouse_desk.domain.bench_order import told_apart
from greenhouse_desk.domain.bench_turns import tools
from greenhouse_desk.domain.journal import Aired, Blotted, Cut, Dressed, Dry, Facts, Part, Potted, Unpotted, Wetted
from greenhouse_desk.domain.protocols import Asks, Deed, ProtocolStep, Work
from tests.builders import NOW, entry

ZONE = ZoneInfo("Europe/London")


def hands(id: str, after: tuple[str, ...] = (), **fields: object) -> ProtocolStep:
    return ProtocolStep(id, id, "", Deed.HYGIENE, after=after, **fields)  # type: ignore[arg-type]


def run(number: int, plant: int, *steps: ProtocolStep, standing: str = "clear", done: int = 0) -> Run:
    """A run whose first `done` steps were done a minute apart before NOW."""
    rows = tuple(RunStep(100 * number + n, n, step, State.DONE if n <= done else State.OPEN,
                         NOW - timedelta(minutes=60 - n) if n <= done else None) for n, step in enumerate(steps, 1))
    return Run(number, plant, "", "p", "P", rows, standing)


def sitting(*runs: Run, **fields: object) -> Sitting:
    return Sitting(1, NOW - timedelta(hours=1), runs, **fields)  # type: ignore[arg-type]


def test_hands_stay_on_the_plant_they_are_on() -> None:
    at = sitting(run(1, 101, hands("a"), hands("b")), run(2, 102, hands("a"), hands("b"), done=1))
    assert board(at, NOW, ZONE).instruction.plant == 102


def test_coming_from_a_dirtier_plant_asks_for_fresh_gloves() -> None:
    at = sitting(run(1, 101, hands("a", caution="Mind.")), run(2, 102, hands("a"), standing="infested", done=1))
    assert board(at, NOW, ZONE).instruction.caution == "Coming from 102 (infested): fresh gloves first. Mind."


def test_a_plant_in_isolation_says_as_it_is_taken_up_and_as_it_is_left_what_must_be_done() -> None:
    apart = replace(run(1, 101, hands("a", caution="Mind."), hands("b")), standing_why=told_apart("newcomer"))
    shown = board(sitting(apart, run(2, 102, hands("a"))), NOW, ZONE).instruction
    assert shown.caution == "Kept apart: afterwards wash hands, soak tools, wipe the bench. Mind."
    half = replace(run(1, 101, hands("a"), hands("b"), done=1), standing_why=apart.standing_why)
    assert board(sitting(half, run(2, 102, hands("a"))), NOW, ZONE).instruction.caution == "", "it is in hand"
    left = replace(run(1, 101, hands("a"), done=1), standing_why=apart.standing_why)
    assert board(sitting(left, run(2, 102, hands("a"))), NOW, ZONE).instruction.caution == (
        "From 101, kept apart: wash hands, fresh gloves, soak tools, wipe the bench.")


def test_steps_that_wait_for_each_other_still_leave_an_instruction() -> None:
    at = sitting(run(1, 101, hands("a", ("b",)), hands("b", ("a",))))
    assert board(at, NOW, ZONE).instruction.action is Action.HANDS


def test_a_wash_step_is_left_out_where_no_pest_was_seen() -> None:
    at = sitting(run(1, 101, hands("wash", only_if="pests"), hands("pot", ("wash",))))
    seen = board(at, NOW, ZONE)
    assert (seen.instruction.say, seen.head) == ("pot", "step 1 of 1")
    assert board(replace(at, pests=frozenset({101})), NOW, ZONE).instruction.say == "wash"


def test_a_leave_on_soak_with_nothing_after_it_does_not_call_hands_before_it_warns() -> None:
    leave_on = ProtocolStep("mist", "mist", "", Deed.TREAT, Work.SOAK, (Part.ROOTS,), least_min=10, most_min=60)
    soaking = run(1, 101, leave_on)
    soaking = replace(soaking, steps=(replace(soaking.steps[0], state=State.SOAKING),))
    soak = Soak(1, "roots", "", NOW - timedelta(minutes=15), 600, 3600, 1, soaking.steps[0].id)
    at = sitting(soaking, run(2, 102, hands("a")), soaks=(soak,))
    seen = board(at, NOW, ZONE)
    assert (seen.instruction.plant, seen.ring) == (102, Ring.SILENT)
    late = board(at, NOW + timedelta(minutes=40), ZONE)
    assert (late.instruction.action, late.instruction.plant, late.ring) == (Action.END_SOAK, 101, Ring.WARN)


def test_an_open_cut_is_told_by_the_queue_until_it_is_dressed() -> None:
    """The work goes on, the plant is in hand or another is: an undressed cut is shown all the while; bare roots are
    not, before the work is over."""
    at = sitting(run(1, 101, hands("a"), hands("b")), run(2, 102, hands("a")), unpotted=frozenset({101}))
    shown = [row.still for row in board(at, NOW, ZONE).queue]
    cut = [row.still for row in board(replace(at, cuts_open=frozenset({101})), NOW, ZONE).queue]
    away = [row.still for row in board(replace(at, cuts_open=frozenset({102})), NOW, ZONE).queue]
    assert (shown, cut, away) == (["", ""], ["cut open", ""], ["", "cut open"])


def test_a_tool_is_clean_again_only_after_a_soak_kept_to_its_least() -> None:
    use = ToolUse("cutter A", 101, NOW - timedelta(minutes=10))
    soak = Soak(1, "70 % ethanol", "ethanol", NOW - timedelta(minutes=8), 180, 7200, tool="cutter A")
    at = sitting(run(1, 101, hands("a")), tool_uses=(use,))
    ended = replace(soak, ended_at=NOW)
    early = replace(ended, early=True)
    states = [tools(replace(at, soaks=soaks))[0].state for soaks in ((), (soak,), (ended,), (early,))]
    assert states == [ToolState.UNCLEAN, ToolState.SOAKING, ToolState.CLEAN, ToolState.UNCLEAN]


def test_the_five_keys_stand_in_their_order_and_a_dead_one_says_why() -> None:
    seen = board(sitting(run(1, 101, hands("a"))), NOW, ZONE)
    assert [face.key for face in seen.keys] == list(Key)
    assert [(face.live, face.sub) for face in seen.keys] == [
        (True, "done, go on"), (False, "none runs"), (False, "nothing before this"), (True, "phrase or own line"),
        (False, "no press to take back")]


@pytest.mark.parametrize(("asks", "more", "less"), [
    (Asks.CUTS, ("More", "one more"), ("Less", "one less")),
    (Asks.REMOVED, ("More", "5 more"), ("Less", "5 less")),
    (Asks.SIGHTINGS, ("Down", "the next answer"), ("Up", "the one before"))])
def test_the_keys_of_a_question_tell_how_far_they_step(
        asks: Asks, more: tuple[str, str], less: tuple[str, str]) -> None:
    one = run(1, 101, ProtocolStep("look", "Look", "", Deed.INSPECT, asks=(asks,)))
    one = replace(one, steps=(replace(one.steps[0], done_at=NOW),))
    keys = board(sitting(one), NOW, ZONE).keys
    assert [(face.word, face.sub) for face in keys[1:3]] == [more, less]


def test_an_ended_session_has_no_live_key() -> None:
    seen = board(sitting(run(1, 101, hands("a")), ended_at=NOW), NOW, ZONE)
    assert not any(face.live for face in seen.keys)


def test_what_stands_open_is_read_from_the_entries_in_their_order() -> None:
    def after(*facts: Facts) -> tuple[bool, ...]:
        found = open_in(entry(one) for one in facts)
        return tuple(101 in plants for plants in (found.cuts_open, found.wet, found.pools, found.aired, found.unpotted))

    assert after(Cut(Part.SPIKE), Unpotted()) == (True, False, False, False, True)
    assert after(Cut(Part.SPIKE), Dressed(), Unpotted(), Potted("bark")) == (False,) * 5
    assert after(Wetted((Part.CROWN,), True), Aired()) == (False, True, True, True, False)
    assert after(Wetted((Part.CROWN,), True), Aired(), Blotted(), Wetted((Part.LEAVES,))) == (
        False, True, False, False, False)
    assert after(Wetted((Part.CROWN,), True), Aired(), Dry()) == (False,) * 5
    assert after(Wetted((Part.ROOTS,))) == (False,) * 5


def test_a_pot_step_tells_a_move_only_between_kinds_of_medium() -> None:
    pot = ProtocolStep("pot", "pot", "", Deed.POT, medium="expanded clay pellets", transition=True)

    def into(old: str) -> Facts:
        at = run(1, 101, pot)
        return facts_of_step(at, at.steps[0], Kept(), Potting(old, "12 cm"), ())[0]

    assert into("bark") == Potted("expanded clay pellets", "12 cm", True)
    assert into("LECA") == Potted("expanded clay pellets", "12 cm", False)
    assert into("") == Potted("expanded clay pellets", "12 cm", True)
    assert not in_pellets("fired clay and bark")


def test_a_wash_is_rinsed_off_before_other_work_though_the_roots_still_soak() -> None:
    def soak(id: str, part: Part) -> ProtocolStep:
        return ProtocolStep(id, id, "", Deed.TREAT, Work.SOAK, (part,), least_min=10, most_min=12, meanwhile=True)

    steps = (soak("wash", Part.LEAVES), soak("mist", Part.ROOTS), hands("scrub", meanwhile=True),
             hands("rinse", ("wash",), meanwhile=True))
    at = run(1, 101, *steps, done=1)
    at = replace(at, steps=(at.steps[0], replace(at.steps[1], state=State.SOAKING), *at.steps[2:]))
    mist = Soak(1, "roots", "", NOW - timedelta(minutes=3), 600, 720, 1, at.steps[1].id)
    assert board(sitting(at, soaks=(mist,)), NOW, ZONE).instruction.say == "rinse"


def test_the_queue_tells_what_a_soak_comes_to_and_what_it_passed_and_on_which_day() -> None:
    step = ProtocolStep("dip", "Dip", "", Deed.TREAT, Work.SOAK, (Part.ROOTS,), "peroxide", least_min=10, most_min=12)
    one = run(1, 101, step, hands("swill", ("dip",)))
    one = replace(one, steps=(replace(one.steps[0], state=State.SOAKING), one.steps[1]))

    def words(minutes: float) -> str:
        soak = Soak(1, "roots", "peroxide", NOW, 600, 720, 1, one.steps[0].id)
        return board(sitting(one, soaks=(soak,)), NOW + timedelta(minutes=minutes), ZONE).queue[0].words

    assert words(5) == "soaking, least at 15:40"
    assert words(11) == "soaking, least reached at 15:40"
    assert words(30) == "over its most since 15:42"
    assert words(19 * 60) == "over its most since 15:42 on 18 Nov"


def test_the_queue_tells_of_the_soak_that_is_over_before_one_that_may_end() -> None:
    one = run(1, 101, hands("spray"), hands("scrub"))
    one = replace(one, steps=tuple(replace(step, state=State.SOAKING) for step in one.steps))
    pot = Soak(1, "pot", "quaternary-ammonium", NOW, 600, 3600, 1, one.steps[1].id)
    roots = Soak(2, "roots", "hydrogen-peroxide", NOW + timedelta(minutes=5), 600, 720, 1, one.steps[0].id)
    seen = board(sitting(one, soaks=(pot, roots)), NOW + timedelta(minutes=20), ZONE)
    assert seen.queue[0].words == "over its most since 15:47"
