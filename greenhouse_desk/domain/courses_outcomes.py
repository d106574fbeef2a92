"""Stepping in or leaving alone: what became of the plants whose looks left a doubt, with the small numbers said."""

from __future__ import annotations

from collections.abc import Iterable, Sequence
from dataclasses import dataclass
from datetime import date

from greenhouse_desk.domain.care_values import Reason
from greenhouse_desk.domain.courses_forecast import watched
from greenhouse_desk.domain.courses_values import Course, End, Verdict
from greenhouse_desk.domain.figures import Unknown
from greenhouse_desk.domain.sampling import wilson
from greenhouse_desk.domain.transitions import FEWEST_SETTLED, LogRank, compared

DOUBT = (Verdict.AGAIN, Verdict.STEP_IN)


@dataclass(frozen=True, slots=True)
class Outcome:
    """How many of a group settled, died, left or are under way still; `courses` are theirs."""

    courses: tuple[Course, ...]

    def count(self, *ends: End) -> int:
        """How many ended so."""
        return sum(course.end in ends for course in self.courses)

    @property
    def words(self) -> str:
        """"5: 3 settled, 1 died, 1 under way"."""
        told = ((self.count(End.SETTLED), "settled"), (self.count(End.DIED), "died"),
                (self.count(End.RUNNING), "under way"),
                (self.count(End.LEFT, End.MOVED, End.UNWATCHED), "no longer watched"))
        said = ", ".join(f"{count} {word}" for count, word in told if count)
        return f"{len(self.courses)}: {said}" if said else "none"


@dataclass(frozen=True, slots=True)
class Outcomes:
    """Courses with a doubtful look, parted by whether hands went in after it; `compared` is their settling, or why not.
    """

    stepped: Outcome
    alone: Outcome
    compared: LogRank | Unknown
    why: tuple[Reason, ...]


def doubtful_on(course: Course) -> date | None:
    """The day of the first look that left a doubt by the rules, None where none did."""
    return next((one.look.day for one in course.looks if one.rule in DOUBT), None)


def stepped_in(course: Course) -> bool | None:
    """Whether hands went in on or after the day of the first doubt; None where no look left one."""
    day = doubtful_on(course)
    return None if day is None else any(one >= day for one in course.stepped)


def outcomes(courses: Iterable[Course]) -> Outcomes:
    """The comparison over these courses."""
    stepped: list[Course] = []
    alone: list[Course] = []
    for course in courses:
        hands = stepped_in(course)
        if hands is not None:
            (stepped if hands else alone).append(course)
    found = compared(*watched(stepped), *watched(alone))
    return Outcomes(Outcome(tuple(stepped)), Outcome(tuple(alone)), found, _why(stepped, alone, found))


def _why(stepped: Sequence[Course], alone: Sequence[Course], found: LogRank | Unknown) -> tuple[Reason, ...]:
    said = (Reason(f"Stepped in after a doubtful look, {Outcome(tuple(stepped)).words}.", "your own record"),
            Reason(f"Left alone after one, {Outcome(tuple(alone)).words}.", "your own record"),
            _survival(Outcome(tuple(stepped)), Outcome(tuple(alone))))
    chosen = Reason("You chose which to step in on, most likely the worse ones: the two groups were not alike to begin "
                    "with.", "derived here")
    if isinstance(found, Unknown):
        return (*said, chosen, Reason(f"No comparison: {found.why}", FEWEST_SETTLED.source))
    settled = f"{found.observed[0]:.0f} settled where {found.expected[0]:.1f} were to be expected"
    chance = f"the chance of so large a difference between groups alike is {found.p * 100:.0f} in 100"
    return (*said, chosen, Reason(f"Of those stepped in on, {settled}; {chance}.",
                                  "derived here: log-rank, Mantel 1966"))


def _survival(stepped: Outcome, alone: Outcome) -> Reason:
    """How many of each group died, of those whose end is known, with how far so few plants can tell."""
    told = f"stepped in on, {_died(stepped)}; left alone, {_died(alone)}"
    return Reason(f"Died, of those that settled or died: {told}.", "derived here: Wilson's score interval, 95 %")


def _died(one: Outcome) -> str:
    died, known = one.count(End.DIED), one.count(End.DIED, End.SETTLED)
    if not known:
        return "none has come to an end"
    span = wilson(died, known)
    return f"{died} of {known}, so {100 * span.low:.0f} to {100 * span.high:.0f} % of such plants"
