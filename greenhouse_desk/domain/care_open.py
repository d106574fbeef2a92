"""What stands open until it is done: a cut to dress, a plant out of its pot. Neither lapses by itself."""

from __future__ import annotations

from greenhouse_desk.domain.care_asked import Asked, in_time, pairs
from greenhouse_desk.domain.care_reasons import entry_words, told
from greenhouse_desk.domain.care_settled import Window, owe
from greenhouse_desk.domain.care_values import Care, CareKind, Reason
from greenhouse_desk.domain.journal import Cut, Dressed, Entry, Facts, Potted, Step, Unpotted
from greenhouse_desk.domain.journal_words import STOPPED


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
