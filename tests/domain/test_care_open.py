"""An agent left on a plant is to be rinsed off before all else, and only the rinse it waits for ends that."""

from __future__ import annotations

from greenhouse_desk.domain.care import CareKind, by_need
from greenhouse_desk.domain.journal import Entry, Facts, Note, Part, Purpose, Step, Treated, Wetted
from greenhouse_desk.domain.plants import History
from greenhouse_desk.domain.settings import HouseRules
from tests.builders import NOW, PLANT, ago
from tests.domain.care_asking import LONDON, owed, text

LEAVES = (Part.LEAVES,)
WASHED = (Wetted(LEAVES), Treated("alcohol-soap-wash", Purpose.PEST_WASH, LEAVES, 20.0, 10.5, rinse=9))


def at_the_bench(*later: tuple[Facts, int | None]) -> History:
    """A plant washed in step 8 an hour ago, and what was written with which step since."""
    told: list[tuple[Facts, int | None]] = [(WASHED[0], 8), (WASHED[1], 8), *later]
    return History(PLANT, tuple(Entry(number, ago(minutes=60 - number), facts, 101, run=1, step=at)
                                for number, (facts, at) in enumerate(told, start=1)))


def test_an_agent_not_rinsed_off_is_owed_a_rinse_ahead_of_the_drying() -> None:
    left = at_the_bench()
    (rinse,), (air,) = owed(left, CareKind.RINSE), owed(left, CareKind.AIR)
    assert rinse.short == "rinse off the agent"
    assert "before it dries" in rinse.what
    assert "label" in text(rinse)
    assert air.what.startswith("Rinse off the agent first.")
    assert air.drying is not None
    assert air.drying.after_rinse
    assert [one.kind for one in by_need((air, rinse), NOW, LONDON, HouseRules())] == [CareKind.RINSE, CareKind.AIR]


def test_only_what_the_rinse_step_writes_ends_it() -> None:
    water = Wetted((Part.LEAVES, Part.CROWN))
    assert owed(at_the_bench((water, 9)), CareKind.RINSE) == ()
    assert owed(at_the_bench((Step("Rinse"), 9)), CareKind.RINSE) == (), "one that makes no leaf wet"
    assert owed(at_the_bench((Note("gloves torn"), 9)), CareKind.RINSE), "a note beside it is no rinse"
    assert owed(at_the_bench((water, None)), CareKind.RINSE), "water elsewhere is no rinse"
    rinsed = owed(at_the_bench((water, 9)), CareKind.AIR)[0]
    assert not rinsed.what.startswith("Rinse")
    assert rinsed.drying is not None
    assert not rinsed.drying.after_rinse
