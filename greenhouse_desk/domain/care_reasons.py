"""The steps of a "why?": sentences built from the entry, the figure and the answer that were used."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from datetime import date
from typing import Any

from greenhouse_desk.domain.care_asked import Asked
from greenhouse_desk.domain.care_day import clock_words, day_words
from greenhouse_desk.domain.care_values import Reason
from greenhouse_desk.domain.figures import counted
from greenhouse_desk.domain.journal import Answer, Cut, Entry, Part, Potted, Reply, Sighted, Treated, Wetted
from greenhouse_desk.domain.settings import RULES

NOT_NAMED = "an agent not named"
WORKED_OUT = "worked out from the steps above"


def told(ask: Asked, entry: Entry, words: str) -> tuple[Reason, ...]:
    """The entry a care rests on, and the day it counts for when it was done past midnight."""
    local = entry.at.astimezone(ask.zone)
    stamp = f"{day_words(local.date(), ask.today)} {clock_words(entry.at, ask.zone)}"
    note = f" ({entry.note})" if entry.note else ""
    first = Reason(f"{stamp}: {words}{note}.", f"journal entry {entry.id}")
    day = ask.day(entry.at)
    if day == local.date():
        return (first,)
    ends = ask.rules.day_ends_at.strftime("%H:%M")
    turn = f"The day ends at {ends}, so this counts for the evening of {day_words(day, ask.today)}."
    return first, figure(ask, "day_ends_at_hour", turn)


def figure(ask: Asked, rule: str, text: str) -> Reason:
    """A sentence that uses a house rule's figure, with the rule's mark, and its default when the grower changed it."""
    field = RULES[rule]
    value: Any = getattr(ask.rules, rule)
    unit = field.metadata["unit"]
    told = counted(value, unit.removesuffix("s")) if unit.endswith("s") else f"{value} {unit}"
    source = f"{field.metadata['label']}: {told}"
    if value == field.default:
        return Reason(text, f"{source}; {field.metadata['source']}")
    return Reason(text, f"{source}, set in this house; the program's own is {field.default} "
                        f"({field.metadata['source']})")


def answer_reason(ask: Asked, entry: Entry, answer: Answer) -> Reason:
    """What the grower, or the silence after an alarm, said to this care."""
    day = day_words(ask.day(entry.at), ask.today)
    said = {
        Reply.PUT_OFF: f"{day}: put off until {'-' if answer.until is None else day_words(answer.until, ask.today)}",
        Reply.MISSED: f"{day}: the alarm at {clock_words(entry.at, ask.zone)} was not answered; it is still owed",
        Reply.DONE: f"{day}: answered as done",
        Reply.DECLINED: f"{day}: declined",
    }[answer.reply]
    why = f", because {answer.reason}" if answer.reason else ""
    return Reason(f"{said}{why}.", f"journal entry {entry.id}")


def conclusion(text: str) -> Reason:
    """The last step."""
    return Reason(text, WORKED_OUT)


def due_words(ask: Asked, opens: date | None, due: date, latest: date) -> Reason:
    """The last step: the day it is due, or the days of its window from `opens` (None: from the day it is due)."""
    if due == latest:
        return conclusion(f"Due on {on(due, ask)}.")
    start = f"Due on {on(due, ask)}" if opens is None else f"Due from {on(opens, ask)}"
    return conclusion(f"{start}, at the latest on {on(latest, ask)}.")


def listed_days(days: Sequence[str]) -> str:
    """Days of one month share its name: "8, 11 and 20 Nov"; of several keep their own."""
    month = days[-1].partition(" ")[2]
    short = [day.removesuffix(f" {month}") for day in days[:-1]]
    return f"{', '.join(short)} and {days[-1]}" if short else days[-1]


def on(day: date, ask: Asked) -> str:
    """A day in words, seen from today."""
    return day_words(day, ask.today)


def parts_words(parts: tuple[Part, ...]) -> str:
    """"leaves and crown"."""
    words = [part.value for part in parts]
    return " and ".join([", ".join(words[:-1]), words[-1]] if len(words) > 1 else words) or "plant"


def agent_words(agent: str, strength: float | None, names: Mapping[str, str]) -> str:
    """"hydrogen peroxide 3 %", or without the strength when it is used as sold; an agent without a name by its key."""
    name = names.get(agent) or agent.replace("-", " ").replace("_", " ") or NOT_NAMED
    return name if strength is None else f"{name} {strength:g} %"


def entry_words(ask: Asked, entry: Entry) -> str:
    """What an entry that causes care tells, in a few words."""
    match entry.facts:
        case Treated(agent, purpose, parts, strength):
            where = f" of {parts_words(parts)}" if parts else ""
            return f"{purpose.value}{where} with {agent_words(agent, strength, ask.agents)}"
        case Wetted(parts, pool):
            return f"water on {parts_words(parts)}" + (", standing in the crown" if pool else "")
        case Cut(part, count):
            return f"{count} {'cut' if count == 1 else 'cuts'} made on the {part.value}"
        case Sighted(what):
            return f"{ask.pests[what].name if what in ask.pests else what} seen"
        case Potted(medium, pot, transition):
            where = f"{medium}, {pot}" if pot else medium
            return f"moved to another medium: {where}" if transition else f"potted into {where}"
    return str(entry.kind.value)
