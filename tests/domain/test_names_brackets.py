"""Brackets in a name: told apart only where they close, to the depth that is read, and no hybrid is lost in one."""

from __future__ import annotations

import pytest

from greenhouse_desk.domain.names import parse
from greenhouse_desk.domain.names_read import DEEPEST, _balanced


@pytest.mark.parametrize(("text", "closes"), [
    ("", True), ("A x B", True), ("(A x B)", True), ("(A) x (B)", True), ("((A))", True), ("(", False), (")", False),
    (")A(", False), ("(A))", False), ("((A)", False), ("(A) x B) x (C", False)])
def test_brackets_close_where_each_was_opened(text: str, closes: bool) -> None:
    assert _balanced(text) is closes


def nested(depth: int) -> str:
    """A cross in so many brackets, each a parent of the one around it."""
    inner = "V. tricolor x V. coerulea"
    for _ in range(depth):
        inner = f"V. dearei x ({inner})"
    return inner


@pytest.mark.parametrize("depth", [1, 2, 3, 4, 9])
def test_a_cross_in_brackets_is_read_as_deep_as_is_said(depth: int) -> None:
    """A side of a cross and the bracket around it are a level each; deeper ones stay as typed."""
    name = parse(nested(depth))
    assert name.formula
    assert name.html.count("×") == min(depth, DEEPEST // 2) + 1
    assert name.plain.replace("×", "x") == nested(depth)


def test_a_hybrid_sign_before_a_bracket_is_not_lost_in_it() -> None:
    assert parse("×Brassocattleya (Maikai x Orange Bird)").hybrid
    assert parse("Vanda (V. tricolor x V. coerulea)").hybrid
