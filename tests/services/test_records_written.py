"""What is written down by hand: one deed for facts that belong together, refused where they cannot have happened."""

from __future__ import annotations

from datetime import timedelta

import pytest

from greenhouse_desk.domain.faults import Refused
from greenhouse_desk.domain.journal import (
    Aired,
    Blotted,
    Cut,
    Dressed,
    Dry,
    Facts,
    Part,
    Potted,
    Purpose,
    Treated,
    Unpotted,
    Wetted,
)
from greenhouse_desk.services import collection, records, records_written
from greenhouse_desk.services.collection import NewPlant
from greenhouse_desk.services.desk import Desk
from tests.builders import NOW

HOUR = timedelta(hours=1)
CROWN = Wetted((Part.CROWN,))


def written(desk: Desk) -> list[str]:
    """The journal of 101 in words, newest first."""
    return [f"{line.title}: {line.detail}" for line in desk.read(collection.drawer, 101, NOW).lines]


@pytest.fixture
def desk_with_101(desk: Desk) -> Desk:
    """A desk with plant 101 on it."""
    desk.run(collection.add_plant, NewPlant("Vanda falcata", 101))
    return desk


@pytest.mark.parametrize(("before", "facts", "says"), [
    (None, Dressed("cinnamon"), "No cut is open"), (CROWN, Dressed(), "No cut is open"),
    (None, Blotted(), "not wet"), (Wetted((Part.ROOTS,)), Dry(), "not wet"), (Dry(), Aired(), "not wet"),
    (Unpotted(), Unpotted(), "out of its pot already")])
def test_what_cannot_have_happened_is_refused_and_nothing_written(
        desk_with_101: Desk, before: Facts | None, facts: Facts, says: str) -> None:
    desk = desk_with_101
    if before is not None:
        desk.run(records.add, 101, before)
    kept = written(desk)
    with pytest.raises(Refused, match=says):
        desk.run(records_written.write, 101, (facts,))
    assert written(desk) == kept


@pytest.mark.parametrize(("before", "facts"), [
    (Cut(Part.SPIKE), Dressed()), (CROWN, Blotted()), (Wetted((Part.LEAVES,)), Dry()), (Potted("bark"), Unpotted())])
def test_what_follows_from_the_journal_is_written(desk_with_101: Desk, before: Facts, facts: Facts) -> None:
    desk_with_101.run(records.add, 101, before)
    desk_with_101.run(records_written.write, 101, (facts,))
    assert len(written(desk_with_101)) == 2


def test_only_what_stood_in_the_journal_by_that_moment_counts(desk_with_101: Desk) -> None:
    desk = desk_with_101
    desk.run(records_written.write, 101, (Cut(Part.SPIKE),), NOW - HOUR)
    with pytest.raises(Refused, match="No cut is open"):
        desk.run(records_written.write, 101, (Dressed(),), NOW - 2 * HOUR)
    desk.run(records_written.write, 101, (Dressed(),), NOW)


def test_facts_that_belong_together_are_one_deed(desk_with_101: Desk) -> None:
    desk = desk_with_101
    wash = Treated("alcohol-soap-wash", Purpose.PEST_WASH, (Part.LEAVES,), 15.0, 3.0)
    desk.run(records_written.write, 101, (wash, Wetted((Part.LEAVES,))), NOW, "both sides")
    assert [line.split(":")[0] for line in written(desk)] == ["leaves wetted", "washed against pests"]
    assert written(desk)[0] == "leaves wetted: ", "the remark stands once, with the wash"
    desk.undo()
    assert written(desk) == []


@pytest.mark.parametrize(("agent", "needed"), [
    ("horticultural-oil", True), ("sulfur", True), ("a product of mine", True), ("hydrogen-peroxide", False),
    ("alcohol-soap-wash", False), ("cinnamon", False), ("low-salt-water", False)])
def test_what_may_only_be_used_by_its_label_keeps_the_label_s_words(desk_with_101: Desk, agent: str,
                                                                    needed: bool) -> None:
    spray = Treated(agent, Purpose.PEST_WASH, (Part.LEAVES,))
    if needed:
        with pytest.raises(Refused, match="label's words are missing"):
            desk_with_101.run(records_written.write, 101, (spray,))
    desk_with_101.run(records_written.write, 101, (spray,), label="For ornamentals")
    assert written(desk_with_101)[0].endswith("label: For ornamentals")
