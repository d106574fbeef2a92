"""The rules of contacts, the trace, a source's record and an outbreak's end: how each is broken, and who notices."""

from __future__ import annotations

from collections.abc import Callable, Mapping
from datetime import timedelta

from greenhouse_desk.domain import contacts, dealings, origins, outbreak, trace
from greenhouse_desk.domain.care_values import Care, CareKind, Reason
from greenhouse_desk.domain.contacts import Cleaned, Handled, Share, Stay, Touch, Worked
from greenhouse_desk.domain.dealings import source_record, trading_checks
from greenhouse_desk.domain.journal import Arrived
from greenhouse_desk.domain.outbreak import concerned, last_to_clear
from greenhouse_desk.domain.quarantine_finds import life
from greenhouse_desk.domain.quarantine_looks import Counting
from greenhouse_desk.domain.settings import HouseRules
from tests.builders import NOW, ago, history, plant
from tests.domain.quarantine_rules import Broken
from tests.domain.test_quarantine_contacts import CLEAN, HERE, MITE, Written
from tests.domain.test_quarantine_scenarios import CAME, DIED, ON_SILL, Told, at, placed, told
from tests.domain.test_quarantine_scenarios import CLEAN as LOOK
from tests.domain.test_quarantine_scenarios import MITE as FLAT
from tests.domain.test_trace_hours import DAY, back, cuts, met
from tests.domain.test_trace_hours import at as hour

APART = 9
BY = Counting(HouseRules(), NOW.tzinfo or DAY.tzinfo)  # type: ignore[arg-type]
LONG = trace.Contact(101, 102, DAY.date() - timedelta(days=60), DAY.date() - timedelta(days=40))


def pairs(handled: Handled, stays: tuple[Stay, ...] = (), shares: tuple[Share, ...] = ()) -> object:
    return sorted((one.a, one.b, one.one_way) for one in met(handled, stays, shares))


def record(*written: Written, place: int = APART) -> object:
    found = source_record([history(*written, of=plant(101, place=place))], frozenset({APART}), NOW, BY)
    return found.had, found.unlooked, len(found.found), found.later, found.new


def owing(kind: CareKind) -> Care:
    """Care of that kind, due on day 62."""
    due = at(62).date()
    return Care(101, kind, "what is owed", "owed", due, due, due, (Reason("because", "here"),), 1)


def trading(*story: Told, cares: tuple[Care, ...] = ()) -> object:
    """The verdicts of the check list on day 60."""
    every = [one for one in story if one[0] == 101]
    facts = history(*((at(when), one) for _, when, one in every), of=plant(101, place=1))
    standing = told(list(story), 60, Handled())[101]
    checks = trading_checks(life(facts, at(60.5), BY), standing, cares, at(60.5), BY)
    return "".join(check.verdict.value[0] for check in checks)


def outbreak_of(day: int) -> object:
    story = [*ON_SILL, (102, 5, FLAT), (102, 6, DIED)]
    those = concerned(told(story, day, Handled()), told(story, 5, Handled()), frozenset({101}), "flat-mite")
    return [(one.plant, one.word, one.found, one.open) for one in those]


def cleared_last(growing: frozenset[int]) -> object:
    """Who was held back to the end of the outbreak of day 5, asked on day 12."""
    before = told([*ON_SILL, (102, 5, FLAT)], 12, Handled())
    those = concerned(before, told([*ON_SILL, (102, 5, FLAT)], 5, Handled()), frozenset({101, 102}), "flat-mite")
    return last_to_clear(before, those, "flat-mite", growing)


