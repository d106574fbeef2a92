"""Why a figure of the collection is what it is: the stage and standing of a plant, the air of a bench."""

from __future__ import annotations

from collections.abc import Sequence
from datetime import datetime, timedelta

from greenhouse_desk.domain.air import vapour_pressure_deficit
from greenhouse_desk.domain.care import Reason
from greenhouse_desk.domain.journal import Entry, Kind, Placed
from greenhouse_desk.domain.plants import Air
from greenhouse_desk.domain.sentences import capital
from greenhouse_desk.domain.transitions import SETTLED_WEEKS
from greenhouse_desk.services import collection_reading, records
from greenhouse_desk.services.collection_reading import Drawer, air_place
from greenhouse_desk.services.house import zone
from greenhouse_desk.store import air as air_store
from greenhouse_desk.store import house, plants
from greenhouse_desk.store.engine import Session

CONCLUSION = "worked out from the steps above"
ENTRY = "journal entry {}"


def stage(session: Session, number: int, now: datetime) -> tuple[Reason, ...]:
    """Why plant `number` is at its stage at the aware `now`; empty for a settled one."""
    drawn = collection_reading.drawer(session, number, now)
    if not drawn.card.stage:
        return ()
    entry = _behind(drawn)
    told = () if entry is None else (_told(session, entry, now),)
    return (*told, *_rule(drawn), Reason(f"So: {drawn.card.stage}.", CONCLUSION))


def _behind(drawn: Drawer) -> Entry | None:
    """The entry the stage counts from."""
    entries = [line.entry for line in drawn.lines]
    if drawn.card.stage.startswith("day "):
        return _came_here([entry for entry in entries if entry.kind is Kind.PLACED])
    return next((entry for entry in entries if entry.kind in (Kind.POTTED, Kind.UNPOTTED)), None)


def _came_here(newest_first: Sequence[Entry]) -> Entry | None:
    """The entry with which the plant came to where it stands; moves along the bench do not count."""
    came = None
    for entry in newest_first:
        if not isinstance(entry.facts, Placed) or (came is not None and not _same_place(entry, came)):
            break
        came = entry
    return came


def _same_place(one: Entry, other: Entry) -> bool:
    return (isinstance(one.facts, Placed) and isinstance(other.facts, Placed)
            and one.facts.place == other.facts.place)


def _told(session: Session, entry: Entry, now: datetime) -> Reason:
    line = records.line(entry, records.labels(session), now, zone(session))
    detail = f", {line.detail}" if line.detail else ""
    return Reason(f"{line.day_words}: {line.title}{detail}.", ENTRY.format(entry.id))


def _rule(drawn: Drawer) -> tuple[Reason, ...]:
    stage_words = drawn.card.stage
    if stage_words == "unpotted":
        return (Reason("No potting is written down since.", "the plant's journal"),)
    if stage_words.startswith("settling"):
        return (Reason(f"A plant moved to another medium is taken to settle for {SETTLED_WEEKS.value:g} weeks; the "
                       "first seven days are week 1.", SETTLED_WEEKS.source),)
    return (Reason("Where plants stand apart, the days since it came there are counted; the first is day 0.",
                   "house custom"),)


def standing(session: Session, number: int, now: datetime) -> tuple[Reason, ...]:
    """Why plant `number` is clear, exposed, infested and so on at the aware `now`."""
    found = collection_reading.drawer(session, number, now).card.standing
    first = capital(found.why)
    behind = "the plant's journal and its neighbours'" if found.entry is None else ENTRY.format(found.entry)
    return (Reason(f"{first.rstrip('.')}." if first else "No pest or disease is written down that still counts.",
                   behind), Reason(f"So: {found.word}.", CONCLUSION))


def air(session: Session, place: int, now: datetime) -> tuple[Reason, ...]:
    """Where the air figures of a bench come from, how old they are, and what they are used for; aware `now`."""
    places = {one.id: one for one in plants.places(session)}
    newest = air_store.newest(session)
    measured = air_place(place, places, newest)
    if measured is None:
        return (Reason("No air reading is written down here or around it.", "the journal"),
                Reason("Without one the drying time of its plants is only a wide span, from a warm dry room's to a "
                       "cool damp one's.", CONCLUSION))
    read = newest[measured]
    near = () if measured == place else (Reason(f"{places[place].name} has no reading of its own; that of "
                                                f"{places[measured].name}, around it, holds.", "house custom"),)
    if read.rh is None:
        return (_reading(session, read, places[measured].name, now), *near,
                Reason("Its logger reads no humidity: without it neither VPD, dew point nor drying time can be told.",
                       CONCLUSION))
    hours = house.rules(session).air_reading_hours
    fresh = now - read.at <= timedelta(hours=hours)
    so = "It holds for drying times." if fresh else "It is too old for drying times: enter a new one."
    return (_reading(session, read, places[measured].name, now), *near, _thirst(read),
            Reason(f"A reading is used for {hours} h after it was taken.", "house rule"), Reason(so, CONCLUSION))


def _reading(session: Session, read: Air, where: str, now: datetime) -> Reason:
    at = read.at.astimezone(zone(session))
    named = f", air {read.moving.value}" if read.moving is not None else ", air speed not measured"
    speed = f", air {read.air_speed_m_s:g} m/s" if read.air_speed_m_s is not None else named
    hours, minutes = divmod(int((now - read.at).total_seconds()) // 60, 60)
    age = f"{hours} h {minutes:02d}" if hours else f"{minutes} min"
    moist = "humidity unknown" if read.rh is None else f"{read.rh * 100:.0f} % RH"
    return Reason(f"{read.temp_c:.1f} C, {moist}{speed}: read at {where} on "
                  f"{records.day_words(at.date(), now.astimezone(at.tzinfo).date())} at {at:%H:%M}, {age} ago.",
                  "a logger's file that was taken in" if read.logged else "air reading in the journal, entered by hand")


def _thirst(read: Air) -> Reason:
    deficit = vapour_pressure_deficit(read.temp_c, read.moisture)
    return Reason(f"VPD {deficit:.2f} kPa: what the air could still take up, its saturation pressure at "
                  f"{read.temp_c:.1f} C less what {read.moisture * 100:.0f} % RH of it is there already.",
                  "worked out from the reading")
