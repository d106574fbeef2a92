"""What a plant was given in an earlier session or by hand holds back a start, and is said before an entry."""

from __future__ import annotations

import pytest

from greenhouse_desk.domain.faults import Refused
from greenhouse_desk.domain.journal import Dressed, Part, Purpose, Treated
from greenhouse_desk.domain.protocols import Deed, Protocol
from greenhouse_desk.services import records, treatments, treatments_apart
from greenhouse_desk.services.clock import SteppedClock
from greenhouse_desk.services.desk import Desk
from greenhouse_desk.services.treatments import Choice
from greenhouse_desk.store import journal
from tests.services.sittings import LEAVES, shelf_of, step, stock, tell

DAY = 86400
OIL = Protocol("oil-trial", "Oil", "For tests.", (
    step("spray", Deed.TREAT, on=LEAVES, agent="horticultural-oil", amount_ml=50),))
SULFUR = Treated("sulfur", Purpose.DISINFECTION, (Part.LEAVES,))


def test_no_start_within_thirty_days_of_the_other(desk: Desk, clock: SteppedClock) -> None:
    desk.run(stock, [101, 102])
    desk.run(tell, 101, SULFUR)
    clock.advance(29 * DAY)
    shown, both = shelf_of(OIL), [Choice(101, OIL.id), Choice(102, OIL.id)]
    told = desk.read(treatments.preparation, clock.now(), both, shown)
    assert not told.startable
    assert [fault.message.split(":")[0] for fault in told.faults if fault.grave] == ["101"]
    with pytest.raises(Refused, match="101: never mix: sulfur was given on"):
        desk.run(treatments.start, both, shown)
    assert desk.read(treatments.preparation, clock.now(), both[1:], shown).startable, "102 had none"
    clock.advance(DAY)
    assert desk.read(treatments.preparation, clock.now(), both, shown).startable
    desk.run(treatments.start, both, shown)


def test_what_is_kept_away_is_told_for_an_entry_by_hand(desk: Desk, clock: SteppedClock) -> None:
    desk.run(stock, [101])
    entry = desk.run(tell, 101, Dressed("sulfur"))
    clock.advance(10 * DAY)
    assert [words.split(",")[0] for words in desk.read(treatments_apart.warnings, clock.now(), 101)] == [
        "sulfur was given on 18 Nov: no horticultural oil before 18 Dec"]
    desk.run(records.withdraw, entry)
    assert desk.read(treatments_apart.warnings, clock.now(), 101) == ()


def test_what_is_kept_away_is_told_for_an_entry_that_is_corrected(desk: Desk, clock: SteppedClock) -> None:
    """By what was given besides, before and after: not by the entry itself, which may be the one that is wrong."""
    desk.run(stock, [101])
    desk.run(tell, 101, Dressed("sulfur"))
    clock.advance(10 * DAY)
    between = desk.run(tell, 101, Treated("a product of mine", Purpose.PEST_WASH, LEAVES))
    clock.advance(10 * DAY)
    desk.run(tell, 101, Treated("horticultural-oil", Purpose.PEST_WASH, LEAVES))
    entries = {entry.id: entry for entry in desk.read(journal.of_plant, 101)}
    assert [words.split(",")[0] for words in desk.read(treatments_apart.warnings_for, entries[between])] == [
        "sulfur was given on 18 Nov: no horticultural oil before 18 Dec",
        "horticultural oil was given on 8 Dec: no sulfur after 8 Nov until then"]
    first = min(entries.values(), key=lambda entry: entry.at)
    assert desk.read(treatments_apart.warnings_for, first) == ()
    desk.run(records.withdraw, between + 1)
    assert len(desk.read(treatments_apart.warnings_for, entries[between])) == 1
