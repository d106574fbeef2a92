"""Every rule of contacts, the trace, a source's record and an outbreak's end, broken: the scene beside it notices."""

from __future__ import annotations

import inspect
import re

import pytest

from greenhouse_desk.domain import dealings
from tests.domain.quarantine_rules import Broken
from tests.domain.test_quarantine_broken import without
from tests.domain.tracing_rules import BROKEN, CHECKED, SCENES, WHOLE


@pytest.mark.parametrize("scene", SCENES)
def test_each_scene_as_the_rules_have_it(scene: str) -> None:
    assert SCENES[scene]() == WHOLE[scene]


@pytest.mark.parametrize("rule", BROKEN, ids=str)
def test_a_broken_rule_is_seen(rule: Broken) -> None:
    with without(rule):
        assert SCENES[rule.scenario]() != WHOLE[rule.scenario]


def test_every_check_of_the_list_before_trading_is_broken_somewhere() -> None:
    asked = inspect.getsource(dealings.trading_checks)
    listed = {one.__name__ for one in CHECKED if one.__module__ == dealings.__name__}
    assert set(re.findall(r"(?<=[ (])(_[a-z_]+)\(", asked)) == listed, "the list names what the check list asks"
    assert {one.__name__ for one in CHECKED} <= {rule.where.__name__ for rule in BROKEN}
