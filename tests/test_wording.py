"""How words are put together has one place each: months and days of the week never by the system's language."""

from __future__ import annotations

import re
from datetime import date
from pathlib import Path

import pytest

from greenhouse_desk.domain.care_day import MONTH_NAMES, MONTHS, dated, month_name
from greenhouse_desk.domain.sentences import capital

PACKAGE = Path(__file__).parents[1] / "greenhouse_desk"
BY_LOCALE = re.compile(r"%-?[aAbBcpxX](?![a-z])")
CAPITAL_BY_HAND = re.compile(r"\[(?::1|0)\]\.upper\(\)")
HOME_OF_CAPITAL = "domain/sentences.py"


def found(pattern: re.Pattern[str], text: str) -> list[str]:
    """The lines in which it stands."""
    return [line.strip() for line in text.splitlines() if pattern.search(line)]


@pytest.mark.parametrize("path", sorted(PACKAGE.rglob("*.py")), ids=lambda path: path.relative_to(PACKAGE).as_posix())
def test_no_name_of_a_month_follows_the_locale_and_no_capital_is_made_by_hand(path: Path) -> None:
    text = path.read_text("utf-8")
    assert found(BY_LOCALE, text) == []
    if path.relative_to(PACKAGE).as_posix() != HOME_OF_CAPITAL:
        assert found(CAPITAL_BY_HAND, text) == []


def test_the_checks_see_an_offence() -> None:
    assert found(BY_LOCALE, 'f"{day:%d %b %Y}"\nf"{day:%B}"\nf"{day:%A}"') == ['f"{day:%d %b %Y}"', 'f"{day:%B}"',
                                                                                'f"{day:%A}"']
    assert found(BY_LOCALE, 'f"{day:%Y-%m-%d %H:%M}"\nf"{share} % by week"\nf"3 % above"') == []
    assert found(CAPITAL_BY_HAND, "words[:1].upper() + words[1:]\nword[0].upper()") != []


def test_months_and_capitals() -> None:
    assert [name[:3] for name in MONTH_NAMES] == list(MONTHS)
    assert (month_name(date(2026, 3, 9)), dated(date(2026, 3, 9))) == ("March", "9 Mar 2026")
    assert [capital(words) for words in ("", "a Vanda", "éclat", "ß")] == ["", "A Vanda", "Éclat", "SS"]
