"""House rules and where the collection stands: asked and set."""

from __future__ import annotations

from dataclasses import fields
from datetime import datetime
from zoneinfo import ZoneInfo, ZoneInfoNotFoundError

from greenhouse_desk.domain.faults import OutOfRange, Refused, within
from greenhouse_desk.domain.plants import Home
from greenhouse_desk.domain.settings import HouseRules, said
from greenhouse_desk.services.desk import Done
from greenhouse_desk.store import house
from greenhouse_desk.store.engine import Session

KINDS = frozenset({"house"})


def rules(session: Session) -> HouseRules:
    """The house rules in force."""
    return house.rules(session)


def home(session: Session) -> Home:
    """Where the collection stands; the Greenwich meridian until the grower says (`home_is_set`)."""
    return house.home(session)


def home_is_set(session: Session) -> bool:
    """Whether the grower has said where the collection stands."""
    return house.home_is_set(session)


def zone(session: Session) -> ZoneInfo:
    """The home's time zone; UTC when this computer does not know the one that is set."""
    try:
        return ZoneInfo(house.home(session).zone)
    except (ZoneInfoNotFoundError, ValueError, OSError):
        return ZoneInfo("UTC")


def save_rules(session: Session, now: datetime, rules: HouseRules) -> Done[None]:
    """Keep these house rules; the label names the ones that changed. HouseRules itself refuses figures out of range."""
    before = house.rules(session)
    changed = [item for item in fields(rules) if getattr(rules, item.name) != getattr(before, item.name)]
    if changed:
        house.save_rules(session, rules)
    words = ", ".join(f"{item.metadata['label']} {said(getattr(rules, item.name), item.metadata['unit'])}"
                      for item in changed)
    return Done(f"House rule: {words}" if len(changed) < 3 else f"{len(changed)} house rules", KINDS, None)


def save_home(session: Session, now: datetime, home: Home) -> Done[None]:
    """Keep where the collection stands: degrees north and east, IANA time zone. Refuses what lies on no map."""
    try:
        within("latitude", home.latitude, -90, 90)
        within("longitude", home.longitude, -180, 180)
    except OutOfRange as error:
        raise Refused("The home lies on no map", f"{error}.", "Give degrees, north and east positive.") from error
    try:
        ZoneInfo(home.zone)
    except (ZoneInfoNotFoundError, ValueError, OSError) as error:
        raise Refused("The time zone is unknown", f"{home.zone!r} is not one this computer knows.",
                      "Give a zone such as Europe/London.") from error
    if home != house.home(session) or not house.home_is_set(session):
        house.save_home(session, home)
    return Done(f"Home at {home.latitude:.2f}, {home.longitude:.2f}", KINDS, None)
