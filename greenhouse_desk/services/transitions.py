"""Transitions: every course with its verdict and forecast, what may start, what is coming, and the grower's word."""

from __future__ import annotations

from collections import defaultdict
from collections.abc import Mapping, Sequence
from dataclasses import dataclass
from datetime import date, datetime
from functools import cache

from greenhouse_desk.domain import courses as rules_of_courses
from greenhouse_desk.domain import names
from greenhouse_desk.domain.care import Care, CareKind
from greenhouse_desk.domain.care_day import care_day, day_of, day_words
from greenhouse_desk.domain.courses import Known
from greenhouse_desk.domain.courses_coming import WEEKS_AHEAD, Week, coming
from greenhouse_desk.domain.courses_forecast import NoOutlook, Outlook, comparable, outlook, watched
from greenhouse_desk.domain.courses_moving import named
from greenhouse_desk.domain.courses_outcomes import Outcomes, outcomes
from greenhouse_desk.domain.courses_values import Course, End, Verdict
from greenhouse_desk.domain.faults import Refused
from greenhouse_desk.domain.journal import Entry, Facts, Kind, Overruled, Reply, Roots, Settled, Signs
from greenhouse_desk.domain.names import BotanicalName
from greenhouse_desk.domain.names_genera import full_genus
from greenhouse_desk.domain.plants import Habit, History, Plant
from greenhouse_desk.domain.transitions import Halfway, Settling, halfway, settling_curve
from greenhouse_desk.services import care, quarantine, records
from greenhouse_desk.services.care import Surroundings
from greenhouse_desk.services.desk import Done
from greenhouse_desk.store import journal, plants
from greenhouse_desk.store.engine import Session

KINDS = frozenset({"journal"})
READ = frozenset((Kind.POTTED, Kind.UNPOTTED, Kind.ROOTS, Kind.SIGNS, Kind.SIGHTED, Kind.OVERRULED, Kind.SETTLED,
                  Kind.LEFT, Kind.TREATED))
"""The kinds of entry that courses rest on."""
LOOKS = (CareKind.ROOT_CHECK, CareKind.LOOK_AGAIN)
SHOWN_DAYS = 60
"""How long a course that ended is still shown."""


@dataclass(frozen=True, slots=True)
class Row:
    """One course as the calendar shows it: the looks to come (cares, soonest first) and the forecast of one under way.
    """

    course: Course
    name: BotanicalName
    looks: tuple[Care, ...]
    outlook: Outlook | NoOutlook | None


@dataclass(frozen=True, slots=True)
class Curve:
    """The settling curve over all courses: one step for each day on which plants settled, and the counts behind it."""

    steps: tuple[Settling, ...]
    half: Halfway
    plants: int
    settled: int
    running: int

    @property
    def words(self) -> str:
        """"n = 23, of which 19 settled, 4 still under way"."""
        rest = self.plants - self.settled - self.running
        told = f"n = {self.plants}, of which {self.settled} settled, {self.running} still under way"
        return f"{told}, {rest} no longer watched" if rest else told


@dataclass(frozen=True, slots=True)
class Overview:
    """Everything the Transitions screen shows on the care day `today`."""

    today: date
    rows: tuple[Row, ...]
    under_way: int
    curve: Curve
    outcomes: Outcomes
    weeks: tuple[Week, ...]
    care: tuple[Care, ...]


@dataclass(frozen=True, slots=True)
class Record:
    """Every plant's courses, and what they were read with."""

    around: Surroundings
    plants: Mapping[int, Plant]
    courses: Mapping[int, tuple[Course, ...]]

    @property
    def all(self) -> tuple[Course, ...]:
        """All courses there ever were, in the order of plants."""
        return tuple(course for own in self.courses.values() for course in own)

    @property
    def habits(self) -> dict[int, Habit]:
        """Growth habit by plant number."""
        return {number: plant.habit for number, plant in self.plants.items()}


def record(session: Session, now: datetime) -> Record:
    """Every course up to `now` (aware), of plants that left too."""
    around = care.surroundings(session)
    everyone = plants.plants(session, around.zone)
    told = journal.told(session, [plant.number for plant in everyone])
    found = {plant.number: _courses(plant, told[plant.number].of(READ), around, now) for plant in everyone}
    return Record(around, {plant.number: plant for plant in everyone}, found)


def overview(session: Session, now: datetime) -> Overview:
    """All the Transitions screen shows at the aware instant `now`."""
    known = record(session, now)
    today = rules_of_day(known.around, now)
    ahead = care.ahead(session, now, 400)
    rows = _rows(known, ahead, today)
    weeks = coming(ahead, today, known.around.zone, known.around.rules)
    soon = tuple(one for one in ahead if not one.hold and _within(one, known.around, today))
    running = sum(row.course.end is End.RUNNING for row in rows)
    return Overview(today, rows, running, curve(known.all), outcomes(known.all), weeks, soon)


def under_way(session: Session, now: datetime) -> int:
    """How many courses are under way."""
    around = care.surroundings(session)
    everyone = plants.plants(session, around.zone)
    told = journal.told(session, [plant.number for plant in everyone])
    return sum(_own_under_way(plant, told[plant.number].of(READ), around, now) is not None for plant in everyone)


def rules_of_day(around: Surroundings, now: datetime) -> date:
    """The care day of `now`."""
    return care_day(now, around.zone, around.rules)


def curve(of: Sequence[Course]) -> Curve:
    """The settling curve over these courses."""
    days, settled = watched(of)
    steps = settling_curve(days, settled)
    return Curve(tuple(steps), halfway(steps), len(of), sum(settled), sum(one.end is End.RUNNING for one in of))


