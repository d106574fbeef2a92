"""House rules and the home: set, labelled, refused, undone; a spoilt stored value does not stop the program."""

from __future__ import annotations

from dataclasses import replace

import pytest

from greenhouse_desk.domain.faults import Refused
from greenhouse_desk.domain.plants import Home
from greenhouse_desk.domain.settings import HouseRules
from greenhouse_desk.services import backup, house
from greenhouse_desk.services.desk import Desk

HOME = Home(59.33, 18.07, "Europe/Stockholm")


def test_rules_start_at_their_defaults_and_are_kept(desk: Desk) -> None:
    assert desk.read(house.rules) == HouseRules()
    desk.run(house.save_rules, replace(HouseRules(), plain_water_days=21))
    assert desk.read(house.rules).plain_water_days == 21
    deed = desk.undo()
    assert deed is not None
    assert deed.label == "House rule: Plain water after a root disinfection 21 days"
    assert desk.read(house.rules) == HouseRules()


def test_saving_the_same_rules_is_no_deed(desk: Desk) -> None:
    desk.run(house.save_rules, HouseRules())
    assert desk.next_undo() is None


def test_the_home_is_kept_with_its_zone(desk: Desk) -> None:
    assert not desk.read(house.home_is_set)
    desk.run(house.save_home, HOME)
    assert desk.read(house.home_is_set)
    assert desk.read(house.home) == HOME
    assert desk.read(house.zone).key == "Europe/Stockholm"


@pytest.mark.parametrize("change", [
    {"latitude": 91.0}, {"longitude": -181.0}, {"latitude": float("nan")}, {"zone": "Nowhere/Here"}, {"zone": ""},
    {"zone": "../../etc/passwd"}])
def test_a_home_that_lies_nowhere_is_refused(desk: Desk, change: dict[str, float | str]) -> None:
    with pytest.raises(Refused) as caught:
        desk.run(house.save_home, Home(**{"latitude": 1.0, "longitude": 2.0, "zone": "UTC", **change}))  # type: ignore[arg-type]
    assert caught.value.next_step
    assert not desk.read(house.home_is_set)


def test_a_spoilt_stored_rule_counts_as_not_set_and_the_check_tells(desk: Desk) -> None:
    desk.store.raw.execute("INSERT INTO house (name, value) VALUES ('plain_water_days', '-3')")
    desk.store.raw.execute("INSERT INTO house (name, value) VALUES ('a_rule_of_a_later_program', '1')")
    assert desk.read(house.rules) == HouseRules()
    (fault,) = backup.check(desk.store)
    assert "plain_water_days" in fault
    assert "-3" in fault
