"""How likely a plant carries something: where each chance begins, what looks do to it, and the words it is told in."""

from __future__ import annotations

import pytest

from greenhouse_desk.domain.chances import MEMORY, Chance, carrying, one_of
from greenhouse_desk.domain.origins import Origin
from greenhouse_desk.domain.quarantine import CLEAR, EXPOSED, INFESTED, NEWCOMER, SUSPECT, TREATED, Status
from greenhouse_desk.domain.settings import HouseRules

RULES = HouseRules()


def status(rank: int, how: str = "", counted: int = 0, why: str = "shares its place with 102: mealybug") -> Status:
    return Status("mealybug", "exposed", why, rank, how=how, counted=counted)


@pytest.mark.parametrize(("of", "chance"), [
    (status(EXPOSED, "tool snips"), 0.5), (status(EXPOSED, "place"), 0.25), (status(EXPOSED, "sitting"), 0.1),
    (status(NEWCOMER), 0.2), (status(SUSPECT), 0.5), (status(TREATED), 0.5), (status(INFESTED), 1.0)])
def test_where_a_chance_begins(of: Status, chance: float) -> None:
    found = one_of(of, RULES)
    assert found.value == pytest.approx(chance)
    assert found.why[0].text.startswith("Shares its place with 102: mealybug: ")
    assert found.why[0].text.endswith(" before any look.")
    assert found.why[0].source == {SUSPECT: f"a sign that was not tested; {MEMORY}",
                                   INFESTED: "seen on it, not treated since"}.get(of.rank, MEMORY)


@pytest.mark.parametrize(("origin", "chance"), [
    (Origin(0, 0), 0.2), (Origin(0, 1), 1 / 6), (Origin(1, 1), 1 / 3), (Origin(0, 8), 1 / 13), (Origin(3, 8), 4 / 13)])
def test_a_newcomers_chance_is_its_sources_own_record(origin: Origin, chance: float) -> None:
    assert one_of(status(NEWCOMER), RULES, origin).value == pytest.approx(chance)
    assert one_of(status(EXPOSED, "place"), RULES, origin).value == pytest.approx(0.25), "only of a newcomer"


@pytest.mark.parametrize(("looks", "words"), [
    (0, "0 clean looks count, each finding 60 % of what is there: 25 % left."),
    (1, "1 clean look counts, each finding 60 % of what is there: 12 % left."),
    (2, "2 clean looks count, each finding 60 % of what is there: 5 % left.")])
def test_looks_thin_it_out_and_say_so(looks: int, words: str) -> None:
    found = one_of(status(EXPOSED, "place", looks), RULES)
    assert found.value == pytest.approx(0.25 * 0.4**looks / (0.25 * 0.4**looks + 0.75))
    assert found.why[1].text == words
    assert found.why[1].source == ("One careful look finds: from memory, house rule; no published share was found for "
                                   "homes; Bayes' rule")


def test_the_house_rule_of_what_a_look_finds_is_used() -> None:
    assert one_of(status(EXPOSED, "place", 1), HouseRules(look_finds_percent=90)).value == pytest.approx(
        0.25 * 0.1 / (0.25 * 0.1 + 0.75))


@pytest.mark.parametrize(("looks", "chance"), [(0, 0.02), (1, 0.02 * 0.4 / (0.02 * 0.4 + 0.98))])
def test_a_plant_nothing_points_to_has_a_small_chance(looks: int, chance: float) -> None:
    for statuses in ([], [status(CLEAR)]):
        found = carrying(statuses, looks, RULES)
        assert found.value == pytest.approx(chance)
        assert found.why[0].text == "Nothing points to a pest: 2 % before any look."
        assert found.why[0].source == MEMORY


def test_several_are_taken_together_as_independent() -> None:
    found = carrying([status(EXPOSED, "sitting"), status(CLEAR), status(EXPOSED, "tool A", 1)], 5, RULES)
    tool = 0.5 * 0.4 / (0.5 * 0.4 + 0.5)
    assert found.value == pytest.approx(1 - 0.9 * (1 - tool))
    assert len(found.why) == 5
    assert found.why[-1].text == ("So the chance that it carries something is 36 %. The parts are taken as "
                                  "independent; no look proves a plant clean.")


def test_what_was_seen_stays_whatever_is_looked_at_and_is_never_told_as_certain() -> None:
    seen = carrying([status(INFESTED, counted=9), status(EXPOSED, "place")], 0, RULES)
    assert (seen.value, seen.words) == (1.0, "more than 99 %")
    assert Chance(0.0, ()).words == "less than 1 %"
