"""The verdict at a look, by rule: step in, look again, stay the course, or settled; the grower may overrule it."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import replace
from functools import lru_cache

from greenhouse_desk.domain.care_reasons import WORKED_OUT
from greenhouse_desk.domain.care_values import Reason
from greenhouse_desk.domain.courses_signs import PRACTICE, Seen, Sign, signs
from greenhouse_desk.domain.courses_values import Judged, Look, Verdict
from greenhouse_desk.domain.figures import Constant
from greenhouse_desk.domain.journal import Entry, Overruled
from greenhouse_desk.domain.journal_course import Crown, Leaves, Stand
from greenhouse_desk.domain.transitions import SETTLED_WEEKS

GOOD_LOOKS = Constant(2, "looks", "looks in a row with new tips and nothing amiss that a settled plant needs",
                      "house rule")
SOONEST_WEEKS = Constant(8, "weeks", "no plant is proposed as settled before", "house rule")
ONE_MORE_DAYS = Constant(28, "days", "next look after the row of looks is over, the plant not settled", "house rule")
STEP_DAYS = Constant(7, "days", "next look after a plant was found to need stepping in", "house rule")

DEFAULT_WORDS = Reason("Leaving the whole root system on and watching is the default; cutting everything at once is "
                       "not.", PRACTICE)
CULTURE = "Look at water, salt and air before it goes back into the same: so many dead roots point at the culture."
TRIM = "Take it to the bench: unpot, cut away what is dead, keep every living root, pot into clean pellets."
APART = "Set it apart from its neighbours until you know what it is."
DRY_CROWN = "Tip out any water, blot the crown, moving air on it, and no water there."
PLAIN = "Plain water only, until a new root tip shows."


def judge(seen: Seen, entries: Sequence[Entry] = ()) -> Judged:
    """The verdict on a look; `entries` are those that overruled it, oldest first."""
    return _overruled(_by_rule(seen), entries)


@lru_cache(maxsize=16_384)  # asked for again whenever the plant's care is
def _by_rule(seen: Seen) -> Judged:
    found = signs(seen)
    worst = found[0].verdict if found else Verdict.STAY
    if worst is Verdict.STEP_IN:
        return _step_in(seen, found)
    if worst is Verdict.AGAIN:
        return _again(seen, found)
    return _stay(seen, found)


@lru_cache(maxsize=16_384)
def good(look: Look) -> bool:
    """Whether a look speaks for settling: new tips, and nothing amiss in leaves, crown or stand."""
    told = look.signs
    return bool(look.new_tips) and told.leaves is not Leaves.LIMP and told.stand is not Stand.LOOSE and (
        told.crown is not Crown.SOFT) and not signs_against(look)


def signs_against(look: Look) -> bool:
    """Whether any sign of this look alone asks for another look or for stepping in."""
    found = signs(Seen(look, 1, "Paphiopedilum", ()))  # brown roots alone speak against nothing here
    return any(sign.verdict is not Verdict.STAY for sign in found)


def _reasons(found: Sequence[Sign]) -> tuple[Reason, ...]:
    return tuple(Reason(sign.text, sign.source) for sign in found)


def _line(found: Sequence[Sign]) -> str:
    return ", ".join(sign.short for sign in found[:2]) or "nothing amiss was written down"


def _step_in(seen: Seen, found: Sequence[Sign]) -> Judged:
    grave = [sign for sign in found if sign.verdict is Verdict.STEP_IN]
    why = (*_reasons(grave), Reason("Step in now: waiting lets it spread.", WORKED_OUT))
    return Judged(seen.look, Verdict.STEP_IN, Verdict.STEP_IN, _line(grave), why, int(STEP_DAYS.value),
                  tuple(_steps(seen.look, grave)))


def _steps(look: Look, grave: Sequence[Sign]) -> list[str]:
    crown = look.signs.crown is Crown.SOFT
    roots = any(sign.short != "crown soft" and sign.short != f"{look.rot} seen" for sign in grave)
    steps = [APART] if crown or look.rot else []
    steps += [DRY_CROWN] if crown else []
    return [*steps, TRIM, *([CULTURE] if roots else []), PLAIN]


def _again(seen: Seen, found: Sequence[Sign]) -> Judged:
    wanting = [sign for sign in found if sign.verdict is Verdict.AGAIN]
    days = min(sign.days for sign in wanting)
    why = (*_reasons(found), DEFAULT_WORDS, Reason(f"Too early to step in: look again in {days} days.", WORKED_OUT))
    return Judged(seen.look, Verdict.AGAIN, Verdict.AGAIN, _line(wanting), why, days)


def _stay(seen: Seen, found: Sequence[Sign]) -> Judged:
    enough = _good_running(seen) >= GOOD_LOOKS.value
    told = _reasons(found) or (Reason("Nothing amiss was written down at this look.", "the plant's journal"),)
    firm = seen.look.signs.stand is Stand.FIRM
    if enough and (seen.weeks >= SETTLED_WEEKS.value or (firm and seen.weeks >= SOONEST_WEEKS.value)):
        why = (*told, Reason(f"{GOOD_LOOKS.value:g} looks running show new tips and nothing amiss"
                             f"{', and it stands firm' if firm else ''}.", GOOD_LOOKS.source),
               Reason("It may be called settled; you say so.", WORKED_OUT))
        return Judged(seen.look, Verdict.SETTLED, Verdict.SETTLED, _line(found), why)
    if seen.weeks >= SETTLED_WEEKS.value:
        days = int(ONE_MORE_DAYS.value)
        why = (*told, Reason(f"The usual {SETTLED_WEEKS.value:g} weeks are over, but not yet "
                             f"{GOOD_LOOKS.value:g} good looks running.", SETTLED_WEEKS.source),
               Reason(f"Look again in {days} days.", WORKED_OUT))
        return Judged(seen.look, Verdict.AGAIN, Verdict.AGAIN, "not settled in the usual weeks", why, days)
    why = (*told, DEFAULT_WORDS, Reason("Stay the course: nothing to do but the usual looks.", WORKED_OUT))
    return Judged(seen.look, Verdict.STAY, Verdict.STAY, _line(found), why)


def _good_running(seen: Seen) -> int:
    running = 0
    for look in (seen.look, *reversed(seen.before)):
        if not good(look):
            break
        running += 1
    return running


def _overruled(judged: Judged, entries: Sequence[Entry]) -> Judged:
    for entry in entries:
        facts = entry.facts
        if isinstance(facts, Overruled):
            told = Reason(f"You went another way: {facts.instead} instead of {judged.rule}, because {facts.reason}.",
                          f"journal entry {entry.id}")
            judged = replace(judged, verdict=Verdict(facts.instead), days=facts.days, why=(*judged.why, told),
                             overruled=facts.reason, steps=(), entry=entry.id)
    return judged
