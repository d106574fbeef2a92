"""Every rule behind a status, broken one at a time: the scenario named beside it must notice."""

from __future__ import annotations

import inspect
import textwrap
from collections.abc import Callable, Iterator
from contextlib import contextmanager
from types import FunctionType, ModuleType
from typing import Any

import pytest

from tests.domain.quarantine_rules import BROKEN, MODULES, UNSEEN, Broken
from tests.domain.quarantine_stories import STORIES
from tests.domain.test_quarantine_scenarios import SCENARIOS, Scenario, words

BY_NAME = {scenario.name: scenario for scenario in (*SCENARIOS, *STORIES)}


@contextmanager
def without(rule: Broken) -> Iterator[None]:
    """The function with other words in the place of the rule's, wherever it is called from."""
    source, function = textwrap.dedent(inspect.getsource(rule.where)), rule.where
    assert isinstance(function, FunctionType)
    assert source.count(rule.whole) == 1, f"{rule}: the list tells of what no longer stands there"
    named = dict(function.__globals__)
    made = compile("from __future__ import annotations\n" + source.replace(rule.whole, rule.broken), "broken", "exec")
    exec(made, named)
    whole, function.__code__ = function.__code__, named[function.__name__].__code__
    try:
        yield
    finally:
        function.__code__ = whole


def functions(module: ModuleType) -> Iterator[Callable[..., Any]]:
    """The functions and methods a module was written with."""
    for thing in vars(module).values():
        if getattr(thing, "__module__", "") != module.__name__:
            continue
        members = vars(thing).values() if inspect.isclass(thing) else (thing,)
        written = (one for one in members if isinstance(one, FunctionType))
        yield from (one for one in written if not one.__name__.startswith(("__", "_dataclass")))


@pytest.mark.parametrize("scenario", STORIES, ids=str)
def test_the_status_each_day(scenario: Scenario) -> None:
    assert words(scenario) == scenario.expected


@pytest.mark.parametrize("rule", BROKEN, ids=str)
def test_a_broken_rule_is_seen(rule: Broken) -> None:
    scenario = BY_NAME[rule.scenario]
    with without(rule):
        assert words(scenario) != scenario.expected
    assert words(scenario) == scenario.expected


def test_every_function_of_the_rules_is_broken_somewhere() -> None:
    """A new one needs a row, or a reason why no status can tell of it."""
    named = {rule.where.__qualname__ for rule in BROKEN}
    every = {one.__qualname__ for module in MODULES for one in functions(module)}
    assert every - named - set(UNSEEN) == set()
    assert named & set(UNSEEN) == set()
    assert set(UNSEEN) - every == set()
    assert len({rule.rule for rule in BROKEN}) == len(BROKEN)
