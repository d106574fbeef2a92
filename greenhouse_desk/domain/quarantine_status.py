"""The status of one plant for one pest or disease: after a find, after an exposure, and what must happen next."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass
from datetime import date, datetime, timedelta

from greenhouse_desk.domain.care_day import day_words
from greenhouse_desk.domain.journal import Entry, VirusTested
from greenhouse_desk.domain.origins import DaysApart
from greenhouse_desk.domain.quarantine_exposure import PLACE, SHARED, SITTING, TOOL, Behind, Exposure
from greenhouse_desk.domain.quarantine_finds import UNNAMED, Find, Life, treated_since
from greenhouse_desk.domain.quarantine_looks import NO_NAMES, Counting, Course, course, earliest, next_look

CLEAR, NEVER_LOOKED, EXPOSED, NEWCOMER, SUSPECT, TREATED, INFESTED = range(7)


@dataclass(frozen=True, slots=True)
class Status:
    """How a plant stands with one pest or disease (`what`, "" for none in particular).

    `since` and `entry` tell what put it there (an exposure: the contact's, or the find's where none tells it), `next`
    what must happen, `earliest` the first care day on which it can be over (None: no day can be said), `ignored` which
    clean looks did not count and why, `behind` the plants that exposed it with the entries that rests on and `how`,
    `counted` how many clean looks count so far, `named` the pest or disease in words; `found` tells that `since` is a
    find, close to which no clean look counts; `apart` by what rule a newcomer stands apart; `by_test` tells that a test
    ends it and no look does.
    """

    what: str
    word: str
    why: str
    rank: int
    since: datetime | None = None
    entry: int | None = None
    next: str = ""
    earliest: date | None = None
    ignored: tuple[str, ...] = ()
    behind: tuple[Behind, ...] = ()
    how: str = ""
    counted: int = 0
    named: str = ""
    found: bool = False
    apart: DaysApart | None = None
    by_test: bool = False

    @property
    def sources(self) -> tuple[int, ...]:
        """The plants that exposed it."""
        return tuple(one.plant for one in self.behind)


def spoken(what: str, names: Mapping[str, str] = NO_NAMES) -> str:
    """A pest's or disease's name by `names`; its key in words where it has none."""
    return names.get(what) or what.replace("-", " ") or "something"


def after_find(one: Life, what: str, now: datetime, by: Counting, disease: bool) -> Status:
    """The status from the last find of `what` on: infested until treated, treated until enough clean looks, watched
    until the last of them is late enough, then clear. A virus is suspected, or proven by a test, until the release."""
    find = one.finds[what][-1]
    name = spoken(what, by.names)
    seen = "found by a test" if isinstance(find.entry.facts, VirusTested) else "seen"
    found = f"{name} {seen} on {by.told(find.entry.at)}"
    if by.is_virus(what):
        return _virus(one, what, found, name, by)
    looks = one.course(find, by)
    word, why, rank = _after_looks(one, find, looks, by, disease)
    if what == UNNAMED and rank == INFESTED:
        word, rank = "suspect", SUSPECT
        why = f"a look on {by.told(find.entry.at)} was not clean, but nothing was named"
    else:
        why = f"{found}{why}"
    when = _clear_on(word, looks, now, by)
    return Status(what, word, why, rank, find.entry.at, find.entry.id,
                  _must_happen(word, looks, when, now, by, disease), when, looks.ignored, counted=len(looks.counted),
                  named=name, found=True)


def _virus(one: Life, what: str, found: str, name: str, by: Counting) -> Status:
    """Suspected until a test: one that did not find it ends that, one that did proves it, and no look or test ends it
    then."""
    find, proven = one.finds[what][-1], one.proven(what)
    if find.test is not None:
        return Status(what, "clear", f"{found}, {_test(find.test, by)}", CLEAR, find.test.at, find.test.id, named=name)
    if proven is None:
        return Status(what, "suspect", f"{found}, not tested", SUSPECT, find.entry.at, find.entry.id,
                      "test it; keep it apart, with its own tool, until the test says it is clean", named=name,
                      found=True, by_test=True)
    later = next((test for test in reversed(one.tests) if _negative(test, what) and test.at > proven.entry.at), None)
    but = f", though {_test(later, by)}: have it tested again" if later is not None else ""
    by_test = isinstance(proven.entry.facts, VirusTested)
    told = f"{name} {_test(proven.entry, by)}" if by_test else f"{found}, tested positive"
    return Status(what, "infested", f"{told}: there is no cure{but}", INFESTED, proven.entry.at, proven.entry.id,
                  "keep it apart with its own tool, or let it go", named=name, found=True,
                  by_test=True)


def _negative(test: Entry, what: str) -> bool:
    return isinstance(test.facts, VirusTested) and test.facts.what == what and not test.facts.positive


def _test(entry: Entry, by: Counting) -> str:
    """A test in words: "tested negative on 3 Feb 2026 by a laboratory"."""
    if not isinstance(entry.facts, VirusTested):
        return ""
    return (f"tested {'positive' if entry.facts.positive else 'negative'} on {by.told(entry.at)}"
            f"{' by ' if entry.facts.by else ''}{entry.facts.by}")


def _after_looks(one: Life, find: Find, looks: Course, by: Counting, disease: bool) -> tuple[str, str, int]:
    counted, needed = len(looks.counted), by.rules.clean_looks
    if looks.over:
        return "clear", (f"; {counted} clean looks counted since, the last "
                         f"{by.days(find.entry.at, looks.counted[-1].at)} days after it"), CLEAR
    if looks.watched(by):
        return "under watch", f"; {counted} clean looks counted since", TREATED
    times = treated_since(one, find, disease)
    if times:
        often = "once" if times == 1 else f"{times} times"
        return "under treatment", f"; treated {often} since, {counted} of {needed} clean looks", TREATED
    return "infested", ", not treated since", INFESTED


def after_exposure(one: Life, exposure: Exposure, now: datetime, by: Counting) -> Status | None:
    """Exposed until enough clean looks after the last contact, the last of them late enough; None once that is so, or
    once the plant was released. While it goes on it is `since` now.

    It also lapses when a pest has had longer than it can sit unseen and a look since found none; unlooked at, it never
    does. Nothing but a test or a release ends the exposure to a virus."""
    released = one.released_at(exposure.what)
    if released is not None and released >= exposure.at:
        return None
    since = now if exposure.going else exposure.at
    if by.is_virus(exposure.what):
        return _exposed_to_virus(one, exposure, since, by)
    looks = course(one.looks, since, by, what=exposure.what)
    if looks.over or (looks.counted and by.days(since, now) > by.rules.trace_days):
        return None
    name = spoken(exposure.what, by.names)
    why = f"{_how(exposure, by)}: {name}"
    if not exposure.going:
        why += f"; {len(looks.counted)} clean {'look' if len(looks.counted) == 1 else 'looks'} counted since"
    when = earliest(looks, now, by)
    step = _look_again(looks, when, now, by)
    if exposure.going:
        sick = ", ".join(str(number) for number in exposure.sources)
        step = f"set {sick} apart; from today on it can be clear on {day_words(when, by.day(now))} at the earliest"
    return Status(exposure.what, "exposed", why, EXPOSED, since, _put_there(exposure), step, when, looks.ignored,
                  exposure.behind, exposure.how, len(looks.counted), name)


def _put_there(exposure: Exposure) -> int | None:
    """The entry that put a plant among the exposed."""
    told = [one.contact for one in exposure.behind if one.contact is not None]
    return next(iter([*told, *(one.find for one in exposure.behind)]), None)


def _exposed_to_virus(one: Life, exposure: Exposure, since: datetime, by: Counting) -> Status | None:
    """Exposed until a test that did not find it, taken long enough after the last contact to find it."""
    name, ignored = spoken(exposure.what, by.names), list[str]()
    for test in one.tests:
        if _negative(test, exposure.what) and test.at > exposure.at:
            after = by.days(exposure.at, test.at)
            if after >= by.rules.virus_test_days:
                return None
            ignored.append(f"{_test(test, by)}, which does not count: {after} days after the contact, "
                           f"{by.rules.virus_test_days} are needed")
    return Status(exposure.what, "exposed", f"{_how(exposure, by)}: {name}", EXPOSED, since, _put_there(exposure),
                  f"test it {by.rules.virus_test_days} days after that contact or later, or watch it for signs; its "
                  "own tool until then", None, tuple(ignored), exposure.behind, exposure.how, named=name)


def _how(exposure: Exposure, by: Counting) -> str:
    who, day = ", ".join(str(number) for number in exposure.sources), "" if exposure.going else by.told(exposure.at)
    if exposure.how == PLACE:
        return f"shares its place with {who}" if exposure.going else (
            f"shared its place with {who} while that could pass it on, last on {day}")
    if exposure.how == SITTING:
        return f"worked on after {who} in the bench session of {day}"
    if exposure.how.startswith(SHARED):
        what = exposure.how.removeprefix(SHARED)
        return f"shares {what} with {who}" if exposure.going else f"shared {what} with {who}, last on {day}"
    return f"{exposure.how.removeprefix(TOOL)} came from {who} on {day}, not cleared of it in between"


def _clear_on(word: str, looks: Course, now: datetime, by: Counting) -> date:
    """The first day on which it can be clear of what was found: of what is not treated yet, once treated today."""
    when = earliest(looks, now, by)
    if word not in ("infested", "suspect"):
        return when
    masked = by.day(now) + timedelta(days=by.rules.masked_days)
    return max(when, masked + (by.rules.clean_looks - 1) * timedelta(days=by.rules.looks_apart_days))


def _must_happen(word: str, looks: Course, when: date, now: datetime, by: Counting, disease: bool) -> str:
    if word == "clear":
        return ""
    if word in ("infested", "suspect"):
        first = {"suspect": "find out what it is", "infested": "cut out what is sick" if disease else "wash it"}[word]
        return f"{first} and keep it apart; clear on {day_words(when, by.day(now))} at the earliest"
    return _look_again(looks, when, now, by)


def _look_again(looks: Course, when: date, now: datetime, by: Counting) -> str:
    """How many looks are still wanted, from when the next counts, and when they can be enough."""
    missing, today = by.rules.clean_looks - len(looks.counted), by.day(now)
    more = f"{missing} more clean {'look' if missing == 1 else 'looks'}" if missing > 0 else "a last clean look"
    if missing <= 0:
        return f"{more} on or after {day_words(when, today)}"
    first = next_look(looks, now, by)
    opens = "" if first <= today else f", the next counts from {day_words(first, today)}"
    apart = f"at least {by.rules.looks_apart_days} days apart"
    return f"{more} {apart}{opens}; clear on {day_words(when, today)} at the earliest"
