"""Every rule of contacts, the trace, a source's record and an outbreak's end, broken: the scene beside it notices."""

from __future__ import annotations

import pytest

from tests.domain.quarantine_rules import Broken
from tests.domain.test_quarantine_broken import without
from tests.domain.tracing_rules import BROKEN, SCENES, WHOLE


@pytest.mark.parametrize("scene", SCENES)
def test_each_scene_as_the_rules_have_it(scene: str) -> None:
    assert SCENES[scene]() == WHOLE[scene]


@pytest.mark.parametrize("rule", BROKEN, ids=str)
def test_a_broken_rule_is_seen(rule: Broken) -> None:
    with without(rule):
        assert SCENES[rule.scenario]() != WHOLE[rule.scenario]
