"""What is known of a plant stands first on the dial of pests and diseases, and its answer is kept as it always was."""

from __future__ import annotations

from dataclasses import replace
from zoneinfo import ZoneInfo

from greenhouse_desk.domain.bench import Action, PestChoice, Run, RunStep, Sitting, board
from greenhouse_desk.domain.bench_questions import answers, question
from greenhouse_desk.domain.protocols import Asks, Deed, ProtocolStep
from tests.builders import NOW

ZONE = ZoneInfo("Europe/London")
CHOICES = (PestChoice("aphid", "aphids"), PestChoice("mite", "two-spotted mite", ("egg", "adult")),
           PestChoice("mealybug", "mealybug"), PestChoice("rot", "soft rot"))
LOOK = RunStep(1, 0, ProtocolStep("look", "Look it over", "", Deed.INSPECT, asks=(Asks.SIGHTINGS,)), done_at=NOW)


def test_what_is_known_stands_first_behind_what_ends_the_list() -> None:
    asked = question(LOOK, CHOICES, known=("mealybug", "mite", "mealybug", "no longer named"))
    assert asked is not None
    assert asked.choices == ("not looked at now", "looked: nothing seen", "mealybug", "two-spotted mite", "aphids",
                             "soft rot")
    assert [asked.kept(at) for at in range(6)] == [0, 1, 4, 3, 2, 5]
    assert asked.told(4) == "mealybug"


def test_after_a_find_it_stands_first_as_well() -> None:
    asked = question(replace(LOOK, found=(4, 0, 0, 3)), CHOICES, known=("mealybug",))
    assert asked is not None
    assert asked.choices == ("nothing more", "mealybug", "aphids", "two-spotted mite", "soft rot")
    assert [asked.kept(at) for at in range(5)] == [0, 3, 1, 2, 4]


def test_the_answer_kept_is_read_as_the_one_chosen() -> None:
    asked = question(LOOK, CHOICES, known=("mealybug",))
    assert asked is not None
    kept = asked.kept(asked.choices.index("mealybug"))
    seen = answers(replace(LOOK, found=(kept, 0, 1, 7)), CHOICES).sighted
    assert [(one.what, one.count) for one in seen] == [("mealybug", 7)]


def test_where_nothing_is_known_the_list_stands_as_it_always_did() -> None:
    asked = question(LOOK, CHOICES)
    assert asked is not None
    assert asked.values == ()
    assert [asked.kept(at) for at in range(6)] == list(range(6))


def test_the_board_says_what_may_be_on_the_plant() -> None:
    at = Sitting(1, NOW, (Run(1, 104, "", "p", "P", (LOOK,)),), choices=CHOICES, known={104: ("mealybug", "mite")})
    seen = board(at, NOW, ZONE).instruction
    assert seen.action is Action.ANSWER
    assert seen.caution == "On record for 104: mealybug, two-spotted mite. Look for these first."
    assert board(replace(at, known={}), NOW, ZONE).instruction.caution == ""
