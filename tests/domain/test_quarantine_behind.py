"""The entries an exposure rests on: what was found on the other, and how the two met, for each way of meeting."""

from __future__ import annotations

import pytest

from greenhouse_desk.domain.contacts import NOTHING_HANDLED, Handled, Touch, Worked
from greenhouse_desk.domain.journal import Leaving, Left, Shared, Sharing
from greenhouse_desk.domain.quarantine import standings
from greenhouse_desk.domain.quarantine_exposure import Behind
from greenhouse_desk.domain.settings import HouseRules
from tests.builders import NOW, ago
from tests.domain.test_quarantine_contacts import HERE, MITE, THERE, VIRUS, Written, one

TOOL = Handled((Touch("cutter A", 102, ago(days=6), 1, 71), Touch("cutter A", 101, ago(days=5), 1, 72)))
SAT = Handled(worked=(Worked(1, 102, ago(days=6), ago(days=6), 81), Worked(1, 101, ago(days=5), ago(days=5), 82)))
CASES: list[tuple[str, list[Written], list[Written], Handled, Behind, int]] = [
    ("it came to the other", [(ago(days=30), HERE)], [(ago(days=40), HERE), (ago(days=3), MITE)], NOTHING_HANDLED,
     Behind(102, 2, 1), 1),
    ("the other came to it", [(ago(days=30), THERE), (ago(days=20), HERE)],
     [(ago(days=15), THERE), (ago(days=10), THERE), (ago(days=9), HERE), (ago(days=3), MITE)], NOTHING_HANDLED,
     Behind(102, 4, 3), 3),
    ("nobody wrote down how they came there", [], [(ago(days=3), MITE)], NOTHING_HANDLED, Behind(102, 1), 1),
    ("moved along the bench since", [(ago(days=30), HERE), (ago(days=2), HERE)], [(ago(days=3), MITE)],
     NOTHING_HANDLED, Behind(102, 1, 1), 1),
    ("a tool", [(ago(days=30), HERE)], [(ago(days=40), THERE), (ago(days=3), VIRUS)], TOOL, Behind(102, 2, 72), 72),
    ("a sitting", [(ago(days=30), HERE)], [(ago(days=40), THERE), (ago(days=3), MITE)], SAT, Behind(102, 2, 82), 82),
    ("wash water", [(ago(days=30), HERE), (ago(days=4), Shared(Sharing.WATER, (102,)))],
     [(ago(days=40), THERE), (ago(days=3), VIRUS)], NOTHING_HANDLED, Behind(102, 2, 2), 2),
]


@pytest.mark.parametrize(("mine", "theirs", "handled", "behind", "entry"), [case[1:] for case in CASES],
                         ids=[case[0] for case in CASES])
def test_an_exposure_names_the_entries_it_rests_on(mine: list[Written], theirs: list[Written], handled: Handled,
                                                   behind: Behind, entry: int) -> None:
    both = [one(101, *mine), one(102, *theirs, place=1 if (ago(days=40), THERE) not in theirs else 2)]
    found = standings(both, frozenset({9}), NOW, HouseRules(), handled=handled)[101]
    assert (found.word, found.statuses[0].behind) == ("exposed", (behind,))
    assert (found.statuses[0].entry, found.entry) == (entry, entry)


def test_each_of_several_plants_has_its_own_entries() -> None:
    two = [one(number, (ago(days=40), HERE), (ago(days=9), Left(Leaving.DEAD)) if number == 104 else (
        ago(days=8), HERE), (ago(days=4 + number - 102), MITE)) for number in (102, 103, 104)]
    found = standings([one(101, (ago(days=50), HERE)), *two], frozenset({9}), NOW, HouseRules())[101]
    assert found.statuses[0].behind == (Behind(102, 3, 1), Behind(103, 3, 1)), "104 was gone before them"