def course_of(session: Session, plant: int, now: datetime) -> Course:
    """The course of `plant` that is under way. Raises Refused when none is."""
    around = care.surroundings(session)
    told = journal.told(session, [plant])[plant].of(READ)
    found = next((course for one in plants.plants(session, around.zone, [plant])
                  if (course := _own_under_way(one, told, around, now)) is not None), None)
    if found is None:
        raise Refused(f"{plant} is not in transition", "No move to another medium is under way.",
                      "Write the repot down first, as the move to another kind of medium.")
    return found


def _overrulable(session: Session, plant: int, now: datetime) -> Course:
    """The course under way, or the newest one that only a rule settled."""
    own = record(session, now).courses.get(plant, ())
    return own[-1] if own and own[-1].by_rule else course_of(session, plant, now)


def write_look(session: Session, now: datetime, plant: int, roots: Roots | None, signs: Signs,
               note: str = "") -> Done[Verdict]:
    """Write a look down, counts and signs as one deed; returns the verdict it gives.

    Raises Refused when nothing was looked at, or as `records.add` does.
    """
    facts: list[Facts] = [one for one in (roots, signs if signs != Signs() else None) if one is not None]
    if not facts:
        raise Refused("Nothing was looked at", "A look needs a root count or a sign.", "Fill in what you saw.")
    for one in facts:
        records.add(session, now, plant, one, None, note if one is facts[0] else "")
    verdict = course_of(session, plant, now).verdict
    return Done(f"{plant}: look, {verdict.value}", KINDS, verdict)


def overrule(session: Session, now: datetime, plant: int, instead: Verdict, reason: str, days: int = 0) -> Done[int]:
    """Write down that the verdict at the last look is not followed, and why; `days` to the next look (0: as usual).

    Raises Refused without a reason, or where there is no look yet.
    """
    course = _overrulable(session, plant, now)
    if not course.looks:
        raise Refused(f"{plant} was not looked at yet", "There is no verdict to overrule.", "Write a look down first.")
    said = course.looks[-1].rule
    if instead in (said, Verdict.UNSEEN, Verdict.SETTLED):
        raise Refused("That overrules nothing", f"The rule says: {said.value}.", "Choose another verdict.")
    facts = Overruled(rules_of_courses.OF_VERDICT, said.value, instead.value, reason.strip(), days)
    return Done(f"{plant}: {instead.value}", KINDS, records.add(session, now, plant, facts).value)


def move_looks(session: Session, now: datetime, looks: Sequence[Care], to: date) -> Done[tuple[int, ...]]:
    """Put looks of one plant that lie on one day off to the day `to`, as one deed. Returns the entries' ids.

    Raises Refused, with none of them moved, when one of them is no longer owed or `to` is not in the future.
    """
    found = tuple(care.answer(session, now, look, Reply.PUT_OFF, to).value for look in looks)
    today = rules_of_day(care.surroundings(session), now)
    return Done(f"{looks[0].plant}: {named(looks)}, put off until {day_words(to, today)}", KINDS, found)


def settle(session: Session, now: datetime, plant: int, reason: str = "") -> Done[int]:
    """Call a plant settled: its transition is over. Raises Refused when none is under way."""
    course_of(session, plant, now)
    return Done(f"{plant}: settled", KINDS, records.add(session, now, plant, Settled(reason.strip())).value)


def _courses(plant: Plant, entries: Sequence[Entry], around: Surroundings, now: datetime) -> tuple[Course, ...]:
    if not any(entry.kind is Kind.POTTED for entry in entries):
        return ()
    return rules_of_courses.courses(History(plant, tuple(entries)), _known(plant, around, now))


def _own_under_way(plant: Plant, entries: tuple[Entry, ...], around: Surroundings, now: datetime) -> Course | None:
    return rules_of_courses.under_way(History(plant, entries), _known(plant, around, now))


def _known(plant: Plant, around: Surroundings, now: datetime) -> Known:
    return Known(around.rules, around.zone, now, rots(), full_genus(plant.name, around.genera))


def _rows(known: Record, ahead: Sequence[Care], today: date) -> tuple[Row, ...]:
    looks: dict[int, list[Care]] = defaultdict(list)
    for one in ahead:
        if one.kind in LOOKS:
            looks[one.plant].append(one)
    past = known.all
    rows = [_row(course, known, tuple(looks[course.plant]), past) for course in past
            if course.end is End.RUNNING or (course.end is not End.UNWATCHED
                                             and (today - course.last).days <= SHOWN_DAYS)]
    return tuple(sorted(rows, key=lambda row: (_rank(row.course), row.course.plant)))


def _row(course: Course, known: Record, looks: tuple[Care, ...], past: Sequence[Course]) -> Row:
    name = names.parse(known.plants[course.plant].name)
    if course.end is not End.RUNNING:
        return Row(course, name, (), None)
    return Row(course, name, looks, outlook(course, comparable(course, past, known.habits)))


RANKS = {Verdict.STEP_IN: 0, Verdict.AGAIN: 1, Verdict.SETTLED: 2, Verdict.UNSEEN: 3, Verdict.STAY: 3}


def _rank(course: Course) -> int:
    """What needs hands first, then what is under way, then what is over."""
    return RANKS[course.verdict] if course.end is End.RUNNING else len(RANKS)


def _within(one: Care, around: Surroundings, today: date) -> bool:
    return (day_of(one.due, around.zone, around.rules) - today).days < 7 * WEEKS_AHEAD.value


@cache
def rots() -> dict[str, str]:
    """The rots among the shipped diseases, by key."""
    return {key: pest.name for key, pest in care.pests().items() if key.endswith("-rot")}


def standing_of(session: Session, plant: int, now: datetime) -> tuple[str, str]:
    """How `plant` stands in quarantine, and why."""
    found = quarantine.status(session, now).get(plant)
    return (found.word, found.why) if found is not None else ("clear", "")
