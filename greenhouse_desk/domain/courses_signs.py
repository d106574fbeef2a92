"""What single signs at a look mean: each rule finds one sign, says how grave it is, and where that comes from."""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import dataclass

from greenhouse_desk.domain.courses_values import Look, Verdict
from greenhouse_desk.domain.figures import Constant
from greenhouse_desk.domain.journal_course import Crown, Leaves, RootState, Smell, Stand
from greenhouse_desk.domain.roots import DEAD_SHARE, many_dead

SOON_DAYS = Constant(7, "days", "next look after limp leaves, a loose plant or a sour smell", "house rule")
LATER_DAYS = Constant(14, "days", "next look after a rising share of dead roots, or no new tip", "house rule")
TIP_WEEKS = Constant(8, "weeks", "without a new root tip, a transition is looked at again after", "house rule")
SLIPPERS = frozenset({"paphiopedilum", "phragmipedium", "cypripedium", "selenipedium", "mexipedium"})
"""Slipper orchids: their living roots are brown and hairy."""
BROWN_SOURCE = "common practice: slipper orchids have brown, hairy living roots, judge by firmness only"
DEAD_SOURCE = "common practice: dead roots are hollow, flat, papery, squashy, or black and wet"
PRACTICE = "common practice"


@dataclass(frozen=True, slots=True)
class Sign:
    """One sign: the verdict it asks for, its few words, the sentence, where it comes from, days to the next look."""

    verdict: Verdict
    short: str
    text: str
    source: str
    days: int = 0


@dataclass(frozen=True, slots=True)
class Seen:
    """A look to be judged: after how many whole weeks of the course, of which genus, after which other looks."""

    look: Look
    weeks: int
    genus: str
    before: tuple[Look, ...]

    @property
    def slipper(self) -> bool:
        """Whether living roots of this genus are brown."""
        return self.genus.casefold() in SLIPPERS


Rule = Callable[[Seen], Sign | None]


def signs(seen: Seen) -> list[Sign]:
    """Every sign that speaks at this look, the gravest first."""
    found = [sign for rule in RULES if (sign := rule(seen)) is not None]
    return sorted(found, key=lambda sign: (ORDER.index(sign.verdict), sign.days))


ORDER = (Verdict.STEP_IN, Verdict.AGAIN, Verdict.STAY)


def _crown(seen: Seen) -> Sign | None:
    if seen.look.signs.crown is not Crown.SOFT:
        return None
    return Sign(Verdict.STEP_IN, "crown soft", "The crown is soft.", PRACTICE)


def _rot(seen: Seen) -> Sign | None:
    if not seen.look.rot:
        return None
    return Sign(Verdict.STEP_IN, f"{seen.look.rot} seen", f"{seen.look.rot.capitalize()} was seen on the plant.",
                PRACTICE)


def _many_dead(seen: Seen) -> Sign | None:
    living, dead = seen.look.living, seen.look.dead
    if living is None or dead is None or not many_dead(living, dead):
        return None
    return Sign(Verdict.STEP_IN, f"{dead} of {living + dead} roots dead",
                f"{dead} of {living + dead} roots are dead, more than a third.", DEAD_SHARE.source)


def _none_left(seen: Seen) -> Sign | None:
    if seen.look.living != 0 or seen.look.dead:
        return None
    return Sign(Verdict.STEP_IN, "no root left", "Not one root was counted.", PRACTICE)


def _wet(seen: Seen) -> Sign | None:
    if seen.look.signs.roots is not RootState.WET:
        return None
    return Sign(Verdict.STEP_IN, "roots rot", "Roots are black, wet or squashy: wet rot.", DEAD_SOURCE)


def _smell(seen: Seen) -> Sign | None:
    if seen.look.signs.smell is Smell.ROTTEN:
        return Sign(Verdict.STEP_IN, "smells rotten", "The pot smells rotten: wet rot.", PRACTICE)
    if seen.look.signs.smell is Smell.SOUR:
        return Sign(Verdict.AGAIN, "smells sour", "The pot smells sour.", PRACTICE, int(SOON_DAYS.value))
    return None


def _limp(seen: Seen) -> Sign | None:
    if seen.look.signs.leaves is not Leaves.LIMP:
        return None
    return Sign(Verdict.AGAIN, "leaves limp", "The leaves are limp.", PRACTICE, int(SOON_DAYS.value))


def _loose(seen: Seen) -> Sign | None:
    if seen.look.signs.stand is not Stand.LOOSE:
        return None
    return Sign(Verdict.AGAIN, "loose in the pot", "The plant stands loose in its pot.", PRACTICE,
                int(SOON_DAYS.value))


def _rising(seen: Seen) -> Sign | None:
    now = seen.look.dead_share
    shares = [look.dead_share for look in seen.before if look.dead_share is not None]
    if now is None or not shares or now <= shares[-1]:
        return None
    span = f"from {shares[-1] * 100:.0f} to {now * 100:.0f} %"
    return Sign(Verdict.AGAIN, f"dead share {span}", f"The share of dead roots rose {span} since the last count.",
                PRACTICE, int(LATER_DAYS.value))


def _brown(seen: Seen) -> Sign | None:
    if seen.look.signs.roots is not RootState.BROWN:
        return None
    if seen.slipper:
        return Sign(Verdict.STAY, "roots brown, firm", f"Its roots are brown, but firm; {seen.genus} is judged by "
                    "firmness only.", BROWN_SOURCE)
    return Sign(Verdict.AGAIN, "roots brown", "The roots are firm, but brown.", "from memory", int(LATER_DAYS.value))


def _no_tip(seen: Seen) -> Sign | None:
    tips = [look.new_tips for look in (*seen.before, seen.look) if look.new_tips is not None]
    if seen.look.new_tips is None or any(tips) or seen.weeks < TIP_WEEKS.value:
        return None
    return Sign(Verdict.AGAIN, f"no new tip in {seen.weeks} weeks", f"No new root tip was seen in {seen.weeks} weeks; "
                f"one is expected within {TIP_WEEKS.value:g}.", TIP_WEEKS.source, int(LATER_DAYS.value))


def _tips(seen: Seen) -> Sign | None:
    tips = seen.look.new_tips
    if not tips:
        return None
    return Sign(Verdict.STAY, f"{tips} new tip{'' if tips == 1 else 's'}",
                f"{tips} new root tip{'' if tips == 1 else 's'}: roots that grow now are fit for the new medium.",
                "common practice: old roots cannot change, new ones grow fit for the new medium")


def _firm(seen: Seen) -> Sign | None:
    look = seen.look
    if look.living is None or look.dead is None or look.living == 0 or many_dead(look.living, look.dead):
        return None
    return Sign(Verdict.STAY, f"{look.living} of {look.living + look.dead} roots firm",
                f"{look.living} of {look.living + look.dead} roots are firm.", DEAD_SOURCE)


def _stands(seen: Seen) -> Sign | None:
    if seen.look.signs.stand is not Stand.FIRM:
        return None
    return Sign(Verdict.STAY, "stands firm", "The plant stands firm in its pot.", PRACTICE)


RULES: tuple[Rule, ...] = (_crown, _rot, _wet, _none_left, _many_dead, _smell, _limp, _loose, _rising, _brown, _no_tip,
                           _tips, _firm, _stands)
