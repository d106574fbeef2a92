"""What stands open until it is done: an agent to rinse off, a cut to dress, a plant out of its pot. None lapses."""

from __future__ import annotations

from collections.abc import Iterable

from greenhouse_desk.domain.care_asked import BESIDE, Asked, in_time, pairs
from greenhouse_desk.domain.care_reasons import entry_words, told
from greenhouse_desk.domain.care_settled import Window, owe
from greenhouse_desk.domain.care_values import Care, CareKind, Reason
from greenhouse_desk.domain.journal import Cut, Dressed, Entry, Facts, Potted, Step, Treated, Unpotted
from greenhouse_desk.domain.journal_words import STOPPED


def rinse_off(ask: Asked) -> tuple[Care, ...]:
    """The agent of a soak that was ended at the bench with its rinse not done; what the rinse writes ends it."""
    on = agents_on(ask)
    if not on:
        return ()
    day = ask.day(on[-1].at)
    why = (*(reason for entry in on for reason in told(ask, entry, entry_words(ask, entry))),
           Reason("Its contact time is over and no rinse is written down since. What is left on goes on acting and, "
                  "dried on, may burn: rinse it with plain water before it dries, in the shade, then let it dry in "
                  "moving air. What the agent's own label says goes before this.", "common practice"))
    return owe(ask, CareKind.RINSE, "Rinse off the agent with plain water, before it dries", "rinse off the agent",
               Window(day, day, day), why, on[-1])


def agents_on(ask: Asked) -> list[Entry]:
    """The treatments whose agent is still on the plant: the bench step that rinses it off wrote nothing yet."""
    return still_on(entry for entries in ask.told.values() for entry in entries)


def still_on(journal: Iterable[Entry]) -> list[Entry]:
    """The same of a plant's entries, oldest first."""
    entries = sorted(journal, key=in_time)
    rinsed = {entry.step for entry in entries if not isinstance(entry.facts, BESIDE)}
    return [entry for entry, facts in pairs(entries, Treated) if facts.rinse is not None and facts.rinse not in rinsed]


def dress_cuts(ask: Asked) -> tuple[Care, ...]:
    """Cuts made since the last dressing; the newest names the care, since answers are to what stands open now."""
    bare = _since(ask, Cut, Dressed)
    if not bare:
        return ()
    count = sum(facts.count for _, facts in pairs(bare, Cut))
    day = ask.day(bare[-1].at)
    why = (*(reason for entry in bare for reason in told(ask, entry, entry_words(ask, entry))),
           Reason("A cut stays open to infection until a dry powder closes it; keep the powder off living roots, it "
                  "dries them.", "common practice; published advice on the powder disagrees"))
    what = f"Dress {'the open cut' if count == 1 else f'the {count} open cuts'} with a dry powder"
    return owe(ask, CareKind.DRESS_CUT, what, "dress the cut" if count == 1 else "dress the cuts",
               Window(day, day, day), why, bare[-1])


def pot_up(ask: Asked) -> tuple[Care, ...]:
    """A plant taken out of its pot and not potted since."""
    out = _since(ask, Unpotted, Potted)
    if not out:
        return ()
    day = ask.day(out[0].at)
    stops = [entry for entry, facts in pairs(ask.of(Step), Step)
             if facts.title.startswith(STOPPED) and in_time(entry) >= in_time(out[0])]
    why = (*told(ask, out[0], "taken out of its pot"),
           *(reason for entry, facts in pairs(stops, Step) for reason in told(ask, entry, facts.title)),
           Reason("No potting is written down since; bare roots dry out.", "the plant's journal"))
    return owe(ask, CareKind.POT_UP, "Pot it up: its roots are bare", "pot up", Window(day, day, day), why, out[0])


def _since(ask: Asked, opened: type[Facts], closed: type[Facts]) -> list[Entry]:
    """The entries of one kind after the last of the other."""
    ends = ask.of(closed)
    return [entry for entry in ask.of(opened) if not ends or in_time(entry) > in_time(ends[-1])]
