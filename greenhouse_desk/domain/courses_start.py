"""May a transition start? Each question with its answer, yes, no or not known, and where the answer comes from."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass, field
from datetime import date
from enum import StrEnum
from statistics import fmean

from greenhouse_desk.domain.care_day import day_words
from greenhouse_desk.domain.care_reasons import WORKED_OUT
from greenhouse_desk.domain.care_values import Reason
from greenhouse_desk.domain.courses_values import Look
from greenhouse_desk.domain.figures import Constant
from greenhouse_desk.domain.journal_course import Growing, RootState, Smell
from greenhouse_desk.domain.roots import DEAD_SHARE, many_dead
from greenhouse_desk.domain.year_state import Standing, Word

SEEN_WITHIN = Constant(30, "days", "how long a look answers whether a transition may start", "house rule")
WARM_C = Constant(16, "deg C", "least mean of a place's readings before a transition is started", "from memory")
AIR_DAYS = Constant(14, "days", "how far back readings tell the warmth of a place", "house rule")
MOST_UNDER_WAY = Constant(10, "plants", "most plants in transition at a time", "house rule")
GROWING_MONTHS = frozenset({3, 4, 5, 6, 7, 8})
"""The months of spring and summer in the north; half a year later in the south."""
NEW_ROOTS = "common practice: move when new roots start; old roots cannot change, new ones grow fit for the new medium"
AGAINST = "common practice"


class Answer(StrEnum):
    """What speaks for a start, what against it, and what is not known."""

    YES = "yes"
    NO = "no"
    UNKNOWN = "not known"


@dataclass(frozen=True, slots=True)
class Asked:
    """One question with its answer, why in words, and the source of the rule or of the fact."""

    question: str
    answer: Answer
    words: str
    source: str


@dataclass(frozen=True, slots=True)
class Start:
    """May it start? `answer` is no where one question says no, not known where one is not known, else yes.

    `forced` tells that rot forces the move, whatever the other answers are.
    """

    answer: Answer
    asked: tuple[Asked, ...]
    why: tuple[Reason, ...]
    forced: bool = False


@dataclass(frozen=True, slots=True)
class Surely:
    """What the questions are answered from: the newest look (None: none lately), how the plant stands in quarantine,
    temperatures read at its place lately (deg C), whether lamps light it, how many are under way, north or south.

    `year` is what its own entries say of spikes and rest; `usual_rest` tells that its genus usually rests now, and by
    whose word ("", "": it does not, or is not known).
    """

    today: date
    look: Look | None
    standing: str
    standing_why: str
    temps_c: Sequence[float]
    lamps: bool
    under_way: int
    south: bool = False
    year: Standing = field(default_factory=Standing)
    usual_rest: tuple[str, str] = ("", "")


def may_start(known: Surely) -> Start:
    """All six questions answered, and what they come to."""
    asked = (_roots(known), _rest(known), _spike(known), _apart(known), _season(known), _warm(known), _many(known))
    forced = _rot(known)
    answers = {one.answer for one in asked}
    answer = Answer.YES if forced else Answer.NO if Answer.NO in answers else (
        Answer.UNKNOWN if Answer.UNKNOWN in answers else Answer.YES)
    why = tuple(Reason(f"{one.question} {one.answer.value.capitalize()}: {one.words}", one.source) for one in asked)
    last = (f"Rot forces the move: {forced}" if forced else CONCLUSIONS[answer])
    return Start(answer, asked, (*why, Reason(last, AGAINST if forced else WORKED_OUT)), bool(forced))


CONCLUSIONS = {Answer.YES: "It may start.", Answer.NO: "Better not yet; you may start it all the same, with a reason.",
               Answer.UNKNOWN: "Nothing speaks against it, but not all is known: look first."}


def _look_words(known: Surely) -> str:
    return "" if known.look is None else f"at the look on {day_words(known.look.day, known.today)}"


def _roots(known: Surely) -> Asked:
    question = "New roots seen?"
    if known.look is None or known.look.new_tips is None:
        return Asked(question, Answer.UNKNOWN, f"no root count within {SEEN_WITHIN.value:g} days.", NEW_ROOTS)
    tips = known.look.new_tips
    said = f"{tips} new tip{'' if tips == 1 else 's'} {_look_words(known)}."
    return Asked(question, Answer.YES if tips else Answer.NO, said, NEW_ROOTS)


def _growing(known: Surely, question: str, against: Growing, words: str, said: Word | None) -> Asked:
    """Answered by the newer of the look and the entry of the plant's own year."""
    look, growing = known.look, None if known.look is None else known.look.signs.growing
    if said is not None and (look is None or growing is None or said.at >= look.at):
        told = f"{said.words}, written down on {day_words(said.at.date(), known.today)}."
        return Asked(question, Answer.NO if said.so else Answer.YES, told, said.source)
    if growing is None:
        return Asked(question, Answer.UNKNOWN, f"nobody wrote down lately whether it is {words}.", AGAINST)
    if growing is against:
        return Asked(question, Answer.NO, f"{words} {_look_words(known)}.", AGAINST)
    return Asked(question, Answer.YES, f"{growing.value} {_look_words(known)}.", AGAINST)