SITTING = Handled(worked=(Worked(1, 102, hour(8), hour(9)), Worked(1, 101, hour(10), hour(11))))
ENOUGH: tuple[Told, ...] = (*ON_SILL, (101, 40, LOOK), (101, 50, LOOK))
SCENES: Mapping[str, Callable[[], object]] = {
    "alcohol between two cuts": lambda: pairs(Handled(cuts(("A", 102, 9), ("A", 101, 10)).touches,
                                                      (Cleaned("A", hour(9.5)),))),
    "one blade, two sessions": lambda: pairs(Handled((Touch("A", 102, hour(9), 1), Touch("A", 101, hour(10), 2)))),
    "one blade, one session": lambda: pairs(cuts(("A", 102, 9), ("A", 102, 9.5), ("A", 101, 10))),
    "one after the other in a sitting": lambda: pairs(SITTING),
    "one left as the other came": lambda: pairs(Handled(), (Stay(101, 1, hour(1), hour(9)),
                                                            Stay(102, 1, hour(9), hour(12)))),
    "water of a day to come": lambda: pairs(Handled(), (), (Share((101, 102), "wash water", hour(24 * 40),
                                                                  hour(24 * 40)),)),
    "met before the window": lambda: back(LONG),
    "cut in the wrong order": lambda: back(*met(cuts(("B", 102, 9), ("B", 101, 10), ("A", 103, 11), ("A", 102, 12)))),
    "carried one way": lambda: back(*met(cuts(("A", 101, 9), ("A", 102, 10)))),
    "found apart": lambda: record((ago(days=30), Arrived()), (ago(days=30), HERE), (ago(days=20), MITE), place=1),
    "came lately": lambda: record((ago(days=5), Arrived()), (ago(days=3), CLEAN), place=1),
    "never looked at": lambda: record((ago(days=90), Arrived()), place=1),
    "found long after it came": lambda: record((ago(days=90), Arrived()), (ago(days=20), MITE), place=1),
    "traded while infested": lambda: trading(*ON_SILL, (101, 58, FLAT)),
    "traded while exposed": lambda: trading(*ON_SILL, (102, 5, FLAT), (101, 58, LOOK)),
    "traded while new": lambda: trading((101, 55, CAME), (101, 55, placed(1)), (101, 58, LOOK)),
    "traded unlooked at": lambda: trading(*ON_SILL),
    "traded after looks enough": lambda: trading(*ON_SILL, (101, 40, LOOK), (101, 50, LOOK)),
    "traded with a wash owed": lambda: trading(*ENOUGH, cares=(owing(CareKind.WASH_REPEAT),)),
    "traded on plain water": lambda: trading(*ENOUGH, cares=(owing(CareKind.PLAIN_WATER),)),
    "traded in its dry rest": lambda: trading(*ENOUGH, cares=(owing(CareKind.DRY_REST),)),
    "an outbreak whose plant died": lambda: outbreak_of(60),
    "an outbreak's last plants": lambda: cleared_last(frozenset({101})),
}
WHOLE: Mapping[str, object] = {
    "alcohol between two cuts": [], "one blade, two sessions": [], "one blade, one session": [(102, 101, True)] * 2,
    "one after the other in a sitting": [(102, 101, True)], "one left as the other came": [],
    "water of a day to come": [], "met before the window": set(), "cut in the wrong order": {102},
    "carried one way": set(), "found apart": (1, 0, 1, (), 0), "came lately": (0, 0, 0, (), 1),
    "never looked at": (0, 1, 0, (), 0), "found long after it came": (1, 0, 0, (101,), 0),
    "traded while infested": "fppupp", "traded while exposed": "pfpfpp", "traded while new": "ppffpp",
    "traded unlooked at": "uppupp", "traded after looks enough": "pppppp",
    "traded with a wash owed": "ppppfp", "traded on plain water": "pppppf", "traded in its dry rest": "pppppp",
    "an outbreak's last plants": (101,),
    "an outbreak whose plant died": [(102, "clear", True, False), (101, "exposed", False, True)],
}
BROKEN = [
    Broken("a soak cleans the blade", contacts._by_tools, "before = before if virus and not event.virus else []",
           "pass", "alcohol between two cuts"),
    Broken("blades are laid out clean", contacts._by_tools, "before[-1].sitting != event.sitting and not virus",
           "False", "one blade, two sessions"),
    Broken("a plant meets not itself", contacts._by_tools, "if one.plant != event.plant", "if True",
           "one blade, one session"),
    Broken("hands go on one way where the first was done with", contacts._sat, "if other.first > one.last:",
           "if False:", "one after the other in a sitting"),
    Broken("only those still there meet one that comes", contacts._together, "if other.end > stay.start", "if True",
           "one left as the other came"),
    Broken("what is to come has not happened", contacts.contacts, "for share in shares if share.start <= until",
           "for share in shares if True", "water of a day to come"),
    Broken("nothing is walked before the window", trace.trace, "if end < first:", "if False:",
           "met before the window"),
    Broken("what a blade left by then it carries, nothing later", trace._walk, "if at > closes or", "if",
           "cut in the wrong order"),
    Broken("one way is one way", trace.trace, "earlier[contact.b].append((contact.a,",
           "earlier[contact.a].append((contact.b,", "carried one way"),
    Broken("a find in its days apart counts against the source", origins.shows_apart,
           "0 <= by.days(came, find.at) < by.rules.isolation_days", "False", "found apart"),
    Broken("a find long after proves nothing", origins.shows_apart,
           "0 <= by.days(came, find.at) < by.rules.isolation_days", "True", "found long after it came"),
    Broken("too new is not counted", origins.tells, "by.days(came, now) < by.rules.isolation_days", "False",
           "came lately"),
    Broken("without a look nothing is told", origins.tells, "if one.looked or one.finds", "if True",
           "never looked at"),
    Broken("what showed only later is told apart", dealings.source_record, "later.append(one.number)", "pass",
           "found long after it came"),
    Broken("nothing on it that is not over", dealings._nothing_found,
           "if any(status.rank >= SUSPECT for status in standing.statuses):", "if False:", "traded while infested"),
    Broken("unlooked at, nothing is known", dealings._nothing_found, "if not one.looked:", "if False:",
           "traded unlooked at"),
    Broken("no exposure that still counts", dealings._not_exposed, "if not exposed:", "if True:",
           "traded while exposed"),
    Broken("its days apart over", dealings._not_new, "if new else", "if False else", "traded while new"),
    Broken("looks enough", dealings._looks, "elif counted >= needed:", "elif False:", "traded after looks enough"),
    Broken("a look never made is none that failed", dealings._looks,
           "standing.rank == NEVER_LOOKED or not one.looked", "False", "traded unlooked at"),
    Broken("no wash is owed", dealings._treated_out, "if not owed:", "if True:", "traded with a wash owed"),
    Broken("plain water keeps a plant here", dealings._no_hold, "if water:", "if False:", "traded on plain water"),
    Broken("a dry rest goes with it", dealings._no_hold, "care.kind is CareKind.PLAIN_WATER", "True",
           "traded in its dry rest"),
    Broken("one that left became clear of nothing", outbreak.last_to_clear, "one.plant in growing and", "",
           "an outbreak's last plants"),
    Broken("one that left keeps no outbreak open", outbreak.concerned, "if number not in growing:", "if False:",
           "an outbreak whose plant died"),
    Broken("those on which it was found are told apart", outbreak.concerned, "status.rank > EXPOSED", "False",
           "an outbreak whose plant died"),
]
CHECKED = [*(vars(dealings)[name] for name in ("_nothing_found", "_not_exposed", "_not_new", "_looks", "_treated_out",
                                               "_no_hold")), outbreak.concerned, outbreak.last_to_clear]
"""The checks of the list before trading, and who keeps an outbreak open: each is broken above."""
