"""What the Transitions screen says in words: for the head, for those who do not see the chart, and under the mouse."""

from __future__ import annotations

from datetime import date, timedelta
from math import isfinite

from greenhouse_desk.domain.courses_forecast import NoOutlook, Outlook
from greenhouse_desk.domain.courses_moving import after_moving, due_together, named, shown_on
from greenhouse_desk.domain.courses_values import End, Verdict
from greenhouse_desk.domain.sentences import capital
from greenhouse_desk.services.transitions import Overview, Row
from greenhouse_desk.ui import words
from greenhouse_desk.ui.transitions.space import due_day

MARKS = {Verdict.STAY: "stay", Verdict.AGAIN: "look again", Verdict.STEP_IN: "step in", Verdict.SETTLED: "clear",
         Verdict.UNSEEN: "later"}
"""The mark of each verdict; its word always stands beside it."""
SAID_LOOKS = 2
"""On how many days to come the looks are said."""
TOO_FEW = "too few to tell"
IF = " if it follows the others"
"""Said with a forecast of a plant that is doing badly: the others did well."""


def head(told: Overview) -> str:
    """One sentence on how many courses there are and how they are judged."""
    if not told.under_way:
        return "No plant is in transition."
    under_way = words.counted(told.under_way, "course")
    return f"{under_way} under way. A course is judged at its looks, by rule, and the verdict is said in words."


def media(row: Row) -> str:
    """ "bark to clay pellets"."""
    course = row.course
    return f"{course.came_from} to {course.medium}" if course.came_from else f"into {course.medium}"


def verdict(row: Row) -> str:
    """The verdict's word, or how the course ended."""
    course = row.course
    if course.end is End.RUNNING:
        return "settled? you say" if course.verdict is Verdict.SETTLED else course.verdict.value
    return course.end.value


def mark(row: Row) -> str:
    """The mark beside the verdict."""
    return MARKS[row.course.verdict] if row.course.end in (End.RUNNING, End.SETTLED) else "left"


def evidence(row: Row, today: date) -> str:
    """Why, in a few words."""
    course = row.course
    if course.end is not End.RUNNING:
        return f"closed {words.day(course.last, today)}, after {words.counted(course.days // 7, 'week')}"
    if not course.looks:
        return f"first look {words.day(due_day(row.looks[0]), today)}" if row.looks else "no look is due"
    last = course.looks[-1]
    return f"by you; rule: {last.rule.value}, {last.line}" if last.overruled else last.line


def reason(row: Row) -> str:
    """The grower's reason for another verdict than the rule's, "" where none holds."""
    course = row.course
    return course.looks[-1].overruled if course.looks and course.end is End.RUNNING else ""


def next_looks(row: Row, today: date) -> str:
    """ "Next: root check and look again 27 Nov, then root check 11 Dec", "" where none is due."""
    rest, said = row.looks, list[str]()
    while rest and len(said) < SAID_LOOKS:
        together = due_together(rest, today)
        said.append(f"{named(together)} {words.day(shown_on(together[0], today), today)}")
        rest = tuple(look for look in rest if look not in together)
    return f"Next: {', then '.join(said)}." if said else ""


def likely(row: Row, today: date) -> str:
    """ "likely 2 Feb", "2 Feb if it follows the others" where to step in, or that it cannot be told."""
    outlook = row.outlook
    if not isinstance(outlook, Outlook):
        return TOO_FEW if isinstance(outlook, NoOutlook) else ""
    if not isfinite(outlook.likely):
        return "half later than the record"
    day = words.day(row.course.start + timedelta(days=outlook.likely), today)
    return f"{day}{IF}" if row.course.verdict is Verdict.STEP_IN else f"likely {day}"


def row_words(row: Row, today: date) -> str:
    """Everything a row shows, in one sentence or two."""
    course = row.course
    said = [f"{course.plant} {row.name.plain}, {media(row)}, week {course.week}: {verdict(row)}, "
            f"{evidence(row, today)}."]
    if reason(row):
        said.append(f"Your reason: {reason(row)}.")
    if course.end is End.RUNNING:
        said += [f"{care.short.capitalize()} due {words.day(due_day(care), today)}." for care in row.looks[:2]]
        said.append(f"Forecast: {forecast(row, today)}.")
    return " ".join(said)


def forecast(row: Row, today: date) -> str:
    """The days of a forecast and what it rests on, or that it cannot be told."""
    outlook = row.outlook
    if not isinstance(outlook, Outlook):
        return TOO_FEW
    ends = [f"{name} {words.day(row.course.start + timedelta(days=days), today)}" for name, days in (
        ("earliest", outlook.early), ("likely", outlook.likely), ("latest", outlook.late)) if isfinite(days)]
    doubt = IF if row.course.verdict is Verdict.STEP_IN else ""
    return f"{', '.join(ends)}{doubt}, by {outlook.group}, n\u00a0=\u00a0{outlook.plants}"


def moving(row: Row, to: date, today: date) -> list[str]:
    """While looks are moved: which ones and the day they would go to, then what the look after them becomes."""
    looks = due_together(row.looks, today)
    after = after_moving(row.looks, looks, to, today)
    return [f"{capital(named(looks))}: {words.weekday(to)}.", *([after] if after else [])]