def _rest(known: Surely) -> Asked:
    asked = _growing(known, "Out of its rest?", Growing.REST, "at rest", known.year.rest)
    usual, source = known.usual_rest
    if asked.answer is not Answer.UNKNOWN or not usual:
        return asked
    return Asked(asked.question, Answer.UNKNOWN, f"{asked.words.removesuffix('.')}; {usual}.", source)


def _spike(known: Surely) -> Asked:
    return _growing(known, "Free of spikes and buds?", Growing.SPIKE, "in spike or bud", known.year.spike)


def _apart(known: Surely) -> Asked:
    question = "Free to be handled?"
    if known.standing == "clear":
        return Asked(question, Answer.YES, "no quarantine holds it.", AGAINST)
    return Asked(question, Answer.NO, f"{known.standing}: {known.standing_why}.", AGAINST)


def _season(known: Surely) -> Asked:
    question, source = "Growing season?", "from memory: moved in spring and summer, under lamps at any time"
    if known.lamps:
        return Asked(question, Answer.YES, "it stands under lamps.", source)
    month = (known.today.month + 5) % 12 + 1 if known.south else known.today.month
    if month in GROWING_MONTHS:
        return Asked(question, Answer.YES, "the days are long.", source)
    return Asked(question, Answer.NO, "short days: new roots are slow now.", source)


def _warm(known: Surely) -> Asked:
    question = "Warm enough where it stands?"
    if not known.temps_c:
        return Asked(question, Answer.UNKNOWN, f"no reading there within {AIR_DAYS.value:g} days.", WARM_C.source)
    mean = fmean(known.temps_c)
    said = f"{mean:.1f} C on average over {AIR_DAYS.value:g} days, {WARM_C.value:g} C or more is wanted."
    return Asked(question, Answer.YES if mean >= WARM_C.value else Answer.NO, said, WARM_C.source)


def _many(known: Surely) -> Asked:
    said = f"{known.under_way} under way, {MOST_UNDER_WAY.value:g} at most."
    answer = Answer.YES if known.under_way < MOST_UNDER_WAY.value else Answer.NO
    return Asked("Hands free for one more?", answer, said, MOST_UNDER_WAY.source)


def _rot(known: Surely) -> str:
    """What shows that roots rot where they are, "" for nothing."""
    look = known.look
    if look is None:
        return ""
    if look.living is not None and look.dead is not None and many_dead(look.living, look.dead):
        return f"{look.dead} of {look.living + look.dead} roots dead ({DEAD_SHARE.source})."
    if look.signs.roots is RootState.WET or look.signs.smell is Smell.ROTTEN:
        return "its roots are black and wet, or smell rotten."
    return ""
