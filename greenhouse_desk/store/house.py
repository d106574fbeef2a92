"""House rules and the home's position, kept by name so that a rule added later starts at its default."""

from __future__ import annotations

from dataclasses import asdict, fields
from typing import Any

from sqlalchemy import select
from sqlalchemy.orm import Session

from greenhouse_desk.domain.faults import OutOfRange
from greenhouse_desk.domain.plants import Home
from greenhouse_desk.domain.settings import HouseRules
from greenhouse_desk.domain.year import read_years
from greenhouse_desk.store.tables import RuleRow

CALENDAR_ID = "calendar_id"
YEAR = "year of "
"""What the name of a value begins with that is the grower's own year of a genus."""
WORD = "own word "
"""What the name of a value begins with that tells what an own word names."""
AIR_COLUMNS = "air_columns"
NOWHERE = Home(51.48, 0.0, "Europe/London")


def rules(session: Session) -> HouseRules:
    """The house rules in force; a stored value that is none any more counts as not set (see `rule_faults`)."""
    known = {field.name for field in fields(HouseRules)}
    return HouseRules(**{name: value for name, value in _values(session).items()
                         if name in known and not _fault(name, value)})


def rule_faults(session: Session) -> tuple[str, ...]:
    """The stored house rules that cannot be used, in words; their defaults hold meanwhile."""
    known = {field.name for field in fields(HouseRules)}
    found = (_fault(name, value) for name, value in _values(session).items() if name in known)
    return tuple(words for words in found if words)


def _fault(name: str, value: Any) -> str:
    try:
        HouseRules(**{name: value})
    except (OutOfRange, TypeError) as error:
        return f"house rule {name}: {error}"
    return ""


def save_rules(session: Session, rules: HouseRules) -> None:
    """Keep these house rules."""
    _save(session, asdict(rules))


def home(session: Session) -> Home:
    """Where the collection stands; the Greenwich meridian until the grower says."""
    values = _values(session)
    return Home(values.get("latitude", NOWHERE.latitude), values.get("longitude", NOWHERE.longitude),
                values.get("zone", NOWHERE.zone))


def home_is_set(session: Session) -> bool:
    """Whether the grower has said where the collection stands."""
    return "latitude" in _values(session)


def save_home(session: Session, home: Home) -> None:
    """Keep where the collection stands."""
    _save(session, asdict(home))


def calendar_id(session: Session) -> str:
    """What marks this collection's entries in other calendars, "" until it was given."""
    return str(_values(session).get(CALENDAR_ID, ""))


def save_calendar_id(session: Session, name: str) -> None:
    """Keep what marks this collection's entries in other calendars."""
    _save(session, {CALENDAR_ID: name})


def own_years(session: Session) -> dict[str, Any]:
    """The grower's own years by genus, each as the table it was written in; what they hold is not checked here."""
    return {name.removeprefix(YEAR): value for name, value in _values(session).items() if name.startswith(YEAR)}


def year_faults(session: Session) -> tuple[str, ...]:
    """The grower's own years that cannot be used, in words; the shipped ones hold meanwhile."""
    _, found = read_years(own_years(session), "your year of a genus")
    return tuple(f"{fault.file}, {fault.path}: {fault.message}" for fault in found)


def save_year(session: Session, genus: str, table: dict[str, Any]) -> None:
    """Keep the grower's own year of a genus."""
    _save(session, {f"{YEAR}{genus}": table})


def forget_year(session: Session, genus: str) -> None:
    """Keep no own year of a genus any more."""
    row = session.get(RuleRow, f"{YEAR}{genus}")
    if row is not None:
        session.delete(row)
        session.flush()


def own_words(session: Session) -> dict[str, str]:
    """What the grower's own words for pests and diseases name, by the word; what is kept is not checked here."""
    return {name.removeprefix(WORD): str(value) for name, value in _values(session).items() if name.startswith(WORD)}


def save_own_word(session: Session, word: str, kind: str) -> None:
    """Keep what an own word names."""
    _save(session, {f"{WORD}{word}": kind})


def air_columns(session: Session) -> dict[str, Any]:
    """How loggers' files are to be read, by what their first lines look like; in the order they were last told."""
    told = _values(session).get(AIR_COLUMNS, [])
    return {str(key): value for key, value in told} if isinstance(told, list) else {}


def save_air_columns(session: Session, columns: dict[str, Any]) -> None:
    """Keep how loggers' files are to be read."""
    _save(session, {AIR_COLUMNS: [list(pair) for pair in columns.items()]})


def _values(session: Session) -> dict[str, Any]:
    return {row.name: row.value for row in session.execute(select(RuleRow.name, RuleRow.value))}


def _save(session: Session, values: dict[str, Any]) -> None:
    for name, value in values.items():
        session.merge(RuleRow(name=name, value=value))
    session.flush()
